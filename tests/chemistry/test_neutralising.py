"""Base for acids and dissolved metals: worked examples of textbooks, and a general library."""

from __future__ import annotations

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.chemistry.equations import equation
from logbook.chemistry.formulas import atomic_weights
from logbook.chemistry.neutralising import (
    ACIDS,
    BASES,
    acid_for_base,
    acidity,
    base_for_acids,
    grams_of_base,
    heat,
    hydroxide_moles,
    neutralising,
)
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.reactions import reactions
from logbook.reference import load

LITRES_A_MOLE = 24.465  # ideal gas at 25 C and 101.325 kPa: 8.314463 × 298.15 / 101.325
CARBON_DIOXIDE = 44.009  # g/mol, added up by hand


@pytest.mark.parametrize(
    ("base", "grams", "litres"),
    # The project's own list of checks, worked out elsewhere: 100 mL of 70 % HNO3, 1.4134 g/mL.
    [("NaOH", 62.806, 0.0), ("Na2CO3", 83.207, 19.2), ("NaHCO3", 131.9, 38.42)],
)
def test_strong_nitric_acid(base: str, grams: float, litres: float) -> None:
    """98.938 g of pure nitric acid: base by mass, and the gas it gives off."""
    found = neutralising(base, {"HNO3": Range.exactly(98.938)})
    assert found.grams.low == found.grams.high == pytest.approx(grams, rel=2e-4)
    gas = found.carbon_dioxide.low / CARBON_DIOXIDE * LITRES_A_MOLE
    assert gas == pytest.approx(litres, rel=2e-3)


@pytest.mark.parametrize(
    ("acid", "moles", "base", "grams"),
    [
        # Spilled battery acid, 28 mL of 6.2 mol/L: 29 g (exercise of a general chemistry textbook,
        # answered in several places; 29.4 g where 0.35 mol is rounded first).
        ("H2SO4", 0.028 * 6.2, "NaHCO3", 29.2),
        # 85.00 mL of 1.500 mol/L sulfuric acid take 21.42 g (worked solution to a spill).
        ("H2SO4", 0.085 * 1.5, "NaHCO3", 21.42),
        # 30.00 mL of 0.315 mol/L hydrochloric acid take 0.500 g (standardising against soda).
        ("HCl", 0.030 * 0.3145, "Na2CO3", 0.500),
        # 37.5 mL of 0.1521 mol/L take 0.3023 g (the same with another acid).
        ("HCl", 0.0375 * 0.1521, "Na2CO3", 0.3023),
        # 26.67 mL of 0.075 mol/L take 0.001 mol of slaked lime, 0.0741 g.
        ("HCl", 0.02667 * 0.075, "Ca(OH)2", 0.0741),
    ],
)
def test_worked_examples(acid: str, moles: float, base: str, grams: float) -> None:
    """Titrations and spills as textbooks work them out."""
    mass = moles * periodictable.formula(acid).mass
    found = base_for_acids(base, {acid: Range.exactly(mass)})
    assert found.low == pytest.approx(grams, rel=2e-3)


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("acid", ACIDS)
def test_equivalents(acid: str, base: str) -> None:
    """Mole by mole: sulfuric acid takes two of a base that takes up one (a second way)."""
    takes = {"NaOH": 1, "Na2CO3": 2, "NaHCO3": 1, "Ca(OH)2": 2, "CaCO3": 2}[base]
    gives = {"HNO3": 1, "HCl": 1, "H2SO4": 2}[acid]
    masses = [periodictable.formula(one).mass for one in (base, acid)]
    by_hand = 100.0 / masses[1] * gives / takes * masses[0]
    assert base_for_acids(base, {acid: Range.exactly(100.0)}).low == pytest.approx(
        by_hand, rel=2e-4
    )
    back = acid_for_base(acid, base, Range.exactly(by_hand)).low
    assert back == pytest.approx(100.0, rel=2e-4)
    assert acidity(acid) == gives and acidity(base) == -takes


def test_charges_agree_with_the_reactions() -> None:
    """The base that a metal takes is that of every balanced equation of its hydroxide."""
    seen = set()
    for reaction in reactions().values():
        if reaction.work != "hydroxide" or "NaOH" not in reaction.asks:
            continue
        by_charge = grams_of_base("NaOH", hydroxide_moles(reaction.basis, Range.exactly(1.0)))
        assert by_charge.low == pytest.approx(reaction.asked("NaOH")), reaction.name
        seen.add(reaction.basis)
    assert {"Cu", "Ni", "Fe", "Zn", "Pb"} <= seen


def test_acidity_of_salts() -> None:
    """A salt takes as much base as the equation of its hydroxide says (balanced by hand)."""
    for text, salt in (
        ("FeCl3 + 3 NaOH -> Fe(OH)3 + 3 NaCl", "FeCl3"),
        ("CuSO4 + 2 NaOH -> Cu(OH)2 + Na2SO4", "CuSO4"),
        ("NaHSO3 + NaOH -> Na2SO3 + H2O", "NaHSO3"),
        ("Na2S2O5 + 2 NaOH -> 2 Na2SO3 + H2O", "Na2S2O5"),
        ("Al2(SO4)3 + 6 NaOH -> 2 Al(OH)3 + 3 Na2SO4", "Al2(SO4)3"),
        ("H3PO4 + 3 NaOH -> Na3PO4 + 3 H2O", "H3PO4"),
        ("HAuCl4 + 4 NaOH -> Au(OH)3 + 4 NaCl + H2O", "HAuCl4"),
        ("NH4Cl + NaOH -> NH3 + NaCl + H2O", "NH4Cl"),
    ):
        written = equation(text)
        assert written.balanced, text
        assert acidity(salt) == written.into["NaOH"], text


def test_heat() -> None:
    """57 kJ a mole of water: half a mole of H2SO4 that takes 0.75 mol of NaOH gives 43 kJ.

    Textbook exercise: 0.75 × 57 kJ; here the acid is the lesser, 0.375 mol of it.
    """
    mass = 0.375 * periodictable.formula("H2SO4").mass
    assert heat({"H2SO4": Range.exactly(mass)}).low == pytest.approx(0.75 * 57, rel=0.02)


def test_what_is_not_in_the_data_is_refused() -> None:
    """No acid, base or metal is guessed."""
    with pytest.raises(MissingError):
        base_for_acids("NaOH", {"HClO4": Range.exactly(1.0)})
    with pytest.raises(MissingError):
        hydroxide_moles("Xx", Range.exactly(1.0))
    with pytest.raises(MissingError):
        neutralising("Na3PO4", {"HCl": Range.exactly(1.0)})


def test_every_metal_that_can_be_in_a_book_has_a_charge() -> None:
    """Otherwise a container that holds it would have no upper limit, or a wrong one."""
    charged = {row["metal"] for row in load("waste.toml")["charge"]}
    known = {row["symbol"] for row in load("metals.toml")["metal"]}
    assert charged == known <= set(atomic_weights())


amounts = st.floats(0.0, 1e4)


@given(
    low=amounts,
    more=st.none() | amounts,
    acid=st.sampled_from(ACIDS),
    base=st.sampled_from(BASES),
    copper=amounts,
)
def test_limits_stay_limits(
    low: float, more: float | None, acid: str, base: str, copper: float
) -> None:
    """The base for a range of acid is that for its ends; metal never takes away from it."""
    high = None if more is None else low + more
    found = neutralising(base, {acid: Range(low, high)}, {"Cu": Range(0.0, copper)})
    least = base_for_acids(base, {acid: Range.exactly(low)}).low
    assert found.grams.low == pytest.approx(least)
    if high is None:
        assert found.grams.high is None and found.heat.high is None
    else:
        most = base_for_acids(base, {acid: Range.exactly(high)}).low
        assert found.grams.high is not None and found.grams.high >= most * (1 - 1e-12)
