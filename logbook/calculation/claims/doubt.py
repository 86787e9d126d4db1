"""How far a claim may be off: half of its last digit, and the doubt that it does not share.

A writer who works out a figure takes the readings as they stand in the log, and so does the
book. The last digit of a weighing is in doubt for both alike and cannot set them apart: 300 mL
at 25 EUR per litre is 7.50 EUR and not 9, however well a beaker is read. What a log itself
leaves open (±, about, a range, limits, what the whole book adjusts) can.
"""

from __future__ import annotations

from collections.abc import Hashable
from math import hypot

from logbook.calculation.claims.written import Written
from logbook.model.amount import Amount, Uncertain
from logbook.model.errors import length

DOUBTS = 2.0  # twice the combined uncertainty, JCGM 100:2008, 6.2.1 and 6.3.3 (from memory)


def unshared(value: Uncertain) -> float:
    """The standard uncertainty of a figure without that of readings taken as they stand.

    >>> from logbook.model.amount import Dimension
    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/a.md", ""), 0, 0)
    >>> read = Amount(place, Dimension.MASS, "g", 10.0, 10.0, 0.3, "last digit written")
    >>> said = Amount(place, Dimension.MASS, "g", 10.0, 10.0, 0.4, "stated")
    >>> unshared(Uncertain(20.0, {read: 0.3, said: 0.4}))
    0.4
    """
    return length({one: error for one, error in value.errors.items() if not _as_it_stands(one)})


def _as_it_stands(source: Hashable) -> bool:
    basis = source.u_basis if isinstance(source, Amount) else ""
    return basis == "last digit written" or basis.startswith("read on ")


def allowance(said: Written, value: Uncertain) -> float:
    """How far a claim may lie from a figure and agree with it, in their unit."""
    combined = hypot(unshared(value), said.u)
    return said.half + DOUBTS * combined + 1e-9 * abs(value.value)
