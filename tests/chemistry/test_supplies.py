"""How much pure substance stands in a supply, against figures of the trade and of books."""

from __future__ import annotations

import pytest

from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.solutions import pure, pure_per_unit, substances
from logbook.model.amount import Dimension
from logbook.reference import load, reagents
from tests.chemistry.amounts import written


def holds(found: Range, expected: float, doubt: float = 0.0) -> bool:
    """Whether a value lies between the limits, with the doubt of its own last digit."""
    return found.low - doubt <= expected <= (found.high or 0.0) + doubt


def of(reagent: str, amount: str, strength: str = "") -> Range:
    """Grams of pure substance in what is written."""
    return pure(reagent, written(amount), written(strength) if strength else None)


@pytest.mark.parametrize(
    ("reagent", "amount", "strength", "grams", "doubt"),
    [
        # CRC or Perry densities, by hand: litres × g/L
        ("hydrochloric acid", "1 L", "37 %", 438.02, 0.1),
        ("muriatic acid", "1 L", "31.45 %", 363.75, 0.1),
        ("nitric acid", "1 L", "68 %", 955.26, 0.1),
        ("nitric acid", "1 L", "70 %", 989.38, 0.1),
        ("sulfuric acid", "1 L", "98 %", 1799.4, 0.1),
        ("ammonia", "1 L", "28 %", 251.44, 0.1),
        ("sodium hydroxide", "1 L", "50 %", 762.65, 0.1),
        ("hydrogen peroxide", "1 L", "35 %", 396.48, 0.1),
        # a course in laboratory mathematics (armymedical.tpub.com md0837): 1.19 × 38 % is
        # 0.452 g/mL, so that 111 mL hold 50 g; sulfuric acid of 95 % is 1.75 g/mL with 1.84
        ("hydrochloric acid", "111 mL", "38 %", 50.0, 0.3),
        ("sulfuric acid", "56.1 mL", "95 %", 98.1, 0.6),
        # a school problem: 26.04 g of 96 % hold 25 g (viztrainings.org)
        ("sulfuric acid", "26.04 g", "96 %", 25.0, 0.01),
        # a litre of 12 mol/L, whatever its density: 12 × 36.46 g
        ("hydrochloric acid", "1 L", "12 M", 437.5, 0.1),
        # 100 mL of 20 volumes: 6.07 g (by hand: 20 × 68.03 / 22.414 / 10)
        ("hydrogen peroxide", "100 mL", "20 vol", 6.07, 0.005),
        ("sodium metabisulfite", "30 g", "", 30.0, 1e-9),
        ("sodium metabisulfite", "30 g", "97 %", 29.1, 1e-9),
        ("acetic acid", "100 g", "80 %", 80.0, 1e-9),
        ("sodium chloride", "1 L", "100 g/L", 100.0, 1e-9),
    ],
)
def test_grams_of_pure_substance(
    reagent: str, amount: str, strength: str, grams: float, doubt: float
) -> None:
    """What a book, a label or a calculation by hand says lies within narrow limits."""
    found = of(reagent, amount, strength)
    assert holds(found, grams, doubt)
    assert (found.high or 0.0) - found.low <= 0.008 * grams


def test_nitric_acid_for_a_gram_of_silver() -> None:
    """A hand-out of the trade: 1.2 mL of 67 to 70 % acid a gram, where NO2 forms (silvercell).

    By hand: Ag + 2 HNO3 takes 2 × 63.012 / 107.87 = 1.1683 g a gram.
    """
    per_millilitre = of("nitric acid", "1 mL", "67-70 %")
    least, most = 1.1683 / (per_millilitre.high or 1.0), 1.1683 / per_millilitre.low
    assert round(least, 1) <= 1.2 <= round(most, 2)


def test_sulfamic_acid_for_a_millilitre() -> None:
    """1.5244 g destroy 1 mL of 70 % acid (by hand: 0.98938 g × 97.09 / 63.012)."""
    assert holds(of("nitric acid", "1 mL", "70 %").times(97.09 / 63.012), 1.5244, 0.001)


@pytest.mark.parametrize(
    ("reagent", "part"),
    [
        # ratios of published doses for a gram of gold: 2.3136 / 4.2345 and 0.68558 / 0.96002
        ("ferrous sulfate", 2.3136 / 4.2345),
        ("oxalic acid", 0.68558 / 0.96002),
        # by hand from the atomic weights
        ("copper sulfate", 159.60 / 249.68),
        ("stannous chloride", 189.61 / 225.64),
        ("sodium carbonate", 105.99 / 286.14),
        ("glucose", 180.16 / 198.17),
        ("sodium thiosulfate", 158.10 / 248.18),
    ],
)
def test_crystals_hold_water(reagent: str, part: float) -> None:
    """The substance in the crystals that hold most water is the lower limit."""
    found = pure_per_unit(reagent, Dimension.MASS, None)
    assert found.grams.low == pytest.approx(part, rel=2e-4)
    assert found.grams.low < (found.grams.high or 0.0) <= 1.0
    assert any("crystals" in note for note in found.notes)


def test_crystals_are_the_substance_and_water() -> None:
    """What is sold weighs the substance and whole molecules of water more, to the last digit."""
    for row in load("strengths.toml")["crystals"]:
        for sold_as in row["as_sold"]:
            more = (molar_mass(sold_as) - molar_mass(row["substance"])) / molar_mass("H2O")
            assert more == pytest.approx(round(more), abs=1e-9)
        assert reagents()[row["reagent"]].formula == row["substance"]


def test_unknown_strength_is_a_range() -> None:
    """A jug of nitric acid without a strength holds 30 to 1000 g, and the notes say why."""
    found = pure_per_unit("nitric acid", Dimension.VOLUME, None)
    assert found.grams.low < 35 and (found.grams.high or 0.0) > 980
    assert any("no strength is written" in note for note in found.notes)


def test_words_of_the_trade_narrow_it() -> None:
    """Concentrated acid is known better than acid, battery acid than sulfuric acid."""
    for narrow, wide in (
        ("concentrated nitric acid", "nitric acid"),
        ("battery acid", "sulfuric acid"),
        ("household ammonia", "ammonia"),
    ):
        one, other = (pure_per_unit(name, Dimension.VOLUME, None).grams for name in (narrow, wide))
        assert other.low <= one.low < (one.high or 0.0) <= (other.high or 0.0)
        assert (one.low, one.high) != (other.low, other.high)


def test_doubt_of_the_amount_goes_through() -> None:
    """About 100 mL are 90 to 110 mL, and so are the grams."""
    exact, about = of("nitric acid", "100 mL", "10 M"), of("nitric acid", "about 100 mL", "10 M")
    assert about.low == pytest.approx(0.9 * exact.low)
    assert about.high == pytest.approx(1.1 * (exact.high or 0.0))


def test_a_solid_taken_as_pure_says_so() -> None:
    """Where no purity is written, the note tells that it was taken for granted."""
    assert pure_per_unit("urea", Dimension.MASS, None).notes == ("urea is taken to be pure",)
    assert pure_per_unit("urea", Dimension.MASS, written("98 %")).notes == ()


def test_purity_of_crystals_is_of_either() -> None:
    """Copper sulfate of 99 % is blue crystals (0.99 × 0.639) or dry powder (0.99), by hand."""
    found = pure_per_unit("copper sulfate", Dimension.MASS, written("99 %"))
    assert found.grams.low == pytest.approx(0.99 * 159.60 / 249.68, rel=2e-4)
    assert found.grams.high == pytest.approx(0.99)
    assert "not written" in found.notes[0]


@pytest.mark.parametrize(
    ("reagent", "amount", "strength", "why"),
    [
        ("sodium hydroxide", "100 mL", "", "is a solid"),
        ("chlorine", "5 g", "", "is a gas"),
        ("aqua regia", "500 mL", "", "is a mixture"),
        ("hydrobromic acid", "500 mL", "", "is not written"),
        ("hydrobromic acid", "500 mL", "48 %", "no density table"),
        ("sodium metabisulfite", "500 mL", "10 %", "no density table"),
        ("nitric acid", "3 pieces", "", "one piece"),
        ("flour", "100 g", "", "no formula"),
    ],
)
def test_what_cannot_be_known_says_why(reagent: str, amount: str, strength: str, why: str) -> None:
    """No grams are made up where a table, a strength or a mixture is not known."""
    with pytest.raises(MissingError, match=why):
        of(reagent, amount, strength)


@pytest.mark.parametrize(
    ("words", "formulas"),
    [
        ("nitric acid", ("HNO3",)),
        ("smb", ("Na2S2O5",)),
        ("copperas", ("FeSO4",)),
        ("aqua regia", ("HNO3", "HCl")),
        ("distilled water", ("H2O",)),
        ("flour", ()),
        ("filter paper", ()),
        ("something else", ()),
    ],
)
def test_substances(words: str, formulas: tuple[str, ...]) -> None:
    """A supply names the substances that it is there for (general chemistry)."""
    assert substances(words) == formulas


def test_water_is_water() -> None:
    """A litre of water is 958 to 1000 g from boiling to ice cold (steam tables)."""
    found = pure_per_unit("hot water", Dimension.VOLUME, None)
    assert holds(found.grams, 998.2) and holds(found.grams, 958.4) and not found.notes
