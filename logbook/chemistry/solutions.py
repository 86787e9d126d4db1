"""The door to everything about solutions: strengths, densities, mixing, what water can hold.

The work is done in the modules named here; nothing is worked out in this one.
"""

from logbook.chemistry.densities import density, fraction_at, fraction_holding, grams_per_litre
from logbook.chemistry.mixing import (
    Cross,
    Diluted,
    Part,
    Poured,
    cross,
    dilute,
    mix,
    parts,
    poured,
    poured_water,
    prepare,
)
from logbook.chemistry.solubility import Saturation, saturated, soluble
from logbook.chemistry.strengths import (
    Strength,
    fraction_of,
    of_fraction,
    sold,
    strength,
    word_of_trade,
)
from logbook.chemistry.supplies import Pure, pure, pure_per_unit, substances

__all__ = [
    "Cross",
    "Diluted",
    "Part",
    "Poured",
    "Pure",
    "Saturation",
    "Strength",
    "cross",
    "density",
    "dilute",
    "fraction_at",
    "fraction_holding",
    "fraction_of",
    "grams_per_litre",
    "mix",
    "of_fraction",
    "parts",
    "poured",
    "poured_water",
    "prepare",
    "pure",
    "pure_per_unit",
    "saturated",
    "sold",
    "soluble",
    "strength",
    "substances",
    "word_of_trade",
]
