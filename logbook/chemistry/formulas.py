"""Chemical formulas: which atoms they count, and what a mole of them weighs."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from functools import cache

from logbook.chemistry.ranges import MissingError
from logbook.reference import load, metals

_PART = re.compile(r"([A-Z][a-z]?)(\d*)|(\()|(\))(\d*)")
_ALIKE = str.maketrans("·[]", ".()")
_WATER = re.compile(r"(\d*)(.+)")


@cache
def atomic_weights() -> Mapping[str, float]:
    """Standard atomic weights, abridged [g/mol], by symbol: metals.toml and elements.toml."""
    rows = load("elements.toml")["element"]
    others = {row["symbol"]: float(row["atomic_weight"]) for row in rows}
    return others | {metal.symbol: metal.atomic_weight for metal in metals().values()}


@cache
def atoms(formula: str) -> Mapping[str, int]:
    """How many atoms of each element a formula counts; a point adds water of crystals.

    Raises:
        MissingError: where the words are no formula of elements that are known.

    >>> dict(atoms("Cu(NO3)2"))
    {'Cu': 1, 'N': 2, 'O': 6}
    >>> atoms("FeSO4.7H2O")["H"]
    14
    """
    counted: Counter[str] = Counter()
    for part in formula.translate(_ALIKE).split("."):
        match = _WATER.fullmatch(part)
        if match is None:
            raise MissingError(f"{formula} is no formula")
        for symbol, number in _group(formula, match[2]).items():
            counted[symbol] += number * int(match[1] or 1)
    return counted


def _group(formula: str, words: str) -> Counter[str]:
    """The atoms of one part of a formula, brackets opened."""
    stack: list[Counter[str]] = [Counter()]
    at = 0
    while at < len(words):
        match = _PART.match(words, at)
        if match is None or (match[4] and len(stack) == 1):
            raise MissingError(f"{formula} is no formula")
        if match[1]:
            if match[1] not in atomic_weights():
                raise MissingError(f"{match[1]} in {formula} is not among the elements of the data")
            stack[-1][match[1]] += int(match[2] or 1)
        elif match[3]:
            stack.append(Counter())
        else:
            closed = stack.pop()
            for symbol, number in closed.items():
                stack[-1][symbol] += number * int(match[5] or 1)
        at = match.end()
    if len(stack) != 1 or not stack[0]:
        raise MissingError(f"{formula} is no formula")
    return stack[0]


@cache
def molar_mass(formula: str) -> float:
    """The mass of a mole of a substance.

    Equation: M = Σ n_i A_r,i [g/mol], over the atoms of the formula.
    Source of the atomic weights: IUPAC 2021, abridged to five figures (elements.toml).

    Raises:
        MissingError: where the words are no formula.

    CRC Handbook gives 63.013 g/mol for nitric acid (from memory):

    >>> round(molar_mass("HNO3"), 2)
    63.01
    """
    return sum(number * atomic_weights()[symbol] for symbol, number in atoms(formula).items())
