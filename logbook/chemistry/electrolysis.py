"""What a current can do at most in a cell: Faraday's law, and the energy that goes in.

A bound and nothing more: part of a current goes into gas, heat and other metals. A cell gives
off hydrogen and oxygen, and chlorine where there is chloride; this module only counts it.
"""

from __future__ import annotations

from collections.abc import Collection
from functools import cache
from typing import Any

from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError
from logbook.reference import load, metals

FARADAY = 96485.33212  # C/mol, from the exact e and N_A of the SI
SECONDS = 3600.0  # in an hour


def electrons_of(metal: str, baths: Collection[str] = ()) -> int:
    """The fewest electrons for which a cell may carry over an atom of a metal.

    `baths` are classes of reagents.toml that are known to be there; where none of them tells, all
    ways count, so that the bound is never too low.

    Raises:
        MissingError: for a metal that electrolysis.toml does not know.

    >>> electrons_of("gold", {"chloride"}), electrons_of("gold"), electrons_of("copper")
    (3, 1, 2)
    """
    rows = [row for row in _rows("carried") if row["metal"] == metal]
    told = [row for row in rows if row.get("bath", "") in ("", *baths)]
    found = [int(row["electrons"]) for row in told or rows]
    if not found:
        raise MissingError(f"how many electrons {metal} takes in a cell is not in the data")
    return min(found)


def faraday_bound(
    metal: str, amperes: float, hours: float, baths: Collection[str] = (), efficiency: float = 1.0
) -> float:
    """The most of a metal that a current can carry over [g].

    Equation: m = η I t M / (z F) [g], I in A, t in hours of 3600 s, z electrons an atom, F =
    96485 C/mol. An efficiency η of 1 is the upper bound. Source: Faraday's law of electrolysis.

    An ampere-hour carries 4.02 g of silver and 1.19 g of copper (table of a plating works):

    >>> round(faraday_bound("silver", 1.0, 1.0), 2), round(faraday_bound("copper", 1.0, 1.0), 2)
    (4.02, 1.19)
    """
    atom = molar_mass(metals()[metal].symbol) if metal in metals() else 0.0
    moles = amperes * hours * SECONDS / (electrons_of(metal, baths) * FARADAY)
    return efficiency * moles * atom


def gas_bound(formula: str, amperes: float, hours: float) -> float:
    """The most of a gas that the same current can set free [g].

    Equation: m = I t M / (z F) [g], two electrons a molecule of H2 or Cl2, four of O2. Source:
    Faraday's law.

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
    """The gases that a cell may give off: hydrogen and oxygen always, chlorine from chloride.

    >>> gases_of_cell(()), gases_of_cell({"chloride"})
    (('H2', 'O2'), ('H2', 'O2', 'Cl2'))
    """
    return tuple(row["gas"] for row in _rows("given") if row.get("bath", "") in ("", *baths))


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
