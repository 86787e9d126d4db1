"""Slips with units: a figure in another unit, the wrong ounce, pennyweights and grains.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

import re

from logbook.calculation.claims.case import Case, Slips
from logbook.model.amount import Dimension
from logbook.units import units_by_word

# Factors of ounce, pennyweight and grain: NIST Handbook 44, appendix C, by way of units.py.
KITCHEN = "a common ounce of 28.35 g was taken for a troy ounce of 31.10 g"
TROY = "a troy ounce of 31.10 g was taken for a common ounce of 28.35 g"
_UNITS = {
    "g": "grams",
    "ozt": "troy ounces",
    "oz": "common ounces",
    "dwt": "pennyweights",
    "gr": "grains",
}
_OUNCES = re.compile(r"\boz|\bounces?\b|\bozt\b|\boz t\b", re.I)


def _grams(unit: str) -> float:
    return units_by_word()[unit].factor


def units(case: Case) -> Slips:
    """The figure is right in another unit, or an ounce was the wrong one."""
    amount = case.claimed.claim.amount
    if case.figure.unit == "g":
        yield from _of_mass(case, _unit_said(case))
    elif amount.dimension is Dimension.PRICE and amount.per == "g":
        yield from _of_price(case, amount.unit.rpartition("/")[2])
    yield from _of_priced(case)


def _unit_said(case: Case) -> str:
    """The unit of the claimed weight, by what one of it weighs: an equation has two sides."""
    step = abs(case.said.step)
    return next((unit for unit in _UNITS if abs(_grams(unit) - step) < 1e-9), "")


def _of_mass(case: Case, unit: str) -> Slips:
    if unit not in _UNITS:
        return
    for other, words in _UNITS.items():
        if other != unit:
            name = _ounce(other, unit) or f"the figure is in {words}, not in {_UNITS[unit]}"
            yield name, case.right / _grams(other) * _grams(unit)
    if unit == "dwt":
        yield "24 pennyweights were counted to an ounce, not 20", case.right * 24.0 / 20.0
    if unit == "gr":
        yield "20 grains were counted to a pennyweight, not 24", case.right * 20.0 / 24.0
    if any(_OUNCES.search(line.span.text) for thing in case.things for line in thing.entries):
        yield TROY, case.right * _grams("ozt") / _grams("oz")
        yield KITCHEN, case.right * _grams("oz") / _grams("ozt")


def _ounce(other: str, unit: str) -> str:
    """The two ounces taken for each other, by name."""
    return {("oz", "ozt"): KITCHEN, ("ozt", "oz"): TROY}.get((other, unit), "")


def _of_price(case: Case, unit: str) -> Slips:
    """A price for a unit that is the price for another one."""
    if unit not in _UNITS:
        return
    for other, words in _UNITS.items():
        if other != unit:
            name = _ounce(other, unit) or f"it is the price in {words}, not in {_UNITS[unit]}"
            yield name, case.right * _grams(other) / _grams(unit)


def _of_priced(case: Case) -> Slips:
    """Money worked out at a price for an ounce."""
    at = case.claimed.claim.at
    if at is None or at.dimension is not Dimension.PRICE or at.per != "g":
        return
    troy, common = _grams("ozt"), _grams("oz")
    unit = at.unit.rpartition("/")[2]
    if unit == "ozt":
        yield KITCHEN, case.right * troy / common
        yield "the price of an ounce was taken for each gram", case.right * troy
    if unit == "oz":
        yield TROY, case.right * common / troy
    if unit == "g":
        yield "the price of a gram was taken for each ounce", case.right / troy
