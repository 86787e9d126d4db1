"""Pictures on their way to the site: smaller, bare of what a camera adds, or refused."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from logbook.build import PourOptions, PourReport, pour
from logbook.writing.drawings import UnfitPicture, clean_drawing
from logbook.writing.pictures import WIDEST, clean_picture
from tests.conftest import CLEAN_LOG, make_book, tree

SECRET = "52.5163 N 13.3777 E, camera 4711"
MAKER, ORIENTATION, GPS = 0x010F, 0x0112, 0x8825  # tags of Exif 2.3


def photo(form: str, size: tuple[int, int] = (40, 30), *, turned: bool = False) -> bytes:
    """A photo in which a camera has left all that it can: Exif, comments, XMP, a profile."""
    image = Image.new("RGB", size, (200, 30, 30))
    image.paste((30, 30, 200), (0, 0, size[0] // 2, size[1]))  # the left half is blue
    exif = Image.Exif()
    exif[MAKER] = SECRET
    exif.get_ifd(GPS)[1] = SECRET
    if turned:
        exif[ORIENTATION] = 6  # to be shown a quarter turn clockwise
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    more: dict[str, object] = {"exif": exif, "icc_profile": profile}
    if form == "PNG":
        words = PngImagePlugin.PngInfo()
        words.add_text("Author", SECRET)
        more["pnginfo"] = words
    if form == "JPEG":
        more["comment"] = SECRET.encode()
    if form in {"WEBP", "JPEG"}:
        more["xmp"] = SECRET.encode()
    written = BytesIO()
    image.save(written, form, **more)
    assert SECRET.encode() in written.getvalue() or form == "PNG"
    return written.getvalue()


@pytest.mark.parametrize(
    ("form", "ending"), [("JPEG", ".jpg"), ("JPEG", ".jpeg"), ("PNG", ".png"), ("WEBP", ".webp")]
)
def test_nothing_of_the_camera_is_left(form: str, ending: str) -> None:
    """A photo on the site has its pixels and neither place, time, maker, comment nor profile."""
    clean = clean_picture(photo(form), ending)
    assert SECRET.encode() not in clean
    with Image.open(BytesIO(clean)) as image:
        assert image.format == form
        assert not image.getexif()
        assert not {"exif", "icc_profile", "comment", "xmp", "Author"} & image.info.keys()
        assert image.size == (40, 30)


@pytest.mark.parametrize(("form", "ending"), [("JPEG", ".jpg"), ("PNG", ".png"), ("WEBP", ".webp")])
def test_a_photo_is_turned_upright(form: str, ending: str) -> None:
    """The turn that the camera noted is carried out, since its note is taken away.

    Orientation 6 (Exif 2.3, table of tag 274): the left edge of the stored picture is the top
    of the one to be shown. So blue, stored at the left, is at the top.
    """
    with Image.open(BytesIO(clean_picture(photo(form, turned=True), ending))) as image:
        assert image.size == (30, 40)
        top, bottom = (
            image.convert("RGB").getpixel((15, 5)),
            image.convert("RGB").getpixel((15, 35)),
        )
    assert isinstance(top, tuple) and isinstance(bottom, tuple)
    assert top[2] > top[0]
    assert bottom[0] > bottom[2]


def test_a_wide_photo_is_made_narrower() -> None:
    """At most 1600 pixels wide, in the same proportions; a small one keeps its size."""
    with Image.open(BytesIO(clean_picture(photo("JPEG", (4000, 3000)), ".jpg"))) as image:
        assert image.size == (1600, 1200)
    assert WIDEST == 1600


def test_what_is_seen_through_stays_so() -> None:
    """A drawing saved as PNG keeps its clear ground, also where it has a palette."""
    written = BytesIO()
    Image.new("RGBA", (8, 8), (10, 20, 30, 0)).quantize().save(written, "PNG")
    with Image.open(BytesIO(clean_picture(written.getvalue(), ".png"))) as image:
        pixel = image.convert("RGBA").getpixel((0, 0))
    assert isinstance(pixel, tuple)
    assert pixel[3] == 0


@pytest.mark.parametrize(
    "data", [b"", b"not a picture", photo("JPEG")[:200], b"GIF89a" + b"\0" * 40]
)
def test_a_broken_photo_is_refused(data: bytes) -> None:
    """What cannot be opened as a photo is refused in words, whatever is wrong with it."""
    with pytest.raises(UnfitPicture, match="broken"):
        clean_picture(data, ".jpg")


def test_the_same_photo_gives_the_same_bytes() -> None:
    """Redrawing depends on nothing but the photo."""
    assert clean_picture(photo("JPEG"), ".jpg") == clean_picture(photo("JPEG"), ".jpg")


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


@pytest.mark.parametrize(
    "inside",
    [
        "><script>alert(1)</script></svg>",
        ' onload="alert(1)"></svg>',
        '><g ONCLICK="alert(1)"/></svg>',
        "><foreignObject><p>x</p></foreignObject></svg>",
        '><a href="javascript:alert(1)"><path d="M0 0"/></a></svg>',
        '><a xlink:href=" java&#115;cript:alert(1)"><path d="M0 0"/></a></svg>',
        '><image href="https://example.org/a.png"/></svg>',
        '><image xlink:href="//example.org/a.png"/></svg>',
        '><image href="data:image/svg+xml;base64,PHN2Zy8+"/></svg>',
        '><use href="other.svg#a"/></svg>',
        '><rect fill="url(https://example.org/a.svg#b)"/></svg>',
        '><rect style="fill: URL( &quot;https://example.org/a&quot; )"/></svg>',
        '><rect style="fill:\\75rl(https://example.org/a)"/></svg>',
        "><style>@import 'https://example.org/a.css';</style></svg>",
        "><style>rect { background: image-set('https://example.org/a' 1x) }</style></svg>",
        '><set attributeName="href" to="javascript:alert(1)"/></svg>',
        '><animate attributeName="onclick" values="alert(1)"/></svg>',
        ' xml:base="https://example.org/"><use href="#a"/></svg>',
        '><x:script xmlns:x="http://www.w3.org/1999/xhtml">alert(1)</x:script></svg>',
        "><g></svg>",
        ">" + "<g>" * 100_000 + "</g>" * 100_000 + "</svg>",
    ],
)
def test_a_drawing_that_does_more_than_draw_is_refused(inside: str) -> None:
    """Scripts, handlers, foreign content and every way of calling out are refused."""
    with pytest.raises(UnfitPicture):
        clean_drawing(f"{SVG}{inside}".encode())


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<html></html>",
        b"\xff\xfe<\0s\0v\0g\0",
        b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg>&b;</svg>',
        b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg>&x;</svg>',
    ],
)
def test_what_is_no_plain_drawing_is_refused(data: bytes) -> None:
    """Other documents, other encodings and entities are refused."""
    with pytest.raises(UnfitPicture):
        clean_drawing(data)


def test_a_plain_drawing_keeps_its_shapes_and_loses_the_rest() -> None:
    """Shapes, words and links within stay; comments, instructions and editors' notes go."""
    drawing = (
        f'<?xml version="1.0"?><?xml-stylesheet href="https://example.org/a.css"?><!-- {SECRET} -->'
        f'{SVG} xmlns:ed="https://example.org/ed" ed:docname="C:/{SECRET}" viewBox="0 0 9 9">'
        f"<metadata>{SECRET}</metadata><ed:view>{SECRET}</ed:view><title>A dish</title>"
        '<defs><g id="a"><path d="M0 0h9"/></g></defs><use xlink:href="#a"/>'
        '<rect fill="url(#a)" style="stroke:#000"/></svg>'
    )
    clean = clean_drawing(drawing.encode()).decode()
    assert SECRET not in clean
    assert "example.org" not in clean
    for kept in ("viewBox", "<title>A dish</title>", 'd="M0 0h9"', '="#a"', "url(#a)", "#000"):
        assert kept in clean


def _pour_with(tmp_path: Path, lines: str, files: dict[str, bytes]) -> tuple[Path, PourReport]:
    text = CLEAN_LOG.replace("## Dissolve\n", f"## Dissolve\n\n{lines}\n")
    make_book(tmp_path / "book", {"2026/relays.md": text, **files})
    report = pour(PourOptions(tmp_path / "book", tmp_path / "site"))
    return tmp_path / "site", report


def test_pictures_of_a_log_reach_its_page(tmp_path: Path) -> None:
    """A picture beside a log is copied under a safe name and shown on the run's page."""
    files = {"2026/dish one.JPG": photo("JPEG"), "2026/dish.svg": f"{SVG}></svg>".encode()}
    lines = "![A dish](dish%20one.JPG)\n\n![Drawn](dish.svg)\n"
    site, report = _pour_with(tmp_path, lines, files)
    pictures = [path for path in tree(site) if path.startswith("pictures/")]
    page = (site / "runs" / "relays.html").read_text()
    assert report.findings == ()
    assert len(pictures) == 2
    assert all(f'src="../{path}"' in page for path in pictures)
    assert not [path for path in pictures if " " in path or path != path.lower()]


@pytest.mark.parametrize(
    ("written", "file", "data"),
    [
        ("gone.jpg", "", b""),
        ("../../../etc/passwd.png", "", b""),
        ("https://example.org/a.png", "", b""),
        ("broken.png", "2026/broken.png", b"no picture"),
        ("acts.svg", "2026/acts.svg", b"<svg xmlns='http://www.w3.org/2000/svg' onload='x'/>"),
        ("photo.heic", "2026/photo.heic", b"unknown kind"),
    ],
)
def test_a_picture_that_cannot_be_shown_is_told_and_left_out(
    tmp_path: Path, written: str, file: str, data: bytes
) -> None:
    """One finding for the picture; the page is there, and nothing on it leads to nowhere."""
    site, report = _pour_with(tmp_path, f"![A dish]({written})\n", {file: data} if file else {})
    assert [finding.span.text.strip() for finding in report.findings] == [f"![A dish]({written})"]
    page = (site / "runs" / "relays.html").read_text()
    assert "<img" not in page
    assert "A dish" in page
    assert not (site / "pictures").exists()


def test_a_picture_that_is_a_link_out_of_the_book_is_left_out(tmp_path: Path) -> None:
    """A link to a picture elsewhere on the disk is not followed."""
    elsewhere = tmp_path / "elsewhere.png"
    elsewhere.write_bytes(photo("PNG"))
    runs = tmp_path / "book" / "runs" / "2026"
    runs.mkdir(parents=True)
    (runs / "dish.png").symlink_to(elsewhere)
    site, report = _pour_with(tmp_path, "![A dish](dish.png)\n", {})
    assert report.findings
    assert not (site / "pictures").exists()


def test_the_picture_of_a_private_note_is_not_copied(tmp_path: Path) -> None:
    """A picture that stands in a private note stays out of the site with it."""
    text = CLEAN_LOG + "- private: see ![the ledger](ledger.png)\n"
    files: dict[str, str | bytes] = {"relays.md": text, "ledger.png": photo("PNG")}
    book = make_book(tmp_path / "book", files)
    pour(PourOptions(book, tmp_path / "site"))
    assert not (tmp_path / "site" / "pictures").exists()


def test_a_picture_is_not_made_again_until_it_changes(tmp_path: Path) -> None:
    """A second pour keeps the picture; a changed one is made anew; a gone one is removed."""
    site, _ = _pour_with(tmp_path, "![A dish](dish.png)\n", {"2026/dish.png": photo("PNG")})
    picture = site / "pictures" / "2026" / "dish.png"
    options = PourOptions(tmp_path / "book", site)
    before = picture.stat().st_mtime_ns
    assert pour(options).written == 0
    assert picture.stat().st_mtime_ns == before
    (tmp_path / "book" / "runs" / "2026" / "dish.png").write_bytes(photo("PNG", (20, 20)))
    pour(options)
    with Image.open(picture) as image:
        assert image.size == (20, 20)
    (tmp_path / "book" / "runs" / "2026" / "dish.png").unlink()
    pour(options)
    assert not picture.exists()
