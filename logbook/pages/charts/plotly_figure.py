"""A chart as plotly's script takes it: plain dicts and lists, nothing else.

plotly itself is never imported. The margins are in units of the drawing; the page scales them,
so that the live figure lies where the drawing lay. Colours of text, paper and grid are the page's.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from math import log10
from typing import Any

from logbook.pages.charts.fields import (
    GAP,
    LETTER,
    NAME_UP,
    RULE_NAME,
    WIDTH,
    Field,
    Layout,
    lay_out,
)
from logbook.pages.charts.plain import Axis, Chart, Panel, Rule
from logbook.pages.charts.plotly_traces import CLEAR, Plain, place_on, traces
from logbook.pages.text_width import cut_to, text_width

DIGITS = 6


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
            data += [{**trace, **axes} for trace in traces(marks, panel)]
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
        "tickvals": [place_on(axis, one.value) for one in axis.ticks],
        "ticktext": [one.text for one in axis.ticks],
        "ticks": "outside",
        "ticklen": 3,
        "tickcolor": CLEAR,
        "fixedrange": True,
        "zeroline": False,
    }


def _end(axis: Axis, value: float) -> float | str:
    """An end of an axis: where it goes tenfold, plotly asks for the power of ten."""
    return log10(value) if axis.tenfold else place_on(axis, value)


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
        room = field.right - field.left - text_width(row.words, LETTER) - GAP
        yield _note(cut_to(row.name, room, LETTER), x=0, xanchor="left", **place)
        yield _note(row.words, x=1, xanchor="right", **place)


def _rule(rule: Rule, panel: Panel, axes: Plain) -> Plain:
    x, y = ([place_on(panel.across, one) for one in rule.x], list(rule.y))
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
        x=place_on(panel.across, rule.x[1]),
        xanchor="right",
        xshift=-RULE_NAME,
        yref=axes["yaxis"],
        y=rule.y[1],
        yanchor="top",
        yshift=0,
    )
