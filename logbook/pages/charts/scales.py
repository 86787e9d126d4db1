"""Axes that hold what is to be shown, with round values named, and days by month."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from math import ceil, floor, isfinite, log10

from logbook.model.days import MONTHS
from logbook.pages.charts.plain import Axis, Tick
from logbook.pages.rounding import tick

TICKS = 5
ROOM = 0.04  # of an axis, beyond what it holds
MOST_MONTHS = 5  # names along an axis of days: as many as a phone has room for
STRIP = 0.16  # of an axis, below nothing: there stands what is not known
UNKNOWN_SIGN = "?"


def nice_step(rough: float) -> float:
    """The smallest of 1, 2 or 5 times a power of ten that is not below a rough step.

    >>> nice_step(0.13), nice_step(2.1), nice_step(70)
    (0.2, 5.0, 100.0)
    """
    if rough <= 0.0:
        return 1.0
    power = 10.0 ** floor(log10(rough))
    return next(float(one * power) for one in (1, 2, 5, 10) if one * power >= rough)


def number_axis(
    title: str, values: Iterable[float], *, nothing: bool = True, strip: bool = False
) -> Axis:
    """An axis that holds all values, and with `nothing` zero as well, in round steps.

    With `strip` there is a place below the least, named "?", for what is not known.

    >>> axis = number_axis("silver, g", [100.0, 405.0])
    >>> [tick.text for tick in axis.ticks], axis.high
    (['0', '100', '200', '300', '400'], 421.2)
    """
    finite = [value for value in values if isfinite(value)]
    found = [*finite, *([0.0] if nothing else [])] or [0.0]
    least, most = min(found), max(found)
    span = most - least or abs(most) or 1.0
    step = nice_step(span / TICKS)
    room = span * ROOM if most > least else span / 2.0
    low, high = (least if nothing and not least else least - room), most + room
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    ticks = [Tick(count * step, tick(count * step, step)) for count in range(first, last + 1)]
    if strip:
        below = low - (high - low) * STRIP
        return Axis(title, below, high, (Tick((below + low) / 2, UNKNOWN_SIGN), *ticks))
    return Axis(title, low, high, tuple(ticks))


def tenfold_axis(title: str, values: Sequence[float]) -> Axis:
    """An axis on which each named value is ten times the one before it; all must be above zero.

    >>> axis = tenfold_axis("gold, %", [0.8, 57.0])
    >>> [tick.text for tick in axis.ticks], axis.title
    (['0.1', '1', '10', '100'], 'gold, %, tenfold')
    """
    finite = [value for value in values if isfinite(value)] or [1.0]
    first, last = floor(log10(min(finite))), ceil(log10(max(finite)))
    powers = [10.0**power for power in range(first, max(last, first + 1) + 1)]
    named = tuple(Tick(one, tick(one, one)) for one in powers)
    return Axis(f"{title}, tenfold", powers[0], powers[-1], named, tenfold=True)


def unknown_place(axis: Axis) -> float:
    """Where a mark of something not known stands on an axis with such a strip."""
    return next(one.value for one in axis.ticks if one.text == UNKNOWN_SIGN)


def row_axis(count: int) -> Axis:
    """The upward axis of rows: they count from the top."""
    return Axis("", count - 0.5, -0.5)


def day_axis(days: Sequence[date]) -> Axis:
    """An axis that holds all days, with room at both ends, and names beginnings of months."""
    first, last = days_drawn(days)
    low, high = float(first.toordinal()), float(last.toordinal())
    return Axis("", low, high, tuple(_months(first, last)), days=True)


def days_drawn(days: Sequence[date]) -> tuple[date, date]:
    """The first and last day of the axis, with room for the markers at both ends.

    >>> days_drawn([date(2026, 3, 14)])
    (datetime.date(2026, 3, 4), datetime.date(2026, 3, 24))
    """
    first, last = min(days), max(days)
    room = max(10, (last - first).days // 30)
    low = max(first.toordinal() - room, 1)
    return date.fromordinal(low), last + min(timedelta(days=room), date.max - last)


def _months(first: date, last: date) -> list[Tick]:
    """Beginnings of months, as many as can be read; the day in the middle where there is none."""
    spanned = (last.year - first.year) * 12 + last.month - first.month
    steps = (1, 2, 3, 6, 12, 24, 60, 120, 600, 2400, 12_000, 24_000)
    every = next(step for step in steps if spanned / step <= MOST_MONTHS)
    days = (
        date(count // 12, count % 12 + 1, 1)
        for count in range(first.year * 12, (last.year + 1) * 12, every)
    )
    found = [
        Tick(float(day.toordinal()), f"{_month(day)} {day.year}")
        for day in days
        if first <= day <= last
    ]
    if found:
        return found
    middle = date.fromordinal((first.toordinal() + last.toordinal()) // 2)
    return [Tick(float(middle.toordinal()), f"{middle.day} {_month(middle)} {middle.year}")]


def _month(day: date) -> str:
    return MONTHS[day.month - 1][:3]
