"""Whether a solution in pure water is full at a temperature, where a table tells.

Nothing is known beyond a table, nor between two rows where the crystals change. Acid and other
salts in the water change what it can hold, and that is said wherever a figure is given.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import exp, log
from typing import Any

from logbook.chemistry.curves import line
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.supplies import pure_per_unit, substances
from logbook.model.amount import Dimension
from logbook.reference import load

PURE_WATER = "this holds for pure water: acid and other salts change it"


@dataclass(frozen=True, slots=True)
class Saturation:
    """How much the water holds and can hold [g of dry substance in 100 g of water].

    `full` is True where more was put in than can dissolve, False where all of it dissolves,
    None where it is too near, or too little known, to say. `grams` is how much of the salt as
    it is sold fills the water [g]; without a limit where it melts in its own water.
    """

    formula: str
    held: Range
    limit: Range
    full: bool | None
    grams: Range
    sources: tuple[str, ...]
    notes: tuple[str, ...]


def soluble(formula: str, celsius: float) -> Range:
    """How much of a substance 100 g of pure water can hold.

    Equation: ln s(T) along a straight line between two points of the table; s [g/100 g] of
    the substance without water of crystals, `celsius` T [C]. Source: solubility.toml.

    Raises:
        MissingError: outside the table, or where there is none.

    A table of solubilities gives 20.7 g for copper sulfate at 20 C (romek.info):

    >>> found = soluble("CuSO4", 20.0)
    >>> round(found.low, 6), round(found.high or 0.0, 6)
    (20.0, 20.8)
    """
    row = _row(formula, celsius)
    temperatures, least, most = zip(*row["points"], strict=True)
    low = line(temperatures, [log(one) for one in least])(celsius)
    high = line(temperatures, [log(one) for one in most])(celsius)
    return Range(exp(low), exp(high))


def sources_of(formula: str, celsius: float) -> tuple[str, ...]:
    """The documents behind what `soluble` tells.

    Raises:
        MissingError: as `soluble`.
    """
    return _sources(_row(formula, celsius))


def saturated(salt: str, grams: Range, water: Range, celsius: float) -> Saturation:
    """Whether so much of a salt is more than so much water can hold.

    Equation: h = 100 m p / (m_water + m (1 - p)) [g/100 g], against s(T); m `grams` [g] of a
    salt of which the part p [g/g] is dry substance, m_water `water` [g], T `celsius` [C].
    `salt` is a reagent, whose crystals then count as they are sold, or a formula with its
    water of crystals ("CuSO4.5H2O"). Source: definition.

    Raises:
        MissingError: where no table tells.

    250 g of blue crystals hold 159.8 g CuSO4 and 90.2 g water: in a litre (998 g at 20 C) that
    is 14.7 g in 100 g, which dissolves at 20 C (by hand):

    >>> found = saturated("CuSO4.5H2O", Range.exactly(250.0), Range.exactly(998.0), 20.0)
    >>> found.full, round(found.held.low, 1)
    (False, 14.7)
    """
    formula, part = _dry_part(salt)
    limit, row = soluble(formula, celsius), _row(formula, celsius)
    if grams.high is None or part.high is None or not water.low:
        raise MissingError("how much there is to dissolve, or water to dissolve it, is not known")
    most_water = water.high if water.high is not None else float("inf")
    held = Range(_held(grams.low, part.low, most_water), _held(grams.high, part.high, water.low))
    dissolves = Range(
        _dissolved(limit.low, part.high, water.low) or 0.0,
        _dissolved(limit.high or 0.0, part.low, most_water),
    )
    notes = tuple(note for note in (PURE_WATER, row.get("note", "")) if note)
    return Saturation(formula, held, limit, _full(held, limit), dissolves, _sources(row), notes)


def _dry_part(salt: str) -> tuple[str, Range]:
    """The dry substance of a salt, and which part of the salt it is [g/g]."""
    dry = salt.replace("·", ".").split(".")[0]
    if dry in _rows():
        return dry, Range.exactly(molar_mass(dry) / molar_mass(salt) if dry != salt else 1.0)
    formulas = substances(salt)
    if len(formulas) != 1:
        raise MissingError(f"how much {salt} water can hold is not in the data")
    return formulas[0], pure_per_unit(salt, Dimension.MASS, None).grams


def _held(grams: float, part: float, water: float) -> float:
    return 100.0 * grams * part / (water + grams * (1.0 - part))


def _dissolved(limit: float, part: float, water: float) -> float | None:
    """Grams of the salt as sold that fill the water; None where it melts in its own water."""
    taken = part - limit * (1.0 - part) / 100.0
    return limit * water / 100.0 / taken if taken > 0.0 else None


def _full(held: Range, limit: Range) -> bool | None:
    if held.low > (limit.high or 0.0):
        return True
    return False if (held.high or 0.0) < limit.low else None


@cache
def _data() -> Mapping[str, Any]:
    return load("solubility.toml")


@cache
def _rows() -> Mapping[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {}
    for row in _data()["salt"]:
        found.setdefault(row["formula"], []).append(row)
    return found


def _row(formula: str, celsius: float) -> dict[str, Any]:
    """The row of a salt that holds a temperature."""
    rows = _rows().get(formula)
    if rows is None:
        raise MissingError(f"how much {formula} water can hold is not in the data")
    for row in rows:
        if row["points"][0][0] <= celsius <= row["points"][-1][0]:
            return row
    known = " and ".join(f"{row['points'][0][0]} to {row['points'][-1][0]} C" for row in rows)
    raise MissingError(f"the solubility of {formula} is known for {known}, not for {celsius:g} C")


def _sources(row: Mapping[str, Any]) -> tuple[str, ...]:
    keys = [row["source"]] if isinstance(row["source"], str) else row["source"]
    return tuple(_data()["sources"][key] for key in keys)
