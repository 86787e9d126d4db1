"""Curves through the points of a table, and where a curve lies between two values.

Between points only: what lies beyond the ends of a table is for the caller to refuse.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from logbook.chemistry.ranges import Range

Value = Callable[[float], float]
"""Something that follows from one number."""

STEPS = 20
"""Parts into which a curve is cut between two points, to look for a value."""

TOLERANCE = 1e-9
"""As near to a value as this, relative to it, counts as at it: errors of rounding, no more."""


@dataclass(frozen=True, slots=True)
class Curve:
    """A cubic piece between each two points, with a slope at every point."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    slopes: tuple[float, ...]

    def __call__(self, x: float) -> float:
        """The value at a place between the ends.

        Equation: Hermite's cubic, y = y0 (1 + 2t)(1 - t)² + d0 h t (1 - t)² + y1 t² (3 - 2t)
        + d1 h t² (t - 1), with h the distance of the two points and t the part of it.
        Source: numerical analysis, from memory.

        A straight line stays one:

        >>> Curve((0.0, 2.0), (1.0, 5.0), (2.0, 2.0))(0.5)
        2.0
        """
        place = min(max(bisect_right(self.xs, x) - 1, 0), len(self.xs) - 2)
        wide = self.xs[place + 1] - self.xs[place]
        t = (x - self.xs[place]) / wide
        before = self.ys[place] * (1 + 2 * t) + self.slopes[place] * wide * t
        after = self.ys[place + 1] * (3 - 2 * t) + self.slopes[place + 1] * wide * (t - 1)
        return before * (1 - t) ** 2 + after * t**2


def smooth(xs: Sequence[float], ys: Sequence[float]) -> Curve:
    """A curve through points that rises and falls only where they do.

    Equation: slopes are weighted harmonic means of the slopes on both sides, 0 at a turn
    (Fritsch and Butland 1984, SIAM J. Sci. Stat. Comput. 5:300, from memory).

    Between 30 % (1.2191) and 40 % (1.3028) sulfuric acid the handbook has 1.26015 for 35 %
    (CRC, half way between its 34 and 36 %):

    >>> acid = smooth((20, 30, 40, 50), (1.1398, 1.2191, 1.3028, 1.3952))
    >>> round(acid(35), 4)
    1.2602
    """
    wide = [after - before for before, after in pairwise(xs)]
    rise = [(after - before) / h for (before, after), h in zip(pairwise(ys), wide, strict=True)]
    if len(rise) == 1:
        return Curve(tuple(xs), tuple(ys), (rise[0], rise[0]))
    inner = [_slope(wide[i], wide[i + 1], rise[i], rise[i + 1]) for i in range(len(rise) - 1)]
    first = _end(wide[0], wide[1], rise[0], rise[1])
    last = _end(wide[-1], wide[-2], rise[-1], rise[-2])
    return Curve(tuple(xs), tuple(ys), (first, *inner, last))


def line(xs: Sequence[float], ys: Sequence[float]) -> Value:
    """Straight pieces between points.

    >>> line((0.0, 10.0), (1.0, 2.0))(5.0)
    1.5
    """

    def value(x: float) -> float:
        place = min(max(bisect_right(xs, x) - 1, 0), len(xs) - 2)
        part = (x - xs[place]) / (xs[place + 1] - xs[place])
        return ys[place] + part * (ys[place + 1] - ys[place])

    return value


def _slope(before: float, after: float, rise_before: float, rise_after: float) -> float:
    """The slope at an inner point."""
    if rise_before * rise_after <= 0.0:
        return 0.0
    first, second = 2 * after + before, after + 2 * before
    return (first + second) / (first / rise_before + second / rise_after)


def _end(near: float, far: float, rise_near: float, rise_far: float) -> float:
    """The slope at an end: of the parabola through three points, kept from turning."""
    slope = ((2 * near + far) * rise_near - near * rise_far) / (near + far)
    if slope * rise_near <= 0.0:
        return 0.0
    if rise_near * rise_far <= 0.0 and abs(slope) > 3 * abs(rise_near):
        return 3 * rise_near
    return slope


def crossings(knots: Sequence[float], value: Value, target: float) -> Iterator[float]:
    """The places between knots at which a curve has a value.

    >>> [round(x, 6) for x in crossings((0.0, 3.0), lambda x: (x - 1.01) ** 2, 1.0)]
    [0.01, 2.01]
    """
    places = [
        before + (after - before) * step / STEPS
        for before, after in pairwise(knots)
        for step in range(STEPS)
    ]
    for left, right in pairwise((*places, knots[-1])):
        if (value(left) - target) * (value(right) - target) <= 0.0:
            yield _halved(left, right, value, target)


def _halved(left: float, right: float, value: Value, target: float) -> float:
    rises = value(right) >= value(left)
    while (middle := (left + right) / 2) not in (left, right):
        if (value(middle) < target) is rises:
            left = middle
        else:
            right = middle
    return middle


def places_between(
    knots: Sequence[float], least: Value, most: Value, wanted: Range
) -> Range | None:
    """Where something known within limits can have a value within limits; None: nowhere.

    `least` and `most` are what it has at each place. Where it turns, the range reaches from
    the first such place to the last.
    """
    top = float("inf") if wanted.high is None else wanted.high
    candidates = [knots[0], knots[-1], *crossings(knots, most, wanted.low)]
    if wanted.high is not None:
        candidates += crossings(knots, least, wanted.high)
    slack = TOLERANCE * max(1.0, wanted.low)
    found = [x for x in candidates if least(x) <= top + slack and most(x) >= wanted.low - slack]
    return Range(min(found), max(found)) if found else None
