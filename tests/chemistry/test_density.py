"""Densities of water, air, metals and pieces, held against tables and textbooks."""

from __future__ import annotations

import warnings
from math import sqrt

import numpy as np
import pytest

from logbook.chemistry.density import (
    bubble,
    constant,
    mass_of,
    metal_density,
    piece_density,
    water,
    water_density,
)
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Uncertain

# kg/m3 at 101.325 kPa: Tanaka et al. 2001 as the check values of this project list them.
TANAKA = {0.0: 999.8428, 10.0: 999.7027, 15.0: 999.1026, 20.0: 998.2067, 30.0: 995.6488}

# kg/m3: a second formula (Bettin and Spieweck on ITS-90) as the library chempy's tests list it.
OTHER_TABLE = {4.0: 999.9720, 22.0: 997.7735, 25.0: 997.0479, 40.0: 992.2}


@pytest.mark.parametrize("celsius", TANAKA)
def test_water_is_as_dense_as_the_recommended_table_has_it(celsius: float) -> None:
    """Metrologia 38 (2001) 301-309."""
    assert water_density(celsius) * 1000 == pytest.approx(TANAKA[celsius], abs=6e-5)


@pytest.mark.parametrize("celsius", OTHER_TABLE)
def test_water_agrees_with_an_older_table(celsius: float) -> None:
    """Within the twentieth of a kilogram a cubic metre that the two are apart at the hot end."""
    assert water_density(celsius) * 1000 == pytest.approx(OTHER_TABLE[celsius], abs=0.02)


@pytest.mark.parametrize("celsius", [0.5, 7.0, 18.5, 21.0, 33.3, 40.0])
def test_water_agrees_with_two_libraries(celsius: float) -> None:
    """The library chempy has the same formula, iapws the equation of state of water (IAPWS-95)."""
    from chempy.properties.water_density_tanaka_2001 import water_density as of_chempy
    from iapws import IAPWS95

    assert water_density(celsius) * 1000 == pytest.approx(of_chempy(273.15 + celsius), abs=1e-6)
    of_state = IAPWS95(T=273.15 + celsius, P=0.101325).rho
    assert water_density(celsius) * 1000 == pytest.approx(of_state, abs=0.01)


@pytest.mark.parametrize("celsius", [-0.1, 40.1, 95.0])
def test_nothing_is_taken_from_beyond_the_table(celsius: float) -> None:
    """Below 0 C and above 40 C the density of water is not known."""
    with pytest.raises(MissingError, match="not in the table"):
        water_density(celsius)
    with pytest.raises(MissingError, match="not in the table"):
        piece_density(Uncertain(100.0), Uncertain(90.0), Uncertain(celsius))


# Weight in air, weight in water, density with water of 1 g/cm3: textbook crowns.
CROWNS = [
    (8.33, 7.81, 16.0),  # a king's crown by a spring scale, newtons
    (8.90, 7.80, 8.09),  # "the crown is either hollow or not pure gold"
    (7.84, 6.86, 8.00),  # newtons
    (6.40, 5.90, 12.8),  # grams
    (1000.0, 930.0, 14.29),  # check value sg_au_cu
    (26.922, 24.283, 10.2),  # a silver dollar and its harness, both without the harness
]


@pytest.mark.parametrize(("air", "under", "density"), CROWNS)
def test_textbook_pieces(air: float, under: float, density: float) -> None:
    """With water at 4 C; the textbooks leave out the air, which takes 0.1 per cent off."""
    found = piece_density(Uncertain(air * 100), Uncertain(under * 100), Uncertain(4.0))
    assert found.value.value == pytest.approx(density, rel=0.004)


def test_the_formula_of_a_density_kit() -> None:
    """W_a (ρ_w − 0.0012) / (W_a − W_w) + 0.0012, by hand for 20 C.

    100 g and 90 g: 10 × (0.9982067 − 0.0012) + 0.0012 = 9.9712675.
    """
    found = piece_density(Uncertain(100.0), Uncertain(90.0), Uncertain(20.0))
    assert found.value.value == pytest.approx(9.97127, abs=1e-5)


def test_a_piece_made_for_it_is_found_again() -> None:
    """What a balance with weights of 8.0 g/cm3 shows of 50 g of density 10.36, forwards."""
    mass, density, air, wet = 50.0, 10.36, 0.0012, water_density(23.0)
    scale = 1.0 - air / 8.0
    shown = (mass * (1.0 - air / density) / scale, mass * (1.0 - wet / density) / scale)
    found = piece_density(Uncertain(shown[0]), Uncertain(shown[1]), Uncertain(23.0))
    assert found.value.value == pytest.approx(density, rel=1e-12)
    assert mass_of(shown[0], density) == pytest.approx(mass, rel=1e-12)


def test_a_balance_makers_table_of_air() -> None:
    """2000 mg of aluminium (2.7 g/cm3) gain 0.589 mg; brass like the weights gains nothing."""
    assert mass_of(2000.0, 2.7) - 2000.0 == pytest.approx(0.589, abs=5e-4)
    assert mass_of(2000.0, 8.0) == pytest.approx(2000.0, rel=1e-15)
    assert mass_of(2000.0, 22.5) < 2000.0


@pytest.mark.parametrize(("millimetres", "milligrams"), [(1.0, 0.5), (2.0, 4.2)])
def test_air_bubbles(millimetres: float, milligrams: float) -> None:
    """The manual of a density kit: 0.5 mg for a bubble of 1 mm, about 4.2 mg for 2 mm."""
    assert bubble(millimetres) * 1000 == pytest.approx(milligrams, rel=0.05)


def test_a_bubble_makes_a_piece_look_lighter() -> None:
    """Ten bubbles of 2 mm on 20 g of gold take more than half a gram a cubic centimetre off."""
    under = 20.0 * (1.0 - water_density(20.0) / 19.3)
    clean = piece_density(Uncertain(20.0), Uncertain(under), Uncertain(20.0))
    bubbly = piece_density(Uncertain(20.0), Uncertain(under - 10 * bubble(2.0)), Uncertain(20.0))
    assert clean.value.value - bubbly.value.value > 0.5


def test_the_doubt_agrees_with_trials() -> None:
    """100,000 seeded trials against the first order, weights, warmth, water and air varied."""
    air = Uncertain.of(50.00, 0.01, "air")
    under = Uncertain.of(45.20, 0.01, "water")
    warm = Uncertain.of(21.0, 1.0, "warmth")
    first = piece_density(air, under, warm).value
    rng = np.random.default_rng(20260314)
    count = 100_000
    over, below = rng.normal(50.0, 0.01, count), rng.normal(45.2, 0.01, count)
    degrees = rng.normal(21.0, 1.0, count)
    around = np.array([water_density(float(t)) for t in np.linspace(10.0, 32.0, 221)])
    wet = np.interp(degrees, np.linspace(10.0, 32.0, 221), around)
    wet += rng.uniform(-0.0005, 0.0005, count)
    gas = rng.uniform(0.0011, 0.0013, count)
    drawn = over * (wet - gas) / (over - below) + gas
    assert first.value == pytest.approx(drawn.mean(), rel=2e-4)
    assert first.u == pytest.approx(drawn.std(), rel=0.02)


def test_a_temperature_that_is_not_written_widens_the_doubt_and_is_said() -> None:
    """Between 10 and 30 C: 0.9997027 and 0.9956488 are 0.0040539 apart, so u is 0.00117."""
    found, notes = water(None)
    assert found.value == pytest.approx((0.9997027 + 0.9956488) / 2, abs=1e-6)
    of_warmth = (0.9997027 - 0.9956488) / 2 / sqrt(3)
    of_salts = 0.0005 / sqrt(3)
    assert found.u == pytest.approx(sqrt(of_warmth**2 + of_salts**2), rel=1e-3)
    assert notes == ("the temperature of the water is not written: 10 to 30 C was taken",)
    assert piece_density(Uncertain(10.0), Uncertain(9.0)).notes[0] == notes[0]


@pytest.mark.parametrize(
    ("air", "under", "why"),
    [
        (283.5, 294.9, "weighs no less in water"),  # 10 troy ounces of gold read as avoirdupois
        (100.0, 100.0, "weighs no less in water"),
        (0.0, 0.0, "not above nothing"),
        (10.0, -1.0, "not above nothing"),
    ],
)
def test_readings_that_allow_no_density(air: float, under: float, why: str) -> None:
    """The wrong ounce, a piece on the bottom of the glass, an empty pan."""
    with pytest.raises(MissingError, match=why):
        piece_density(Uncertain(air), Uncertain(under), Uncertain(20.0))


def test_a_bead_too_small_for_the_balance_has_no_density() -> None:
    """0.20 g of gold loses 0.01 g in water: a balance good to 0.01 g cannot show it."""
    with pytest.raises(MissingError, match="too small"):
        piece_density(Uncertain.of(0.20, 0.01, "a"), Uncertain.of(0.19, 0.01, "b"), Uncertain(20.0))


# g/cm3 in other tables than ours: Johnson Matthey's of 1972 for the platinum metals, trade
# tables for the rest.
ELSEWHERE = [
    ("gold", 19.32),
    ("gold", 19.28),
    ("silver", 10.49),
    ("silver", 10.53),
    ("copper", 8.94),
    ("copper", 8.92),
    ("platinum", 21.45),
    ("palladium", 12.02),
    ("tungsten", 19.25),
    ("iridium", 22.56),
    ("rhodium", 12.41),
    ("lead", 11.34),
]


@pytest.mark.parametrize(("metal", "density"), ELSEWHERE)
def test_other_tables_lie_within_the_spread(metal: str, density: float) -> None:
    """The half-width of the rectangle is √3 times its standard uncertainty."""
    ours = metal_density(metal)
    assert abs(ours.value - density) <= ours.u * sqrt(3) + 1e-9


def test_a_metal_without_a_density_is_not_guessed() -> None:
    """Osmium is a metal of the data, and no table here gives its density; brass is none."""
    for name in ("osmium", "brass"):
        with pytest.raises(MissingError, match="not in the tables"):
            metal_density(name)


def test_the_air_of_the_standard_formula_lies_within_ours() -> None:
    """CIPM-2007 has 1.199 kg/m3 at 20 C, 101.325 kPa and half of the moisture it can hold."""
    air = constant("air")
    assert abs(air.value - 0.001199) < air.u


def test_nothing_warns() -> None:
    """A table is left without a warning only by an error."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        water_density(20.0)
