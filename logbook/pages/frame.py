"""What every page shares: the title, the way home, and where the theme's files lie."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.model.book import Book
from logbook.pages.addresses import (
    ASSETS,
    ATTENTION,
    BENCH,
    CAUTIONS,
    FRONT,
    GUIDE,
    METAL,
    MONEY,
    PRICES,
    SHELF,
    SIDE_BY_SIDE,
    SUPPLIES,
    WASTE,
    Addresses,
    Here,
)
from logbook.pages.privacy import Privacy
from logbook.pages.wording import day_text

LANGUAGE = "en"


@dataclass(frozen=True, slots=True)
class WayLink:
    """One of the links at the head of every page."""

    text: str
    href: str
    current: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame around a page. `newest` is the day up to which the book goes."""

    language: str
    book_title: str
    page_title: str
    home: str
    ways: tuple[WayLink, ...]
    assets: str
    newest: str


@dataclass(frozen=True, slots=True)
class Site:
    """What the pages of one site have in common."""

    book: Book
    addresses: Addresses
    privacy: Privacy
    has_guide: bool
    newest_day: date | None  # ages are counted from it
    has_supplies: bool = False  # bought or used, in supplies.md or in a run

    def frame(self, here: Here, page_title: str) -> Frame:
        """The frame of one page."""
        return Frame(
            language=LANGUAGE,
            book_title=self.book.bench.title,
            page_title=page_title,
            home=here.to(FRONT),
            ways=tuple(
                WayLink(text, here.to(path), path == here.page) for text, path in self._ways()
            ),
            assets=here.to(ASSETS),
            newest=newest_text(self.newest_day),
        )

    def _ways(self) -> list[tuple[str, str]]:
        ways = [
            ("Front", FRONT),
            ("Side by side", SIDE_BY_SIDE),
            ("Metal", METAL),
            ("Money", MONEY),
            ("Shelf", SHELF),
            ("Waste", WASTE),
            ("Cautions", CAUTIONS),
            ("Attention", ATTENTION),
            ("The bench", BENCH),
        ]
        ways += [("Supplies", SUPPLIES)] if self.has_supplies else []
        ways += [("Prices", PRICES)] if self.book.prices is not None else []
        return [*ways, *([("Guide", GUIDE)] if self.has_guide else [])]


def newest_text(day: date | None) -> str:
    """Up to which day a book goes, for the foot of every page."""
    return f"The newest day in this book is {day_text(day)}." if day else "No day in this book yet."
