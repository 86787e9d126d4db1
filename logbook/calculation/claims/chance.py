"""How often a slip fits by chance: the guard against far-fetched explanations.

A wrong figure that nobody can explain lies anywhere between 0.3 and 3 times the right one, each
factor as likely as the next (a uniform distribution of the logarithm). A slip is given where it
makes the claimed figure within half of its last digit. It so covers the part

    ln((v + h) / (v − h)) / ln(3 / 0.3)

of all that might have been written, with v what the slip makes and h half of the last digit, or
of the last that is no nought: who writes 190 may have rounded to tens.
Slips are tried in their order as long as together they cover no more than a small part. Range and
part are our own choice; a test draws wrong figures and counts how many are explained.
"""

from __future__ import annotations

from math import ceil, floor, isfinite, log

from logbook.calculation.claims.doubt import allowance
from logbook.calculation.claims.written import Written
from logbook.model.amount import Uncertain

MOST = 0.035  # so that of wrong figures with any number of digits at most one in twenty fits
LEAST_TIMES, MOST_TIMES = 0.3, 3.0


class Chance:
    """What may still be tried for one claim."""

    def __init__(self, said: Written, right: Uncertain) -> None:
        self._said, self._right = said, right.value
        self._half = said.half * _noughts(said.text)
        self._agrees = allowance(said, right)
        self._left = MOST
        self._tried: dict[int, bool] = {}

    def fits(self, value: float) -> bool:
        """Whether a slip that makes a value gives the claim, and was not one too many to try."""
        return self._allows(value) and self._said.is_near(value)

    def _allows(self, value: float) -> bool:
        """Whether a slip may still be tried; another that makes the same figure costs nothing."""
        if not isfinite(value) or not self._half:
            return isfinite(value)
        new = [one for one in self._written_as(value) if one not in self._tried]
        part = sum(map(self._covered, new))
        if part <= self._left:
            self._left -= part
            self._tried.update(dict.fromkeys(new, True))
        else:
            self._tried.update(dict.fromkeys(new, False))
        return all(self._tried[one] for one in self._written_as(value))

    def _written_as(self, value: float) -> list[int]:
        """What a value may be written as, in steps of the last digit: two figures for a tie."""
        steps = value / (2.0 * self._half)
        return list(range(ceil(steps - 0.5 - 1e-6), floor(steps + 0.5 + 1e-6) + 1))

    def _covered(self, steps: int) -> float:
        """The part of all wrong figures that would be written so."""
        side = 2.0 * self._half * (steps if self._right >= 0.0 else -steps)
        low, high, size = side - self._half, side + self._half, abs(self._right)
        if size:
            low, high = max(low, LEAST_TIMES * size), min(high, MOST_TIMES * size)
        if high <= max(low, 0.0) or abs(side - size) + self._half <= self._agrees:
            return 0.0
        return log(high / max(low, 1e-3 * high)) / log(MOST_TIMES / LEAST_TIMES)


def _noughts(text: str) -> float:
    """By how much the noughts at the end of a whole number make its last digit coarser.

    Two digits are taken as meant.

    >>> _noughts("190"), _noughts("20"), _noughts("2000"), _noughts("130.0")
    (10.0, 1.0, 100.0, 1.0)
    """
    meant = max(len(text.rstrip("0")), 2)
    return 1.0 if "." in text else 10.0 ** max(len(text) - meant, 0)
