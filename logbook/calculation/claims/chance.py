"""How often a slip fits by chance: the guard against far-fetched explanations.

A wrong figure that nobody can explain lies anywhere between 0.3 and 3 times the right one, each
factor as likely as the next (a uniform distribution of the logarithm). A slip is given where it
makes the claimed figure within half of its last digit. It so covers the part

    ln((v + h) / (v − h)) / ln(3 / 0.3)

of all that might have been written, with v what the slip makes and h half of the last digit, or
of the last that is no nought: who writes 190 may have rounded to tens.
Slips are tried in their order as long as together they cover no more than one in twenty. The
range and the share are our own choice; a test draws wrong figures and counts.
"""

from __future__ import annotations

from math import isfinite, log

from logbook.calculation.claims.doubt import allowance
from logbook.calculation.claims.written import Written
from logbook.model.amount import Uncertain

MOST = 0.05
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
        """Whether a slip may still be tried; another that makes the same value costs nothing."""
        if not isfinite(value) or not self._said.half:
            return isfinite(value)
        key = round(value / self._said.half)
        found = self._tried.get(key)
        if found is None:
            part = self._covered(value)
            found = self._tried[key] = part <= self._left
            if found:
                self._left -= part
        return found

    def _covered(self, value: float) -> float:
        """The part of all wrong figures that would be taken for this slip."""
        size, side = abs(self._right), value * (1.0 if self._right >= 0.0 else -1.0)
        low, high = side - self._half, side + self._half
        if size:
            low, high = max(low, LEAST_TIMES * size), min(high, MOST_TIMES * size)
        if high <= max(low, 0.0) or abs(value - self._right) + self._half <= self._agrees:
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
