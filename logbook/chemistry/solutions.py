"""The door to everything about solutions: strengths, densities, what a supply holds.

The work is done in the modules named here; nothing is worked out in this one.
"""

from logbook.chemistry.densities import density, fraction_at, fraction_holding, grams_per_litre
from logbook.chemistry.strengths import Strength, fraction_of, sold, strength
from logbook.chemistry.supplies import Pure, pure, pure_per_unit, substances

__all__ = [
    "Pure",
    "Strength",
    "density",
    "fraction_at",
    "fraction_holding",
    "fraction_of",
    "grams_per_litre",
    "pure",
    "pure_per_unit",
    "sold",
    "strength",
    "substances",
]
