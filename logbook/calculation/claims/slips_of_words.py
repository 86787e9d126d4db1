"""Slips in a sum that a claim writes out itself: a part left out or twice, turned round."""

from __future__ import annotations

from logbook.calculation.claims.case import Case, Slips, value_of


def own_sum(case: Case) -> Slips:
    """A part of the claim's own sum or product left out, counted twice, or turned round."""
    for term in case.figure.terms:
        part = value_of(term)
        if not part:
            continue
        if term.unit == case.figure.unit:
            yield f"{term.name} was left out", case.right - part
            yield f"{term.name} was counted twice", case.right + part
        else:
            yield f"{term.name} was left out", case.right / part
            yield f"{term.name} was counted twice", case.right * part
    yield "it was subtracted the wrong way round", -case.right
    if case.right:
        yield "it was divided the wrong way round", 1.0 / case.right
