"""The balanced reactions of reactions.toml as records. Judges nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from logbook.chemistry.equations import Equation, equation
from logbook.chemistry.formulas import atomic_weights, atoms, molar_mass
from logbook.reference import load, metals

FREE = frozenset({"O2", "H2O"})
"""What air and water give: no supply of the bench."""

GASES = frozenset(
    {"NO", "NO2", "N2O", "N2", "H2", "O2", "SO2", "H2S", "CO2", "NH3", "HCN"}
    | {"Cl2", "NOCl", "NH2Cl"}
)
"""Products that leave as a gas at the bench. Source: general chemistry, from memory."""


@dataclass(frozen=True, slots=True)
class Reaction:
    """One reaction of the trade.

    `work` is what it is for, in a word of reactions.toml. `basis` is what is worked on: the
    symbol of a metal, in whatever salt it stands, or a formula; `metal` is that metal's name.
    `asks` are the supplies it uses up besides, `gases` what it gives off.
    """

    name: str
    equation: Equation
    work: str
    basis: str
    metal: str
    asks: tuple[str, ...]
    gases: tuple[str, ...]
    source: str
    standing: str
    note: str

    def asked(self, formula: str) -> float:
        """Grams of a supply that it uses up for each gram of its basis; 0 for no part of it.

        Equation: r = n M / (n_b M_b) [g/g], n from the equation; of a metal the atoms on the
        left count, in whatever salt they stand. Source: general chemistry.

        Silver takes 0.7789 g of HNO3 a gram where nitrogen monoxide forms (by hand: 4 × 63.012
        / (3 × 107.87)), and a gram of it in solution 0.2945 g of copper:

        >>> round(reactions()["ag_hno3_dilute"].asked("HNO3"), 4)
        0.7789
        >>> round(reactions()["ag_cement_cu"].asked("Cu"), 4)
        0.2945
        """
        return self.equation.into.get(formula, 0) * molar_mass(formula) / self._grams

    def given(self, formula: str) -> float:
        """Grams of a product for each gram of its basis; 0 for none of them.

        A gram of copper gives 1.448 g of NO2 (by hand: 2 × 46.005 / 63.546):

        >>> round(reactions()["cu_hno3_conc"].given("NO2"), 3)
        1.448
        """
        return self.equation.out.get(formula, 0) * molar_mass(formula) / self._grams

    @property
    def _grams(self) -> float:
        """Grams of the basis in the equation as it is written, read in moles."""
        left = self.equation.into
        if self.metal:
            atoms_of_it = sum(moles * atoms(one)[self.basis] for one, moles in left.items())
            return atoms_of_it * atomic_weights()[self.basis]
        return left[self.basis] * molar_mass(self.basis)


@cache
def reactions() -> Mapping[str, Reaction]:
    """Every reaction of the data, by name."""
    data = load("reactions.toml")
    return {row["id"]: _reaction(row, data) for row in data["reaction"]}


@cache
def every_work() -> frozenset[str]:
    """Every work that a reaction can be for."""
    return frozenset(reaction.work for reaction in reactions().values())


@cache
def works_in(kinds: tuple[str, ...]) -> frozenset[str]:
    """What may go on in a stage of some kinds; where none is known, anything.

    >>> sorted(works_in(("cement",)))
    ['cement', 'destroy', 'side']
    """
    allowed: Mapping[str, list[str]] = load("reactions.toml")["works"]
    if not kinds or {"trial", "test"}.intersection(kinds):
        return every_work()
    return frozenset({"side"}.union(*(allowed.get(kind, ()) for kind in kinds)))


@cache
def reactions_in(kinds: tuple[str, ...]) -> tuple[Reaction, ...]:
    """The reactions that may go on in a stage of some kinds, if everything is there."""
    works = works_in(kinds)
    return tuple(one for one in reactions().values() if one.work in works)


@cache
def asked_about() -> float:
    """How many times the most that is needed a use may be before it is asked about."""
    return float(load("reactions.toml")["limits"]["asked_about"])


def _reaction(row: Mapping[str, Any], data: Mapping[str, Any]) -> Reaction:
    usual = data["meta"]["defaults"]["equation"]
    written, basis = equation(row["equation"]), row["basis"]
    metal = next((one.name for one in metals().values() if one.symbol == basis), "")
    return Reaction(
        row["id"],
        written,
        row["work"],
        basis,
        metal,
        tuple(one for one in written.into if one not in FREE and not _is_basis(one, basis, metal)),
        tuple(one for one in written.out if one in GASES),
        data["sources"][row.get("source", usual["source"])],
        row.get("standing", usual["standing"]),
        row.get("note", ""),
    )


def _is_basis(formula: str, basis: str, metal: str) -> bool:
    return basis in atoms(formula) if metal else formula == basis
