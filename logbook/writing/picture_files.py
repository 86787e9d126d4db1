"""The pictures of a book written into its site, each made anew only where it changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path, PurePosixPath

from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.site_picture import SitePicture
from logbook.pages.picture_paths import DRAWN, drawing_files, photo_files
from logbook.pages.privacy import Privacy
from logbook.source import SourceText, Span
from logbook.writing.drawings import UnfitPicture, clean_drawing, drawing_size
from logbook.writing.photos import draw_photo, made_with, photo_size
from logbook.writing.pictures import NamedPicture, named_pictures, unfit
from logbook.writing.site_folder import SiteFolder

LARGEST = 60_000_000  # bytes: several times what a phone or a camera writes
IN_WORDS = "picture-in-words"  # what the reader says of one
MARK = 20  # digits of a digest: two of a million pictures meet by chance once in 10^12 books


@dataclass(frozen=True, slots=True)
class Pictured:
    """A book that knows its pictures in the site, and what was wrong with any of them.

    The book has the same findings, without the names of files: its pages may be published.
    """

    book: Book
    findings: tuple[Finding, ...]


def write_pictures(
    book: Book,
    folder: Path,
    privacy: Privacy,
    site: SiteFolder,
    told: Callable[[int, int], None],
) -> Pictured:
    """Write every picture that the logs name and that can be shown."""
    named, findings = named_pictures(book, privacy)
    troubles = list(findings)
    pictures: dict[str, SitePicture] = {}
    for number, (source, picture) in enumerate(named.items()):
        told(number, len(named))
        try:
            pictures[source] = _write(folder, picture, site)
        except UnfitPicture as reason:
            troubles.append(unfit(picture.span, reason))
    read = tuple(_without_names(one) if one.code == IN_WORDS else one for one in book.findings)
    on_pages = tuple(_without_names(one) for one in troubles)
    shown = replace(book, pictures=pictures, findings=(*read, *on_pages))
    return Pictured(shown, tuple(troubles))


def _write(folder: Path, picture: NamedPicture, site: SiteFolder) -> SitePicture:
    data = _read(folder / picture.file)
    ending = PurePosixPath(picture.file).suffix.lower()
    mark = sha256(data).hexdigest()[:MARK]
    if ending == DRAWN:
        drawing = clean_drawing(data)
        files = drawing_files(mark, drawing_size(drawing))
        site.write(files.plain.path, drawing)
        return files
    *size, plain = photo_size(data, ending)
    files = photo_files(mark, (size[0], size[1]), plain)
    origin = made_with()
    if not all(site.keep(file.path, origin) for file in files.files):
        made = list(draw_photo(data, ending, files))  # whole before any of it is written
        for path, content in made:
            site.write(path, content, origin)
    return files


def _read(file: Path) -> bytes:
    try:
        if file.stat().st_size > LARGEST:
            raise UnfitPicture(f"it is larger than {LARGEST // 1_000_000} MB")
        return file.read_bytes()
    except OSError as error:
        raise UnfitPicture(f"it cannot be read: {error.strerror}") from error


def _without_names(finding: Finding) -> Finding:
    """A finding on a picture as pages tell it: by its words, not by the name of its file."""
    span = finding.span
    words = span.text[: span.text.find("](") + 2] + "…)"
    above = "\n" * (span.line - 1)
    source = SourceText(span.path, above + words)
    hint = "" if finding.code == "picture-missing" else finding.hint
    return replace(finding, span=Span(source, len(above), len(source.text)), hint=hint)
