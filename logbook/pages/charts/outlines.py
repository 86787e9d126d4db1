"""The marks of a chart as outlines for an SVG: lines, markers, bars, limits, and their doubt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log10

from logbook.pages.charts.fields import BAR_DOWN, BAR_HALF, Field
from logbook.pages.charts.plain import (
    Axis,
    Bar,
    Bars,
    Line,
    Panel,
    Point,
    Reach,
    Reaches,
    Series,
)
from logbook.pages.rounding import coordinate

CAP = 4.0  # half the width of an uncertainty bar's cap
ARROW = 6.0  # of an end that is open


@dataclass(frozen=True, slots=True)
class Mark:
    """One outline; `at` moves it, `words` tell of it where a pointer rests on it."""

    path: str
    at: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Outlines of one look.

    `kind` is grid, rule, line, error, spot, ring, block, frame, doubt, reach or end.
    """

    kind: str
    marks: tuple[Mark, ...]
    colour: str = ""
    dashes: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Values of a panel on places of the drawing."""

    panel: Panel
    field: Field

    def x(self, value: float) -> float:
        """Where a value stands across; never outside of the field."""
        return _along(self.panel.across, value, self.field.left, self.field.right)

    def y(self, value: float) -> float:
        """Where a value stands upward."""
        return _along(self.panel.up, value, self.field.bottom, self.field.top)


def _along(axis: Axis, value: float, start: float, end: float) -> float:
    low, high = axis.low, axis.high
    if axis.tenfold:
        low, high, value = log10(low), log10(high), log10(max(value, low))
    share = (value - low) / (high - low)
    return start + min(max(share, 0.0), 1.0) * (end - start)


def outlines(marks: Series | Reaches | Bars, place: Place) -> Iterator[Group]:
    """The outlines of marks that belong together, the lowest first."""
    if isinstance(marks, Series):
        yield from _series(marks, place)
    elif isinstance(marks, Bars):
        yield from _bars(marks, place)
    else:
        yield from _reaches(marks, place)


def _series(series: Series, place: Place) -> Iterator[Group]:
    """The line, the bars of uncertainty, and over them the markers."""
    look = series.look
    if series.line is not Line.NONE:
        steps = series.line is Line.STEPS
        paths = [_line(points, place, steps=steps) for points in series.stretches]
        yield Group("line", tuple(Mark(path) for path in paths if path), look.colour, look.dashes)
    errors = [path for point in series.points for path in _doubt(point, place)]
    yield Group("error", tuple(Mark(path) for path in errors), look.colour)
    dots = [
        Mark(
            look.outline,
            f"{coordinate(place.x(point.x))} {coordinate(place.y(point.y))}",
            point.words,
        )
        for point in series.points
    ]
    yield Group("ring" if series.hollow else "spot", tuple(dots), look.colour)


def _line(points: Sequence[Point], place: Place, *, steps: bool) -> str:
    """A line through points, straight or in steps; none through a point alone."""
    path = ""
    for point in points:
        x, y = coordinate(place.x(point.x)), coordinate(place.y(point.y))
        if not path:
            path = f"M{x},{y}"
        else:
            path += f"H{x}V{y}" if steps else f"L{x},{y}"
    return path if len(points) > 1 else ""


def _doubt(point: Point, place: Place) -> Iterator[str]:
    """One standard uncertainty each way, upward and across."""
    if point.uy:
        ends = place.y(point.y - point.uy), place.y(point.y + point.uy)
        yield _bracket(place.x(point.x), *ends, upright=True)
    if point.ux:
        ends = place.x(point.x - point.ux), place.x(point.x + point.ux)
        yield _bracket(place.y(point.y), *ends, upright=False)


def _bracket(at: float, start: float, end: float, *, upright: bool) -> str:
    """A line with a cap at each end."""
    one, other = coordinate(at - CAP), coordinate(at + CAP)
    first, last, middle = coordinate(start), coordinate(end), coordinate(at)
    if upright:
        return f"M{one},{first}H{other}M{one},{last}H{other}M{middle},{first}V{last}"
    return f"M{first},{one}V{other}M{last},{one}V{other}M{first},{middle}H{last}"


def _bars(bars: Bars, place: Place) -> Iterator[Group]:
    look = bars.look
    boxes = [Mark(_box(bar, place), "", bar.words) for bar in bars.bars]
    yield Group("frame" if bars.hollow else "block", tuple(boxes), look.colour)
    doubts = [
        Mark(
            _bracket(
                place.y(bar.row + BAR_DOWN),
                place.x(bar.end - bar.u),
                place.x(bar.end + bar.u),
                upright=False,
            )
        )
        for bar in bars.bars
        if bar.u
    ]
    yield Group("doubt", tuple(doubts))


def _box(bar: Bar, place: Place) -> str:
    left, right = sorted((place.x(bar.start), place.x(bar.end)))
    top = place.y(bar.row + BAR_DOWN - BAR_HALF)
    bottom = place.y(bar.row + BAR_DOWN + BAR_HALF)
    x = coordinate(left)
    return f"M{x},{coordinate(top)}H{coordinate(right)}V{coordinate(bottom)}H{x}Z"


def _reaches(marks: Reaches, place: Place) -> Iterator[Group]:
    """Dotted lines between limits, and over them their ends."""
    found = [(one, _reach(one, place, upright=marks.upright)) for one in marks.reaches]
    lines = tuple(Mark(line, "", one.words) for one, (line, _) in found)
    yield Group("reach", lines, marks.look.colour)
    yield Group("end", tuple(Mark(ends) for _, (_, ends) in found), marks.look.colour)


def _reach(reach: Reach, place: Place, *, upright: bool) -> tuple[str, str]:
    """A line between two limits, and its ends: a cap, or an arrow's head where it is open."""
    low, high = reach.ends(place.panel.up if upright else place.panel.across)
    if upright:
        at, start, end = place.x(reach.at), place.y(low), place.y(high)
    else:
        row = BAR_DOWN if place.panel.rows else 0.0
        at, start, end = place.y(reach.at + row), place.x(low), place.x(high)
    ends = _end(at, start, end, upright=upright, opened=reach.low is None)
    ends += _end(at, end, start, upright=upright, opened=reach.high is None)
    first, last, middle = coordinate(start), coordinate(end), coordinate(at)
    return f"M{middle},{first}V{last}" if upright else f"M{first},{middle}H{last}", ends


def _end(at: float, end: float, other: float, *, upright: bool, opened: bool) -> str:
    """The end of a limit: its cap, or an arrow's head that points away from the other end."""
    back = (ARROW if other > end else -ARROW) if opened else 0.0
    one, two = coordinate(at - CAP), coordinate(at + CAP)
    tail, tip, middle = coordinate(end + back), coordinate(end), coordinate(at)
    if upright:
        return f"M{one},{tail}L{middle},{tip}L{two},{tail}"
    return f"M{tail},{one}L{tip},{middle}L{tail},{two}"
