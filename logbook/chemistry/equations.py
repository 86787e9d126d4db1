"""Chemical equations as they are written, and the ratios of mass that follow from them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from logbook.chemistry.formulas import atoms, molar_mass
from logbook.chemistry.ranges import MissingError

_TERM = re.compile(r"(?:(\d+)\s+)?(\S+)")


@dataclass(frozen=True, slots=True)
class Equation:
    """Both sides of a reaction: how many moles of each formula go in and come out."""

    text: str
    into: Mapping[str, int]
    out: Mapping[str, int]

    @property
    def balanced(self) -> bool:
        """Whether each element is on both sides alike."""
        return _count(self.into) == _count(self.out)

    def moles_per_mole(self, formula: str, of: str) -> float:
        """Moles of one substance for each mole of another; a product counts like a reactant."""
        return self._moles(formula) / self._moles(of)

    def grams_per_gram(self, formula: str, of: str) -> float:
        """Mass of one substance for each mass of another.

        Equation: r = n M / (n_of M_of) [g/g], n from the equation, M the molar masses.

        Copper in dilute nitric acid takes 2.6443 g of HNO3 a gram (by hand: 8 × 63.012 /
        (3 × 63.546)):

        >>> copper = equation("3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O")
        >>> round(copper.grams_per_gram("HNO3", of="Cu"), 4)
        2.6443
        """
        return self.moles_per_mole(formula, of) * molar_mass(formula) / molar_mass(of)

    def _moles(self, formula: str) -> int:
        moles = self.into.get(formula) or self.out.get(formula)
        if not moles:
            raise MissingError(f"{formula} has no part in {self.text}")
        return moles


def _count(side: Mapping[str, int]) -> Counter[str]:
    counted: Counter[str] = Counter()
    for formula, moles in side.items():
        for symbol, number in atoms(formula).items():
            counted[symbol] += moles * number
    return counted


@cache
def equation(text: str) -> Equation:
    """An equation as it is written: `3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O`.

    Raises:
        MissingError: where the words are no equation.
    """
    sides = text.split("->")
    if len(sides) != 2:
        raise MissingError(f'"{text}" is no equation')
    return Equation(text, _side(text, sides[0]), _side(text, sides[1]))


def _side(text: str, words: str) -> Mapping[str, int]:
    found: dict[str, int] = {}
    for term in words.split(" + "):
        match = _TERM.fullmatch(term.strip())
        if match is None:
            raise MissingError(f'"{text}" is no equation')
        atoms(match[2])
        found[match[2]] = int(match[1] or 1)
    return found
