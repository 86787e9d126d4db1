"""Hands-on hours for each gram of fine metal, run by run: whether the work gets quicker."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.across.measures import hours_per_gram
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, RunFigures
from logbook.pages.addresses import Here
from logbook.pages.charts.plain import Axis, Cell, Chart, Line, Panel, Point, Series
from logbook.pages.charts.scales import day_axis, number_axis, unknown_place
from logbook.pages.charts.view import (
    DOUBT,
    NOT_KNOWN,
    UNKNOWN,
    ChartView,
    chart_view,
    joined,
    link_cell,
    number_cell,
)
from logbook.pages.figure_view import known_text
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import plural
from logbook.pages.wording import day_text

TITLE = "Hours per gram"
NOTES = (
    "Hands-on time that the product of a run must bear, with what came in from earlier runs.",
    "Runs that made no product, or several metals, are not drawn: nothing tells whose hours "
    "they were.",
    "Each metal has a scale of its own.",
)
HEADINGS = ("day", "run", "metal", "hours for a gram")


@dataclass(frozen=True, slots=True)
class _Worked:
    """The hours for a gram of one run."""

    day: date
    run: str
    metal: str
    figure: Figure


def hours_chart(figures: BookFigures, here: Here) -> ChartView | None:
    """Hours per gram over time; None where no run gives any."""
    found = _worked(figures.runs.values())
    series: dict[str, list[_Worked]] = {}
    for one in sorted(found, key=lambda one: (one.metal, one.day)):
        series.setdefault(one.metal, []).append(one)
    series = {name: of for name, of in series.items() if any(one.figure.known for one in of)}
    if not series:
        return None
    across = day_axis([one.day for of in series.values() for one in of])
    unknown = any(not one.figure.known for of in series.values() for one in of)
    return chart_view(
        Chart(
            name="hours-per-gram",
            title=TITLE,
            sentence=_sentence(series),
            notes=joined((*NOTES, DOUBT, NOT_KNOWN if unknown else None)),
            panels=tuple(_panel(metal, of, across, here) for metal, of in series.items()),
            headings=HEADINGS,
            table=tuple(_row(one, here) for one in reversed(found)),
            one_time=True,
        )
    )


def _worked(runs: Iterable[RunFigures]) -> list[_Worked]:
    """Every run that made something of one metal alone, in order of day."""
    found = []
    for one in runs:
        day = one.end or one.run.day
        own = [balance for balance in one.balances if balance.metal in one.run.metals]
        if one.run.planned or day is None or len(own) != 1:
            continue
        made = own[0].product.value
        if made is None or made.value > 0.0:
            found.append(_Worked(day, one.run.name, own[0].metal, hours_per_gram(one)))
    return sorted(found, key=lambda one: (one.day, one.run))


def _panel(metal: str, found: Sequence[_Worked], across: Axis, here: Here) -> Panel:
    title, look = f"{metal}, h/g", metal_mark(metal)
    points = tuple(
        Point(_x(one), value.value, _words(one, here), uy=value.u)
        for one in found
        if (value := one.figure.value) is not None
    )
    unknown = [one for one in found if not one.figure.known]
    up = number_axis(title, [point.y + point.uy for point in points], strip=bool(unknown))
    marks = [Series(metal, look, (points,), Line.STRAIGHT)]
    if unknown:
        crosses = tuple(Point(_x(one), unknown_place(up), _words(one, here)) for one in unknown)
        marks.append(Series("not known", UNKNOWN, (crosses,), hollow=True))
    return Panel(title, across, up, tuple(marks))


def _x(one: _Worked) -> float:
    return float(one.day.toordinal())


def _words(one: _Worked, here: Here) -> str:
    return f"{day_text(one.day)}: {known_text(one.figure)}, {here.run(one.run).text}"


def _row(one: _Worked, here: Here) -> tuple[Cell, ...]:
    return (
        Cell(day_text(one.day)),
        link_cell(here.run(one.run)),
        Cell(one.metal),
        number_cell(one.figure),
    )


def _sentence(series: Mapping[str, Sequence[_Worked]]) -> str:
    """The first and the last run of each metal, and the quickest."""
    parts = []
    for metal, found in series.items():
        known = [one for one in found if one.figure.value is not None]
        quick = min(known, key=lambda one: one.figure.value.value if one.figure.value else 0.0)
        parts.append(
            f"A gram of {metal} took {known_text(known[-1].figure)} in the latest of "
            f"{plural(len(known), 'run')}, and at best {known_text(quick.figure)}."
        )
    return " ".join(parts)
