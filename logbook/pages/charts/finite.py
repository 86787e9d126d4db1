"""Marks that can be drawn: a figure too large for a number has no place on any axis."""

from __future__ import annotations

from dataclasses import replace
from math import isfinite

from logbook.pages.charts.plain import Bars, Chart, Panel, Reaches, Series


def drawable(chart: Chart) -> Chart:
    """The chart without marks that are at no place; its table still tells of them."""
    return replace(chart, panels=tuple(_panel(panel) for panel in chart.panels))


def _panel(panel: Panel) -> Panel:
    return replace(panel, marks=tuple(_marks(marks) for marks in panel.marks))


def _marks(marks: Series | Reaches | Bars) -> Series | Reaches | Bars:
    if isinstance(marks, Series):
        stretches = (
            tuple(one for one in stretch if _at_a_place(one.x, one.y, one.ux, one.uy))
            for stretch in marks.stretches
        )
        return replace(marks, stretches=tuple(stretch for stretch in stretches if stretch))
    if isinstance(marks, Bars):
        bars = tuple(one for one in marks.bars if _at_a_place(one.start, one.end, one.u))
        return replace(marks, bars=bars)
    reaches = tuple(one for one in marks.reaches if _at_a_place(one.at, one.low, one.high))
    return replace(marks, reaches=reaches)


def _at_a_place(*values: float | None) -> bool:
    return all(value is None or isfinite(value) for value in values)
