"""Which reagent each stage used, and how much of it.

A labelled thing that goes in is no reagent: its metal and its money follow the thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results import ReagentUse, StageKey
from logbook.calculation.schedule import steps_of_run
from logbook.calculation.sums import add_up, lowest
from logbook.calculation.supplies.known import SupplyList
from logbook.calculation.supplies.names import (
    QUANTITIES,
    Strength,
    dimension_unit,
    strength_in_words,
    strength_of,
    supply_in_words,
    supply_name,
)
from logbook.calculation.weights import leaf
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run

UseKey = tuple[StageKey, str, Strength, Dimension | None]


@dataclass(frozen=True, slots=True, eq=False)
class SupplyUse:
    """One supply as one entry uses it: how much, in the base unit of `dimension`.

    Without a dimension nobody knows how much it was. It is compared by identity: two uses that
    read the same are two.
    """

    stage: StageKey
    portion: Portion
    used: Figure
    dimension: Dimension | None
    day: date
    entry: Entry | None = None  # of a run; None for what is only asked about

    @property
    def name(self) -> str:
        """The name under which the supply is counted."""
        return supply_name(self.portion)

    @property
    def key(self) -> UseKey:
        """What is counted together: one stage, supply, strength and kind of unit."""
        return self.stage, self.name, strength_of(self.portion), self.dimension


def supply_uses(run: Run, supplies: SupplyList) -> Iterator[SupplyUse]:
    """Every use of a supply in a run, in the order of its log."""
    for step in steps_of_run(run):
        if step.stage is None:
            continue
        for portion, amount_of in _portions(step.entry, supplies):
            used, dimension = _used(step.entry, portion, repeated=amount_of == "supplies")
            yield SupplyUse(step.stage, portion, used, dimension, step.day, step.entry)


def in_rows(uses: Iterable[SupplyUse]) -> tuple[tuple[SupplyUse, ...], ...]:
    """Uses that are counted together: one group for each stage, supply and strength."""
    rows: dict[UseKey, list[SupplyUse]] = {}
    for use in uses:
        rows.setdefault(use.key, []).append(use)
    return tuple(tuple(row) for row in rows.values())


def reagent_use(
    uses: Sequence[SupplyUse], currency: str, cost_of: Callable[[SupplyUse], Figure]
) -> ReagentUse:
    """What one group of uses comes to, and what it cost by the accounts of supplies."""
    first = uses[0]
    portion, dimension = first.portion, first.dimension
    unit = dimension_unit(dimension) if dimension is not None else "L"
    used = add_up(f"{supply_in_words(portion)} used", unit, [use.used for use in uses])
    costs = [cost_of(use) for use in uses]
    return ReagentUse(
        first.stage,
        portion.reagent or portion.what,
        strength_in_words(portion),
        used,
        add_up(f"cost of {supply_in_words(portion)}", currency, costs) if costs[1:] else costs[0],
    )


def _portions(entry: Entry, supplies: SupplyList) -> Iterator[tuple[Portion, str]]:
    """What an entry uses up: added and no thing of the book, or named after `with`.

    What is taken from a bottle of supplies.md is used up as well, whatever the entry calls it.
    """
    if entry.action in ("added", "took"):
        for portion in entry.portions or (Portion(entry.span),):
            if (supply := _supply(entry, portion, supplies)) is not None:
                yield supply, "added"
    for portion in entry.supplies:
        yield portion, "supplies"


def _supply(entry: Entry, portion: Portion, supplies: SupplyList) -> Portion | None:
    """A portion as the supply it is; None where it is a thing, or nothing that is named."""
    labels = [label.name for label in (*portion.labels, *entry.sources)]
    bottle = next((supplies.bottles[name] for name in labels if name in supplies.bottles), None)
    if bottle is not None:
        strength = portion.strength or bottle.strength
        return replace(portion, reagent=portion.reagent or bottle.reagent, strength=strength)
    if entry.action != "added" or any(name in supplies.made for name in labels):
        return None
    named = portion.reagent or (portion.what and not labels)
    return portion if named else None


def _used(entry: Entry, portion: Portion, *, repeated: bool) -> tuple[Figure, Dimension | None]:
    """How much of a supply an entry uses: unknown where it says some, or until clear.

    The amount of a supply is already that of all the times that were written.
    """
    name = f"{supply_in_words(portion)} used"
    why = f"how much {supply_in_words(portion)} was used is not written"
    amount = portion.amount
    if amount is None or amount.dimension not in QUANTITIES:
        return Figure(name, "L", why=why, rests_on=(portion.span,)), None
    used = leaf(name, amount, why)
    if repeated and entry.repeats is None:
        why = f"how often it was done with {supply_in_words(portion)} is not written"
        low = lowest(used)
        return Figure(name, used.unit, terms=(used,), why=why, low=low), amount.dimension
    return used, amount.dimension
