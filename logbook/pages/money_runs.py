"""What each run earned, and the sums of months and years, as rows of a table.

How each figure was worked out stands on the page of its run; a reason unfolds in its cell.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.money.worth import NOTHING_MADE
from logbook.calculation.results import BookFigures, PeriodTotal, RunFigures
from logbook.calculation.sums import add_up
from logbook.model.run import Run
from logbook.pages.addresses import Here, Link
from logbook.pages.cost_view import hour_earned
from logbook.pages.figure_view import FigureView, bare_figure
from logbook.pages.wording import STATUS_WORDS, day_text, period_text

RUN_HEADINGS = (
    "hours",
    "cost, with what it took over",
    "worth",
    "net",
    "an hour earned",
    "had the scrap cost nothing",
)
RUN_NAMES = ("hours", "cost", "worth", "net", "an hour", "scrap free")  # on a narrow page
SPENT_ONLY = 2  # figures of a run that made nothing: hours and cost


@dataclass(frozen=True, slots=True)
class RunRow:
    """One run. `nothing` says so where it made nothing, and then only what it took is shown."""

    run: Link
    words: str
    figures: tuple[FigureView, ...]
    nothing: str


@dataclass(frozen=True, slots=True)
class PeriodRow:
    """The hours, cost and net of the runs that were after one metal, in one period."""

    metal: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class Period:
    """A month, a year, or all of the book."""

    name: str
    rows: tuple[PeriodRow, ...]


def run_rows(figures: BookFigures, here: Here) -> tuple[RunRow, ...]:
    """Every run that is more than a plan, the newest first."""
    return tuple(
        _row(run, figures.runs[run.name], here)
        for run in reversed(figures.book.runs)
        if not run.planned and run.name in figures.runs
    )


def _row(run: Run, figures: RunFigures, here: Here) -> RunRow:
    link = here.run(run.name)
    nothing = NOTHING_MADE if figures.net.why == NOTHING_MADE else ""
    shown = tuple(bare_figure(figure) for figure in _of_run(figures))
    return RunRow(
        run=Link(link.text, f"{link.href}#cost" if link.href else ""),
        words=f"{day_text(run.day)}, {STATUS_WORDS[run.status]}",
        figures=shown[:SPENT_ONLY] if nothing else shown,
        nothing=nothing,
    )


def _of_run(figures: RunFigures) -> Iterator[Figure]:
    """Hours, cost, worth, net, and what an hour earned with the scrap and without."""
    earnings = figures.earnings
    yield figures.hands_on if earnings is None else earnings.hours
    yield cost_taken_over(figures)
    yield figures.worth
    yield figures.net
    hourly = hour_earned(figures)
    yield from (hourly, hourly if earnings is None else earnings.per_hour_without_feed)


def cost_taken_over(figures: RunFigures) -> Figure:
    """What was spent in a run with its scrap, and what came in with things of earlier runs."""
    spent, costing = figures.cost_with_feed, figures.costing
    if costing is None:
        return spent
    return add_up("cost in all", spent.unit, [spent, costing.carried_in])


def periods(figures: BookFigures, *, years: bool) -> tuple[Period, ...]:
    """Years with all of the book, or months; the newest first, their working on the front page."""
    found: dict[str, list[PeriodTotal]] = {}
    for one in figures.totals:
        if ("-" in one.period) is not years:
            found.setdefault(one.period, []).append(one)
    order = sorted(found, reverse=True)  # "all" stands before any year
    return tuple(Period(period_text(period), tuple(map(_sums, found[period]))) for period in order)


def _sums(one: PeriodTotal) -> PeriodRow:
    return PeriodRow(one.metal, tuple(map(bare_figure, (one.hours, one.cost, one.net))))
