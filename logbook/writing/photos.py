"""Photos drawn anew for the site: upright, in several widths, with their pixels and no more.

A camera leaves place, time, its maker and number in a photo, programs leave names, folders and
small copies of what was cut off. None of it is copied: only pixels go over, in the colours that
browsers expect of a file that names none (sRGB). WebP is the modern format: all browsers of the
last years show it, and every Pillow that is allowed writes it, which is not so of AVIF.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from io import BytesIO
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any

from logbook.model.site_picture import PictureFile, SitePicture
from logbook.writing.drawings import UnfitPicture

if TYPE_CHECKING:
    from PIL.Image import Image

RECIPE = "2"  # goes up when photos are to be made in another way
MOST_PIXELS = 100_000_000  # the largest sensors of phones have twice as many, and scale down
FORMATS = {".jpeg": "JPEG", ".jpg": "JPEG", ".png": "PNG", ".webp": "WEBP"}
ORIENTATION = 0x0112  # the tag of Exif that says which way up
# What has to be done to a photo by the value of that tag (Exif 2.3, 4.6.4 A).
TURNS = {
    2: "FLIP_LEFT_RIGHT",
    3: "ROTATE_180",
    4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE",
    6: "ROTATE_270",
    7: "TRANSVERSE",
    8: "ROTATE_90",
}
HOW_SAVED: Mapping[str, Mapping[str, Any]] = {
    "JPEG": {"quality": 82, "optimize": True, "progressive": True},
    "PNG": {"optimize": True},
    "WEBP": {"quality": 80, "method": 4},
}
# How files begin that people take for photos, and what they are.
BEGINNINGS: tuple[tuple[int, bytes, str], ...] = (
    (0, b"\xff\xd8\xff", "JPEG"),
    (0, b"\x89PNG\r\n\x1a\n", "PNG"),
    (8, b"WEBP", "WebP"),
    (0, b"GIF8", "GIF"),
    (4, b"ftyphei", "HEIC"),
    (4, b"ftypmif1", "HEIC"),
    (4, b"ftypavi", "AVIF"),
    (4, b"ftyp", "a film"),
    (0, b"II*\0", "TIFF or a raw photo"),
    (0, b"MM\0*", "TIFF or a raw photo"),
    (0, b"BM", "BMP"),
    (0, b"%PDF", "PDF"),
    (0, b"PK", "a packed folder"),
    (0, b"<", "a web page or a drawing"),
)


def made_with() -> str:
    """What the bytes of a photo depend on besides the photo."""
    from PIL import __version__

    return f"{RECIPE} {__version__}"


def photo_size(data: bytes, ending: str) -> tuple[int, int, str]:
    """Width and height of a photo held upright, and the ending of its file for every browser.

    Raises `UnfitPicture` where it cannot be shown, as far as its head tells.
    """
    with _opened(data, ending) as opened:
        width, height = opened.size
        if _orientation(opened) >= 5:  # on its side
            width, height = height, width
        clear = ending == ".png" or opened.has_transparency_data
        return width, height, ".png" if clear else ".jpg"


def draw_photo(data: bytes, ending: str, picture: SitePicture) -> Iterator[tuple[str, bytes]]:
    """Path and bytes of every file of a photo; raises `UnfitPicture` where it is broken."""
    widest = max(picture.files, key=lambda file: file.width)
    with _opened(data, ending) as opened:
        whole = _upright(opened, widest)
    for file in picture.files:
        yield file.path, _saved(whole, file)


@contextmanager
def _opened(data: bytes, ending: str) -> Iterator[Image]:
    """A photo of the kind that its name says, not larger than it may be, and not moving."""
    from PIL import Image

    _refuse_another_kind(data, ending)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of notes that are broken, and are not copied
            with Image.open(BytesIO(data), formats=[FORMATS[ending]]) as opened:
                _refuse_what_is_too_much(opened)
                yield opened
    except UnfitPicture:
        raise
    except Image.DecompressionBombError as error:
        raise _too_many_pixels() from error
    except Exception as error:  # Pillow tells of damage in many ways
        raise UnfitPicture("it is broken") from error


def _refuse_another_kind(data: bytes, ending: str) -> None:
    for at, begins, kind in BEGINNINGS:
        if data.startswith(begins, at):
            if kind.upper() == FORMATS[ending]:
                return
            raise UnfitPicture(f"it is named {ending}, and is {kind}")
    raise UnfitPicture("it is broken, or no photo")


def _refuse_what_is_too_much(opened: Image) -> None:
    width, height = opened.size
    if width * height > MOST_PIXELS:
        raise _too_many_pixels()
    if opened.format in {"PNG", "WEBP"} and getattr(opened, "is_animated", False):
        raise UnfitPicture("it moves: save one picture of it")


def _too_many_pixels() -> UnfitPicture:
    return UnfitPicture(f"it has more than {MOST_PIXELS // 1_000_000} million pixels")


def _orientation(opened: Image) -> int:
    """Which way up a photo was taken, from 1 to 8; 1 where that is not told, or not readably."""
    try:
        turn = opened.getexif().get(ORIENTATION, 1)
    except Exception:  # Pillow tells of damage in many ways
        return 1
    return turn if turn in TURNS else 1


def _upright(opened: Image, widest: PictureFile) -> Image:
    """The pixels of a photo as it is to be seen, in common colours, with nothing else."""
    from PIL import Image

    longest = max(widest.width, widest.height)
    opened.draft("RGB", (longest, longest))
    turn = TURNS.get(_orientation(opened))
    see_through = opened.has_transparency_data
    image = _in_common_colours(opened).convert("RGBA" if see_through else "RGB")
    image = image.transpose(Image.Transpose[turn]) if turn else image
    return Image.frombytes(image.mode, image.size, image.tobytes())


def _in_common_colours(image: Image) -> Image:
    """The image in sRGB, 8 bits a colour. A profile that cannot be read says nothing."""
    from PIL import ImageCms

    profile = image.info.get("icc_profile")
    if image.mode.startswith("I"):  # 16 bits of grey: Pillow would cut off what is above 255
        image = image.convert("I").point(lambda grey: grey / 257).convert("L")
    if image.mode in {"P", "PA"}:
        image = image.convert("RGBA" if image.has_transparency_data else "RGB")
    if not profile or image.mode not in {"L", "RGB", "RGBA", "CMYK"}:
        return image
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        target = ImageCms.createProfile("sRGB")
        mode = "RGBA" if image.mode == "RGBA" else "RGB"
        return ImageCms.profileToProfile(image, source, target, outputMode=mode) or image
    except (ImageCms.PyCMSError, OSError):
        return image


def _saved(whole: Image, file: PictureFile) -> bytes:
    """A photo in the size and format of one file."""
    from PIL.Image import Resampling

    size = file.width, file.height
    image = whole if whole.size == size else whole.resize(size, Resampling.LANCZOS)
    form = FORMATS[PurePosixPath(file.path).suffix]
    written = BytesIO()
    image.save(written, form, **HOW_SAVED[form])
    return written.getvalue()
