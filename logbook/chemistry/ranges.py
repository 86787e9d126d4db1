"""Limits between which a figure lies, and the refusal to give one where something is missing.

Reagents, gases and acid left are seldom known better than between two limits. What is worked
out from limits are limits again, never a value in the middle of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


class MissingError(ValueError):
    """What a calculation lacks, in words that finish "not known, because ..."."""


@dataclass(frozen=True, slots=True)
class Range:
    """What cannot be negative and lies between `low` and `high`; `high` None: no limit.

    >>> Range(2.0, 3.0) * Range(10.0, 20.0)
    Range(low=20.0, high=60.0)
    >>> Range(2.0, 3.0) + Range(1.0, None)
    Range(low=3.0, high=None)
    """

    low: float
    high: float | None

    @staticmethod
    def exactly(value: float) -> Range:
        """A range of one value."""
        return Range(value, value)

    def __add__(self, other: Range) -> Range:
        highs = (self.high, other.high)
        high = None if None in highs else sum(top for top in highs if top is not None)
        return Range(self.low + other.low, high)

    def __mul__(self, other: Range) -> Range:
        high = None if self.high is None or other.high is None else self.high * other.high
        return Range(self.low * other.low, high)

    def __truediv__(self, other: Range) -> Range:
        """Between the least over the most and the most over the least."""
        low = 0.0 if other.high is None else self.low / other.high
        high = None if self.high is None or not other.low else self.high / other.low
        return Range(low, high)

    def times(self, factor: float) -> Range:
        """The range times an exact number that is not negative."""
        return Range(self.low * factor, None if self.high is None else self.high * factor)

    @property
    def exact(self) -> bool:
        """Whether both limits are one."""
        return self.low == self.high


NOTHING = Range(0.0, 0.0)


def hull(ranges: Iterable[Range]) -> Range:
    """The least range that holds them all.

    >>> hull([Range(1.0, 2.0), Range(4.0, 5.0)])
    Range(low=1.0, high=5.0)
    """
    found = list(ranges)
    highs = [one.high for one in found]
    high = None if None in highs else max(top for top in highs if top is not None)
    return Range(min(one.low for one in found), high)


def added(ranges: Iterable[Range]) -> Range:
    """The sum of ranges."""
    return sum(ranges, NOTHING)
