"""One figure over another, with the limits that are left where either of them is not known."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.figure import Figure
from logbook.calculation.sums import highest, lowest, ratio


def over(name: str, unit: str, above: Figure, below: Figure, words: str) -> Figure:
    """A figure over one that cannot be negative, such as what was earned over the hours.

    Equation: y = a / b. With limits only, y is at most a_high / b_low where a_high is above
    nothing, else a_high / b_high; at least likewise, the other way round. Doubts are those of
    `ratio`.

    At most 30 earned in 2 h to 5 h is at most 15 an hour; a loss of at least 30 in that time is
    at least one of 6 an hour, by hand:

    >>> hours = Figure("hours", "h", low=2.0, high=5.0)
    >>> over("hourly", "EUR/h", Figure("earned", "EUR", high=30.0), hours, "").high
    15.0
    >>> over("hourly", "EUR/h", Figure("earned", "EUR", high=-30.0), hours, "").high
    -6.0
    """
    found = ratio(name, unit, above, below, words)
    if found.known or (below.value is not None and not below.value.value):
        return found
    bottom = above.low if above.value is None else above.value.value
    low = None if bottom is None else _most(-bottom, below)
    top = highest(above)
    high = None if top is None else _most(top, below)
    return replace(found, low=None if low is None else 0.0 - low, high=high)


def _most(above: float, below: Figure) -> float | None:
    """The most that something of at most a value comes to, over a figure with limits."""
    if above > 0.0:
        return above / lowest(below) if lowest(below) > 0.0 else None
    most = highest(below)
    return above / most if most else 0.0
