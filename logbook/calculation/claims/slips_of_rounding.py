"""Slips of rounding: a part of the sum was rounded before it was used.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import isclose, prod

from logbook.calculation.claims.case import Case, Slips, value_of
from logbook.calculation.claims.spoken import said
from logbook.calculation.figure import Figure

# To what figures are rounded by hand: whole grams or tenths, whole hours or quarters ...
STEPS: Mapping[str, tuple[float, ...]] = {"g/g": (0.01, 0.001), "h": (1.0, 0.5, 0.25)}
USUAL = (1.0, 0.1)
MOST_TERMS = 12
Work = Callable[[Sequence[float]], float]


def early(case: Case) -> Slips:
    """A part of a sum, product or ratio was rounded first, or all parts of a sum were."""
    terms = case.figure.terms
    values = [value_of(one) for one in terms]
    known = [one for one in values if one is not None]
    if not 1 < len(terms) <= MOST_TERMS or len(known) < len(terms):
        return
    for worked_out in (sum, prod, _ratio, _less):
        if isclose(worked_out(known), case.right, rel_tol=1e-9):
            yield from _rounded(terms, known, worked_out)
            return


def _rounded(terms: Sequence[Figure], values: Sequence[float], worked_out: Work) -> Slips:
    for at, (term, value) in enumerate(zip(terms, values, strict=True)):
        for step in STEPS.get(term.unit, USUAL):
            short = round(value / step) * step
            other = [*values[:at], short, *values[at + 1 :]]
            yield f"{term.name} was rounded to {said(short, term.unit)} first", worked_out(other)
    for step in STEPS.get(terms[0].unit, USUAL) if worked_out is sum else ():
        short_ones = [round(one / step) * step for one in values]
        words = f"every part was rounded to {said(step, terms[0].unit)} before they were added"
        yield words, worked_out(short_ones)


def _ratio(values: Sequence[float]) -> float:
    return values[0] / values[1] if len(values) == 2 and values[1] else float("nan")


def _less(values: Sequence[float]) -> float:
    return values[0] - sum(values[1:])
