"""Read a book from its folder and say what there is to say about its logs. Writes nothing.

This stays quick: neither the figures nor the pages are made, and no library that they need
is loaded.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from logbook.calculation.book_figures import whole_book_findings
from logbook.calculation.cautions.raised import cautions_of_runs
from logbook.calculation.results import Caution
from logbook.calculation.schedule import distinct_runs
from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.kept import Kept
from logbook.pages.privacy import privacy_of
from logbook.reading.read_book import read_book
from logbook.writing.book_folder import read_folder
from logbook.writing.pictures import named_pictures


@dataclass(frozen=True, slots=True)
class Proof:
    """How many logs were read, and every problem in them in order of file and place.

    `cautions` are those of plans first, then of the newest log and so on.
    """

    logs: int
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...] = ()


def read_from(folder: Path, kept: Kept | None = None) -> Book:
    """The book in a folder. Files that could not be read are among its findings."""
    found = read_folder(folder)
    book = read_book(found.texts, found.other_files, kept)
    return replace(book, findings=(*book.findings, *found.findings))


def proof(folder: Path) -> Proof:
    """Read a book and tell what is wrong with it."""
    book = read_from(folder)
    _, pictures = named_pictures(book, privacy_of(book, with_private=True))
    findings = dict.fromkeys((*book.findings, *whole_book_findings(book), *pictures))
    in_order = sorted(findings, key=lambda finding: finding.sort_key)
    return Proof(len(book.runs), tuple(in_order), tuple(_cautions(book)))


def _cautions(book: Book) -> Iterator[Caution]:
    runs = distinct_runs(book)
    found = cautions_of_runs(runs, book.supplies)
    newest = tuple(reversed(runs))
    for planned in (True, False):
        for run in newest:
            if run.planned is planned:
                yield from found[run.name]
