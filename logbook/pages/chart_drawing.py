"""The chart of fine metal over time as lines and places for an SVG, made at build time.

It holds what plotly would draw, in the same colours, dashes and markers, and needs no script.
The templates write the SVG; here are only the numbers, already as text.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import floor, log10

from logbook.model.days import MONTHS
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import coordinate, tick

WIDTH, PANEL, GAP = 720.0, 170.0, 26.0
LEFT, RIGHT, TOP, BOTTOM = 66.0, 14.0, 22.0, 30.0
CAP = 4.0  # half the width of an uncertainty bar's cap
TICKS = 4
MOST_MONTHS = 8  # names along the axis of time


@dataclass(frozen=True, slots=True)
class Level:
    """What had been made by a day: grams, their standard uncertainty, and both in words."""

    day: date
    value: float
    u: float
    words: str


@dataclass(frozen=True, slots=True)
class AxisTick:
    """A name beside an axis, and where it stands along it."""

    at: str
    text: str


@dataclass(frozen=True, slots=True)
class PointMark:
    """One point: where it is, its bar of uncertainty as a path, and its words."""

    x: str
    y: str
    bar: str
    words: str


@dataclass(frozen=True, slots=True)
class Panel:
    """One metal's panel, with its own scale."""

    metal: str
    title: str
    top: str
    base: str
    middle: str
    colour: str
    dashes: str
    outline: str
    line: str
    ticks: tuple[AxisTick, ...]
    points: tuple[PointMark, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """The whole drawing. Places are in units of its own box."""

    width: str
    height: str
    left: str
    right: str
    months: tuple[AxisTick, ...]
    months_at: str
    panels: tuple[Panel, ...]


@dataclass(frozen=True, slots=True)
class _Span:
    """A stretch of an axis: values from `low` to `high` on places from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def place(self, value: float) -> float:
        """The place of a value."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def draw(series: Mapping[str, Sequence[Level]]) -> Drawing:
    """The drawing of fine metal over time, one panel below another."""
    first, last = days_drawn([point.day for points in series.values() for point in points])
    time = _Span(first.toordinal(), last.toordinal(), LEFT, WIDTH - RIGHT)
    height = TOP + len(series) * (PANEL + GAP) - GAP + BOTTOM
    tops = (TOP + place * (PANEL + GAP) for place in range(len(series)))
    return Drawing(
        width=coordinate(WIDTH),
        height=coordinate(height),
        left=coordinate(LEFT),
        right=coordinate(WIDTH - RIGHT),
        months=tuple(AxisTick(coordinate(at), text) for at, text in _months(time)),
        months_at=coordinate(height - BOTTOM + 20.0),
        panels=tuple(
            _panel(metal, points, time, top)
            for (metal, points), top in zip(series.items(), tops, strict=True)
        ),
    )


def days_drawn(days: Sequence[date]) -> tuple[date, date]:
    """The first and last day of the axis, with room for the markers at both ends.

    >>> days_drawn([date(2026, 3, 14)])
    (datetime.date(2026, 3, 4), datetime.date(2026, 3, 24))
    """
    first, last = min(days), max(days)
    room = timedelta(days=max(10, (last - first).days // 30))
    return first - room, last + room


def _panel(metal: str, points: Sequence[Level], time: _Span, top: float) -> Panel:
    mark = metal_mark(metal)
    most = max(point.value + point.u for point in points)
    step = nice_step(most / TICKS)
    count = int(most / step) + 1
    scale = _Span(0.0, count * step, top + PANEL, top)
    return Panel(
        metal=metal,
        title=f"{metal}, g",
        top=coordinate(top),
        base=coordinate(top + PANEL),
        middle=coordinate(top + PANEL / 2),
        colour=mark.colour,
        dashes=mark.dashes,
        outline=mark.outline,
        line=_steps(points, time, scale),
        ticks=tuple(
            AxisTick(coordinate(scale.place(place * step)), tick(place * step, step))
            for place in range(count + 1)
        ),
        points=tuple(_mark(point, time, scale) for point in points),
    )


def nice_step(rough: float) -> float:
    """The smallest of 1, 2 or 5 times a power of ten that is not below a rough step.

    >>> nice_step(0.13), nice_step(2.1), nice_step(70)
    (0.2, 5.0, 100.0)
    """
    if rough <= 0.0:
        return 1.0
    power = 10.0 ** floor(log10(rough))
    return next(float(one * power) for one in (1, 2, 5, 10) if one * power >= rough)


def _where(point: Level, time: _Span, scale: _Span) -> tuple[float, float]:
    return time.place(point.day.toordinal()), scale.place(point.value)


def _steps(points: Sequence[Level], time: _Span, scale: _Span) -> str:
    """The line: level until a run adds metal, then up; level again to the end of the axis."""
    places = [_where(point, time, scale) for point in points]
    x, y = places[0]
    path = f"M{coordinate(x)},{coordinate(y)}"
    for x, y in places[1:]:
        path += f"H{coordinate(x)}V{coordinate(y)}"
    return f"{path}H{coordinate(time.end)}"


def _mark(point: Level, time: _Span, scale: _Span) -> PointMark:
    x, y = _where(point, time, scale)
    reach = abs(scale.place(point.u) - scale.place(0.0))
    left, right = coordinate(x - CAP), coordinate(x + CAP)
    high, low = coordinate(y - reach), coordinate(y + reach)
    bar = f"M{left},{high}H{right}M{left},{low}H{right}M{coordinate(x)},{high}V{low}"
    return PointMark(coordinate(x), coordinate(y), bar if point.u else "", point.words)


def _months(time: _Span) -> list[tuple[float, str]]:
    """Beginnings of months along the axis, as many as can be read."""
    first, last = date.fromordinal(int(time.low)), date.fromordinal(int(time.high))
    spanned = (last.year - first.year) * 12 + last.month - first.month
    every = next(
        step for step in (1, 2, 3, 6, 12, 24, 60, 120, 1200) if spanned / step <= MOST_MONTHS
    )
    found = []
    for count in range(first.year * 12, (last.year + 1) * 12, every):
        day = date(count // 12, count % 12 + 1, 1)
        if time.low <= day.toordinal() <= time.high:
            name = f"{MONTHS[day.month - 1][:3]} {day.year}"
            found.append((time.place(day.toordinal()), name))
    return found
