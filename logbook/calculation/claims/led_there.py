"""What led to a run: itself, the runs it continues, and those whose things it took.

A claim `in all` covers all of them, and says which they are.
"""

from __future__ import annotations

from collections.abc import Sequence

from logbook.calculation.claims.known import Claimed, listed
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Role, RunFigures
from logbook.calculation.sums import add_up, ratio, zero

MOST_NAMED = 4


def led_there(claimed: Claimed) -> tuple[RunFigures, ...]:
    """The runs that led to the claim, its own first, none of them twice."""
    return claimed.known.led_to(claimed.run.run.name)


def which(runs: Sequence[RunFigures]) -> str:
    """Which runs were summed, in words."""
    if len(runs) == 1:
        return "this run alone: nothing in the book led to it"
    others = [f'"{one.run.title or one.run.name}"' for one in runs[1:]]
    more = len(others) - MOST_NAMED
    named = others[:MOST_NAMED] + ([f"{more} more"] if more > 0 else [])
    return f"this run and {listed(named)}"


def over_all(name: str, unit: str, parts: Sequence[Figure]) -> Figure:
    """The sum over all that led there."""
    return add_up(name, unit, parts) if parts else zero(name, unit)


def recovery_over(metal: str, runs: Sequence[RunFigures], claimed: Claimed) -> Figure:
    """What some runs together made of a metal over what they took from outside.

    Equation: R = Σ P / Σ H [g/g], with P the products that none of them took again and H what
    none of them had made. Source: the definition of recovery (common practice, no source).
    """
    inside = {one.run.name for one in runs}
    origins = claimed.known.origins
    heads = [
        figure
        for one in runs
        for thing in one.things_in
        for figure in origins.from_outside(thing, inside, metal)
    ]
    made = [
        thing.contents[metal]
        for one in runs
        for thing in one.things_out
        if thing.role is Role.PRODUCT and metal in thing.contents
        if origins.user(thing) not in inside
    ]
    if not heads or not made:
        return not_known("recovery over all", "g/g", f"nothing was made of the {metal} in them")
    head = add_up("head of all of them", "g", heads)
    return ratio("recovery over all", "g/g", add_up("product", "g", made), head)
