"""A salt that is to become metal, counted as the metal it holds."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.results import Substance
from logbook.chemistry.formulas import atomic_weights, atoms, molar_mass
from logbook.chemistry.ranges import MissingError
from logbook.reference import metals


def metal_of_salt(salt: Substance) -> Substance:
    """The metal in a salt, as the reactions count what they work on.

    Equation: m = m_s n M / M_s [g], n atoms of the metal in the salt. Source: general chemistry.

    Raises:
        MissingError: where the salt holds no metal of the data.

    100 g of silver chloride hold 75.3 g of silver (by hand: 107.87 / 143.32):

    >>> from logbook.chemistry.ranges import Range
    >>> found = metal_of_salt(Substance("AgCl", Range.exactly(100.0), "silver chloride", ()))
    >>> found.formula, round(found.grams.low, 1)
    ('Ag', 75.3)
    """
    held = atoms(salt.formula)
    for metal in metals().values():
        number = held.get(metal.symbol, 0)
        if number and metal.precious:
            share = number * atomic_weights()[metal.symbol] / molar_mass(salt.formula)
            return replace(salt, formula=metal.symbol, grams=salt.grams.times(share))
    raise MissingError(f"which precious metal {salt.words} holds is not in the data")
