"""A supply that came back: a copper bar that was hung in and kept takes its cost with it."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.calculation.money.exact import STEP, exact
from logbook.calculation.money.loads import Part, part_of_figure
from logbook.calculation.results import ReagentUse, RunFigures, StageKey, Thing
from logbook.calculation.supplies.names import supply_name
from logbook.model.entry import Portion
from logbook.reference import reagents
from logbook.source import Span


def returned(kept: Sequence[Thing], stage: StageKey, figures: RunFigures) -> dict[str, Part]:
    """For each thing that is what is left of a supply of its stage, that part of its cost.

    Equation: c = C m / M [currency], with C and M cost and mass of the supply that was added
    [g] and m what was kept of it [g], no more than M. Source: the definition of what was used
    up. Where the cost or a weight is not known nothing comes back with it.
    """
    found: dict[str, Part] = {}
    for use in figures.reagents:
        added = use.used.value
        if use.stage != stage or use.used.unit != "g" or added is None or not added.value:
            continue
        if not use.cost.known:
            continue
        for thing in kept:
            if thing.key not in found and _is_left_of(thing, use):
                found[thing.key] = _part(part_of_figure(use.cost), thing, added.value)
    return found


def _part(cost: Part, thing: Thing, added: float) -> Part:
    mass = thing.gross.value
    share = min(mass.value / added, 1.0) if mass is not None else 0.0
    return Part((cost.amount * exact(share)).quantize(STEP), cost.doubt.times(share))


def _is_left_of(thing: Thing, use: ReagentUse) -> bool:
    """Whether a thing is of the same supply as what was added, and was kept as a solid."""
    if thing.gross.value is None or not thing.entries:
        return False
    span = thing.entries[0].span
    return _supply(thing.what, span) == _supply(use.reagent, span)


def _supply(words: str, span: Span) -> str:
    return supply_name(Portion(span, what=words, reagent=words if words in reagents() else ""))
