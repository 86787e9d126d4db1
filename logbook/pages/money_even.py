"""What would just cover it: the price and the grade at which worth pays for all that was spent.

Beside each stands what there is: the latest price, and the grade that the scrap had. Nothing
here says what a price will be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, Earnings, RunFigures
from logbook.calculation.sums import difference, ratio
from logbook.pages.addresses import Here, Link
from logbook.pages.figure_view import FigureView, bare_figure, figure_view

WHOLE_BOOK = "the whole book"
COVERED, SHORT, EVEN = "covers it", "falls short", "comes out even, within the doubt"


@dataclass(frozen=True, slots=True)
class EvenRow:
    """One metal of the book or of a run. `so` says whether the latest price covers it."""

    scope: Link
    metal: str
    price: FigureView | None
    latest: FigureView | None
    so: str
    grade: FigureView | None
    head_grade: FigureView | None


@dataclass(frozen=True, slots=True)
class EvenView:
    """What would just cover the book, and each run."""

    book: tuple[EvenRow, ...]
    runs: tuple[EvenRow, ...]


def even_view(figures: BookFigures, here: Here) -> EvenView:
    """Break-even prices and grades of the book, then of its runs, the newest first.

    How those of a run were worked out stands on its page.
    """
    latest = latest_prices(figures)
    done = [one for one in figures.runs.values() if one.earnings is not None]
    return EvenView(
        book=tuple(_rows(Link(WHOLE_BOOK), figures.earnings, {}, latest, partial(_whole, here))),
        runs=tuple(
            row
            for one in reversed(done)
            for row in _rows(here.run(one.run.name), one.earnings, head_grades(one), latest, _bare)
        ),
    )


def latest_prices(figures: BookFigures) -> dict[str, Figure]:
    """The latest price of each metal."""
    noted = sorted(figures.prices, key=lambda price: price.day)
    prices = {price.metal: price.price for price in noted}
    return prices | {age.metal: age.price for age in figures.held_worth.ages}


def head_grades(figures: RunFigures) -> dict[str, Figure]:
    """What the scrap of a run held of each metal, gram by gram."""
    return {
        one.metal: ratio("head grade", "g/g", one.head, figures.feed, "head / feed")
        for one in figures.balances
    }


def _rows(
    scope: Link,
    earnings: Earnings | None,
    grades: Mapping[str, Figure],
    latest: Mapping[str, Figure],
    view: Callable[[Figure | None], FigureView | None],
) -> Iterator[EvenRow]:
    if earnings is None:
        return
    for metal in dict.fromkeys((*earnings.break_even_price, *earnings.break_even_grade)):
        price, now = earnings.break_even_price.get(metal), latest.get(metal)
        grade = earnings.break_even_grade.get(metal)
        yield EvenRow(
            scope=scope,
            metal=metal,
            price=view(price),
            latest=view(now),
            so=_so(price, now),
            grade=view(grade),
            head_grade=view(grades.get(metal) if grade is not None else None),
        )


def _whole(here: Here, figure: Figure | None) -> FigureView | None:
    return None if figure is None else figure_view(figure, here, levels=1)


def _bare(figure: Figure | None) -> FigureView | None:
    return None if figure is None else bare_figure(figure)


def _so(price: Figure | None, latest: Figure | None) -> str:
    """Whether the latest price covers what was spent; empty where that cannot be told."""
    if price is None or latest is None:
        return ""
    over = difference("over", price.unit, latest, price).value
    if over is None:
        return ""
    if abs(over.value) <= over.u:
        return EVEN
    return COVERED if over.value > 0 else SHORT
