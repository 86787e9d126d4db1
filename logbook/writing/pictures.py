"""Pictures of the logs made fit for the site: small enough, and free of all that a camera adds.

A photo is drawn anew from its pixels, so that nothing of where and when it was taken is
left. What cannot be shown is reported and left out. Nothing in the book is ever changed.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator, Mapping
from hashlib import sha256
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any

from logbook.findings import Finding, Weight, nearest_word
from logbook.model.book import Book
from logbook.model.run import Picture
from logbook.pages.picture_paths import KINDS, picture_source
from logbook.pages.privacy import Privacy, every_block
from logbook.source import Span
from logbook.writing.drawings import UnfitPicture, clean_drawing

if TYPE_CHECKING:
    from PIL.Image import Image

WIDEST = 1600  # pixels
RECIPE = "1"  # goes up when pictures are to be made in another way
FORMATS = {".jpeg": "JPEG", ".jpg": "JPEG", ".png": "PNG", ".webp": "WEBP"}
HOW_SAVED: Mapping[str, Mapping[str, Any]] = {
    "JPEG": {"quality": 85},
    "PNG": {"optimize": True},
    "WEBP": {"quality": 85},
}


def named_pictures(book: Book, privacy: Privacy) -> tuple[Mapping[str, Span], tuple[Finding, ...]]:
    """The pictures that may be shown, by their path in the book, and what is wrong with others."""
    named: dict[str, Span] = {}
    findings = []
    for picture in _pictures(book, privacy):
        source = picture_source(picture.span.path, picture.path)
        trouble = _trouble(book, picture, source)
        if trouble is not None:
            findings.append(trouble)
        elif source is not None:
            named.setdefault(source, picture.span)
    return named, tuple(findings)


def _pictures(book: Book, privacy: Privacy) -> Iterator[Picture]:
    for block in every_block(book):
        if isinstance(block, Picture) and privacy.shows(block):
            yield block


def _trouble(book: Book, picture: Picture, source: str | None) -> Finding | None:
    """Why a picture cannot be shown, as far as that can be told without opening it."""
    if source is None:
        headline = "this picture lies outside of the folder runs"
        hint = "put the picture beside the log and name it from there"
        return _finding("picture-outside-book", headline, picture.span, hint)
    if PurePosixPath(source).suffix.lower() not in KINDS:
        headline = f"this kind of picture is not known: {PurePosixPath(source).suffix or source}"
        return _finding("picture-kind", headline, picture.span, "save it as JPEG, PNG, WebP or SVG")
    if source not in book.files:
        near = nearest_word(source, book.files)
        hint = f"{near} is there" if near else f"put it at {source}"
        return _finding("picture-missing", "there is no such picture", picture.span, hint)
    return None


def unfit(span: Span, reason: UnfitPicture) -> Finding:
    """The finding on a picture that was opened and cannot be shown."""
    return _finding("picture-unfit", f"this picture cannot be shown: {reason}", span, "")


def _finding(code: str, headline: str, span: Span, hint: str) -> Finding:
    return Finding(code, Weight.ERROR, headline, span, "the page is made without it", hint)


def read_picture(book: Path, source: str) -> bytes:
    """The bytes of a picture in the book."""
    try:
        return (book / source).read_bytes()
    except OSError as error:
        raise UnfitPicture(f"it cannot be read: {error.strerror}") from error


def origin_of(data: bytes) -> str:
    """What a picture of the site is made from and how, in one word that changes with either."""
    from PIL import __version__

    return sha256(f"{RECIPE} {WIDEST} {__version__} ".encode() + data).hexdigest()


def clean_picture(data: bytes, ending: str) -> bytes:
    """A picture as it may stand on the site; raises `UnfitPicture` where that cannot be."""
    if ending == ".svg":
        return clean_drawing(data)
    # Pillow says of what it cannot read in many ways, by the kind of damage.
    try:
        return _redrawn(data, FORMATS[ending])
    except Exception as error:
        raise UnfitPicture("it is broken, or not what its name says") from error


def _redrawn(data: bytes, form: str) -> bytes:
    """A photo drawn anew: upright, at most `WIDEST` wide, with its pixels and nothing else."""
    from PIL import Image, ImageOps

    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        with Image.open(BytesIO(data), formats=sorted(set(FORMATS.values()))) as opened:
            opened.draft("RGB", (WIDEST, WIDEST))
            image = ImageOps.exif_transpose(opened)
    see_through = image.has_transparency_data and form != "JPEG"
    image = _in_common_colours(image).convert("RGBA" if see_through else "RGB")
    if image.width > WIDEST:
        height = max(1, round(image.height * WIDEST / image.width))
        image = image.resize((WIDEST, height), Image.Resampling.LANCZOS)
    bare = Image.frombytes(image.mode, image.size, image.tobytes())
    written = BytesIO()
    bare.save(written, form, **HOW_SAVED[form])
    return written.getvalue()


def _in_common_colours(image: Image) -> Image:
    """The image in the colours that browsers expect of one that names none (sRGB)."""
    from PIL import ImageCms

    profile = image.info.get("icc_profile")
    if not profile or image.mode not in {"RGB", "RGBA", "CMYK"}:
        return image
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        target = ImageCms.createProfile("sRGB")
        mode = "RGBA" if image.mode == "RGBA" else "RGB"
        return ImageCms.profileToProfile(image, source, target, outputMode=mode) or image
    except (ImageCms.PyCMSError, OSError):
        return image  # a profile that cannot be read says nothing
