"""Slips of the pen: a point that slipped, two digits swapped, one digit wrong, a figure cut off.

Each is a name in words and the figure it makes of the right one, written with as many digits
as the claim.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import copysign, floor

from logbook.calculation.claims.case import Case, Slips
from logbook.calculation.claims.doubt import allowance

SWAPPED = "two digits were swapped"
ONE_DIGIT = "one digit is wrong"
CUT = "the last digit was cut off, not rounded"
ROUNDED = "it was rounded further: write about before it"
SIGNIFICANT = 4  # fewer digits fit too much by chance
POINT_SLIPS = {
    10.0: "the decimal point slipped",
    100.0: "the decimal point slipped by two places",
    1000.0: "the decimal point slipped by three places",
}


def point(case: Case) -> Iterator[str]:
    """The point is in the wrong place: moved back, the claim agrees.

    Where the doubt is as large as half of the figure, a moved point would fit anything.
    """
    for factor, words in POINT_SLIPS.items():
        for by in (factor, 1.0 / factor):
            moved = case.said.times(1.0 / by)
            allowed = allowance(moved, case.known)
            if abs(moved.value - case.right) <= allowed <= 0.5 * abs(case.right):
                yield words


def pen(case: Case) -> Slips:
    """Digits swapped or wrong, or the figure cut off or rounded further than it looks."""
    number = _Number(case)
    right = number.right
    if right is None:
        return
    decimals = len(case.said.text.partition(".")[2])
    text = f"{right:.{decimals}f}".rjust(len(case.said.text), "0")
    for other in _swaps(text):
        yield SWAPPED, number.figure(float(other))
    if sum(one.isdigit() for one in text.lstrip("0.")) >= SIGNIFICANT:
        for other in _one_wrong(text):
            yield ONE_DIGIT, number.figure(float(other))
    size = 10.0**-decimals
    yield CUT, number.figure(floor(right / size + 1e-9) * size)
    for places in range(1, len(text)) if not decimals else ():
        yield ROUNDED, number.figure(round(right, -places))


class _Number:
    """The last number of a claim, such as the minutes of 2 h 25 min, and what it should be."""

    def __init__(self, case: Case) -> None:
        self.step = copysign(case.said.step, case.said.value)
        self.before = case.said.value - float(case.said.text) * self.step
        number = (case.right - self.before) / self.step
        self.right = number if number >= 0.0 else None

    def figure(self, number: float) -> float:
        """The whole figure with another last number."""
        return self.before + number * self.step


def _swaps(text: str) -> Iterator[str]:
    """The digits with two neighbours changed over, also across the point.

    >>> list(_swaps("12.3"))
    ['21.3', '13.2']
    """
    places = [at for at, one in enumerate(text) if one.isdigit()]
    for first, second in pairwise(places):
        if text[first] != text[second]:
            changed = list(text)
            changed[first], changed[second] = text[second], text[first]
            yield "".join(changed)


def _one_wrong(text: str) -> Iterator[str]:
    """The digits with another in one place, but for the last: that is only a small difference."""
    places = [at for at, one in enumerate(text) if one.isdigit()]
    for at in places[:-1]:
        for digit in "0123456789":
            if digit != text[at]:
                yield text[:at] + digit + text[at + 1 :]
