"""Solutions, fineness, gases and units in answers, by hand and against books."""

from __future__ import annotations

import pytest

from tests.calculation.answers.asked import ask, between, limits, words


def test_diluting_by_hand() -> None:
    """500 mL of 68 % (1.4048 g/mL, Perry) are 702.4 g; to 35 % they take 662.3 g of water.

    1364.7 g of 35 % (1.2140 g/mL, CRC Handbook: 1.124 L) come of it.
    """
    water = between("dilute 500 mL nitric acid 68 % to 35 %")
    whole = between("dilute 500 mL nitric acid 68 % to 35 %", 1)
    assert water == pytest.approx((0.6635, 0.6635), rel=0.006)
    assert whole == pytest.approx((1.124, 1.124), rel=0.006)


def test_making_a_weaker_acid_by_hand() -> None:
    """A litre of 10 % hydrochloric acid: 1047.4 g (1.0474 g/mL), 104.74 g HCl, 327.3 g of 32 %.

    32 % is 1.1593 g/mL: 282.3 mL, and 720.1 g of water.
    """
    text = "how much water to make 1 L hydrochloric acid 10 % from 32 %"
    assert between(text) == pytest.approx((0.2823, 0.2823), rel=0.005)
    assert between(text, 1) == pytest.approx((0.7214, 0.7214), rel=0.005)


def test_mixing_two_strengths_by_hand() -> None:
    """200 mL of 68 % (281.0 g) and 300 mL of 30 % (1.180 g/mL, 354.0 g): 46.8 % of 635 g."""
    share = between("mix 200 mL nitric acid 68 % and 300 mL nitric acid 30 %", 1)
    expected = (281.0 * 0.68 + 354.0 * 0.30) / 635.0
    assert share == pytest.approx((expected, expected), rel=0.006)


def test_volumes_do_not_add_up_is_said() -> None:
    """The one thing that is most often got wrong stands with the answer."""
    assert any(
        "volumes do not add up" in one for one in ask("dilute 1 L nitric acid 68 % to 30 %").notes
    )


def test_a_stronger_solution_is_not_made_with_water() -> None:
    """Asked to dilute upwards, the answer says why there is none."""
    answer = ask("dilute 500 mL nitric acid 30 % to 60 %")
    assert not answer.answered
    assert "water makes no stronger solution" in answer.missing[0]


def test_two_acids_have_no_common_strength() -> None:
    """What nitric and hydrochloric acid make together no table of densities tells."""
    assert not ask("mix 200 mL nitric acid 68 % and 300 mL hydrochloric acid 32 %").answered


def test_nothing_outside_a_table() -> None:
    """Concentrated beyond the table, nothing is extended."""
    answer = ask("dilute 500 mL hydrochloric acid 60 % to 10 %")
    assert not answer.answered
    assert "table" in answer.missing[0]


def test_gold_and_copper_by_density() -> None:
    """Volumes that add: 1/14.998 = w/19.3 + (1 - w)/8.96 gives w = 0.751 by hand.

    The density by hand: 12.34 x (0.99777 - 0.0012) / 0.82 + 0.0012 = 14.998 g/cm3.
    """
    answer = ask("fineness of gold and copper from 12.34 g in air and 11.52 g in water at 22 C")
    figure = answer.figures[0]
    assert figure.value is not None
    assert figure.value.value == pytest.approx(0.751, abs=0.02)
    assert figure.terms[0].value is not None
    assert figure.terms[0].value.value == pytest.approx(14.998, abs=0.002)
    # Readings to 0.01 g: u = 0.00289 g each, times 14.998 / 0.82 and 0.9336 of that: 0.0722.
    assert figure.terms[0].value.u == pytest.approx(0.0722, rel=0.01)


def test_an_alloy_of_unknown_rest_is_between_its_partners() -> None:
    """Without a partner named, the limits hold silver and copper."""
    answer = ask("gold in a density of 15.5 g/cm3")
    low, high = limits(next(part for part in answer.sentence[3:] if not isinstance(part, str)))
    # Volumes that add, by hand: 19.3 x 5.0 / (15.5 x 8.8) and 19.3 x 6.54 / (15.5 x 10.34).
    assert low < 0.7075 < 0.7876 < high


def test_a_density_that_no_alloy_has_is_refused() -> None:
    """Denser than gold: no fineness, and what may be wrong."""
    answer = ask("gold in a density of 20.5 g/cm3 with silver")
    low_high_known = any(figure.value is not None for figure in answer.figures)
    assert not low_high_known


def test_inquarting_by_hand() -> None:
    """10.00 g of 14 karat at 3 to 1: 17.5 g, and 16.5 g where it holds 1 g already."""
    assert between("silver to inquart 10 g of 14 kt gold 3:1") == pytest.approx((17.5, 17.5))
    text = "silver to inquart 10 g of 14 kt gold 3:1 (holding 1 g silver)"
    assert between(text) == pytest.approx((16.5, 16.5))


def test_the_usual_ratios_are_limits() -> None:
    """ISO 11426: 2.3 to 3 times the gold; 5.8333 g take 13.42 to 17.5 g by hand."""
    assert between("silver to inquart 10 g of 14 kt gold") == pytest.approx(
        (13.4167, 17.5), rel=1e-4
    )


FILLED = (("1/20 12 kt", 2.5), ("1/20 14 kt", 2.91667), ("1/10 12 kt", 5.0), ("1/40 12 kt", 1.25))


@pytest.mark.parametrize(("mark", "grams"), FILLED)
def test_gold_filled_by_its_mark(mark: str, grams: float) -> None:
    """16 CFR 23: one part in n by weight, of so many karats."""
    found = between(f"gold in 100 g of {mark} gold filled")
    assert found == pytest.approx((grams, grams), rel=1e-4)


def test_plating_by_hand() -> None:
    """2.5 µm on 12 cm2 are 0.003 cm3: 0.058 g of fine gold, a bath's gold is lighter."""
    low, high = between("gold in 12 cm2 plated 2.5 micron")
    assert 0.048 < low == high < 0.058
    low, high = between("silver in 100 cm2 plated 10 micron")
    assert low == pytest.approx(1.05, rel=0.01)


def test_ounces() -> None:
    """NIST SP 811: a troy ounce is 31.1034768 g, a common one 28.349523125 g."""
    assert between("2 ozt in g") == pytest.approx((62.2069536, 62.2069536))
    answer = ask("how many grams in an ounce of silver?")
    assert [limits(one)[0] for one in answer.figures] == pytest.approx([31.1034768, 28.349523125])
    assert "troy ounces, as precious metals are weighed" in words(answer)
    common = ask("10 oz in g")
    assert [limits(one)[0] for one in common.figures] == pytest.approx([283.49523, 311.034768])


def test_a_cell_by_faraday() -> None:
    """15 A h: 15 x 4.0247 g of silver (3600 x 107.87 / 96485), and 0.2798 mol H2, 6.85 L."""
    assert between("silver from a cell at 5 A for 3 h") == pytest.approx((0.0, 60.37), rel=1e-3)
    assert between("silver from a cell at 5 A for 3 h", 1)[1] == pytest.approx(6.846, rel=1e-3)


GASES = (
    # 24.465 L/mol at 25 C; by hand from the equations.
    ("gas from 100 g copper in nitric acid 68 %", "nitrogen dioxide", 200 / 63.546 * 24.465),
    ("gas from 100 g copper in nitric acid 68 %", "nitrogen monoxide", 200 / 3 / 63.546 * 24.465),
    ("gas from 100 g zinc in hydrochloric acid 32 %", "hydrogen", 100 / 65.38 * 24.465),
    # From the check values of the trade: 0.2574 L of SO2 for a gram of metabisulfite.
    ("gas from 50 g sodium metabisulfite", "sulfur dioxide", 50 * 0.2574),
    # 0.7193 L of Cl2 for a gram of H2O2: 100 g of 35 %.
    ("gas from 100 g hydrogen peroxide 35 % in hydrochloric acid 32 %", "chlorine", 35 * 0.7193),
    ("gas from 10 g sodium cyanide", "hydrogen cyanide", 10 * 0.4992),
)


@pytest.mark.parametrize(("text", "gas", "litres"), GASES)
def test_gas_at_most(text: str, gas: str, litres: float) -> None:
    """No less than the equation gives, and no more than a hundredth above it."""
    figure = next(one for one in ask(text).figures if one.name == gas and one.unit == "L")
    assert figure.value is None
    assert figure.high is not None
    assert litres * 0.9995 <= figure.high <= litres * 1.01


def test_gas_in_a_room() -> None:
    """77.0 L of NO2 in 30 m3 make 2567 ppm by hand, and bring 77,000 m3 of air to 1 ppm (NIOSH)."""
    answer = ask("gas from 100 g copper in nitric acid 68 %, in a room of 30 m3")
    made = [one for one in answer.figures if one.unit == "ppm" and one.name == "nitrogen dioxide"]
    assert made[0].high == pytest.approx(2566.6, rel=1e-3)
    air = [one for one in answer.figures if one.unit == "m3" and "nitrogen dioxide" in one.name]
    assert max(one.high or 0 for one in air) == pytest.approx(77000, rel=1e-3)
    assert any("not a design of a ventilation" in note for note in answer.notes)


def test_no_gas_in_the_data_is_no_safety() -> None:
    """Where no reaction is known the answer says that this means nothing."""
    answer = ask("gas from 5 g salt")
    assert not answer.answered
    assert "says nothing about whether one comes off" in answer.missing[0]


def test_saturation_of_copper_sulfate() -> None:
    """A table of solubilities gives 20.7 g in 100 g of water at 20 C."""
    low, high = between("saturation of copper sulfate at 20 C")
    assert low <= 20.7 <= high
    assert high - low < 1.5


CLAIMS = (
    ("how much gold is in 10 g of 14 kt gold?", 10 * 14 / 24),
    ("gold in 20 g gold 585", 11.7),
    ("how much silver is there in 100 g sterling?", 92.5),
    ("how much silver is in 250 g contacts, silver 71 %", 177.5),
)


@pytest.mark.parametrize(("text", "grams"), CLAIMS)
def test_what_a_name_or_a_mark_claims(text: str, grams: float) -> None:
    """Weight times the fineness that is said, and that it is no assay."""
    assert between(text) == pytest.approx((grams, grams), rel=1e-6)
    assert "a name or a mark is a claim and no assay" in ask(text).notes


def test_nothing_holds_nothing() -> None:
    """A weight of nothing, or one that nobody knows, makes no figure."""
    for text in ("nitric acid 68 % to dissolve 0 g silver", "salt to drop some silver"):
        assert not ask(text).answered
