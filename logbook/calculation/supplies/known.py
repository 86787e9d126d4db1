"""Which supplies a book has: their strengths, the bottles with a label, and what is none.

A label of a thing that a run made, or of a lot of scrap, is no bottle: its metal and its money
follow the thing. Nothing here counts or prices anything.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from logbook.calculation.schedule import distinct_runs, steps_of_page, steps_of_run
from logbook.calculation.supplies.names import Strength, strength_of, supply_name
from logbook.calculation.walk import Step
from logbook.model.amount import Amount
from logbook.model.book import Book
from logbook.model.entry import Entry, Portion

PAID = frozenset({"bought", "had"})
GIVEN = frozenset({"got", "kept", "left", "sampled"})


@dataclass(slots=True)
class SupplyList:
    """The supplies of a book.

    `bottles` tells what stands behind a label of a supply, `strengths` in which strengths a
    supply was had or bought; `made` are labels of things that runs gave, which are no supplies,
    and `lots` those of things that were bought with what they hold.
    """

    bottles: dict[str, Portion] = field(default_factory=dict)
    strengths: dict[str, dict[Strength, Amount | None]] = field(default_factory=dict)
    made: set[str] = field(default_factory=set)
    lots: set[str] = field(default_factory=set)

    def only_strength(self, portion: Portion) -> Amount | None:
        """The strength in which a supply was bought, where there is one and none without."""
        found = tuple(self.strengths.get(supply_name(portion), {}).values())
        return found[0] if len(found) == 1 else None


def supply_list(book: Book) -> SupplyList:
    """What a book tells of its supplies, from supplies.md and from the logs."""
    supplies = SupplyList(made=_labels_made(book))
    for step in purchases(book):
        for portion in step.entry.portions:
            if is_lot(step.entry, portion):
                supplies.lots.update(label.name for label in portion.labels)
            for label in portion.labels if portion.reagent else ():
                supplies.bottles.setdefault(label.name, portion)
            of_supply = supplies.strengths.setdefault(supply_name(portion), {})
            of_supply.setdefault(strength_of(portion), portion.strength)
    return supplies


def is_lot(entry: Entry, portion: Portion) -> bool:
    """Whether what was bought is a thing of its own, as the walk through the book has it."""
    return bool(portion.labels) and (not portion.reagent or bool(entry.compositions))


def _labels_made(book: Book) -> set[str]:
    return {
        label.name
        for run in book.runs
        for entry in run.entries
        if entry.action in GIVEN
        for portion in entry.portions
        for label in portion.labels
    }


def purchases(book: Book) -> Iterator[Step]:
    """Every entry that buys supplies, or tells what stood there when the book began."""
    if book.supplies is not None:
        yield from (step for step in steps_of_page(book.supplies) if step.entry.action in PAID)
    for run in distinct_runs(book):
        if not run.planned:
            yield from (step for step in steps_of_run(run) if step.entry.action in PAID)
