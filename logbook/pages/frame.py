"""What every page shares: the title, the way home, and where the theme's files lie."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from logbook.model.book import Book
from logbook.model.edition import Edition
from logbook.pages.addresses import (
    ASSETS,
    FEED,
    FRONT,
    Addresses,
    Here,
)
from logbook.pages.descriptions import description
from logbook.pages.privacy import Privacy
from logbook.pages.ways import Room, Way, rooms_of, ways_from
from logbook.pages.wording import day_text, listed

LANGUAGE = "en"


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame around a page. `newest` says up to which day the book goes."""

    language: str
    book_title: str
    page_title: str
    home: str
    ways: tuple[Way, ...]
    assets: str
    newest: str
    money: bool  # whether sums of money are shown in this edition
    edition: str  # what this edition leaves out; empty where it is the whole book
    description: str
    canonical: str  # where this page stands on the web; empty where bench.md gives no address
    feed: str


@dataclass(frozen=True, slots=True)
class Site:
    """What the pages of one site have in common."""

    book: Book
    addresses: Addresses
    privacy: Privacy
    has_guide: bool
    newest_day: date | None  # ages are counted from it
    has_supplies: bool = False  # bought or used, in supplies.md or in a run

    def frame(self, here: Here, page_title: str, about: str = "") -> Frame:
        """The frame of one page; `about` is a sentence on it, where its kind says too little."""
        address = self.book.bench.address
        return Frame(
            language=LANGUAGE,
            book_title=self.book.bench.title,
            page_title=page_title,
            home=here.to(FRONT),
            ways=ways_from(here, self._rooms()),
            assets=here.to(ASSETS),
            newest=newest_text(self.newest_day),
            money=here.money,
            edition=edition_text(self.book.edition),
            description=description(here.page, page_title, about),
            canonical=on_the_web(address, here.page) if address else "",
            feed=here.to(FEED) if address else "",
        )

    def _rooms(self) -> tuple[Room, ...]:
        return rooms_of(
            supplies=self.has_supplies,
            prices=self.book.prices is not None,
            money=self.book.edition.money,
            guide=self.has_guide,
        )


def on_the_web(address: str, page: str) -> str:
    """Where a page stands on the web, once the site is there.

    >>> on_the_web("https://example.org/bench", "index.html")
    'https://example.org/bench/'
    >>> on_the_web("https://example.org/bench", "runs/2026-03-14-a.html")
    'https://example.org/bench/runs/2026-03-14-a.html'
    """
    return f"{address}/{'' if page == FRONT else quote(page)}"


def edition_text(edition: Edition) -> str:
    """What an edition leaves out, for the foot of every page.

    >>> edition_text(Edition(public=True, money=False, left_out=("money", "2 runs")))
    'This is a public edition: money and 2 runs are left out, and nothing in it counts them.'
    """
    if not edition.left_out:
        return ""
    are = "are" if len(edition.left_out) > 1 or edition.left_out[0].endswith("s") else "is"
    out = listed(edition.left_out)
    return f"This is a public edition: {out} {are} left out, and nothing in it counts them."


def newest_text(day: date | None) -> str:
    """Up to which day a book goes, for the foot of every page."""
    return f"The newest day in this book is {day_text(day)}." if day else "No day in this book yet."
