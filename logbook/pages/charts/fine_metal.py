"""Fine metal over time: how much of each metal the bench had made, run by run.

One panel for each metal, because grams of gold and kilograms of silver share no scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from logbook.calculation.results import MetalPoint
from logbook.pages.addresses import Here
from logbook.pages.charts.plain import Axis, Cell, Chart, Line, Panel, Point, Series
from logbook.pages.charts.scales import day_axis, number_axis
from logbook.pages.charts.view import DOUBT, ChartView, chart_view, link_cell, number_cell
from logbook.pages.figure_view import known_text
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import plural
from logbook.pages.wording import day_text, listed

TITLE = "Fine metal made so far"
SCALES = "Each metal has a scale of its own."
HEADINGS = ("day", "run", "metal", "from this run", "so far")


def fine_metal_chart(points: Sequence[MetalPoint], here: Here) -> ChartView | None:
    """Fine metal over time; None where the book has no point for it yet."""
    series = by_metal(points)
    if not series:
        return None
    days = [point.day for found in series.values() for point in found]
    across = day_axis(days)
    return chart_view(
        Chart(
            name="fine-metal",
            title=TITLE,
            sentence=_sentence(series),
            notes=(SCALES, DOUBT, *_left_out(series)),
            panels=tuple(_panel(metal, found, across, here) for metal, found in series.items()),
            headings=HEADINGS,
            table=tuple(_row(point, here) for point in reversed(points)),
            one_time=True,
        )
    )


def by_metal(points: Sequence[MetalPoint]) -> dict[str, list[MetalPoint]]:
    """Points that can be drawn, by metal, in order of day; the metals by name."""
    series: dict[str, list[MetalPoint]] = {}
    for point in sorted(points, key=lambda point: (point.metal, point.day)):
        if point.so_far.known:
            series.setdefault(point.metal, []).append(point)
    return series


def _left_out(series: Mapping[str, Sequence[MetalPoint]]) -> Iterator[str]:
    for metal, found in series.items():
        for note in found[-1].so_far.notes:
            yield f"{metal.capitalize()}: {note}."


def _panel(metal: str, found: Sequence[MetalPoint], across: Axis, here: Here) -> Panel:
    points = tuple(
        Point(float(one.day.toordinal()), value.value, _words(one, here), uy=value.u)
        for one in found
        if (value := one.so_far.value) is not None
    )
    title = f"{metal}, g"
    up = number_axis(title, [point.y + point.uy for point in points])
    return Panel(title, across, up, (Series(metal, metal_mark(metal), (points,), Line.STEPS),))


def _words(one: MetalPoint, here: Here) -> str:
    return f"{day_text(one.day)}: {known_text(one.so_far)}, after {here.run(one.run).text}"


def _row(point: MetalPoint, here: Here) -> tuple[Cell, ...]:
    return (
        Cell(day_text(point.day)),
        link_cell(here.run(point.run)),
        Cell(point.metal),
        number_cell(point.fine),
        number_cell(point.so_far),
    )


def _sentence(series: Mapping[str, Sequence[MetalPoint]]) -> str:
    last = max(points[-1].day for points in series.values())
    made = [
        f"{known_text(points[-1].so_far)} of fine {metal} in {plural(len(points), 'run')}"
        for metal, points in series.items()
    ]
    return f"By {day_text(last)} the bench had made {listed(made)}."
