"""Recovery by month, for each metal: filled where balances close, hollow where none can tell."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results import MonthRecovery
from logbook.pages.charts.plain import Axis, Cell, Chart, Line, Panel, Point, Series
from logbook.pages.charts.scales import UNKNOWN_SIGN, day_axis, number_axis, unknown_place
from logbook.pages.charts.view import (
    DOUBT,
    NOT_KNOWN,
    UNKNOWN,
    ChartView,
    chart_view,
    figure_words,
    joined,
)
from logbook.pages.figure_view import known_text
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import plural
from logbook.pages.wording import listed, period_text

TITLE = "Recovery by month"
PERCENT = 100.0
MIDDLE, BESIDE = 12, 19  # days of the month on which the two kinds of marks stand
NOTES = (
    "All product of a month over all head of the runs that made it, with an assayed head alone.",
    "Filled: runs whose balance closes. Hollow: runs of which that is not known, because "
    "something they left was not measured.",
    "Months that follow each other are joined; a month without such a run is a gap.",
    "What was set aside for a later run counts as not recovered yet.",
)
HEADINGS = ("month", "metal", "where the balance closes", "where that is not known", "left out")


def recovery_chart(months: Sequence[MonthRecovery]) -> ChartView | None:
    """Recovery by month; None where no month has a run with an assayed head."""
    drawn = [one for one in months if one.closing is not None or one.untested is not None]
    if not drawn:
        return None
    across = day_axis([_day(one.month, MIDDLE) for one in drawn])
    metals = sorted({one.metal for one in drawn})
    panels = [_panel(metal, [o for o in drawn if o.metal == metal], across) for metal in metals]
    return chart_view(
        Chart(
            name="recovery",
            title=TITLE,
            sentence=_sentence(drawn),
            notes=(*NOTES, DOUBT, *_notes(panels, months)),
            panels=tuple(panels),
            headings=HEADINGS,
            table=tuple(_row(one) for one in sorted(months, key=_order, reverse=True)),
            one_time=True,
        )
    )


def _order(one: MonthRecovery) -> tuple[str, str]:
    return one.month, one.metal


def _day(month: str, day: int) -> date:
    year, _, number = month.partition("-")
    return date(int(year), int(number), day)


def _panel(metal: str, months: Sequence[MonthRecovery], across: Axis) -> Panel:
    look, title = metal_mark(metal), f"{metal}, % recovered"
    closing = [(one.month, MIDDLE, one.closing) for one in months]
    untested = [(one.month, BESIDE, one.untested) for one in months]
    unknown = [one for one in (*closing, *untested) if one[2] is not None and not one[2].known]
    filled, hollow = tuple(_stretches(closing)), tuple(_stretches(untested))
    points = [point for stretch in (*filled, *hollow) for point in stretch]
    reach = [end for point in points for end in (point.y - point.uy, point.y + point.uy)]
    up = number_axis(title, reach, nothing=not reach, strip=bool(unknown))
    marks = [
        Series(f"{metal}, closes", look, filled, Line.STRAIGHT),
        Series(f"{metal}, not known whether it closes", look, hollow, Line.STRAIGHT, hollow=True),
    ]
    crosses = tuple(_cross(month, day, figure, up) for month, day, figure in unknown)
    if crosses:
        marks.append(Series("not known", UNKNOWN, (crosses,), hollow=True))
    return Panel(title, across, up, tuple(one for one in marks if one.stretches))


def _stretches(found: Iterable[tuple[str, int, Figure | None]]) -> Iterator[tuple[Point, ...]]:
    """Points of months that follow each other."""
    stretch: list[Point] = []
    last = 0
    for month, day, figure in found:
        if figure is None or figure.value is None:
            continue
        count = _count(month)
        if stretch and count != last + 1:
            yield tuple(stretch)
            stretch = []
        last = count
        x = float(_day(month, day).toordinal())
        value = figure.value.times(PERCENT)
        words = f"{period_text(month)}: {known_text(figure)}"
        stretch.append(Point(x, value.value, words, uy=value.u))
    if stretch:
        yield tuple(stretch)


def _count(month: str) -> int:
    year, _, number = month.partition("-")
    return int(year) * 12 + int(number)


def _cross(month: str, day: int, figure: Figure | None, up: Axis) -> Point:
    why = figure.why if figure is not None else ""
    words = f"{period_text(month)}: not known, because {why}"
    return Point(float(_day(month, day).toordinal()), unknown_place(up), words)


def _notes(panels: Sequence[Panel], months: Sequence[MonthRecovery]) -> tuple[str, ...]:
    """What must be said of these months alone."""
    named = [[one.value for one in panel.up.ticks if one.text != UNKNOWN_SIGN] for panel in panels]
    cut = any(min(values) > 0.0 for values in named if values)
    unknown = any(mark.look is UNKNOWN for panel in panels for mark in panel.marks)
    runs = len({run for one in months for run in one.left_out})
    are = "is" if runs == 1 else "are"
    return joined(
        (
            "Scales begin where the figures do, and not at nothing." if cut else None,
            NOT_KNOWN if unknown else None,
            f"{plural(runs, 'run')} {are} left out: the balance does not close, or more of the "
            "metal was set aside for a later run than was made."
            if runs
            else None,
        )
    )


def _row(one: MonthRecovery) -> tuple[Cell, ...]:
    left_out = plural(len(one.left_out), "run") if one.left_out else ""
    return (
        Cell(period_text(one.month)),
        Cell(one.metal),
        _cell(one.closing, one.closing_runs),
        _cell(one.untested, one.untested_runs),
        Cell(left_out),
    )


def _cell(figure: Figure | None, runs: Sequence[str]) -> Cell:
    if figure is None:
        return Cell("", number=True)
    return Cell(f"{figure_words(figure)} in {plural(len(runs), 'run')}", number=True)


def _sentence(months: Sequence[MonthRecovery]) -> str:
    """From where to where the recoveries of each metal lay."""
    metals = sorted({one.metal for one in months})
    told = [_told(metal, [one for one in months if one.metal == metal]) for metal in metals]
    return f"In a month with runs the bench recovered {listed(told)}."


def _told(metal: str, months: Sequence[MonthRecovery]) -> str:
    figures = [figure for one in months for figure in (one.closing, one.untested)]
    known = sorted(
        (value.value, known_text(figure))
        for figure in figures
        if figure is not None and (value := figure.value) is not None
    )
    if not known:
        return f"a share of {metal} that is not known"
    (_, least), (_, most) = known[0], known[-1]
    span = least if len(known) == 1 else f"between {least} and {most}"
    return f"{span} of the {metal} ({plural(len(months), 'month')})"
