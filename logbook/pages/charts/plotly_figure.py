"""A chart as plotly's script takes it: plain dicts and lists, nothing else.

plotly itself is never imported. The margins are in units of the drawing; the page scales them,
so that the live figure lies where the drawing lay. Colours of text, paper and grid are the page's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from html import escape
from math import log10
from typing import Any

from logbook.pages.charts.drawing import BAR_DOWN, BAR_HALF, NAME_UP, RULE_NAME
from logbook.pages.charts.fields import LETTER, WIDTH, Field, Layout, lay_out
from logbook.pages.charts.plain import (
    Axis,
    Bars,
    Chart,
    Line,
    Panel,
    Reach,
    Reaches,
    Rule,
    Series,
)
from logbook.pages.text_width import cut_to, text_width

Plain = dict[str, Any]
DIGITS = 6
CLEAR = "rgba(0,0,0,0)"
SHAPES = {Line.STRAIGHT: "linear", Line.STEPS: "hv"}
HOVER = "%{customdata}<extra></extra>"
CAP = {True: "line-ew-open", False: "line-ns-open"}  # by whether it stands upright
OPEN_LOW = {True: "triangle-down-open", False: "triangle-left-open"}
OPEN_HIGH = {True: "triangle-up-open", False: "triangle-right-open"}


def plotly_figure(chart: Chart) -> Plain:
    """The figure of a chart."""
    layout = lay_out(chart)
    panels = list(zip(chart.panels, layout.fields, strict=True))
    whole = _layout(layout)
    data: list[Plain] = []
    notes: list[Plain] = []
    shapes: list[Plain] = []
    for place, (panel, field) in enumerate(panels):
        number = "" if place == 0 else str(place + 1)
        axes = {"xaxis": f"x{number}", "yaxis": f"y{number}"}
        whole[f"xaxis{number}"] = {
            **_axis(panel.across),
            "anchor": axes["yaxis"],
            "showticklabels": field.named,
            "showgrid": not panel.across.days,
        }
        whole[f"yaxis{number}"] = {
            **_axis(panel.up),
            "anchor": axes["xaxis"],
            "domain": _domain(field, layout),
        }
        for marks in panel.marks:
            data += [{**trace, **axes} for trace in _traces(marks, panel)]
        notes += [*_titles(panel, field, axes["yaxis"])]
        notes += [*_row_names(panel, field, axes["yaxis"])]
        for rule in panel.rules:
            shapes.append(_rule(rule, panel, axes))
            notes.append(_rule_name(rule, panel, axes))
    figure: Plain = _short(
        {"data": data, "layout": {**whole, "annotations": notes, "shapes": shapes}}
    )
    return figure


def _short(value: Any) -> Any:
    """The same with numbers of no more digits than a screen can show, so that pages stay light."""
    if isinstance(value, dict):
        return {name: _short(one) for name, one in value.items()}
    if isinstance(value, list):
        return [_short(one) for one in value]
    return float(f"{value:.{DIGITS}g}") if isinstance(value, float) else value


def _layout(layout: Layout) -> Plain:
    first, last = layout.fields[0], layout.fields[-1]
    return {
        "width": WIDTH,
        "height": layout.height,
        "margin": {
            "l": first.left,
            "r": WIDTH - first.right,
            "t": first.top,
            "b": layout.height - last.bottom,
            "pad": 0,
        },
        "paper_bgcolor": CLEAR,
        "plot_bgcolor": CLEAR,
        "showlegend": False,
        "hovermode": "closest",
        "dragmode": False,
        "barmode": "overlay",
    }


def _domain(field: Field, layout: Layout) -> list[float]:
    """Which part of the height between the margins a field takes, from below."""
    top, bottom = layout.fields[0].top, layout.fields[-1].bottom
    return [
        max(0.0, (bottom - field.bottom) / (bottom - top)),
        min(1.0, (bottom - field.top) / (bottom - top)),
    ]


def _axis(axis: Axis) -> Plain:
    return {
        "type": "date" if axis.days else "log" if axis.tenfold else "linear",
        "range": [_end(axis, axis.low), _end(axis, axis.high)],
        "tickmode": "array",
        "tickvals": [_value(axis, one.value) for one in axis.ticks],
        "ticktext": [one.text for one in axis.ticks],
        "ticks": "outside",
        "ticklen": 6,
        "tickcolor": CLEAR,
        "fixedrange": True,
        "zeroline": False,
    }


def _value(axis: Axis, value: float) -> float | str:
    return date.fromordinal(int(value)).isoformat() if axis.days else value


def _end(axis: Axis, value: float) -> float | str:
    """An end of an axis: where it goes tenfold, plotly asks for the power of ten."""
    return log10(value) if axis.tenfold else _value(axis, value)


def _traces(marks: Series | Reaches | Bars, panel: Panel) -> Iterator[Plain]:
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
            xs.append(_value(panel.across, stretch[0].x))
            ys.append(None)
            words.append("")
            for doubt in doubts:
                doubt.append(0.0)
        for point in stretch:
            xs.append(_value(panel.across, point.x))
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
        at = _value(panel.across, one.at) if upright else _beside(one, panel)
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


def _note(text: str, **more: Any) -> Plain:
    return {"text": escape(text), "showarrow": False, **more}


def _strong(text: str, **more: Any) -> Plain:
    return {**_note(text, **more), "text": f"<b>{escape(text)}</b>"}


def _titles(panel: Panel, field: Field, axis: str) -> Iterator[Plain]:
    """The name of a panel above it, at the left, and of its axis across below, at the right."""
    place = {"xref": "paper", "yref": f"{axis} domain"}
    yield _strong(panel.title, **place, x=0, xanchor="left", y=1, yanchor="bottom", yshift=5)
    if field.named and panel.across.title:
        right = {"x": 1, "xanchor": "right", "y": 0, "yanchor": "bottom", "yshift": -46}
        yield _strong(panel.across.title, **place, **right)


def _row_names(panel: Panel, field: Field, axis: str) -> Iterator[Plain]:
    for at, row in enumerate(panel.rows):
        place = {"xref": "paper", "yref": axis, "y": at - NAME_UP, "yanchor": "middle"}
        room = field.right - field.left - text_width(row.words, LETTER) - 8.0
        yield _note(cut_to(row.name, room, LETTER), x=0, xanchor="left", **place)
        yield _note(row.words, x=1, xanchor="right", **place)


def _rule(rule: Rule, panel: Panel, axes: Plain) -> Plain:
    x, y = ([_value(panel.across, one) for one in rule.x], list(rule.y))
    return {
        "type": "line",
        "layer": "below",
        "xref": axes["xaxis"],
        "yref": axes["yaxis"],
        "x0": x[0],
        "x1": x[1],
        "y0": y[0],
        "y1": y[1],
        "line": {"dash": "dot", "width": 1.5},
    }


def _rule_name(rule: Rule, panel: Panel, axes: Plain) -> Plain:
    return _note(
        rule.words,
        xref=axes["xaxis"],
        x=_value(panel.across, rule.x[1]),
        xanchor="right",
        xshift=-RULE_NAME,
        yref=axes["yaxis"],
        y=rule.y[1],
        yanchor="top",
        yshift=0,
    )
