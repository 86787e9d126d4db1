"""What a chart is, in plain records: axes, marks, words. Every form of it is made from these.

A chart says the same as a live figure, as a drawing, as a table and as a sentence. Places on
axes are numbers; a day is its ordinal. Nothing here is rounded, and nothing here is a colour.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from logbook.pages.addresses import Link
from logbook.pages.metal_marks import Look


class Line(StrEnum):
    """How the points of a series are joined."""

    NONE = "none"
    STRAIGHT = "straight"
    STEPS = "steps"  # level until the next point, then up or down


@dataclass(frozen=True, slots=True)
class Tick:
    """A value on an axis that is named."""

    value: float
    text: str


@dataclass(frozen=True, slots=True)
class Axis:
    """A stretch of values from one end to the other, with its name and unit.

    `low` stands left or below, `high` right or above, also where `low` is the greater. Where it
    goes `tenfold`, equal steps are equal factors, and nothing is at an infinite distance.
    """

    title: str
    low: float
    high: float
    ticks: tuple[Tick, ...] = ()
    days: bool = False
    tenfold: bool = False


@dataclass(frozen=True, slots=True)
class Point:
    """One mark and its words. `ux` and `uy` are standard uncertainties along the two axes."""

    x: float
    y: float
    words: str
    ux: float = 0.0
    uy: float = 0.0


@dataclass(frozen=True, slots=True)
class Series:
    """Points that belong together. A stretch of them is joined; between stretches is a gap."""

    name: str
    look: Look
    stretches: tuple[tuple[Point, ...], ...]
    line: Line = Line.NONE
    hollow: bool = False

    @property
    def points(self) -> tuple[Point, ...]:
        """All points, in order."""
        return tuple(point for stretch in self.stretches for point in stretch)


@dataclass(frozen=True, slots=True)
class Reach:
    """From where to where something lies; an end that is None is open. `at` is its other place.

    An open end is drawn to the end of the axis, or as a short arrow to `stub`.
    """

    at: float
    low: float | None
    high: float | None
    words: str
    stub: float | None = None

    def ends(self, axis: Axis) -> tuple[float, float]:
        """From where to where it is drawn on an axis."""
        least = axis.low if self.stub is None else self.stub
        most = axis.high if self.stub is None else self.stub
        low = least if self.low is None else self.low
        return low, most if self.high is None else self.high


@dataclass(frozen=True, slots=True)
class Reaches:
    """Limits or spreads that belong together; `upright` where they run along the upward axis."""

    name: str
    look: Look
    reaches: tuple[Reach, ...]
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar along its row, from start to end; `u` is the standard uncertainty of its end."""

    row: float
    start: float
    end: float
    words: str
    u: float = 0.0


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars that belong together, filled, or an outline only."""

    name: str
    look: Look
    bars: tuple[Bar, ...]
    hollow: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """The name of a row at its left, and what is to say of it at its right."""

    name: str
    words: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A fine straight line from one place to another, and its name at the far end."""

    x: tuple[float, float]
    y: tuple[float, float]
    words: str


@dataclass(frozen=True, slots=True)
class Panel:
    """One field of a chart with its two axes. `title` names what goes upward, with its unit.

    Where there are `rows`, the upward axis counts them from 0 at the top.
    """

    title: str
    across: Axis
    up: Axis
    marks: tuple[Series | Reaches | Bars, ...]
    rows: tuple[Row, ...] = ()
    rules: tuple[Rule, ...] = ()
    tall: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of the table, a link where it has an address."""

    text: str
    link: Link | None = None
    number: bool = False


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart. `notes` stand below it: what bars and hollow marks mean, and what is left out.

    `one_time` says that all panels share the axis across, which is then named once.
    """

    name: str
    title: str
    sentence: str
    notes: tuple[str, ...]
    panels: tuple[Panel, ...]
    headings: tuple[str, ...]
    table: tuple[tuple[Cell, ...], ...]
    one_time: bool = False
