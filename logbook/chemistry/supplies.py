"""How much pure substance stands in an amount of a supply: grams of HNO3 in a jug of acid.

What was not written is a range, or is refused; nothing is guessed in the middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from logbook.chemistry.densities import strengths_data
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError, Range, hull
from logbook.chemistry.strengths import (
    basis_of,
    fraction_of,
    named,
    notes_of,
    sold,
    strength,
)
from logbook.chemistry.written import concentration_of, limits_of
from logbook.model.amount import Amount, Dimension
from logbook.reference import reagents

DIRECT = frozenset({Dimension.MOLARITY, Dimension.CONCENTRATION, Dimension.PEROXIDE})
"""Strengths that say by themselves how much a litre holds."""

WATER = {Dimension.MASS: Range.exactly(1.0), Dimension.VOLUME: Range(958.0, 1000.0)}
"""Grams in a gram, and in a litre between 0 and 100 C (steam tables, from memory)."""


@dataclass(frozen=True, slots=True)
class Pure:
    """Grams of pure substance, with what was taken for granted."""

    grams: Range
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Crystals:
    """A solid that is sold with water in it: how much of it is the substance [g/g]."""

    substance: str
    fraction: Range
    note: str


def substances(reagent: str) -> tuple[str, ...]:
    """The formulas of the pure substances that a supply is there for.

    `reagent` is a name of reagents.toml or a word for it. Empty where no formula is known.

    >>> substances("muriatic acid"), substances("aqua regia"), substances("flour")
    (('HCl',), ('HNO3', 'HCl'), ())
    """
    try:
        name, formula = named(reagent)
    except MissingError:
        return ()
    if name in _crystals():
        return (_crystals()[name].substance,)
    return tuple(formula.split(" + "))


def pure(reagent: str, amount: Amount, strength: Amount | None) -> Range:
    """Grams of pure substance in a mass or a volume of a supply.

    Equation: m = w m_s [g] by mass, m = β V [g] by volume. `reagent` is a name of
    reagents.toml or a word of the trade, `strength` what is written of it.

    Raises:
        MissingError: where a table, an amount or a strength lacks.
    """
    per = pure_per_unit(reagent, amount.dimension, strength)
    return per.grams * limits_of(amount)


def pure_per_unit(reagent: str, dimension: Dimension, stated: Amount | None) -> Pure:
    """Grams of pure substance in one gram or one litre of a supply.

    Raises:
        MissingError: where a table or a strength lacks; for gases, and solids by volume.

    Sodium metabisulfite is taken as pure, ferrous sulfate as crystals with seven waters or
    one, which are 54.6 % and 89.4 % FeSO4 (by hand: 151.90 / 278.01 and 151.90 / 169.92):

    >>> pure_per_unit("sodium metabisulfite", Dimension.MASS, None).grams
    Range(low=1.0, high=1.0)
    >>> iron = pure_per_unit("ferrous sulfate", Dimension.MASS, None).grams
    >>> round(iron.low, 3), round(iron.high, 3)
    (0.546, 0.894)
    """
    name, _ = named(reagent)
    formulas = substances(reagent)
    if len(formulas) > 1:
        raise MissingError(f"{name} is a mixture, and how it was mixed is not written")
    if formulas == ("H2O",) and dimension in WATER:
        return Pure(WATER[dimension])
    state = reagents()[name].state
    if state == "gas":
        raise MissingError(f"{name} is a gas: how much of it went in is not known from its bottle")
    if dimension is Dimension.VOLUME:
        return _of_litre(reagent, name, formulas[0], state, stated)
    if dimension is Dimension.MASS:
        return _of_gram(reagent, name, state, stated)
    raise MissingError(f"what one piece of {name} weighs is not known")


def _of_gram(reagent: str, name: str, state: str, stated: Amount | None) -> Pure:
    crystals = _crystals().get(name)
    if stated is not None:
        found = fraction_of(reagent, stated)
        return Pure(found) if crystals is None else _purity(found, crystals)
    if state == "liquid":
        trade = sold(reagent)
        return Pure(trade.fraction, (basis_of(trade), *notes_of(trade)))
    if crystals is None:
        return Pure(Range.exactly(1.0), (f"{name} is taken to be pure",))
    note = f"how much water its crystals hold is not written: {crystals.note}".rstrip(": ")
    return Pure(crystals.fraction, (note,))


def _purity(stated: Range, crystals: Crystals) -> Pure:
    """Per cent of a salt: of its crystals, or of the dry substance. Both are allowed for."""
    note = "whether the per cent is that of the crystals or of the dry salt is not written"
    return Pure(Range(stated.low * crystals.fraction.low, stated.high), (note,))


def _of_litre(reagent: str, name: str, formula: str, state: str, stated: Amount | None) -> Pure:
    if stated is None and state == "solid":
        raise MissingError(f"{name} is a solid: a volume does not tell how much it is")
    if stated is not None and stated.dimension in DIRECT:
        return Pure(concentration_of(formula, stated.dimension, limits_of(stated)))
    found = strength(reagent, stated)
    notes = found.notes if stated is not None else (found.basis, *found.notes)
    return Pure(found.grams_per_litre, notes)


@cache
def _crystals() -> dict[str, Crystals]:
    return {row["reagent"]: _crystal(row) for row in strengths_data()["crystals"]}


def _crystal(row: dict[str, Any]) -> Crystals:
    """A row of crystals: the substance's part by mass in each thing that is sold.

    Equation: w = M(substance) / M(as sold) [g/g]. Source: general chemistry.
    """
    dry = molar_mass(row["substance"])
    parts = hull(Range.exactly(dry / molar_mass(sold_as)) for sold_as in row["as_sold"])
    return Crystals(row["substance"], parts, row.get("note", ""))
