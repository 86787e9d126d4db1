"""Photos on their way to the site: bare of what a camera adds, upright, in several widths."""

from __future__ import annotations

import random
import zlib
from io import BytesIO
from struct import pack

import pytest
from PIL import Image, ImageCms

from logbook.pages.picture_paths import WIDTHS, photo_files
from logbook.writing.drawings import UnfitPicture
from logbook.writing.photos import draw_photo, photo_size
from tests.writing.photo_makers import MAKERS, SECRETS, jpeg, parts, png, scene

# What a file is allowed to be made of: pixels and how to read them.
JPEG_PARTS = {"E0JFIF\0", "DB", "C0", "C2", "C4", "DA"}  # T.81, table B.1; JFIF 1.02
PNG_PARTS = {"IHDR", "PLTE", "tRNS", "IDAT", "IEND"}
WEBP_PARTS = {"VP8", "VP8L", "VP8X", "ALPH"}
PLAIN = JPEG_PARTS | PNG_PARTS | WEBP_PARTS
COLOURS = {"red": (200, 30, 30), "blue": (30, 30, 200)}


def drawn(data: bytes, ending: str) -> dict[str, bytes]:
    """Every file that the site would have of a photo."""
    *size, plain = photo_size(data, ending)
    files = photo_files("mark", (size[0], size[1]), plain)
    made = dict(draw_photo(data, ending, files))
    for file in files.files:  # what the page says of a file is so
        with Image.open(BytesIO(made[file.path])) as image:
            assert image.size == (file.width, file.height)
    assert made.keys() == {file.path for file in files.files}
    return made


def ways_to_write(secret: str) -> list[bytes]:
    """A text as it could stand in a file."""
    return [secret.encode(code) for code in ("utf-8", "utf-16-le", "utf-16-be")]


@pytest.mark.parametrize("ending", MAKERS)
def test_nothing_but_pixels_is_left(ending: str) -> None:
    """No place, number, owner, profile, small copy or word of the photo is in any of its files.

    Two readers say so: the list of parts by the format's own rules, and Pillow's.
    """
    data = MAKERS[ending]()
    assert all(secret.encode() in data for secret in SECRETS)  # the test could fail
    for path, made in drawn(data, ending).items():
        assert set(parts(made)) <= PLAIN, path
        for secret in SECRETS:
            assert not [one for one in ways_to_write(secret) if one in made], path
        with Image.open(BytesIO(made)) as image:
            assert not image.getexif()
            assert not {"exif", "icc_profile", "comment", "xmp", "photoshop"} & image.info.keys()
            assert not getattr(image, "text", {})


def test_the_reader_of_parts_sees_what_was_planted() -> None:
    """What the test above relies on: the photos that are made for it hold what they should."""
    found = {
        ending: set(parts(made())) if ending == ".webp" else set()
        for ending, made in MAKERS.items()
    }
    assert {"EXIF", "XMP", "ICCP", "prVt"} <= found[".webp"]
    for piece in (
        b"Exif\0\0",
        b"ns.adobe.com/xap",
        b"xmp/extension",
        b"8BIM",
        b"Ducky",
        b"ICC_PROFILE",
    ):
        assert piece in jpeg()
    for piece in (b"tEXt", b"zTXt", b"iTXt", b"eXIf", b"tIME", b"iCCP", b"prVt"):
        assert piece in png()


def colour_at(data: bytes, across: float, down: float) -> str:
    """The colour at a place of a picture, as a part of its width and height."""
    with Image.open(BytesIO(data)) as image:
        shown = image.convert("RGB")
        pixel = shown.getpixel((int(across * shown.width), int(down * shown.height)))
    assert isinstance(pixel, tuple)
    return "blue" if pixel[2] > pixel[0] else "red"


# Where the left edge of the stored picture, which is blue, is to be seen (CIPA DC-008, 4.6.5,
# orientation: "the 0th row is at the visual ..., the 0th column at the visual ...").
BLUE = {1: "left", 2: "right", 3: "right", 4: "left", 5: "top", 6: "top", 7: "bottom", 8: "bottom"}
PLACES = {"left": (0.1, 0.5), "right": (0.9, 0.5), "top": (0.5, 0.1), "bottom": (0.5, 0.9)}
OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


@pytest.mark.parametrize("orientation", BLUE)
@pytest.mark.parametrize("ending", [".jpg", ".png", ".webp"])
def test_a_photo_is_turned_upright(ending: str, orientation: int) -> None:
    """The turn that the camera noted is carried out, since its note is taken away."""
    for path, made in drawn(MAKERS[ending](orientation=orientation), ending).items():
        side = BLUE[orientation]
        assert colour_at(made, *PLACES[side]) == "blue", path
        assert colour_at(made, *PLACES[OPPOSITE[side]]) == "red", path


def test_corners_are_where_they_belong() -> None:
    """Orientations 5 and 7 are told from 6 and 8 by a corner.

    By the same table: in 5 the first row is at the left and the first column at the top, so the
    first pixel is top left; in 6 it is top right, in 7 bottom right, in 8 bottom left.
    """
    corners = {5: (0, 0), 6: (1, 0), 7: (1, 1), 8: (0, 1)}
    for orientation, (across, down) in corners.items():
        image = Image.new("RGB", (64, 32), COLOURS["red"])
        image.paste(COLOURS["blue"], (0, 0, 32, 16))
        exif = Image.Exif()
        exif[0x0112] = orientation
        written = BytesIO()
        image.save(written, "PNG", exif=exif)
        made = drawn(written.getvalue(), ".png")["pictures/mark-32.png"]
        blue = [
            place
            for place in corners.values()
            if colour_at(made, 0.2 + 0.6 * place[0], 0.2 + 0.6 * place[1]) == "blue"
        ]
        assert blue == [(across, down)]


@pytest.mark.parametrize(
    ("size", "modern", "plain"),
    [
        ((4000, 3000), [(480, 360), (960, 720), (1600, 1200)], (960, 720)),
        ((1000, 500), [(480, 240), (1000, 500)], (960, 480)),
        ((40, 30), [(40, 30)], (40, 30)),
        ((600, 20_000), [(144, 4800)], (144, 4800)),  # 600 x 4800 / 20,000
        ((3, 1), [(3, 1)], (3, 1)),
    ],
)
def test_widths(
    size: tuple[int, int], modern: list[tuple[int, int]], plain: tuple[int, int]
) -> None:
    """Narrower files in the same proportions, and never one that is wider than the photo."""
    files = photo_files("mark", size, ".jpg")
    assert [(one.width, one.height) for one in files.modern] == modern
    assert (files.plain.width, files.plain.height) == plain
    assert all(one.width <= min(size[0], WIDTHS[-1]) for one in files.files)


def test_a_large_photo_comes_out_in_all_its_sizes() -> None:
    """Files that say their size rightly, the narrow one the lightest."""
    noise = Image.frombytes("RGB", (2000, 1500), random.Random(1).randbytes(2000 * 1500 * 3))
    written = BytesIO()
    noise.save(written, "JPEG", quality=60)
    made = drawn(written.getvalue(), ".jpg")
    assert len(made) == 4
    weights = [len(made[f"pictures/mark-{width}.webp"]) for width in WIDTHS]
    assert weights == sorted(weights)


@pytest.mark.parametrize("ending", MAKERS)
def test_the_same_photo_gives_the_same_bytes(ending: str) -> None:
    """Redrawing depends on nothing but the photo."""
    assert drawn(MAKERS[ending](), ending) == drawn(MAKERS[ending](), ending)


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_what_is_seen_through_stays_so(form: str) -> None:
    """A clear ground stays clear in both formats, also where a PNG has a palette."""
    image = Image.new("RGBA", (8, 8), (10, 20, 30, 0))
    written = BytesIO()
    (image.quantize() if form == "PNG" else image).save(written, form)
    made = drawn(written.getvalue(), f".{form.lower()}")
    assert set(made) == {"pictures/mark-8.png", "pictures/mark-8.webp"}
    for data in made.values():
        with Image.open(BytesIO(data)) as shown:
            pixel = shown.convert("RGBA").getpixel((0, 0))
        assert isinstance(pixel, tuple)
        assert pixel[3] == 0


def saved(image: Image.Image, form: str, **more: object) -> bytes:
    """An image as a file."""
    written = BytesIO()
    image.save(written, form, **more)
    return written.getvalue()


ODD_COLOURS = {
    "grey": (saved(Image.new("L", (8, 8), 100), "JPEG"), ".jpg", (100, 100, 100)),
    "four inks": (
        saved(Image.new("CMYK", (8, 8), (0, 0, 0, 155)), "JPEG"),
        ".jpg",
        (100, 100, 100),
    ),
    # 16 bits of grey: 100 x 257 = 25,700 is the same part of 65,535 as 100 of 255
    "deep grey": (saved(Image.new("I;16", (8, 8), 25_700), "PNG"), ".png", (100, 100, 100)),
    "palette": (saved(Image.new("P", (8, 8)), "PNG"), ".png", (0, 0, 0)),
    "one bit": (saved(Image.new("1", (8, 8), 1), "PNG"), ".png", (255, 255, 255)),
    "grey and clear": (saved(Image.new("LA", (8, 8), (100, 255)), "PNG"), ".png", (100, 100, 100)),
}


@pytest.mark.parametrize("name", ODD_COLOURS)
def test_colours_of_every_depth_come_over(name: str) -> None:
    """Grey, inks, palettes and sixteen bits are shown as what they are."""
    data, ending, colour = ODD_COLOURS[name]
    for path, made in drawn(data, ending).items():
        with Image.open(BytesIO(made)) as image:
            pixel = image.convert("RGB").getpixel((4, 4))
        assert isinstance(pixel, tuple)
        assert pixel == pytest.approx(colour, abs=4), path


def swapped_profile() -> bytes:
    """A profile in which red and blue have changed places (ICC.1:2010, 7.3: the tag table)."""
    data = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    rows = range(132, 132 + 12 * int.from_bytes(data[128:132], "big"), 12)
    red, blue = (
        next(row for row in rows if data[row : row + 4] == name) for name in (b"rXYZ", b"bXYZ")
    )
    data[red + 4 : red + 12], data[blue + 4 : blue + 12] = (
        data[blue + 4 : blue + 12],
        data[red + 4 : red + 12],
    )
    return bytes(data)


@pytest.mark.parametrize(("form", "ending"), [("JPEG", ".jpg"), ("PNG", ".png"), ("WEBP", ".webp")])
def test_colours_of_a_profile_are_carried_over(form: str, ending: str) -> None:
    """A photo is seen as its profile says, though the site's files carry none."""
    image = Image.new("RGB", (16, 16), COLOURS["red"])
    made = drawn(saved(image, form, icc_profile=swapped_profile()), ending)
    assert {colour_at(data, 0.5, 0.5) for data in made.values()} == {"blue"}


def test_a_profile_that_cannot_be_read_costs_nothing() -> None:
    """The colours are taken as they stand."""
    data = saved(Image.new("RGB", (16, 16), COLOURS["red"]), "PNG", icc_profile=b"no profile")
    assert {colour_at(made, 0.5, 0.5) for made in drawn(data, ".png").values()} == {"red"}


@pytest.mark.parametrize("ending", MAKERS)
@pytest.mark.parametrize("part", [0.0, 0.1, 0.5, 0.9])
def test_a_photo_that_breaks_off_is_refused(ending: str, part: float) -> None:
    """What was copied by half is refused in words."""
    whole = saved(scene((400, 300)), {".png": "PNG", ".webp": "WEBP"}.get(ending, "JPEG"))
    with pytest.raises(UnfitPicture, match="broken"):
        drawn(whole[: int(len(whole) * part)], ending)


@pytest.mark.parametrize("seed", range(60))
def test_no_damage_is_too_odd(seed: int) -> None:
    """Bytes changed at random: a photo, or words, and no other exception and no warning."""
    chance = random.Random(seed)
    ending = chance.choice(list(MAKERS))
    data = bytearray(MAKERS[ending](orientation=chance.randrange(1, 9)))
    for _ in range(chance.choice((1, 4, 40))):
        data[chance.randrange(len(data))] = chance.randrange(256)
    try:
        for made in drawn(bytes(data), ending).values():
            assert set(parts(made)) <= PLAIN
    except UnfitPicture:
        pass


@pytest.mark.parametrize(
    ("data", "ending", "words"),
    [
        (b"GIF89a" + b"\0" * 40, ".jpg", "GIF"),
        (b"\0\0\0\x18ftypheic" + b"\0" * 40, ".jpg", "HEIC"),
        (b"\0\0\0\x18ftypmp42" + b"\0" * 40, ".jpg", "a film"),
        (b"<html><script>alert(1)</script>", ".png", "web page"),
        (b"%PDF-1.7", ".webp", "PDF"),
        (b"PK\x03\x04", ".png", "packed"),
        (png(), ".jpg", "PNG"),
        (jpeg(), ".webp", "JPEG"),
        (b"not a photo", ".jpg", "no photo"),
    ],
)
def test_what_is_not_what_its_name_says_is_refused(data: bytes, ending: str, words: str) -> None:
    """The words name what the file is, as its first bytes tell."""
    with pytest.raises(UnfitPicture, match=words):
        drawn(data, ending)


def bomb(width: int, height: int) -> bytes:
    """A small PNG that says it is very large, and would be: rows of nothing pack well."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return pack(">I", len(content)) + kind + content + pack(">I", zlib.crc32(kind + content))

    head = pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress(b"\0" * 1_000_000, 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


@pytest.mark.parametrize("side", [10_001, 20_000, 200_000])
def test_a_photo_that_would_fill_the_memory_is_refused(side: int) -> None:
    """More than a hundred million pixels are refused before any is read."""
    with pytest.raises(UnfitPicture, match="100 million pixels"):
        drawn(bomb(side, side), ".png")


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_a_moving_picture_is_refused(form: str) -> None:
    """One that moves is no photo: which of its pictures is meant is not known."""
    frames = [Image.new("RGB", (8, 8), colour) for colour in COLOURS.values()]
    data = saved(frames[0], form, save_all=True, append_images=frames[1:])
    with pytest.raises(UnfitPicture, match="moves"):
        drawn(data, f".{form.lower()}")


def test_a_jpeg_that_holds_several_shows_the_first() -> None:
    """Phones put a map of depth or light behind a photo (CIPA DC-007): it is left out."""
    frames = [Image.new("RGB", (16, 16), colour) for colour in COLOURS.values()]
    data = saved(frames[0], "MPO", save_all=True, append_images=frames[1:])
    made = drawn(data, ".jpg")
    assert colour_at(made["pictures/mark-16.jpg"], 0.5, 0.5) == "red"
    assert len(made["pictures/mark-16.jpg"]) < len(data)
