"""How often a slip fits by chance: the guard against far-fetched explanations.

A wrong figure that nobody can explain lies anywhere between 0.3 and 3 times the right one, each
factor as likely as the next (a uniform distribution of the logarithm). A slip is given where it
makes the claimed figure within half of its last digit. It so covers the part

    ln((v + h) / (v − h)) / ln(3 / 0.3)

of all that might have been written, with v what the slip makes and h half of the last digit.
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
        self._said, self._half, self._right = said, said.half, right.value
        self._agrees = allowance(said, right)
        self._left = MOST
        self._tried: dict[int, bool] = {}

    def fits(self, value: float) -> bool:
        """Whether a slip that makes a value gives the claim, and was not one too many to try."""
        return self._allows(value) and self._said.is_near(value)

    def _allows(self, value: float) -> bool:
        """Whether a slip may still be tried; another that makes the same value costs nothing."""
        if not isfinite(value) or not self._half:
            return isfinite(value)
        key = round(value / self._half)
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
