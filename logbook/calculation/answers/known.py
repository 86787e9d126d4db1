"""What an answer may look up."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.results import BookFigures
from logbook.model.book import Book


@dataclass(frozen=True, slots=True)
class Known:
    """What an answer may look up: a book's figures, and the run in whose log it was asked.

    `pages` is a book that was read and not worked out, where its supplies are all that counts.
    """

    figures: BookFigures | None = None
    run: str = ""
    pages: Book | None = None

    @property
    def book(self) -> Book | None:
        """The book as it was read."""
        return self.figures.book if self.figures is not None else self.pages
