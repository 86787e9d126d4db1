"""Where the fields of a chart lie: one below the other, the same in the drawing and alive.

Places are in units of a box that is as wide as its page allows: on a desk a unit is about
1.4 pixels, on a phone 0.7. There letters are drawn larger in it, and room is left for these.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.pages.charts.plain import Chart, Panel

WIDTH = 480.0
LETTER = 16.5  # the largest size of letters, on a phone
LEFT, LEFT_OF_ROWS, RIGHT = 58.0, 14.0, 16.0
TITLE, TICKS, NAME = 28.0, 30.0, 22.0  # above a field, and below it
PLAIN, TALL, ROW = 132.0, 300.0, 46.0
NAME_UP, BAR_DOWN, BAR_HALF = 0.2, 0.2, 0.14  # within a row, in rows
GAP = 8.0  # between a word and what stands beside it
RULE_NAME = 30.0  # left of the end of a rule


@dataclass(frozen=True, slots=True)
class Field:
    """The place in which the marks of a panel stand; y grows downward."""

    left: float
    right: float
    top: float
    bottom: float
    named: bool  # its axis across is named below it


@dataclass(frozen=True, slots=True)
class Layout:
    """The box of a chart, and a field for each of its panels."""

    height: float
    fields: tuple[Field, ...]


def lay_out(chart: Chart) -> Layout:
    """A place for every panel, in their order."""
    left = LEFT if any(not panel.rows for panel in chart.panels) else LEFT_OF_ROWS
    fields: list[Field] = []
    y = 0.0
    for place, panel in enumerate(chart.panels, 1):
        top = y + TITLE
        bottom = top + _height(panel)
        named = not chart.one_time or place == len(chart.panels)
        fields.append(Field(left, WIDTH - RIGHT, top, bottom, named))
        y = bottom + (TICKS if named else 0.0) + (NAME if named and panel.across.title else 0.0)
    return Layout(y, tuple(fields))


def _height(panel: Panel) -> float:
    if panel.rows:
        return ROW * len(panel.rows)
    return TALL if panel.tall else PLAIN
