"""Slips of the pen: a point that slipped, two digits swapped, one digit wrong, a figure cut off.

They are looked for in the digits that were written: what they should have been must be the
right figure, rounded as far as it was written.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import floor

from logbook.calculation.claims.case import Case

SWAPPED = "two digits were swapped"
ONE_DIGIT = "one digit is wrong"
CUT = "the last digit was cut off, not rounded"
ROUNDED = "it was rounded further: write about before it"
SIGNIFICANT = 4  # fewer digits fit too much by chance
_PLACES = {
    10.0: "the decimal point slipped",
    100.0: "the decimal point slipped by two places",
    1000.0: "the decimal point slipped by three places",
}


def point(case: Case, doubt: float) -> Iterator[str]:
    """The point is in the wrong place: moved back, the claim agrees."""
    for factor, words in _PLACES.items():
        for by in (factor, 1.0 / factor):
            moved = case.said.times(1.0 / by)
            allowed = moved.half + 2.0 * (doubt**2 + moved.u**2) ** 0.5
            if case.right and abs(moved.value - case.right) <= allowed * (1.0 + 1e-9):
                yield words


def pen(case: Case) -> Iterator[str]:
    """Digits swapped or wrong, or the figure cut off or rounded further than it looks."""
    text = case.said.text
    if any(_gives(case, other) for other in _swaps(text)):
        yield SWAPPED
    digits = sum(one.isdigit() for one in text.lstrip("0."))
    if digits >= SIGNIFICANT and any(_gives(case, other) for other in _one_wrong(text)):
        yield ONE_DIGIT
    step = abs(case.said.step) * 10.0 ** -len(text.partition(".")[2])
    cut = floor(abs(case.right) / step + 1e-9) * step
    if abs(cut - abs(case.said.value)) < 1e-6 * step:
        yield CUT
    if "." not in text and text.endswith("0") and len(text) > 1:
        place = step * 10.0 ** (len(text) - len(text.rstrip("0")))
        if abs(case.right - case.said.value) <= place / 2.0:
            yield ROUNDED


def _gives(case: Case, text: str) -> bool:
    """Whether other digits would have been right."""
    change = (float(text) - float(case.said.text)) * case.said.step
    return abs(case.said.value + change - case.right) <= case.said.half * (1.0 + 1e-6)


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
