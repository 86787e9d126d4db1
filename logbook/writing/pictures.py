"""Which pictures the logs name, and what keeps one from being shown.

Nothing is opened here. A picture is looked for in `runs/` alone, whatever its line says.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath
from unicodedata import normalize

from logbook.findings import Finding, Weight, nearest_word
from logbook.model.book import Book
from logbook.model.run import Picture
from logbook.pages.picture_paths import KINDS, picture_source
from logbook.pages.privacy import Privacy, every_block
from logbook.source import Span
from logbook.writing.drawings import UnfitPicture


@dataclass(frozen=True, slots=True)
class NamedPicture:
    """A picture that a log names: its file in the book, and where it is named first."""

    file: str
    span: Span


def named_pictures(
    book: Book, privacy: Privacy
) -> tuple[Mapping[str, NamedPicture], tuple[Finding, ...]]:
    """The pictures that may be shown, by the path that logs give, and what is wrong with any."""
    # Some disks take an accented letter apart: both ways of writing it are one name.
    files = {normalize("NFC", path): path for path in sorted(book.files)}
    named: dict[str, NamedPicture] = {}
    findings: list[Finding] = []
    for picture in _pictures(book, privacy):
        source = picture_source(picture.span.path, picture.path)
        file = files.get(normalize("NFC", source)) if source is not None else None
        findings += _troubles(picture, source, file, files)
        if source is not None and file is not None and _ending(file) in KINDS:
            named.setdefault(source, NamedPicture(file, picture.span))
    return named, tuple(findings)


def _pictures(book: Book, privacy: Privacy) -> Iterator[Picture]:
    for block in every_block(book):
        if isinstance(block, Picture) and privacy.shows(block):
            yield block


def _troubles(
    picture: Picture, source: str | None, file: str | None, files: Mapping[str, str]
) -> Iterator[Finding]:
    """What can be told of a picture without opening it."""
    span = picture.span
    if source is None:
        headline = "this picture lies outside of the folder runs"
        hint = "put the picture beside the log and name it from there"
        yield _error("picture-outside-book", headline, span, hint)
    elif _ending(source) not in KINDS:
        headline = f"this kind of picture is not known: {_ending(source) or 'it has no ending'}"
        yield _error("picture-kind", headline, span, "save it as JPEG, PNG, WebP or SVG")
    elif file is None:
        near = nearest_word(source, files)
        hint = f"{near} is there" if near else f"put it at {source}"
        yield _error("picture-missing", "there is no such picture", span, hint)
    elif not picture.caption and not picture.seen:
        yield Finding(
            "picture-without-words",
            Weight.DOUBT,
            "this picture says nothing to those who cannot see it",
            span,
            "it is shown without a caption",
            "write what is to be seen: ![the bar in its mould](bar.jpg)",
        )


def _ending(path: str) -> str:
    return PurePosixPath(path).suffix.lower()


def unfit(span: Span, reason: UnfitPicture) -> Finding:
    """The finding on a picture that was opened and cannot be shown."""
    return _error("picture-unfit", f"this picture cannot be shown: {reason}", span, "")


def _error(code: str, headline: str, span: Span, hint: str) -> Finding:
    return Finding(code, Weight.ERROR, headline, span, "the page is made without it", hint)
