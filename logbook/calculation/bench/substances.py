"""Which pure substances the supplies of a run bring in: grams of HNO3 in a jug of nitric acid.

Where a strength was not written, or nobody knows how much was poured, only limits are known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.products import metals_named
from logbook.calculation.results import Substance
from logbook.calculation.supplies.known import SupplyList
from logbook.calculation.supplies.names import bulk_metal, supply_in_words
from logbook.calculation.supplies.uses import SupplyUse
from logbook.chemistry.ranges import NOTHING, MissingError, Range
from logbook.chemistry.solutions import pure_per_unit, substances, word_of_trade
from logbook.model.amount import Dimension
from logbook.reference import metals

DOUBTS = 2
"""Limits are set this many standard uncertainties away from a reading."""

UNLIMITED = Range(0.0, None)


@dataclass(frozen=True, slots=True)
class Content:
    """What a base unit of a supply (L, g) holds of a substance [g], or why that is not known."""

    formula: str
    grams: Range | None
    notes: tuple[str, ...] = ()


def content_of(use: SupplyUse, supplies: SupplyList) -> tuple[Content, ...]:
    """The substances of a supply, each with how much of it a base unit holds."""
    portion = use.portion
    if not portion.reagent:
        return tuple(_metals(use))
    formulas = substances(portion.reagent)
    if len(formulas) > 1:
        why = f"how {portion.reagent} was mixed is not written"
        return tuple(Content(formula, None, (why,)) for formula in formulas)
    return tuple(_content(formula, use, supplies) for formula in formulas)


def _metals(use: SupplyUse) -> Iterator[Content]:
    """What a supply holds that is called after metals and is no reagent of the data."""
    bulk = bulk_metal(use.portion)
    for metal in sorted(metals_named(use.portion.what)):
        symbol = metals()[metal].symbol
        if use.dimension is not Dimension.MASS:
            yield Content(symbol, None, (use.used.why or f"what one {metal} weighs is not known",))
        elif metal == bulk:
            yield Content(symbol, Range.exactly(1.0), (f"{metal} is taken to be pure",))
        else:
            note = f"how much {metal} {use.portion.what} holds is not written"
            yield Content(symbol, Range(0.0, 1.0), (note,))


def _content(formula: str, use: SupplyUse, supplies: SupplyList) -> Content:
    strength = use.portion.strength or supplies.only_strength(use.portion)
    bought = strength is not None and use.portion.strength is None
    notes = ("taken to be of the one strength that was bought",) if bought else ()
    if use.dimension is None:
        return Content(formula, None, (use.used.why,))
    try:
        words = word_of_trade(use.portion.what, use.portion.reagent)
        per = pure_per_unit(words, use.dimension, strength)
    except MissingError as why:
        return Content(formula, None, (str(why),))
    return Content(formula, per.grams, (*notes, *per.notes))


def substances_of(uses: Iterable[SupplyUse], supplies: SupplyList) -> tuple[Substance, ...]:
    """The substances that some uses bring, each formula once."""
    return merged(
        Substance(
            content.formula,
            UNLIMITED if content.grams is None else within(use.used) * content.grams,
            supply_in_words(use.portion),
            (use.portion.span,),
            content.notes,
        )
        for use in uses
        for content in content_of(use, supplies)
    )


def within(figure: Figure) -> Range:
    """The limits of a figure that cannot be negative, its doubt taken in on both sides."""
    if figure.value is None:
        return Range(figure.low or 0.0, figure.high)
    doubt = DOUBTS * figure.value.u
    return Range(max(0.0, figure.value.value - doubt), figure.value.value + doubt)


def merged(parts: Iterable[Substance]) -> tuple[Substance, ...]:
    """Substances with each formula once: what there is of it in all."""
    found: dict[str, list[Substance]] = {}
    for part in parts:
        found.setdefault(part.formula, []).append(part)
    return tuple(_sum(formula, same) for formula, same in found.items())


def _sum(formula: str, parts: list[Substance]) -> Substance:
    if len(parts) == 1:
        return parts[0]
    return Substance(
        formula,
        sum((part.grams for part in parts), NOTHING),
        " and ".join(dict.fromkeys(part.words for part in parts)),
        tuple(dict.fromkeys(span for part in parts for span in part.spans)),
        tuple(dict.fromkeys(note for part in parts for note in part.notes)),
    )
