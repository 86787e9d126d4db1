"""Every reckoned figure of a book beside what the book gives for it."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.calculation.claims.given import Claimed, given
from logbook.calculation.claims.slips import slip
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, ClaimCheck, RunFigures
from logbook.calculation.sums import difference
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Entry

NOT_NAMED = (
    "nothing in the book goes by these words: write recovery, fine silver, worth, cost, net, "
    "hours, or an amount of money per hour"
)
_NUMBER = re.compile(r"\d[\d,.]*")


def with_claims(figures: BookFigures) -> BookFigures:
    """The figures of a book with every reckoned figure of its runs worked out again."""
    runs = {
        name: replace(one, claims=tuple(_check(entry, one, figures) for entry in _claims(one)))
        for name, one in figures.runs.items()
    }
    return replace(figures, runs=runs)


def _claims(figures: RunFigures) -> list[Entry]:
    if figures.run.planned:
        return []
    return [entry for entry in figures.run.entries if entry.claim is not None]


def _check(entry: Entry, run: RunFigures, book: BookFigures) -> ClaimCheck:
    """One claim.

    It agrees where it is no further from what the book gives than half of its last digit and
    twice the standard uncertainty of what the book gives (JCGM 100:2008, 6.2.1 and 6.3.3;
    clause numbers from memory). Where the book has limits only, it disagrees outside them.
    """
    claim = entry.claim
    assert claim is not None
    said = leaf("reckoned", claim.amount, "the figure is not written as one")
    what = claim.what or claim.of or "what was reckoned"
    claimed = Claimed(claim, run, book)
    found = given(claimed)
    if found is None or claim.amount.base_value is None:
        return ClaimCheck(run.run.name, entry, what, said, None, None, "unknown", NOT_NAMED)
    kind, computed = found
    value, half = claim.amount.base_value, half_digit(claim.amount)
    off = None
    if computed.value is not None:
        exact = replace(said, value=Uncertain(value), unit=computed.unit)
        off = difference("reckoned − by the book", computed.unit, exact, computed)
    agrees, why = _verdict(value, half, computed)
    done = ""
    if agrees == "no" and computed.value is not None:
        done = slip(claimed, kind, computed.value, value, half)
    return ClaimCheck(run.run.name, entry, what, said, computed, off, agrees, why, done)


def _verdict(value: float, half: float, computed: Figure) -> tuple[str, str]:
    if computed.value is not None:
        by = abs(value - computed.value.value)
        allowed = half + 2.0 * computed.value.u
        agrees = by <= allowed * (1.0 + 1e-9)
        words = "within its last digit and twice the doubt of what the book gives"
        return ("yes", f"it is {words}") if agrees else ("no", f"it is not {words}")
    low, high = computed.low, computed.high
    if low is not None and value < low - half:
        return "no", "it is less than the book knows of for certain"
    if high is not None and value > high + half:
        return "no", "it is more than the book allows"
    return "unknown", f"the book cannot give it: {computed.why}"


def half_digit(amount: Amount) -> float:
    """Half of the last digit that was written, in the base unit.

    >>> from logbook.source import SourceText, Span
    >>> written = SourceText("runs/a.md", "7.01 ozt")
    >>> from logbook.model.amount import Dimension
    >>> ounces = Amount(Span(written, 0, 8), Dimension.MASS, "ozt", 7.01, 218.035)
    >>> round(half_digit(ounces) / 31.1034768, 4)
    0.005
    """
    if amount.base_u and amount.dimension is not Dimension.MONEY:
        return float(amount.base_u * 3.0**0.5)  # a rectangle, JCGM 100:2008, 4.3.7
    numbers = _NUMBER.findall(amount.span.text)
    digits = len(numbers[-1].rpartition(".")[2]) if numbers and "." in numbers[-1] else 0
    factor = amount.base_value / amount.value if amount.value and amount.base_value else 1.0
    return float(0.5 * 10.0**-digits * abs(factor))
