"""How often a slip fits by chance: the guard against far-fetched explanations.

A wrong figure that nobody can explain lies anywhere between 0.3 and 3 times the right one, each
factor as likely as the next (a uniform distribution of the logarithm). A slip is given where it
makes the claimed figure within half of its last digit. It so covers the part

    ln((v + h) / (v − h)) / ln(3 / 0.3)

of all that might have been written, with v what the slip makes and h half of the last digit, as
it would be written with as many digits as the claim: 7.9 and 130, where 190 may be rounded to
tens. Slips are tried in their order as long as together they cover no more than a small part.
Range and part are our own choice; a test draws wrong figures and counts how many are explained.
"""

from __future__ import annotations

from math import ceil, floor, isfinite, log, log10

from logbook.calculation.claims.doubt import allowance
from logbook.calculation.claims.written import Written
from logbook.model.amount import Uncertain

MOST = 0.035  # so that, with all that is neglected, at most one wrong figure in twenty fits
LEAST_TIMES, MOST_TIMES = 0.3, 3.0
Cell = tuple[int, float]  # a figure in steps of its last digit, and half a step


class Chance:
    """What may still be tried for one claim."""

    def __init__(self, said: Written, right: Uncertain) -> None:
        self._said, self._right = said, right.value
        self._digits = _significant(said)
        self._agrees = allowance(said, right)
        self._left = MOST
        self._tried: dict[Cell, bool] = {}

    def fits(self, value: float) -> bool:
        """Whether a slip that makes a value gives the claim, and was not one too many to try."""
        return self._allows(value) and self._said.is_near(value)

    def _allows(self, value: float) -> bool:
        """Whether a slip may still be tried; another that makes the same figure costs nothing."""
        if not isfinite(value) or not self._said.half:
            return isfinite(value)
        new = [one for one in self._written_as(value) if one not in self._tried]
        part = sum(map(self._covered, new))
        if part <= self._left:
            self._left -= part
            self._tried.update(dict.fromkeys(new, True))
        else:
            self._tried.update(dict.fromkeys(new, False))
        return all(self._tried[one] for one in self._written_as(value))

    def _written_as(self, value: float) -> list[Cell]:
        """What a value may be written as, in steps of the last digit: two figures for a tie."""
        half = self._said.half
        if self._digits and value:
            digit = floor(log10(abs(value / self._said.step))) - self._digits + 1
            half = max(half, 0.5 * 10.0**digit * abs(self._said.step))
        steps = value / (2.0 * half)
        cells = range(ceil(steps - 0.5 - 1e-6), floor(steps + 0.5 + 1e-6) + 1)
        return [(one, half) for one in cells]

    def _covered(self, cell: Cell) -> float:
        """The part of all wrong figures that would be written so."""
        steps, half = cell
        side = 2.0 * half * (steps if self._right >= 0.0 else -steps)
        low, high, size = side - half, side + half, abs(self._right)
        if size:
            low, high = max(low, LEAST_TIMES * size), min(high, MOST_TIMES * size)
        if high <= max(low, 0.0) or abs(side - size) + half <= self._agrees:
            return 0.0
        return log(high / max(low, 1e-3 * high)) / log(MOST_TIMES / LEAST_TIMES)


def _significant(said: Written) -> int:
    """How many digits of a claim are meant, at least two; none where it is put together of two.

    >>> _significant(Written(190.0, 0.5, text="190")), _significant(Written(1.5, 0.05, text="1.5"))
    (2, 2)
    """
    if abs(float(said.text) * abs(said.step) - abs(said.value)) > 1e-6 * abs(said.value):
        return 0  # 2 h 25 min
    text = said.text if "." in said.text else said.text.rstrip("0")
    return max(len(text.replace(".", "").lstrip("0")), 2)
