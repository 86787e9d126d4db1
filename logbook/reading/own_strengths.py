"""A strength that stands in a clause of its own, given to the thing of the entry it belongs to."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Composition
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.vocabulary import metal_named, reagent_named

_ACID = re.compile(r"\bacid\b", re.I)


def _is_of_another(reading: Reading, draft: Draft, strength: Amount) -> bool:
    """Whether a strength names a reagent that the entry does not speak of: it is then reported."""
    said = reagent_named(draft.strength_of) or ("acid" if _ACID.search(draft.strength_of) else "")
    named = {portion.reagent for portion in (*draft.portions, *draft.supplies)}
    if not said or any(said in reagent for reagent in named):
        return False
    reading.doubt(
        "strength-of-another",
        strength.span.start,
        strength.span.end,
        f'"{strength.span.text}" is said of {draft.strength_of}, which is no thing of this entry',
        "words: it is not counted",
        "give what it is said of an entry of its own, with its amount",
    )
    return True


def with_strength(reading: Reading, draft: Draft) -> None:
    """Give a strength that stood in its own clause to the thing it belongs to.

    A per cent of a thing that is named for one metal says how fine it is.
    """
    if draft.strength is None or _is_of_another(reading, draft, draft.strength):
        return
    if draft.strength.unit == "kt":  # karat is said of gold alone
        draft.compositions += (Composition(draft.strength.span, "gold", draft.strength),)
        return
    if len(draft.portions) == 1 and not draft.portions[0].reagent:
        named = {metal_named(word) for word in draft.portions[0].what.split()} - {None}
        metal = named.pop() if len(named) == 1 else None
        if metal is not None and draft.strength.dimension is Dimension.FRACTION:
            composition = Composition(draft.strength.span, metal, draft.strength)
            draft.compositions += (composition,)
            return
    if len(draft.portions) == 1 and draft.portions[0].strength is None:
        draft.portions = (replace(draft.portions[0], strength=draft.strength),)
    elif draft.supplies and draft.supplies[-1].strength is None:
        last = replace(draft.supplies[-1], strength=draft.strength)
        draft.supplies = (*draft.supplies[:-1], last)
