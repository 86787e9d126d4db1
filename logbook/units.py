"""Units of the trade, with exact factors taken from pint once; the one owner of that library.

Reading uses the table made here and never asks pint about a single amount.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from logbook.model.amount import Dimension
from logbook.reference import load


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it is written: base value = (written + offset) x numerator / denominator.

    The factor is kept as two whole numbers so that a conversion rounds once.
    """

    name: str
    dimension: Dimension
    numerator: int
    denominator: int
    offset: Fraction = Fraction(0)
    note: str = ""
    ambiguous: bool = False

    @property
    def factor(self) -> float:
        """How many base units one of these is."""
        return self.numerator / self.denominator


@cache
def units_by_word() -> Mapping[str, Unit]:
    """Every word for a unit. Words of three letters and more are also known in lower case.

    >>> units_by_word()["dwt"].factor
    1.55517384
    >>> units_by_word()["troy ounce"].factor
    31.1034768
    """
    content = load("units.toml")
    import pint  # half a second: only once a log is read

    registry: Any = pint.UnitRegistry(non_int_type=Fraction)
    words: dict[str, Unit] = {}
    for row in content["unit"]:
        unit = _unit(row, content["base"], registry)
        for word in (row["name"], *row.get("also", ())):
            words[word] = unit
            if len(word) > 2:
                words.setdefault(word.lower(), unit)
    return words


def _unit(row: dict[str, Any], base: dict[str, str], registry: Any) -> Unit:
    dimension = Dimension(row["dimension"])
    offset = Fraction(0)
    if "factor" in row:
        factor = Fraction(row["factor"])
    elif dimension is Dimension.TEMPERATURE:
        zero, one = (
            Fraction(registry.Quantity(Fraction(n), row["pint"]).to(base[dimension]).magnitude)
            for n in (0, 1)
        )
        factor, offset = one - zero, zero / (one - zero)
    else:
        factor = Fraction(registry.Quantity(1, row["pint"]).to(base[dimension]).magnitude)
    return Unit(
        row["name"],
        dimension,
        factor.numerator,
        factor.denominator,
        offset,
        row.get("note", ""),
        row.get("ambiguous", False),
    )


@cache
def two_word_starts() -> frozenset[str]:
    """The first words of units written in two words ("fl oz", "troy ounce")."""
    return frozenset(word.split(" ", 1)[0].lower() for word in units_by_word() if " " in word)


@cache
def currencies() -> Mapping[str, str]:
    """Signs and words for a currency, in lower case, with its ISO 4217 code."""
    table: dict[str, str] = load("units.toml")["currency"]
    return table
