"""Gases that no work is done for: set free by acid, base, heat, water, or by what meets what.

Everything here is an upper limit. That a row lacks never means that no gas comes off.
"""

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


@dataclass(frozen=True, slots=True)
class Driven:
    """A gas that one thing alone gives off: by drying, fire, water or strong sulfuric acid."""

    of: str
    gas: str
    moles: float
    by: str

    def from_salt(self) -> float:
        """Grams of gas from each gram.

        Equation: r = n M_gas / M [g/g]. Source: general chemistry.

        A gram of charcoal gives 2.33 g of carbon monoxide (by hand: 28.010 / 12.011):

        >>> round(next(one for one in driven() if one.of == "C").from_salt(), 2)
        2.33
        """
        return self.moles * molar_mass(self.gas) / molar_mass(self.of)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two kinds of substance that give a gas together, where something of `beside` is there."""

    first: str
    second: str
    gas: str
    per_first: float
    per_second: float
    beside: str


def gram_of(kind: str, formula: str, gas: str, moles: float) -> float:
    """Grams of a gas for each gram of a substance of a kind, so many moles a unit of that kind.

    Equation: r = b n M_gas / M [g/g], b units from a mole. Source: general chemistry.

    A gram of permanganate takes five electrons a mole, two for each chlorine: 1.122 g of it (by
    hand: 2.5 × 70.90 / 158.03):

    >>> round(gram_of("oxidiser", "KMnO4", "Cl2", 0.5), 3)
    1.122
    """
    return helpers(kind)[formula] * moles * molar_mass(gas) / molar_mass(formula)


@cache
def releases() -> tuple[Release, ...]:
    """Every release by acid or base, in the order of the file."""
    return tuple(
        Release(row["of"], row["gas"], row["moles"], row["with"], row["takes"])
        for row in load("releases.toml")["release"]
    )


@cache
def driven() -> tuple[Driven, ...]:
    """Every gas that a thing gives off alone."""
    rows = load("releases.toml")["driven"]
    return tuple(Driven(row["of"], row["gas"], row["moles"], row["by"]) for row in rows)


@cache
def pairs() -> tuple[Pair, ...]:
    """Every pair of kinds that gives off a gas."""
    return tuple(Pair(**row) for row in load("releases.toml")["pair"])


@cache
def helpers(kind: str) -> Mapping[str, float]:
    """The substances of a kind (acid, base, nitrate, oxidiser ...), with what a mole brings."""
    return {row["formula"]: float(row["brings"]) for row in load("releases.toml")[kind]}


@cache
def hydrogen() -> Mapping[str, float]:
    """The metals that any acid but nitric dissolves: moles of hydrogen a mole, by symbol."""
    return {row["formula"]: float(row["moles"]) for row in load("releases.toml")["hydrogen"]}


@cache
def warned() -> Mapping[str, tuple[str, ...]]:
    """The gases that the rules of cautions.toml are about, by the rule."""
    return {row["rule"]: tuple(row["gases"]) for row in load("releases.toml")["warned"]}
