"""What a current can do at most in a cell: Faraday's law, and the energy that goes in.

A bound and nothing more: part of a current goes into gas, heat and other metals. A cell gives
off hydrogen and oxygen, chlorine where there may be chloride, and oxides of nitrogen where there
may be nitrate; this module only counts it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import cache
from typing import Any

from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError
from logbook.reference import load, metals

FARADAY = 96485.33212  # C/mol, from the exact e and N_A of the SI
SECONDS = 3600.0  # in an hour


def electrons_of(metal: str, baths: Collection[str] = ()) -> int:
    """The fewest electrons for which a cell may carry over an atom of a metal.

    `baths` are the classes of reagents.toml that are there. Only where they settle what bath it
    is (see `settled`) do the other baths' ways fall away; else every way counts, so that the
    bound is never too low.

    Raises:
        MissingError: for a metal that electrolysis.toml does not know.

    >>> electrons_of("copper"), electrons_of("copper", {"chloride"})
    (1, 1)
    >>> electrons_of("copper", {"sulfuric"}), electrons_of("copper", {"sulfuric", "chloride"})
    (2, 1)
    """
    rows = [row for row in _rows("carried") if row["metal"] == metal]
    found = [int(row["electrons"]) for row in rows if _may_be(row, baths)]
    if not found:
        raise MissingError(f"how many electrons {metal} takes in a cell is not in the data")
    return min(found)


def settled(baths: Collection[str]) -> bool:
    """Whether what is known to be in a cell says which bath it is.

    Sulfuric acid alone does; with a chloride beside it the ways of both count.

    >>> settled({"sulfuric"}), settled({"copper salt"}), settled(())
    (True, False, False)
    """
    return not _known_baths().isdisjoint(baths)


def _may_be(row: Mapping[str, Any], baths: Collection[str]) -> bool:
    """Whether a row may hold: it needs no bath, its bath may be there, or none is known."""
    return "baths" not in row or not settled(baths) or not set(row["baths"]).isdisjoint(baths)


@cache
def _known_baths() -> frozenset[str]:
    return frozenset(load("electrolysis.toml")["settled"]["baths"])


def faraday_bound(
    metal: str, amperes: float, hours: float, baths: Collection[str] = (), efficiency: float = 1.0
) -> float:
    """The most of a metal that a current can carry over [g].

    Equation: m = η I t M / (z F) [g], I in A, t in hours of 3600 s, z electrons an atom, F =
    96485 C/mol. An efficiency η of 1 is the upper bound. Source: Faraday's law of electrolysis.

    An ampere-hour carries 4.02 g of silver and 1.19 g of copper (table of a plating works):

    >>> round(faraday_bound("silver", 1.0, 1.0), 2)
    4.02
    >>> round(faraday_bound("copper", 1.0, 1.0, {"sulfuric"}), 2)
    1.19
    """
    atom = molar_mass(metals()[metal].symbol) if metal in metals() else 0.0
    moles = amperes * hours * SECONDS / (electrons_of(metal, baths) * FARADAY)
    return efficiency * moles * atom


def gas_bound(formula: str, amperes: float, hours: float) -> float:
    """The most of a gas that the same current can set free [g].

    Equation: m = I t M / (z F) [g], two electrons a molecule of H2 or Cl2, four of O2, three of
    NO and one of NO2 from nitrate. Source: Faraday's law.

    Raises:
        MissingError: for a gas that electrolysis.toml does not know.

    An ampere-hour gives 0.0376 g of hydrogen (by hand: 3600 × 2.016 / (2 × 96485)):

    >>> round(gas_bound("H2", 1.0, 1.0), 4)
    0.0376
    """
    for row in _rows("given"):
        if row["gas"] == formula:
            charge = amperes * hours * SECONDS
            return charge * molar_mass(formula) / (int(row["electrons"]) * FARADAY)
    raise MissingError(f"how many electrons {formula} takes in a cell is not in the data")


def gases_of_cell(baths: Collection[str]) -> tuple[str, ...]:
    """The gases that a cell may give off: hydrogen and oxygen always, the others by its bath.

    Where no class settles which bath it is, all of them may come.

    >>> gases_of_cell({"sulfuric"}), gases_of_cell({"sulfuric", "chloride"})
    (('H2', 'O2'), ('H2', 'O2', 'Cl2'))
    >>> gases_of_cell({"nitric"}), gases_of_cell(())
    (('H2', 'O2', 'NO', 'NO2'), ('H2', 'O2', 'Cl2', 'NO', 'NO2'))
    """
    return tuple(row["gas"] for row in _rows("given") if _may_be(row, baths))


def energy(volts: float, amperes: float, hours: float) -> float:
    """The energy that goes into a cell.

    Equation: E = U I t / 1000 [kWh]. Source: the definition.

    12 V and 6.71 A for a day are 6.96 MJ, 1.93 kWh (a school problem, from physics-arena):

    >>> round(energy(12.0, 6.71, 24.0), 2)
    1.93
    """
    return volts * amperes * hours / 1000.0


@cache
def _rows(table: str) -> tuple[dict[str, Any], ...]:
    return tuple(load("electrolysis.toml")[table])
