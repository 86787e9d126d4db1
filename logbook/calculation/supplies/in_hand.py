"""What is left of each supply on the newest day of the book: bought or had, less what was used.

A bottle that nobody wrote down is not in stock here; what evaporated, was spilt or given away
without an entry is still counted. Nothing here knows what a plan asks for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.sums import add_up, difference, highest, zero
from logbook.calculation.supplies.prices import (
    FREE,
    QUANTITIES,
    Strength,
    dimension_unit,
    purchases,
    strength_of,
    supply_in_words,
    supply_name,
)
from logbook.calculation.supplies.uses import SupplyUse
from logbook.calculation.weights import leaf
from logbook.model.amount import Dimension
from logbook.model.book import Book
from logbook.model.entry import Portion

Kept = dict[Strength, list[tuple[Dimension | None, Figure]]]
ONE_STRENGTH = "taken to be the one strength that was bought"


@dataclass(frozen=True, slots=True)
class InHand:
    """What came in and what was used of each supply, by strength."""

    came: dict[str, Kept]
    went: dict[str, Kept]

    def of(self, portion: Portion, dimension: Dimension) -> Figure | None:
        """What is left of a supply; None for what comes from the tap and is never bought.

        Equation: left = Σ bought or had − Σ used [g, L or pieces], of the same supply and
        strength. Where a use is not known, what is left is at most the rest. Source: the
        definition of a stock.
        """
        name = supply_name(portion)
        words = f"{supply_in_words(portion)} in stock"
        unit = dimension_unit(dimension)
        kinds = self.came.get(name)
        if kinds is None:
            if name in FREE:
                return None
            return not_known(words, unit, f"no {supply_in_words(portion)} was bought or had")
        strength, note = _strength(kinds, strength_of(portion))
        bought = [figure for kind, figure in kinds.get(strength, ()) if kind is dimension]
        if not bought:
            why = f"no {supply_in_words(portion)} was bought or had in {unit or 'pieces'}"
            return not_known(words, unit, why)
        came = add_up("bought or had", unit, bought)
        went = self._used(name, strength, dimension, only=len(kinds) == 1)
        return _left(words, unit, came, went, note)

    def _used(self, name: str, strength: Strength, dimension: Dimension, *, only: bool) -> Figure:
        """What was used of one strength; a use of no stated strength may be of any."""
        unit = dimension_unit(dimension)
        uses: list[Figure] = []
        for kind, found in self.went.get(name, {}).items():
            mine = kind == strength or (only and None in (kind, strength))
            if not mine and kind is not None:
                continue
            for counted_in, figure in found:
                if not mine:
                    why = f"of which strength {figure.name} was is not written"
                    uses.append(Figure(figure.name, unit, terms=(figure,), why=why, low=0.0))
                elif counted_in is dimension:
                    uses.append(figure)
                else:
                    why = figure.why or f"{figure.name} is in another kind of unit"
                    uses.append(Figure(figure.name, unit, terms=(figure,), why=why, low=0.0))
        return add_up("used", unit, uses) if uses else zero("used", unit, "no run used any")


def _strength(kinds: Kept, strength: Strength) -> tuple[Strength, str]:
    """The strength that was bought of the one asked for: the only one where one names none."""
    if strength not in kinds and len(kinds) == 1:
        (only,) = kinds
        if only is None or strength is None:
            return only, ONE_STRENGTH
    return strength, ""


def _left(words: str, unit: str, came: Figure, went: Figure, note: str) -> Figure:
    """What came less what went. More used than bought is a purchase that is missing."""
    left = difference(words, unit, came, went, "bought or had − used, up to the newest day")
    top = highest(left)
    if top is not None and top < 0:
        why = f"more was used than was bought or had: a purchase of {words[:-9]} is missing"
        return Figure(words, unit, formula=left.formula, terms=left.terms, why=why)
    low = None if left.low is None else max(left.low, 0.0)
    notes = (*left.notes, note) if note else left.notes
    return Figure(
        words, unit, left.value, left.formula, left.terms, (), left.why, low, left.high, notes
    )


def in_hand(book: Book, uses: Iterable[SupplyUse]) -> InHand:
    """The stock of a book; `uses` are those of the runs that were done."""
    found = InHand({}, {})
    for step in purchases(book):
        for portion in step.entry.portions:
            for amount in (portion.amount, portion.second):
                if amount is not None and amount.dimension in QUANTITIES:
                    why = f"how much {supply_in_words(portion)} that was is not written"
                    _note(found.came, portion, amount.dimension, leaf("bought or had", amount, why))
    for use in uses:
        _note(found.went, use.portion, use.dimension, use.used)
    return found


def _note(
    kept: dict[str, Kept], portion: Portion, dimension: Dimension | None, figure: Figure
) -> None:
    kinds = kept.setdefault(supply_name(portion), {})
    kinds.setdefault(strength_of(portion), []).append((dimension, figure))
