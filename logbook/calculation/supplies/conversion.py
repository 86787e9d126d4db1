"""A supply that was measured by volume here and weighed there: what a litre of it weighs.

That follows from a strength that is written, or from a purchase that gives both. Where neither
does, nothing is converted; how dense a supply usually is, is not asked.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import sqrt

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.sums import product
from logbook.calculation.supplies.names import dimension_unit, supply_in_words
from logbook.calculation.weights import leaf
from logbook.chemistry.densities import strengths_data
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.solutions import strength, substances, word_of_trade
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Portion

WEIGHED = frozenset({Dimension.MASS, Dimension.VOLUME})
BESIDE_20C = 0.005  # of the density: how far water between 0 and 35 C is from that at 20 C


def litre_weighs(portions: Iterable[Portion]) -> Figure:
    """What a litre of a supply weighs [g/L], from the first of some portions that tells.

    Equation: ρ = 1000 (ρ_low + ρ_high) / 2, u = 1000 (ρ_high − ρ_low) / √12 [g/L], with the
    limits of the density [g/mL] at the strength that is written. Source: JCGM 100:2008, 4.3.7
    (rectangular; from memory); tables of densities as in strengths.toml.
    """
    found = [_told(portion) for portion in portions]
    if not found:
        return not_known("weight of a litre", "g/L", "nobody says how dense it is")
    return next((one for one in found if one.known), found[0])


def _told(portion: Portion) -> Figure:
    words = supply_in_words(portion)
    name = f"weight of a litre of {words}"
    both = _measured_twice(portion)
    if both is not None:
        mass, volume = both
        value = Uncertain((mass.base_value or 0.0) / (volume.base_value or 1.0))
        return Figure(name, "g/L", value, "as the purchase gives both", rests_on=(portion.span,))
    if not portion.reagent:
        return not_known(name, "g/L", f"how dense {words} is, is not known")
    if substances(portion.reagent) == ("H2O",):
        water = 1000.0 * float(strengths_data()["meta"]["water_20C"])
        return _between(name, Range(water * (1 - BESIDE_20C), water * (1 + BESIDE_20C)), words)
    if portion.strength is None:
        why = f"the strength of {words} is not written, and so not how dense it is"
        return not_known(name, "g/L", why)
    try:
        of = strength(word_of_trade(portion.what, portion.reagent), portion.strength)
    except MissingError as missing:
        return not_known(name, "g/L", str(missing))
    return _between(name, of.density.times(1000.0), words)


def _measured_twice(portion: Portion) -> tuple[Amount, Amount] | None:
    """Mass and volume of a portion, where both are written of it."""
    both = {one.dimension: one for one in (portion.amount, portion.second) if one is not None}
    mass, volume = both.get(Dimension.MASS), both.get(Dimension.VOLUME)
    if mass is None or volume is None or not mass.base_value or not volume.base_value:
        return None
    return mass, volume


def _between(name: str, limits: Range, words: str) -> Figure:
    if limits.high is None:
        return not_known(name, "g/L", f"how dense {words} is at most, is not known")
    middle, width = (limits.low + limits.high) / 2.0, limits.high - limits.low
    value = Uncertain.of(middle, width / sqrt(12.0), name)
    note = f"a litre of {words} is taken to weigh {middle:.0f} g"
    return Figure(name, "g/L", value, "density at the strength written", notes=(note,))


def converted(quantity: Figure, dimension: Dimension, litre: Figure) -> Figure:
    """A mass as a volume, or a volume as a mass: `dimension` is what is asked for.

    Equations: m = V ρ [g]; V = m / ρ [L]. Source: the definition of density.

    1 L of sulfuric acid of 1840 g/L weighs 1840 g, and 92 g of it are 50 mL (by hand):

    >>> litre = Figure("weight of a litre", "g/L", Uncertain(1840.0))
    >>> converted(Figure("used", "g", Uncertain(92.0)), Dimension.VOLUME, litre).value.value
    0.05
    """
    unit = dimension_unit(dimension)
    if litre.value is None:
        return Figure(quantity.name, unit, terms=(quantity, litre), why=litre.why, low=0.0)
    if dimension is Dimension.MASS:
        return product(quantity.name, unit, quantity, litre, "volume × weight of a litre")
    inverse = Figure("litres in a gram", "L/g", Uncertain(1.0) / litre.value, terms=(litre,))
    found = product(quantity.name, unit, quantity, inverse, "weight / weight of a litre")
    return replace(found, notes=(*found.notes, *litre.notes))


def measured_in(
    amounts: Iterable[Amount], name: str, dimension: Dimension, litre: Figure
) -> Figure | None:
    """What was measured, in one kind of unit; None where it cannot be told in that unit."""
    found = {amount.dimension: leaf(name, amount, f"{name}: not known") for amount in amounts}
    if dimension in found:
        return found[dimension]
    if dimension not in WEIGHED or not litre.known:
        return None
    other = next((found[one] for one in WEIGHED if one in found), None)
    return converted(other, dimension, litre) if other is not None else None
