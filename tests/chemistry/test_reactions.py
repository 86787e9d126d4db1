"""The reactions of the data: balanced, and their ratios against what others work out."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from logbook.chemistry.equations import equation
from logbook.chemistry.formulas import atomic_weights, atoms, molar_mass
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.reactions import Reaction, every_work, reactions, works_in
from logbook.reference import load, reagents, stage_kinds

PUBLISHED: Mapping[str, Any] = tomllib.loads(
    (Path(__file__).parent / "reactions.toml").read_text(encoding="utf-8")
)
TOLERANCE = 2e-4  # two tables of atomic weights, one abridged, one whole


def formulas() -> list[str]:
    """Every formula that stands in a reaction."""
    found = reactions().values()
    return sorted({one for way in found for one in (*way.equation.into, *way.equation.out)})


@pytest.mark.parametrize("reaction", reactions().values(), ids=lambda one: one.name)
def test_an_equation_is_balanced_as_chempy_balances_it(reaction: Reaction) -> None:
    """The library chempy, given only the formulas, finds the same numbers of moles.

    Formulas with square or curly brackets are not written here, so that both read them alike.
    """
    from chempy import balance_stoichiometry

    written = reaction.equation
    into, out = balance_stoichiometry(set(written.into), set(written.out))
    assert dict(into) == dict(written.into)
    assert dict(out) == dict(written.out)


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_ratios_are_those_worked_out_elsewhere(name: str) -> None:
    """What a reaction asks for and gives, per gram, from tests/chemistry/reactions.toml."""
    reaction, there = reactions()[name], PUBLISHED[name]
    for formula, ratio in there.get("asked", {}).items():
        assert formula in reaction.asks
        assert reaction.asked(formula) == pytest.approx(ratio, rel=TOLERANCE)
    for formula, ratio in there.get("given", {}).items():
        assert formula in reaction.gases
        assert reaction.given(formula) == pytest.approx(ratio, rel=TOLERANCE)


@pytest.mark.parametrize("formula", formulas())
def test_a_molar_mass_is_that_of_periodictable(formula: str) -> None:
    """The library periodictable holds the unabridged weights of the same source."""
    import periodictable

    assert molar_mass(formula) == pytest.approx(periodictable.formula(formula).mass, rel=1e-4)


@pytest.mark.parametrize("symbol", sorted(atomic_weights()))
def test_an_atomic_weight_is_that_of_two_libraries(symbol: str) -> None:
    """Abridged to five figures, as periodictable and chempy give it whole."""
    import periodictable
    from chempy.util.periodic import relative_atomic_masses, symbols

    ours = atomic_weights()[symbol]
    theirs = relative_atomic_masses[symbols.index(symbol)]
    assert ours == pytest.approx(getattr(periodictable, symbol).mass, rel=1e-4)
    assert ours == pytest.approx(theirs, rel=3e-4)  # chempy holds older weights


def test_routes_bracket_what_handbooks_give() -> None:
    """A second look by hand: the two ways of nitric acid with copper and with silver [g/g].

    8/3 and 4 moles of HNO3 a mole of copper, 4/3 and 2 a mole of silver; HNO3 63.012, Cu
    63.546, Ag 107.87 g/mol.
    """
    ways = reactions()
    assert ways["cu_hno3_dilute"].asked("HNO3") == pytest.approx(8 / 3 * 63.012 / 63.546, rel=1e-4)
    assert ways["cu_hno3_conc"].asked("HNO3") == pytest.approx(4 * 63.012 / 63.546, rel=1e-4)
    assert ways["ag_hno3_dilute"].asked("HNO3") == pytest.approx(4 / 3 * 63.012 / 107.87, rel=1e-4)
    assert ways["ag_hno3_conc"].asked("HNO3") == pytest.approx(2 * 63.012 / 107.87, rel=1e-4)


def test_no_reaction_lets_urea_take_nitric_acid() -> None:
    """Well-known wrong advice: urea takes nitrous acid, not nitric acid or nitrates.

    Source: osti.gov/biblio/5316558 (HNO2 and urea give N2 and CO2); urea nitrate is what nitric
    acid makes of it (Molecules 2023, 28(1), 162).
    """
    for reaction in reactions().values():
        if "CH4N2O" in (*reaction.asks, reaction.basis) and "HNO3" in reaction.equation.into:
            assert reaction.work == "side"
            assert "explosive" in reaction.note


def test_every_supply_that_is_asked_for_is_a_known_reagent() -> None:
    """No reaction waits for a formula that no reagent of the data carries."""
    known = {reagent.formula for reagent in reagents().values()}
    made_here = {"CuCl2", "AgCl", "Ag2O", "Cl2", "SO2", "NO2", "HNO2", "HAuCl4"}
    for reaction in reactions().values():
        assert set(reaction.asks) <= known | made_here, reaction.name


def test_the_works_of_a_stage_are_known() -> None:
    """The table of works names kinds of stage and works that exist."""
    for kind, works in load("reactions.toml")["works"].items():
        assert kind in stage_kinds()
        assert set(works) <= every_work()
    assert works_in(()) == every_work()


@pytest.mark.parametrize("words", ["", "Xy2", "Cu(NO3", "Cu)2", "2", "Cu NO3", "()"])
def test_what_is_no_formula_is_refused(words: str) -> None:
    """The refusal says so in words, and nothing is guessed."""
    with pytest.raises(MissingError, match=r"formula|element"):
        atoms(words)


@pytest.mark.parametrize("words", ["Cu + HNO3", "Cu -> ", "a -> b -> c"])
def test_what_is_no_equation_is_refused(words: str) -> None:
    """An equation has two sides of formulas."""
    with pytest.raises(MissingError):
        equation(words)
