"""Fine metal over time: as a plotly figure in plain dicts, a drawing, a table and a sentence.

One panel for each metal, because grams of gold and kilograms of silver share no scale. The
bars are one standard uncertainty. plotly itself is never imported: its script, if the reader's
browser loads it, takes the plain dict; without it the drawing stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape
from typing import Any

from logbook.calculation.results import MetalPoint
from logbook.pages.addresses import Here, Link
from logbook.pages.chart_drawing import Drawing, Level, days_drawn, draw
from logbook.pages.figure_view import known_text
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import plural
from logbook.pages.wording import day_text, listed

TITLE = "Fine metal made so far"
GAP = 0.08  # of the height, between two panels
PANEL_HEIGHT = 190
CLEAR = "rgba(0,0,0,0)"


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One point in words."""

    day: str
    run: Link
    metal: str
    fine: str
    so_far: str


@dataclass(frozen=True, slots=True)
class ChartView:
    """A chart in four forms, which say the same."""

    name: str
    title: str
    sentence: str
    notes: tuple[str, ...]
    drawing: Drawing
    figure: Mapping[str, Any]
    rows: tuple[ChartRow, ...]


def fine_metal_chart(points: Sequence[MetalPoint], here: Here) -> ChartView | None:
    """The chart of the front page; None where the book has no point for it yet."""
    series = by_metal(points)
    if not series:
        return None
    notes = [
        f"{metal.capitalize()}: {note}"
        for metal, found in series.items()
        for note in found[-1].so_far.notes
    ]
    return ChartView(
        name="fine-metal",
        title=TITLE,
        sentence=_sentence(series),
        notes=tuple(notes),
        drawing=draw({metal: _levels(found) for metal, found in series.items()}),
        figure=plotly_figure(series, here),
        rows=tuple(_row(point, here) for point in reversed(points)),
    )


def by_metal(points: Sequence[MetalPoint]) -> dict[str, list[MetalPoint]]:
    """Points that can be drawn, by metal, in order of day; the metals by name."""
    series: dict[str, list[MetalPoint]] = {}
    for point in sorted(points, key=lambda point: (point.metal, point.day)):
        if point.so_far.known:
            series.setdefault(point.metal, []).append(point)
    return series


def _levels(points: Sequence[MetalPoint]) -> list[Level]:
    return [
        Level(point.day, value.value, value.u, f"{day_text(point.day)}: {known_text(point.so_far)}")
        for point in points
        if (value := point.so_far.value) is not None
    ]


def plotly_figure(series: Mapping[str, Sequence[MetalPoint]], here: Here) -> dict[str, Any]:
    """The figure as plotly's script takes it. Colours of text and grid are set by the page."""
    count = len(series)
    height = (1.0 - GAP * (count - 1)) / count
    layout: dict[str, Any] = {
        "height": PANEL_HEIGHT * count + 60,
        "margin": {"l": 70, "r": 16, "t": 12, "b": 40},
        "paper_bgcolor": CLEAR,
        "plot_bgcolor": CLEAR,
        "showlegend": False,
        "hovermode": "closest",
        "xaxis": {
            "type": "date",
            "anchor": f"y{count}" if count > 1 else "y",
            "range": [day.isoformat() for day in days_drawn(_days(series))],
        },
    }
    data = []
    for place, (metal, points) in enumerate(series.items()):
        suffix = "" if place == 0 else str(place + 1)
        top = 1.0 - place * (height + GAP)
        layout[f"yaxis{suffix}"] = {
            "title": {"text": f"{metal}, g"},
            "rangemode": "tozero",
            "domain": [max(0.0, top - height), top],
        }
        data.append(_trace(metal, points, f"y{suffix}", here))
    return {"data": data, "layout": layout}


def _days(series: Mapping[str, Sequence[MetalPoint]]) -> list[date]:
    return [point.day for points in series.values() for point in points]


def _trace(metal: str, points: Sequence[MetalPoint], axis: str, here: Here) -> dict[str, Any]:
    mark = metal_mark(metal)
    levels = _levels(points)
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": metal,
        "x": [level.day.isoformat() for level in levels],
        "y": [level.value for level in levels],
        "yaxis": axis,
        "error_y": {
            "type": "data",
            "array": [level.u for level in levels],
            "color": mark.colour,
            "thickness": 1.5,
            "width": 4,
        },
        "line": {"shape": "hv", "dash": mark.dash, "color": mark.colour, "width": 2},
        "marker": {"symbol": mark.symbol, "color": mark.colour, "size": 9},
        "customdata": [
            [known_text(point.so_far), escape(here.run(point.run).text)] for point in points
        ],
        "hovertemplate": (
            f"%{{x|%e %B %Y}}<br>{metal} so far: %{{customdata[0]}}"
            "<br>after %{customdata[1]}<extra></extra>"
        ),
    }


def _row(point: MetalPoint, here: Here) -> ChartRow:
    return ChartRow(
        day=day_text(point.day),
        run=here.run(point.run),
        metal=point.metal,
        fine=known_text(point.fine),
        so_far=known_text(point.so_far),
    )


def _sentence(series: Mapping[str, Sequence[MetalPoint]]) -> str:
    """What the chart shows, for those who do not see it."""
    last = max(points[-1].day for points in series.values())
    made = [
        f"{known_text(points[-1].so_far)} of fine {metal} in {plural(len(points), 'run')}"
        for metal, points in series.items()
    ]
    return f"By {day_text(last)} the bench had made {listed(made)}."
