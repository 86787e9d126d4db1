"""Faraday's law, against a table of the plating trade, worked exercises and another library."""

from __future__ import annotations

import pytest

from logbook.chemistry.electrolysis import (
    FARADAY,
    electrons_of,
    energy,
    faraday_bound,
    gas_bound,
    gases_of_cell,
)
from logbook.chemistry.ranges import MissingError

# Grams for an ampere-hour at a cathode efficiency of 100 %: a plating works, table of
# electrochemical equivalents (eciato.com/products/category/77). Its atomic weights are older.
PLATING = [
    ("cadmium", (), 2.097),
    ("cobalt", (), 1.099),
    ("copper", ("cyanide",), 2.37),
    ("copper", ("sulfuric",), 1.186),
    ("gold", ("cyanide",), 7.348),
    ("gold", ("sulfuric",), 2.449),
    ("iron", (), 1.042),
    ("lead", (), 3.865),
    ("nickel", (), 1.095),
    ("palladium", (), 1.985),
    ("platinum", ("sulfuric",), 1.819),
    ("rhodium", (), 1.28),
    ("silver", (), 4.024),
    ("tin", (), 2.214),
    ("zinc", (), 1.219),
]


@pytest.mark.parametrize(("metal", "baths", "grams"), PLATING)
def test_an_ampere_hour(metal: str, baths: tuple[str, ...], grams: float) -> None:
    """What an ampere-hour carries over is that of the table."""
    assert faraday_bound(metal, 1.0, 1.0, baths) == pytest.approx(grams, rel=1e-3)


@pytest.mark.parametrize(
    ("metal", "amperes", "hours", "grams"),
    [
        # a school problem (physics-arena): 191 g of copper in a day and a night take 6.71 A
        ("copper", 6.71, 24.0, 191.0),
        # an exercise: 10 000 C give 3.29 g of copper (chemsolved.com, Faraday's law)
        ("copper", 10.0, 1000.0 / 3600.0, 3.29),
        # an exercise: 0.5 A for 18 minutes give 0.604 g of silver (M 108, F 96500)
        ("silver", 0.5, 0.3, 0.604),
        # the silver coulometer: 1.118 mg a coulomb (textbook figure, from memory)
        ("silver", 1.0, 1.0 / 3600.0, 0.001118),
    ],
)
def test_worked_exercises(metal: str, amperes: float, hours: float, grams: float) -> None:
    """Exercises with a printed answer, to the three figures that they give."""
    bound = faraday_bound(metal, amperes, hours, {"sulfuric"})
    assert bound == pytest.approx(grams, rel=2.5e-3)


def test_the_constant_is_scipys() -> None:
    """A second library has the same Faraday constant."""
    from scipy import constants

    faraday, _, _ = constants.physical_constants["Faraday constant"]
    assert pytest.approx(faraday, rel=1e-9) == FARADAY


def test_gases_of_the_same_charge() -> None:
    """Two moles of electrons give a mole of hydrogen or chlorine and half a mole of oxygen."""
    hours = 2.0 * FARADAY / 3600.0
    assert gas_bound("H2", 1.0, hours) == pytest.approx(2.016, rel=1e-3)
    assert gas_bound("O2", 1.0, hours) == pytest.approx(15.999, rel=1e-3)
    assert gas_bound("Cl2", 1.0, hours) == pytest.approx(70.90, rel=1e-3)


# By hand, 50 A h = 180 000 C / 96485.33 C/mol = 1.86557 mol of electrons: of Cu(I) 63.546 g a
# mole, of Pt(II) half of 195.084 g, of Au(I) in AuCl2- 196.967 g.
FEWEST = [("copper", 118.55), ("platinum", 181.97), ("gold", 367.46)]


@pytest.mark.parametrize("baths", [(), ("chloride",), ("sulfuric", "chloride"), ("copper salt",)])
@pytest.mark.parametrize(("metal", "grams"), FEWEST)
def test_the_bound_is_never_too_low(metal: str, grams: float, baths: tuple[str, ...]) -> None:
    """Where the bath is not known, or may hold chloride, the way that carries most is taken."""
    assert faraday_bound(metal, 5.0, 10.0, baths) == pytest.approx(grams, rel=1e-4)


def test_more_in_a_bath_never_lowers_the_bound() -> None:
    """A second class beside one that settles the bath adds its ways."""
    assert electrons_of("gold", {"chloride", "cyanide"}) == 1
    assert electrons_of("copper", {"sulfuric"}) == 2
    assert electrons_of("copper", {"sulfuric", "chloride trace"}) == 1
    assert faraday_bound("silver", 3.0, 2.0, efficiency=0.5) < faraday_bound("silver", 3.0, 2.0)


def test_chlorine_comes_unless_the_bath_is_known_to_be_without() -> None:
    """Hydrogen and oxygen always may come; chlorine is not forgotten."""
    assert "Cl2" in gases_of_cell(("chloride", "acid"))
    assert "Cl2" in gases_of_cell(("nitric", "nitrate", "chloride trace"))
    assert "Cl2" in gases_of_cell(())
    assert "Cl2" in gases_of_cell(("copper salt",))
    assert "Cl2" not in gases_of_cell(("nitric", "nitrate"))


def test_a_nitrate_bath_gives_oxides_of_nitrogen() -> None:
    """An ampere-hour is 0.037311 mol of electrons: 1.7165 g NO2 at one each, 0.3732 g NO at three.

    Half reactions: NO3- + 2 H+ + e- -> NO2 + H2O; NO3- + 4 H+ + 3 e- -> NO + 2 H2O.
    """
    assert {"NO", "NO2"} <= set(gases_of_cell(("nitric", "nitrate")))
    assert {"NO", "NO2"}.isdisjoint(gases_of_cell(("sulfuric",)))
    assert gas_bound("NO2", 1.0, 1.0) == pytest.approx(1.7165, rel=1e-3)
    assert gas_bound("NO", 1.0, 1.0) == pytest.approx(0.3732, rel=1e-3)


def test_energy() -> None:
    """The same school problem: 6.96 MJ at 12 V, by hand 1.933 kWh."""
    assert energy(12.0, 5.80e5 / 86400.0, 24.0) == pytest.approx(6.96 / 3.6, rel=1e-3)


def test_what_is_not_in_the_data_is_refused() -> None:
    """No number of electrons is made up."""
    with pytest.raises(MissingError):
        faraday_bound("tungsten", 1.0, 1.0)
    with pytest.raises(MissingError):
        gas_bound("SO2", 1.0, 1.0)
