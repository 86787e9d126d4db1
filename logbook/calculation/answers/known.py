"""What an answer may look up."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.results import BookFigures


@dataclass(frozen=True, slots=True)
class Known:
    """What an answer may look up: a book's figures, and the run in whose log it was asked."""

    figures: BookFigures | None = None
    run: str = ""
