"""The front page: what the bench has made so far, what it is worth, and what waits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.results import BookFigures, Gap, PeriodTotal
from logbook.model.book import Book
from logbook.model.run import Run
from logbook.pages.addresses import (
    ATTENTION,
    CAUTIONS,
    FRONT,
    SHELF,
    SIDE_BY_SIDE,
    WASTE,
    Here,
    Link,
)
from logbook.pages.attention_page import AttentionCount, count_attention, old_prices
from logbook.pages.block_view import Beside, BlockView, block_views
from logbook.pages.cautions_page import dangers_raised
from logbook.pages.charts.fine_metal import fine_metal_chart
from logbook.pages.charts.view import ChartView
from logbook.pages.cost_view import earned_figures
from logbook.pages.figure_view import FigureView, bare_figure, figure_view
from logbook.pages.frame import Frame, Site
from logbook.pages.gap_view import GapView, gaps_by_run, open_balances
from logbook.pages.privacy import shown
from logbook.pages.rounding import plural
from logbook.pages.shelf_page import ShelfRow, held_figures, shelf_rows
from logbook.pages.supplies_page import ran_out
from logbook.pages.verdict import verdict
from logbook.pages.waste_page import standing_words
from logbook.pages.wording import STATUS_WORDS, day_text, listed, period_text

TOTALS = ("head", "product", "recovery", "hours")
MONEY_TOTALS = ("cost", "net")
RUNS_SHOWN = 8
SHELF_SHOWN = 6
GAPS_SHOWN = 3
WAITS_SHOWN = 6
NOTHING = Beside()


@dataclass(frozen=True, slots=True)
class RunLine:
    """One run in a list of runs."""

    run: Link
    day: str
    status: str
    metals: str
    verdict: str


@dataclass(frozen=True, slots=True)
class TotalRow:
    """The running figures of one metal over one period."""

    metal: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class Period:
    """A month, a year or all of the book."""

    name: str
    rows: tuple[TotalRow, ...]


@dataclass(frozen=True, slots=True)
class FrontView:
    """The front page."""

    frame: Frame
    title: str
    keeper: str
    summary: str
    opening: tuple[BlockView, ...]
    fine: tuple[FigureView, ...]
    money: tuple[FigureView, ...]
    chart: ChartView | None
    attention: AttentionCount
    attention_href: str
    beware: tuple[Link, ...]
    waits: tuple[Link, ...]
    gaps: tuple[GapView, ...]
    more_gaps: str
    shelf: tuple[ShelfRow, ...]
    shelf_count: str
    shelf_href: str
    latest: tuple[RunLine, ...]
    planned: tuple[RunLine, ...]
    all_runs: Link
    total_headings: tuple[str, ...]
    years: tuple[Period, ...]
    months: tuple[Period, ...]


def front_view(figures: BookFigures, site: Site) -> FrontView:
    """The front page of a book."""
    here = site.addresses.at(FRONT)
    bench = figures.book.bench
    runs = _newest_first(figures.book)
    done = [run for run in runs if not run.planned]
    carried_out = {check.plan for check in figures.plan_checks.values()}
    shelf = shelf_rows(figures, site, here)
    gaps = open_balances(figures, here)
    of_run = gaps_by_run(figures.gaps)

    def line(run: Run) -> RunLine:
        return _run_line(run, figures, of_run.get(run.name, ()), here)

    return FrontView(
        frame=site.frame(here, bench.title),
        title=bench.title,
        keeper=bench.keeper,
        summary=_summary(figures.book, site.newest_day),
        opening=block_views(
            shown(site.privacy, bench.opening), here, lambda _: NOTHING, figures.book.pictures
        ),
        fine=tuple(_fine(figures, here)),
        money=tuple(_money(figures, here)),
        chart=fine_metal_chart(figures.points, here),
        attention=count_attention(figures, site),
        attention_href=here.to(ATTENTION),
        beware=tuple(_beware(figures, site, here)),
        waits=tuple(_waits(figures, site, here))[:WAITS_SHOWN],
        gaps=gaps[:GAPS_SHOWN],
        more_gaps=_more(len(gaps) - GAPS_SHOWN),
        shelf=shelf[:SHELF_SHOWN],
        shelf_count=plural(len(shelf), "thing"),
        shelf_href=here.to(SHELF),
        latest=tuple(line(run) for run in done[:RUNS_SHOWN]),
        planned=tuple(line(run) for run in runs if run.planned and run.name not in carried_out),
        all_runs=Link(f"All {plural(len(done), 'run')} side by side", here.to(SIDE_BY_SIDE)),
        total_headings=TOTALS + (MONEY_TOTALS if here.money else ()),
        years=_periods(figures, here, years=True),
        months=_periods(figures, here, years=False),
    )


def _fine(figures: BookFigures, here: Here) -> Iterator[FigureView]:
    """The fine metal that the book's runs made and that stays, one figure for each metal."""
    for one in figures.totals:
        if one.period == "all":
            yield figure_view(one.product, here, levels=1, name=one.metal)


def _money(figures: BookFigures, here: Here) -> Iterator[FigureView]:
    """What an hour earned over all runs, and what is held is worth."""
    if not here.money:
        return
    if figures.earnings is not None:
        yield from earned_figures(figures.earnings, here, levels=1)
    yield from held_figures(figures, here)


def _waits(figures: BookFigures, site: Site, here: Here) -> Iterator[Link]:
    """Supplies that ran out and prices that are old, by name."""
    yield from ran_out(figures, site, here)
    yield from old_prices(figures, here)


def _beware(figures: BookFigures, site: Site, here: Here) -> Iterator[Link]:
    """What stands on pages of its own and must not be forgotten: dangers, and waste."""
    dangers = dangers_raised(figures, site)
    if dangers:
        are = "is" if dangers == 1 else "are"
        yield Link(f"{plural(dangers, 'danger')} {are} raised in the logs", here.to(CAUTIONS))
    if any(one.stands for one in figures.waste):
        yield Link(standing_words(figures.waste), here.to(WASTE))


def _newest_first(book: Book) -> list[Run]:
    return sorted(book.runs, key=lambda run: (run.day or date.min, run.name), reverse=True)


def _more(count: int) -> str:
    return plural(count, "more open balance") if count > 0 else ""


def _run_line(run: Run, figures: BookFigures, gaps: Sequence[Gap], here: Here) -> RunLine:
    return RunLine(
        run=here.run(run.name),
        day=day_text(run.day),
        status=STATUS_WORDS[run.status],
        metals=listed(run.metals),
        verdict=verdict(run, figures.runs.get(run.name), gaps, money=here.money),
    )


def _summary(book: Book, newest: date | None) -> str:
    """How much there is in the book, in one sentence."""
    runs = [run for run in book.runs if not run.planned]
    days = [run.day for run in runs if run.day is not None]
    if not days:
        return "no dated run in this book yet"
    count = plural(len(runs), "run")
    return f"{count} from {day_text(min(days))} to {day_text(newest)}"


def _periods(figures: BookFigures, here: Here, *, years: bool) -> tuple[Period, ...]:
    """Years with all of the book, or months; the newest first."""
    found: dict[str, list[PeriodTotal]] = {}
    for one in figures.totals:
        if ("-" in one.period) is not years:
            found.setdefault(one.period, []).append(one)
    order = sorted(found, reverse=True)  # "all" stands before any year
    return tuple(
        Period(
            period_text(period),
            tuple(_total_row(one, here, working=years) for one in found[period]),
        )
        for period in order
    )


def _total_row(one: PeriodTotal, here: Here, *, working: bool) -> TotalRow:
    """A row of totals; months leave their working to the pages of the runs."""
    money = (one.cost, one.net) if here.money else ()
    figures = (one.head, one.product, one.recovery, one.hours, *money)
    return TotalRow(
        one.metal,
        tuple(
            figure_view(figure, here, levels=1) if working else bare_figure(figure)
            for figure in figures
        ),
    )
