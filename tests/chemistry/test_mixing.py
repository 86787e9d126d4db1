"""Diluting and mixing: worked examples of books and schools, and what must always hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.chemistry.densities import density, density_table
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.solutions import (
    Poured,
    cross,
    dilute,
    mix,
    of_fraction,
    parts,
    poured,
    poured_water,
    prepare,
    strength,
)
from tests.chemistry.amounts import written

FORMULAS = st.sampled_from(["HCl", "HNO3", "H2SO4", "NaOH", "NH3", "H2O2"])
PART = st.floats(0.02, 0.98)


def holds(found: Range, expected: float, doubt: float = 0.0) -> bool:
    """Whether a value lies between the limits, with the doubt of its own last digit."""
    return found.low - doubt <= expected <= (found.high or 0.0) + doubt


def some(formula: str, fraction: float, grams: float) -> Poured:
    """An amount of a solution that is known exactly, at our own density."""
    litres = grams / 1000 / density(formula, fraction)
    exactly = Range.exactly
    return Poured(formula, of_fraction(formula, exactly(fraction)), exactly(grams), exactly(litres))


def test_a_school_dilution_of_sulfuric_acid() -> None:
    """500 g of 5 % take 26.04 g of 96 %, which are 14.2 mL (viztrainings.org, with 1.83 g/mL)."""
    strong, weak = (strength("sulfuric acid", written(label)) for label in ("96 %", "5 %"))
    litres = Range.exactly(0.5 / density("H2SO4", 0.05))
    made = prepare("H2SO4", litres, strong, weak)
    assert holds(made.supply.grams, 26.04, 0.01)
    assert holds(made.supply.litres.times(1000), 14.2, 0.05)
    assert holds(made.result.grams, 500.0)


def test_a_litre_of_ten_per_cent_nitric_acid() -> None:
    """110 mL of 68 % acid (by hand, with Perry's 1.4048 and 1.0543 g/mL: 105.43 / 955.3).

    The rest is 1054.3 - 155.0 = 899.3 g of water, and not 890 mL.
    """
    strong, weak = (strength("nitric acid", written(label)) for label in ("68 %", "10 %"))
    made = prepare("HNO3", Range.exactly(1.0), strong, weak)
    assert holds(made.supply.litres, 0.1104, 0.0005)
    assert holds(made.water_grams, 899.3, 0.5)
    together = made.supply.litres.low + made.water_litres.low
    assert together > 1.005  # volumes do not add up: 110 mL and 901 mL make one litre


def test_the_cross_of_a_school_book() -> None:
    """20 parts of 96 % and 76 of water make 20 %, 10 and 86 make 10 % (kudo.tips, onet.pl)."""
    acid, water = (of_fraction("H2SO4", Range.exactly(w)) for w in (0.96, 0.0))
    for wanted, strong, weak in ((0.20, 20, 76), (0.10, 10, 86)):
        found = cross("H2SO4", acid, water, of_fraction("H2SO4", Range.exactly(wanted)))
        assert found.strong_share.low == pytest.approx(strong / (strong + weak))
        assert found.weak_share.high == pytest.approx(weak / (strong + weak))


def test_the_cross_by_volume() -> None:
    """10.87 mL of 96 % to 76 mL of water, about 1 to 7 (kudo.tips, with 1.84 and 1 g/mL)."""
    acid, water = (of_fraction("H2SO4", Range.exactly(w)) for w in (0.96, 0.0))
    found = cross("H2SO4", acid, water, of_fraction("H2SO4", Range.exactly(0.20)))
    ratio = found.weak_litres / found.strong_litres
    assert holds(ratio, 76 / 10.87, 0.05)


def test_diluting_battery_acid() -> None:
    """100 g of 96 % with 92 g of water are 192 g of 50 % (by hand: 100 × 0.96 / 0.5)."""
    to = of_fraction("H2SO4", Range.exactly(0.50))
    made = dilute(some("H2SO4", 0.96, 100.0), to)
    assert made.water_grams.low == pytest.approx(92.0)
    assert made.result.grams.low == pytest.approx(192.0)
    assert made.result.litres.low == pytest.approx(0.192 / 1.3952, rel=2e-3)  # CRC


def test_mixing_two_strengths() -> None:
    """250 mL of 10 % and 250 mL of 30 % hydrochloric acid hold 112.4 g in 549.2 g: 20.46 %.

    By hand with CRC's 1.0476 and 1.1492: 26.19 + 86.19 g in 261.9 + 287.3 g.
    """
    found = mix(
        poured("hydrochloric acid", written("250 mL"), written("10 %")),
        poured("hydrochloric acid", written("250 mL"), written("30 %")),
    )
    assert holds(found.grams, 549.2, 0.05)
    assert holds(found.strength.fraction, 0.20463, 0.00005)
    assert holds(found.litres.times(1000), 549.2 / 1.1003, 1.0)


def test_a_mixture_by_parts() -> None:
    """Aqua regia 3:1 of 37 % and 68 % acid: 328.5 g HCl and 238.8 g HNO3 in a litre.

    By hand: 0.75 × 438.02 and 0.25 × 955.26 (CRC, and Perry as second-hand).
    """
    found = parts((("hydrochloric acid", written("37 %"), 3), ("nitric acid", written("68 %"), 1)))
    assert [one.formula for one in found] == ["HCl", "HNO3"]
    assert holds(found[0].grams, 328.5, 0.05)
    assert holds(found[1].grams, 238.8, 0.05)


def test_parts_of_unknown_strength_are_limits() -> None:
    """4:1 of acids without a strength: from nearly nothing to 361 g HCl, with the reason."""
    found = parts((("hydrochloric acid", None, 4), ("nitric acid", None, 1)))
    assert found[0].litres == Range(0.8, 0.8)
    assert holds(found[0].grams, 0.8 * 363.75) and holds(found[0].grams, 0.8 * 438.0)
    assert all(any("no strength" in note for note in one.notes) for one in found)


def test_acid_goes_into_the_water() -> None:
    """Every dilution of an acid tells the order of pouring; sulfuric acid tells that it boils."""
    for formula, word in (("H2SO4", "boil"), ("HNO3", "into the water"), ("HCl", "into the water")):
        to = of_fraction(formula, Range.exactly(0.05))
        notes = " ".join(dilute(some(formula, 0.30, 10.0), to).notes)
        assert word in notes and "never water into the acid" in notes
        assert "volumes do not add up" in notes


def test_a_supply_of_unknown_strength() -> None:
    """Diluting acid of 60 to 70 % to 35 % takes 0.714 to 1 g of water a gram (by hand)."""
    strong = of_fraction("HNO3", Range(0.60, 0.70))
    supply = Poured("HNO3", strong, Range.exactly(1.0), Range.exactly(0.00072))
    made = dilute(supply, of_fraction("HNO3", Range.exactly(0.35)))
    assert (made.water_grams.low, made.water_grams.high) == pytest.approx((0.7142857, 1.0))


def test_a_supply_that_may_be_too_weak() -> None:
    """Acid of 30 to 70 % brought to 50 %: perhaps no water at all, and that is said."""
    strong = of_fraction("HNO3", Range(0.30, 0.70))
    supply = Poured("HNO3", strong, Range.exactly(1.0), Range.exactly(0.00075))
    made = dilute(supply, of_fraction("HNO3", Range.exactly(0.50)))
    assert made.water_grams.low == 0.0
    assert "no stronger than what is wanted" in made.notes[0]


def test_what_cannot_be_mixed() -> None:
    """Water makes nothing stronger, a cross needs one on each side, two acids have no table."""
    weak, strong = (of_fraction("HNO3", Range.exactly(w)) for w in (0.1, 0.5))
    with pytest.raises(MissingError, match="no stronger"):
        dilute(some("HNO3", 0.1, 1.0), strong)
    with pytest.raises(MissingError, match="no stronger"):
        prepare("HNO3", Range.exactly(1.0), weak, strong)
    with pytest.raises(MissingError, match="not between"):
        cross("HNO3", strong, weak, of_fraction("HNO3", Range.exactly(0.6)))
    with pytest.raises(MissingError, match="no table tells"):
        mix(some("HNO3", 0.1, 1.0), some("HCl", 0.1, 1.0))
    with pytest.raises(MissingError, match="no parts"):
        parts(())


def test_water_is_a_solution_of_nothing() -> None:
    """Half a litre of water in 500 g of 20 % acid: 10.0 % (by hand: 100 / 999.1)."""
    found = mix(some("HCl", 0.20, 500.0), poured_water("HCl", Range.exactly(0.5)))
    assert holds(found.strength.fraction, 100 / 999.1, 1e-5)


@given(FORMULAS, PART, PART, st.floats(1.0, 1e4), st.floats(1.0, 1e4))
def test_mixing_keeps_mass_and_substance(
    formula: str, one: float, other: float, grams: float, more: float
) -> None:
    """Mass and substance before are mass and substance after; the strength is between."""
    top = density_table(formula).strongest
    first, second = some(formula, one * top, grams), some(formula, other * top, more)
    found = mix(first, second)
    assert found.grams.low == pytest.approx(grams + more)
    assert found.pure.low == pytest.approx(first.pure.low + second.pure.low)
    assert min(one, other) * top * (1 - 1e-12) <= found.strength.fraction.low
    assert (found.strength.fraction.high or 0.0) <= max(one, other) * top * (1 + 1e-12)


@given(FORMULAS, PART, PART, st.floats(1.0, 1e4))
def test_diluting_keeps_the_substance(formula: str, one: float, other: float, grams: float) -> None:
    """Water adds no substance, and never makes a solution stronger."""
    top = density_table(formula).strongest
    strong, weak = max(one, other) * top, min(one, other) * top
    made = dilute(some(formula, strong, grams), of_fraction(formula, Range.exactly(weak)))
    assert made.result.pure.low == pytest.approx(grams * strong)
    assert made.result.grams.low == pytest.approx(grams + made.water_grams.low)
    assert made.water_grams.low >= 0.0
    assert (made.result.strength.fraction.high or 0.0) <= strong


@given(FORMULAS, PART, PART, PART)
def test_the_cross_and_mixing_agree(formula: str, one: float, other: float, third: float) -> None:
    """What the cross says to take gives the wanted strength when it is mixed."""
    top = density_table(formula).strongest
    weak, wanted, strong = (part * top for part in sorted((one, other, third)))
    if not weak + 1e-6 < wanted < strong - 1e-6:
        return
    found = cross(
        formula, *(of_fraction(formula, Range.exactly(w)) for w in (strong, weak, wanted))
    )
    share = found.strong_share.low
    made = mix(some(formula, strong, 1000 * share), some(formula, weak, 1000 * (1 - share)))
    assert made.strength.fraction.low == pytest.approx(wanted)


@given(PART, PART, st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_limits_hold_every_case(
    low: float, high: float, inside: float, mass: float, wanted: float
) -> None:
    """Whatever strength and mass a supply has within its limits, its water lies inside."""
    low, high = (part * 0.6 for part in sorted((low, high)))
    true = low + inside * (high - low)
    true_grams, to = 100 + 50 * mass, max(0.005, wanted * low)
    supply = Poured(
        "HNO3", of_fraction("HNO3", Range(low, high)), Range(100.0, 150.0), Range(0.0, 1.0)
    )
    found = dilute(supply, of_fraction("HNO3", Range.exactly(to)))
    exact = dilute(some("HNO3", true, true_grams), of_fraction("HNO3", Range.exactly(to)))
    assert holds(found.water_grams, exact.water_grams.low, 1e-6)
    assert holds(found.result.grams, exact.result.grams.low, 1e-6)
