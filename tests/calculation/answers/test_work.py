"""What reactions ask for, held against worksheets of the trade and against calculation by hand.

Molar masses by hand: HNO3 63.012, HCl 36.458, Ag 107.87, Cu 63.546, Au 196.97, Na2S2O5 190.10,
FeSO4.7H2O 278.01, C2H2O4 90.03, Zn 65.38, NaOH 39.997, Na2CO3 105.99, H3NSO3 97.09 g/mol.
"""

from __future__ import annotations

import pytest

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.chemistry.reactions import reactions
from tests.calculation.answers.asked import ask, between, limits, words

# The acid worksheet of a trade seller of silver cells: mL of nitric acid of 67 to 70 % for a gram.
WORKSHEET = (("silver", 1.2), ("sterling", 1.45), ("coin silver", 1.53), ("copper", 4.15))


@pytest.mark.parametrize(("metal", "millilitres"), WORKSHEET)
def test_nitric_acid_against_a_worksheet_of_the_trade(metal: str, millilitres: float) -> None:
    """The worksheet's figure is the upper limit, where nitrogen dioxide forms, within 3 %."""
    low, high = between(f"nitric acid 68 % to dissolve 100 g {metal}")
    assert high == pytest.approx(100 * millilitres / 1000, rel=0.03)
    assert low < 0.75 * high


def test_nitric_acid_for_silver_by_hand() -> None:
    """100 g x 4 x 63.012 / (3 x 107.87) = 77.89 g, and x 2 x 63.012 / 107.87 = 116.83 g.

    Nitric acid of 68 % holds 955.3 g/L (Perry, 1.4048 g/mL): 81.5 and 122.3 mL.
    """
    low, high = between("nitric acid 68 % to dissolve 100 g silver")
    assert low == pytest.approx(0.0815, rel=0.005)
    assert high == pytest.approx(0.1223, rel=0.005)
    assert low <= 0.08153
    assert high >= 0.1223


def test_the_acid_of_an_amount_is_in_proportion() -> None:
    """Twice the metal takes twice the acid; half the strength more than twice the volume."""
    one = between("nitric acid 68 % to dissolve 100 g silver")
    two = between("nitric acid 68 % to dissolve 200 g silver")
    weak = between("nitric acid 34 % to dissolve 100 g silver")
    assert two == pytest.approx((2 * one[0], 2 * one[1]))
    assert weak[1] > 2 * one[1]


def test_base_metal_against_hoke() -> None:
    """Hoke: 4 to 6 lb of concentrated nitric acid for a pound of base metal (quoted second-hand).

    By hand for copper with 70 %: 3 Cu take 8 HNO3, 2.6443 / 0.7 = 3.78 lb; Cu takes 4, 5.67 lb.
    """
    low, high = between("nitric acid 70 % to dissolve 1 lb copper")
    # 70 % nitric acid: 1.4134 g/mL (CRC Handbook), so that pounds are these litres.
    assert low == pytest.approx(3.7776 * 453.59 / 1413.4, rel=0.005)
    assert high == pytest.approx(5.6663 * 453.59 / 1413.4, rel=0.005)


def test_aqua_regia_against_hoke() -> None:
    """Hoke: 4 fl oz of hydrochloric and 1 fl oz of nitric acid for a troy ounce of gold.

    That is 3.803 and 0.951 mL a gram (second-hand): the nitric acid lies between our limits, and
    the hydrochloric acid is 2.25 times the 1.690 mL of 37 % that the equation asks for.
    """
    answer = ask("hydrochloric acid 37 % and nitric acid 70 % to dissolve 31.1035 g gold")
    chloride, nitrate = (limits(figure) for figure in answer.figures[:2])
    assert 0.1183 / chloride[1] == pytest.approx(2.25, rel=0.01)
    assert nitrate[0] < 0.02957 <= nitrate[1] * 1.02
    # Measured by an amateur: 1 mL with hot hydrochloric acid dissolved 1.2636 g.
    assert nitrate[0] / 31.1035 < 0.001 / 1.2636 < nitrate[1] / 31.1035


def test_what_a_name_leaves_open_stays_open() -> None:
    """14 karat: 5.833 g gold ask 3.199 to 9.597 g of HNO3 per 10 g by hand; the rest anything."""
    low, high = between(
        "hydrochloric acid 32 % and nitric acid 68 % to dissolve 10 g of 14 kt gold", 1
    )
    # 5.8333 x 0.3199 = 1.866 g over 957 g/L at most
    assert low == pytest.approx(1.866 / 955.3, rel=0.005)
    most = max(
        one.asked("HNO3")
        for one in reactions().values()
        if one.work == "dissolve" and set(one.asks) <= {"HNO3", "HCl"}
    )
    assert high == pytest.approx((5.8333 * 0.9597 + 4.1667 * most) / 955.3, rel=0.005)
    assert most >= 4 * 63.012 / 63.546  # copper, the usual rest, asks for no more


def test_a_share_that_is_said_counts() -> None:
    """Contacts of 71 % silver, the rest copper: 71 x 1.1683 + 29 x 3.9664 g HNO3 by hand."""
    low, high = between("nitric acid 68 % to dissolve 100 g contacts, silver 71 %, copper 29 %")
    assert high == pytest.approx((71 * 1.16830 + 29 * 3.96638) / 955.3, rel=0.005)
    assert low == pytest.approx((71 * 0.77887 + 29 * 2.64426) / 955.3, rel=0.005)


EXACT = (
    ("sodium metabisulfite to drop 12 g gold", 12 * 0.7238),
    ("copper to cement 100 g silver", 29.45),
    ("zinc to cement 5 g gold", 5 * 3 * 65.38 / (2 * 196.97)),
    ("salt to drop 80 g silver", 80 * 58.443 / 107.87),
    ("zinc to cement 31.774 g palladium", 31.774 * 65.38 / 106.42),
)


@pytest.mark.parametrize(("text", "grams"), EXACT)
def test_one_equation_is_one_figure(text: str, grams: float) -> None:
    """Grams by hand, from the equation and the molar masses."""
    low, high = between(text)
    assert low == high == pytest.approx(grams, rel=2e-4)


def test_crystals_with_their_water() -> None:
    """Copperas, the crystals with seven waters: 4.2345 g for a gram of gold, by hand."""
    low, high = between("ferrous sulfate to drop 5 g gold")
    assert high == pytest.approx(5 * 4.2345, rel=2e-4)
    assert low < high
    low, high = between("oxalic acid to drop 10 g gold")
    assert high == pytest.approx(9.6002, rel=2e-4)


def test_a_gram_of_copper_cements_silver() -> None:
    """The worksheet: 1 g of copper cements 3.4 g of silver; 3.3951 by hand."""
    low, _ = between("copper to cement 3.3951 g silver")
    assert low == pytest.approx(1.0, rel=2e-4)


NEUTRAL = (
    # 100 mL of 70 % are 98.94 g HNO3 (1.4134 g/mL, CRC Handbook), 1.5701 mol.
    ("sodium hydroxide", 1.5701 * 39.997),
    ("calcium hydroxide", 1.5701 * 74.092 / 2),
    ("calcium carbonate", 1.5701 * 100.086 / 2),
    ("sodium bicarbonate", 1.5701 * 84.006),
)


@pytest.mark.parametrize(("base", "grams"), NEUTRAL)
def test_base_for_nitric_acid(base: str, grams: float) -> None:
    """Limits on both sides of the figure by hand, no further than the tables differ."""
    low, high = between(f"{base} to neutralise 100 mL nitric acid 70 %")
    assert low <= grams * 1.001
    assert high >= grams
    assert high - low < 0.01 * grams


def test_soda_may_be_crystals() -> None:
    """Washing crystals hold ten waters and are 37 % soda: the most is 83.2 / 0.3704 g by hand."""
    low, high = between("sodium carbonate to neutralise 100 mL nitric acid 70 %")
    assert low == pytest.approx(83.2, rel=0.01)
    assert high == pytest.approx(83.2 / 0.37042, rel=0.01)


def test_sulfamic_acid_for_nitric_acid() -> None:
    """1.5244 g for 1 mL of 70 %: 0.98938 g x 97.09 / 63.012 by hand."""
    low, high = between("sulfamic acid to destroy 1 mL nitric acid 70 %")
    assert low <= 1.5244 <= high
    assert high - low < 0.02


def test_gas_comes_with_the_answer() -> None:
    """100 g of silver give at most 0.9270 mol NO2, 22.7 L at 25 C (24.465 L/mol) by hand."""
    answer = ask("nitric acid 68 % to dissolve 100 g silver")
    dioxide = next(one for one in answer.figures if one.name == "nitrogen dioxide")
    assert dioxide.high == pytest.approx(100 / 107.87 * 24.465, rel=1e-3)
    assert "can give off" in words(answer)


REFUSED = (
    ("nitric acid 68 % to dissolve 10 g gold", "would dissolve gold"),
    ("hydrochloric acid 32 % to dissolve 10 g silver", "would dissolve silver"),
    ("sodium chloride to drop 10 g gold", "would drop gold"),
    ("silver to cement 10 g copper", "would cement copper"),
    ("sodium chloride to neutralise 100 mL nitric acid 70 %", "would neutralise nitric acid"),
    ("nitric acid 68 % to dissolve 10 g relay contacts", "what relay contacts holds is not said"),
    ("nitric acid 68 % to dissolve 10 mL silver", "how much silver weighs"),
    ("nitric acid 68 % to dissolve [RC-3]", "a book in which [RC-3] stands"),
    ("flour to drop 10 g gold", "not in the data"),
)


@pytest.mark.parametrize(("text", "lack"), REFUSED)
def test_what_no_equation_says_is_not_answered(text: str, lack: str) -> None:
    """Where the data have no reaction, or a weight lacks, no figure is made up."""
    answer = ask(text)
    assert not answer.answered
    assert answer.figures == ()
    assert any(lack in one for one in answer.missing), answer.missing


def test_no_answer_is_advice() -> None:
    """Every answer of this family says what the equations ask for, and that it is no recipe."""
    for text in ("salt to drop 80 g silver", "nitric acid 68 % to dissolve 100 g silver"):
        answer = ask(text)
        assert "the equations ask for" in words(answer)
        assert any("no recipe" in note for note in answer.notes)
    assert "not permission and not advice" in DEFERRAL


def test_every_equation_that_was_used_is_told() -> None:
    """The sources name the equations of the metals in question, and no others."""
    (source,) = ask("nitric acid 68 % to dissolve 100 g silver").sources
    assert "3 Ag + 4 HNO3 -> 3 AgNO3 + NO + 2 H2O" in source
    assert "Cu" not in source


def test_words_that_were_not_read_are_told() -> None:
    """What the question also said, and nothing was made of, stands first among the notes."""
    answer = ask("nitric acid 68 % to dissolve 100 g silver, old spoons")
    assert answer.notes[0] == '"old spoons" was not understood, and is not counted'


def test_a_doubt_that_is_written_widens_the_limits() -> None:
    """100 ± 5 g are 90 to 110 g: two standard uncertainties either way."""
    low, high = between("nitric acid 68 % to dissolve 100 ± 5 g silver")
    exact = between("nitric acid 68 % to dissolve 100 g silver")
    assert low == pytest.approx(0.9 * exact[0])
    assert high == pytest.approx(1.1 * exact[1])
