"""The marks of a chart as traces of plotly's script: plain dicts, each with its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from html import escape
from typing import Any

from logbook.pages.charts.fields import BAR_DOWN, BAR_HALF
from logbook.pages.charts.plain import Axis, Bars, Line, Panel, Reach, Reaches, Series

Plain = dict[str, Any]
CLEAR = "rgba(0,0,0,0)"
SHAPES = {Line.STRAIGHT: "linear", Line.STEPS: "hv"}
HOVER = "%{customdata}<extra></extra>"
CAP = {True: "line-ew-open", False: "line-ns-open"}  # by whether it stands upright
OPEN_LOW = {True: "triangle-down-open", False: "triangle-left-open"}
OPEN_HIGH = {True: "triangle-up-open", False: "triangle-right-open"}


def place_on(axis: Axis, value: float) -> float | str:
    """A place on an axis, as plotly takes it: a day by its name."""
    return date.fromordinal(int(value)).isoformat() if axis.days else value


def traces(marks: Series | Reaches | Bars, panel: Panel) -> Iterator[Plain]:
    """The traces of marks that belong together."""
    if isinstance(marks, Series):
        yield _series(marks, panel)
    elif isinstance(marks, Bars):
        yield _bars(marks)
    else:
        yield _reaches(marks, panel)


def _series(series: Series, panel: Panel) -> Plain:
    """Points and what joins them; a place with no value parts one stretch from the next."""
    look = series.look
    xs: list[float | str | None] = []
    ys: list[float | None] = []
    words: list[str] = []
    doubts: tuple[list[float], list[float]] = ([], [])
    for place, stretch in enumerate(series.stretches):
        if place:
            xs.append(place_on(panel.across, stretch[0].x))
            ys.append(None)
            words.append("")
            for doubt in doubts:
                doubt.append(0.0)
        for point in stretch:
            xs.append(place_on(panel.across, point.x))
            ys.append(point.y)
            words.append(escape(point.words))
            doubts[0].append(point.ux)
            doubts[1].append(point.uy)
    trace: Plain = {
        "type": "scatter",
        "mode": "markers" if series.line is Line.NONE else "lines+markers",
        "name": escape(series.name),
        "x": xs,
        "y": ys,
        "customdata": words,
        "hovertemplate": HOVER,
        "connectgaps": False,
        "cliponaxis": False,
        "marker": {
            "symbol": look.symbol + ("-open" if series.hollow else ""),
            "color": look.colour,
            "size": 9,
            "line": {"color": look.colour, "width": 2 if series.hollow else 0},
        },
    }
    for name, doubt in zip(("error_x", "error_y"), doubts, strict=True):
        if any(doubt):
            trace[name] = _doubt(doubt, look.colour)
    if series.line is not Line.NONE:
        shape = SHAPES[series.line]
        trace["line"] = {"shape": shape, "dash": look.dash, "color": look.colour, "width": 2}
    return trace


def _doubt(doubt: Sequence[float], colour: str) -> Plain:
    return {
        "type": "data",
        "array": list(doubt),
        "color": colour,
        "thickness": 1.5,
        "width": 4,
    }


def _bars(marks: Bars) -> Plain:
    colour = marks.look.colour
    trace: Plain = {
        "type": "bar",
        "orientation": "h",
        "name": escape(marks.name),
        "y": [bar.row + BAR_DOWN for bar in marks.bars],
        "x": [bar.end - bar.start for bar in marks.bars],
        "base": [bar.start for bar in marks.bars],
        "width": 2 * BAR_HALF,
        "customdata": [escape(bar.words) for bar in marks.bars],
        "hovertemplate": HOVER,
        "cliponaxis": False,
        "marker": {
            "color": CLEAR if marks.hollow else colour,
            "line": {"color": colour, "width": 1.5 if marks.hollow else 0},
        },
    }
    if any(bar.u for bar in marks.bars):
        trace["error_x"] = _doubt([bar.u for bar in marks.bars], "#868888")
    return trace


def _reaches(marks: Reaches, panel: Panel) -> Plain:
    """Lines between limits, parted by places with no value, each end with its marker."""
    along: list[float | None] = []
    beside: list[float | str | None] = []
    symbols: list[str] = []
    words: list[str] = []
    upright = marks.upright
    for one in marks.reaches:
        along += [*one.ends(panel.up if upright else panel.across), None]
        at = place_on(panel.across, one.at) if upright else _beside(one, panel)
        beside += [at, at, None]
        symbols += [
            OPEN_LOW[upright] if one.low is None else CAP[upright],
            OPEN_HIGH[upright] if one.high is None else CAP[upright],
            CAP[upright],
        ]
        words += [escape(one.words)] * 3
    return {
        "type": "scatter",
        "mode": "lines+markers",
        "name": escape(marks.name),
        "x": beside if upright else along,
        "y": along if upright else beside,
        "customdata": words,
        "hovertemplate": HOVER,
        "connectgaps": False,
        "cliponaxis": False,
        "line": {"color": marks.look.colour, "dash": "dot", "width": 1.5},
        "marker": {
            "symbol": symbols,
            "color": marks.look.colour,
            "size": 9,
            "line": {"color": marks.look.colour, "width": 1.5},
        },
    }


def _beside(reach: Reach, panel: Panel) -> float:
    return reach.at + (BAR_DOWN if panel.rows else 0.0)
