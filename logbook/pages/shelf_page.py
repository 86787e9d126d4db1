"""The shelf: what stands there, since when, and what it holds, as far as that is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from logbook.calculation.results import BookFigures, Thing
from logbook.calculation.sums import add_up
from logbook.pages.addresses import SHELF, Here, Link
from logbook.pages.carried_view import Brief, thing_money
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.frame import Frame, Site
from logbook.pages.rounding import plural
from logbook.pages.thing_view import ThingView, stage_of, thing_view
from logbook.pages.wording import age_text, day_text

HELD_WORDS = {
    "product": "products held, at the latest prices",
    "shelf": "side streams and charges, at the latest prices",
    "scrap": "scrap, at the latest prices",
}


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One thing on the shelf."""

    thing: ThingView
    made_by: Link
    since: str
    age: str
    money: Brief


@dataclass(frozen=True, slots=True)
class ShelfView:
    """The shelf page."""

    frame: Frame
    summary: str
    totals: tuple[FigureView, ...]
    rows: tuple[ShelfRow, ...]


def shelf_view(figures: BookFigures, site: Site) -> ShelfView:
    """What stands on the shelf at the end of the book."""
    here = site.addresses.at(SHELF)
    rows = shelf_rows(figures, site, here)
    newest = site.newest_day
    counted = f"Ages are counted to {day_text(newest)}, the newest day in the book." if rows else ""
    return ShelfView(
        frame=site.frame(here, "The shelf"),
        summary=f"{plural(len(rows), 'thing')} on the shelf. {counted}".strip(),
        totals=(
            *_totals(figures.shelf, here),
            *(held_figures(figures, here) if here.money else ()),
        ),
        rows=rows,
    )


def shelf_rows(figures: BookFigures, site: Site, here: Here) -> tuple[ShelfRow, ...]:
    """The things on the shelf, what has stood longest first."""
    money = thing_money(figures)
    things = sorted(figures.shelf, key=lambda thing: (thing.day or date.max, thing.key))
    return tuple(
        ShelfRow(
            thing=thing_view(thing, here, levels=1),
            made_by=stage_of(thing.made_by, here) or Link("came from outside"),
            since=day_text(thing.day),
            age=age_text(thing.day, site.newest_day),
            money=money.brief(thing.key, here),
        )
        for thing in things
    )


def held_figures(figures: BookFigures, here: Here) -> Iterator[FigureView]:
    """What is held is worth at the latest prices: products, then what is left to be worked on."""
    sums = figures.held_worth.sums or {}
    for kind, words in HELD_WORDS.items():
        if kind in sums:
            yield figure_view(sums[kind], here, levels=1, name=words)


def _totals(shelf: tuple[Thing, ...], here: Here) -> tuple[FigureView, ...]:
    """How much of each metal stands on the shelf; not known where one thing's content is not."""
    metals = sorted({metal for thing in shelf for metal in thing.contents})
    return tuple(
        figure_view(
            add_up(
                metal,
                "g",
                [thing.contents[metal] for thing in shelf if metal in thing.contents],
                "sum of what the things on the shelf hold",
            ),
            here,
            levels=1,
        )
        for metal in metals
    )
