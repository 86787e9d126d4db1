"""What each supply of a stage is needed for, against what was used of it.

Nothing here is a recipe: an excess is what the bench took beyond the equation, and most work
takes some. What is far beyond it is asked about, once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from logbook.calculation.bench.demand import demand
from logbook.calculation.bench.substances import Content, content_of, within
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import ReagentUse, StageChemistry
from logbook.calculation.sums import part_of, ratio, reasons
from logbook.calculation.supplies.known import SupplyList
from logbook.calculation.supplies.names import dimension_unit, supply_in_words
from logbook.calculation.supplies.uses import SupplyUse
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import asked_about
from logbook.findings import Finding, Weight
from logbook.model.amount import Uncertain
from logbook.reference import reagents

TAKEN_OUT_AGAIN = frozenset({"Cu", "Zn", "Fe", "Al"})
"""Metals that stand in a solution as a piece, and come out again as what is left of it."""


def with_needs(
    rows: Iterable[ReagentUse],
    groups: Iterable[Sequence[SupplyUse]],
    chemistry: Sequence[StageChemistry],
    supplies: SupplyList,
) -> tuple[ReagentUse, ...]:
    """The rows of a run, each with what the reactions of its stage ask for.

    `groups` are the uses behind the rows, in the same order.
    """
    return tuple(
        _with_need(row, group, chemistry[row.stage.index], supplies)
        for row, group in zip(rows, groups, strict=True)
    )


def _with_need(
    row: ReagentUse, group: Sequence[SupplyUse], chemistry: StageChemistry, supplies: SupplyList
) -> ReagentUse:
    for content in content_of(group[0], supplies):
        grams = demand(chemistry, content.formula)
        if grams is not None:
            needed = in_supply(grams, content, group[0])
            return replace(row, needed=needed, excess=_excess(row.used, needed))
    return row


def in_supply(grams: Figure, content: Content, use: SupplyUse) -> Figure:
    """A demand for a pure substance [g] as an amount of the supply that brings it.

    Equation: V = m / c [L or g], c grams of the substance in a litre or gram of the supply.
    """
    words = supply_in_words(use.portion)
    name, unit = f"{words} needed", dimension_unit(use.dimension) if use.dimension else "L"
    if content.grams is None or not content.grams.low:
        why = reasons([grams]) or "; ".join(content.notes) or f"how strong {words} was is not known"
        return not_known(name, unit, why, grams)
    per = _per_unit(content, words, unit)
    notes = (*grams.notes, *content.notes)
    if content.grams.exact and grams.value is not None:
        formula = f"{grams.name} / {per.name}"
        whole = part_of(name, grams, 1.0 / content.grams.low, formula)
        return replace(whole, unit=unit, terms=(grams, per), notes=notes)
    limits = within(grams) / content.grams
    return Figure(
        name,
        unit,
        formula=f"{grams.name} / {per.name}",
        terms=(grams, per),
        why=grams.why or f"how strong {words} is, is known within limits only",
        low=limits.low,
        high=limits.high,
        notes=notes,
    )


def _per_unit(content: Content, words: str, unit: str) -> Figure:
    name, per = f"{content.formula} in {words}", f"g/{unit}"
    if content.grams is None or not content.grams.exact:
        grams = content.grams or Range(0.0, None)
        why = "its strength is known within limits only"
        return Figure(name, per, why=why, low=grams.low, high=grams.high)
    return Figure(name, per, Uncertain(content.grams.low), "strength × density")


def _excess(used: Figure, needed: Figure) -> Figure:
    """Used over needed, a factor: 1 is just what the equation asks for."""
    name = "used over needed"
    if used.unit != needed.unit:
        return not_known(name, "1", reasons([used]) or "they are counted in different units")
    if used.value is not None and needed.value is not None:
        return ratio(name, "1", used, needed)
    between = within(used) / within(needed)
    why = reasons([used, needed])
    terms = (used, needed)
    return Figure(
        name, "1", formula="used / needed", terms=terms, why=why, low=between.low, high=between.high
    )


def far_more(rows: Iterable[ReagentUse]) -> tuple[Finding, ...]:
    """Uses that are many times what the chemistry asks for at most: a slip, or a waste."""
    return tuple(_asked(row) for row in rows if _is_far_more(row))


def _is_far_more(row: ReagentUse) -> bool:
    if row.needed is None or not row.used.known or row.used.unit != row.needed.unit:
        return False
    most = within(row.needed).high
    named = reagents().get(row.reagent)
    piece = named is not None and named.formula in TAKEN_OUT_AGAIN
    return not piece and bool(most) and within(row.used).low >= asked_about() * (most or 0.0)


def _asked(row: ReagentUse) -> Finding:
    assert row.needed is not None
    times = within(row.used).low / (within(row.needed).high or 1.0)
    return Finding(
        "far-more-than-needed",
        Weight.DOUBT,
        f"this is {math.floor(times)} times the most that the chemistry asks for",
        next(row.used.leaves()),
        "it is counted as it is written",
        "look at the unit and the decimal point; what was not used up stays in the solution",
    )
