"""Gases that any acid or base sets free at once: from sulfites, cyanides, bleach, ammonium."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from logbook.chemistry.formulas import molar_mass
from logbook.reference import load


@dataclass(frozen=True, slots=True)
class Release:
    """A gas that acid or base sets free from a salt; `moles` of it a mole, for `takes` of it."""

    of: str
    gas: str
    moles: float
    set_free_by: str  # acid, base
    takes: float

    def from_salt(self) -> float:
        """Grams of gas from each gram of the salt.

        Equation: r = n M_gas / M [g/g]. Source: general chemistry.

        A gram of metabisulfite gives 0.674 g of SO2 (by hand: 2 × 64.06 / 190.10):

        >>> round(releases()[4].from_salt(), 3)
        0.674
        """
        return self.moles * molar_mass(self.gas) / molar_mass(self.of)

    def from_helper(self, formula: str) -> float:
        """Grams of gas for each gram of an acid or base that is there.

        Equation: r = b n M_gas / (t M) [g/g], b moles of acid hydrogen or hydroxide from a mole of
        the helper, t what the salt takes. Source: general chemistry.

        A gram of HCl sets free 1.757 g of SO2 from metabisulfite (by hand: 64.06 / 36.458):

        >>> round(releases()[4].from_helper("HCl"), 3)
        1.757
        """
        brings = helpers(self.set_free_by)[formula]
        return brings * self.moles / self.takes * molar_mass(self.gas) / molar_mass(formula)


@cache
def releases() -> tuple[Release, ...]:
    """Every release of the data, in the order of the file."""
    return tuple(
        Release(row["of"], row["gas"], row["moles"], row["with"], row["takes"])
        for row in load("releases.toml")["release"]
    )


@cache
def helpers(kind: str) -> Mapping[str, float]:
    """The acids or the bases, with the moles that a mole of each brings."""
    return {row["formula"]: float(row["brings"]) for row in load("releases.toml")[kind]}
