"""How strong a supply is: what labels say, what the trade sells, and what cannot be known."""

from __future__ import annotations

import pytest

from logbook.chemistry.densities import density_table
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.strengths import fraction_of, named, sold, strength
from logbook.chemistry.written import gravity_of_baume, limits_of, peroxide_grams_per_litre
from logbook.reference import load, reagent_words, reagents
from tests.chemistry.amounts import written


def holds(found: Range, expected: float, doubt: float = 0.0) -> bool:
    """Whether a value lies between the limits, with the doubt of its own last digit."""
    return found.low - doubt <= expected <= (found.high or 0.0) + doubt


def moles(reagent: str, label: str) -> Range:
    """The molarity of a supply as labelled."""
    return strength(reagent, written(label)).moles_per_litre(molar_mass(named(reagent)[1]))


@pytest.mark.parametrize(
    ("reagent", "label", "expected", "last"),
    [
        # OpenStax Chemistry, appendix F, composition of commercial acids and bases
        ("hydrochloric acid", "36 %", 11.6, 0.05),
        ("sulfuric acid", "96 %", 18.0, 0.05),
        ("ammonia", "28 %", 14.8, 0.05),
        ("sodium hydroxide", "50 %", 19.1, 0.05),
        # a laboratory's table of reagent-grade strengths (evergainful.com.my)
        ("hydrochloric acid", "37.2 %", 12.1, 0.05),
        ("nitric acid", "69.6 %", 15.6, 0.05),
        ("ammonia", "28.0 %", 14.5, 0.3),
        ("ammonia", "35 %", 18.1, 0.05),  # 0.880 on the label
        # computed from the CRC table, or from Perry's 1.4048 and 1.4134 for nitric acid
        ("hydrochloric acid", "37 %", 12.014, 0.001),
        ("hydrochloric acid", "10 %", 2.873, 0.001),
        ("nitric acid", "68 %", 15.16, 0.0),
        ("nitric acid", "70 %", 15.701, 0.001),
        ("sulfuric acid", "98 %", 18.348, 0.001),
        ("sulfuric acid", "35 %", 4.497, 0.002),
        ("hydrogen peroxide", "30 %", 9.813, 0.001),
        ("hydrogen peroxide", "35 %", 11.656, 0.001),
        ("hydrogen peroxide", "3 %", 0.8904, 0.0),
    ],
)
def test_molarity_of_commercial_strengths(
    reagent: str, label: str, expected: float, last: float
) -> None:
    """A label's per cent gives the molarity that tables give."""
    assert holds(moles(reagent, label), expected, last)


@pytest.mark.parametrize(
    ("reagent", "label", "percent"),
    [
        # a trade article: 20 degrees are 31.45 % (engineerfix.com)
        ("muriatic acid", "20 °Bé", 31.45),
        # a supplier's table of aqua ammonia at 60 F
        ("ammonia", "16 °Bé", 10.28),
        ("ammonia", "20 °Bé", 17.76),
        ("ammonia", "26 °Bé", 29.40),
        # tables of American makers, from memory
        ("hydrochloric acid", "18 °Bé", 27.92),
        ("hydrochloric acid", "22 °Bé", 35.21),
        ("nitric acid", "40 °Bé", 61.38),
        ("nitric acid", "42 °Bé", 67.18),
        ("sulfuric acid", "60 °Bé", 77.67),
        ("sulfuric acid", "66 °Bé", 93.19),
    ],
)
def test_degrees_baume(reagent: str, label: str, percent: float) -> None:
    """The strength that goes with the degrees lies within the limits, and those are narrow."""
    found = strength(reagent, written(label)).fraction
    assert holds(found, percent / 100)
    if (reagent, label) != ("sulfuric acid", "66 °Bé"):
        assert (found.high or 1.0) - found.low < 0.03


@pytest.mark.parametrize(
    ("degrees", "gravity"), [(18, 1.1417), (20, 1.1600), (22, 1.1789), (40, 1.3810), (42, 1.4078)]
)
def test_specific_gravities_of_the_scale(degrees: float, gravity: float) -> None:
    """The scale at antoine.frostburg.edu, to its four decimals."""
    assert gravity_of_baume(degrees, lighter=False) == pytest.approx(gravity, abs=5e-5)


def test_the_lighter_scale_turns_round() -> None:
    """Ammonia of more degrees is lighter and stronger; 10 degrees are water (definition)."""
    weak, strong = (strength("ammonia", written(f"{b} °Bé")) for b in (14, 26))
    assert (weak.fraction.high or 1.0) < strong.fraction.low
    assert (strong.density.high or 0.0) < weak.density.low


@pytest.mark.parametrize(("volumes", "grams"), [(10, 30.35), (20, 60.7), (40, 121.4), (100, 303.5)])
def test_volumes_of_oxygen(volumes: float, grams: float) -> None:
    """20 volumes hold 60.7 g/L, 100 volumes 303.5 (by hand: 2 × 34.01 v / 22.414)."""
    assert peroxide_grams_per_litre(volumes) == pytest.approx(grams, rel=1e-3)


@pytest.mark.parametrize(
    ("label", "low", "high"), [("10 vol", 2.9, 3.1), ("20 vol", 5.8, 6.1), ("40 vol", 11.4, 12.1)]
)
def test_volumes_as_the_trade_counts_them(label: str, low: float, high: float) -> None:
    """10, 20 and 40 volumes are about 3, 6 and 12 % (what bottles say)."""
    found = strength("hydrogen peroxide", written(label)).fraction
    assert low / 100 <= found.low <= (found.high or 1.0) <= high / 100


def test_molarity_back_to_per_cent() -> None:
    """11.642 mol/L is 36 % hydrochloric acid, 18.346 mol/L is 98 % sulfuric acid (CRC)."""
    for reagent, label, fraction in (
        ("hydrochloric acid", "11.642 M", 0.36),
        ("sulfuric acid", "18.346 M", 0.98),
    ):
        assert holds(strength(reagent, written(label)).fraction, fraction, 1e-4)


def test_grams_a_litre_stay_what_they_are() -> None:
    """100 g/L is 100 g/L, whatever the density."""
    assert strength("hydrochloric acid", written("100 g/L")).grams_per_litre == Range(100.0, 100.0)


def test_a_density_is_a_strength() -> None:
    """1.1493 g/mL is hydrochloric acid of 30 % (CRC 1.1492)."""
    assert holds(strength("hydrochloric acid", written("1.1492 g/mL")).fraction, 0.30)


def test_limits_of_what_is_written() -> None:
    """A range is taken whole, "about" as far as it reaches, ± twice, a plain figure as it is."""
    whole = limits_of(written("30-35 %"))
    assert (whole.low, whole.high) == pytest.approx((0.30, 0.35))
    about = limits_of(written("about 30 %"))
    assert (about.low, about.high) == pytest.approx((0.27, 0.33))
    doubt = limits_of(written("30 ± 1 %"))
    assert (doubt.low, doubt.high) == pytest.approx((0.28, 0.32))
    assert limits_of(written("68 %")) == Range(0.68, 0.68)


def test_no_strength_is_everything_that_is_sold() -> None:
    """Nitric acid without a strength may be of 3 to 70 %, and says so."""
    found = strength("nitric acid", None)
    assert found.fraction == Range(0.03, 0.70)
    assert "no strength is written" in found.basis
    assert found.sources and found.notes


# Assay limits of reagent grade, per cent (evergainful.com.my), and strengths that labels state.
@pytest.mark.parametrize(
    ("words", "percents"),
    [
        ("concentrated hydrochloric acid", (36.5, 38.0)),
        ("concentrated nitric acid", (69.0, 70.0)),
        ("concentrated sulfuric acid", (95.0, 98.0)),
        ("fuming nitric acid", (90.0, 98.0)),
        ("muriatic acid", (31.45, 35.2)),
        ("battery acid", (33.0, 35.0, 37.0)),
        ("household ammonia", (5.0, 10.0)),
        ("ammonia", (25.0, 28.0, 35.0)),
        ("bleach", (5.25, 6.0, 8.25)),
        ("hydrochloric acid", (31.45, 37.0)),
        ("nitric acid", (53.0, 68.0)),
        ("hydrogen peroxide", (3.0, 6.0, 12.0, 30.0, 35.0)),
    ],
)
def test_words_of_the_trade_hold_what_is_sold(words: str, percents: tuple[float, ...]) -> None:
    """What is sold under a word lies within the limits that the word gives."""
    for percent in percents:
        assert holds(sold(words).fraction, percent / 100)


def test_words_of_the_trade_are_the_reagents_own() -> None:
    """Each word of strengths.toml leads to the same reagent as in reagents.toml, and is alone."""
    data = load("strengths.toml")
    words = [(word, row["reagent"]) for row in data["trade"] for word in row["words"]]
    assert len({word for word, _ in words}) == len(words)
    for word, reagent in words:
        assert reagent_words()[word] == reagent
    for row in (*data["sold"], *data["trade"], *data["crystals"]):
        assert row["reagent"] in reagents()
        if "low" in row:
            assert 0 <= row["low"] < row["high"] <= 100


@pytest.mark.parametrize("row", load("strengths.toml")["sold"], ids=lambda row: row["reagent"])
def test_what_is_sold_is_in_the_tables(row: dict[str, object]) -> None:
    """A reagent that is sold in strengths has a strength without one being written."""
    assert strength(str(row["reagent"]), None).grams_per_litre.low > 0


def test_every_table_is_of_one_shape() -> None:
    """Points go up in strength, start with water, and are denser at 60 F than at 20 C."""
    for formula in {row["formula"] for row in load("strengths.toml")["density"]}:
        table = density_table(formula)
        assert list(table.curve.xs) == sorted(set(table.curve.xs))
        assert (table.curve.xs[0], table.curve.ys[0]) == (0.0, 0.9982)
        if table.sixty is not None:
            for step in range(101):
                place = table.strongest * step / 100
                assert 0.0008 <= table.sixty[0](place) <= table.sixty[1](place) <= 0.01


def test_bleach_has_no_table() -> None:
    """Household bleach: its density is between two figures, and that is said."""
    found = strength("bleach", None)
    assert found.density == Range(1.0, 1.2)
    assert any("density is taken" in note for note in found.notes)
    assert found.grams_per_litre.low == pytest.approx(30.0)


@pytest.mark.parametrize(
    ("reagent", "label", "why"),
    [
        ("ammonia", "40 %", "goes from 0 to 35 %"),
        ("nitric acid", "30 M", "no strength in the data fits"),
        ("nitric acid", "10 vol", "volumes of oxygen say nothing"),
        ("hydrobromic acid", "80 %", "no density table"),
        ("hydrobromic acid", None, "is not written"),
        ("sodium hydroxide", None, "is not written"),
        ("hydrochloric acid", "145 °Bé", "is no strength"),
        ("unobtainium", "5 %", "no reagent"),
        ("flour", "5 %", "no formula"),
        ("nitric acid", "300 g", "is no strength"),
    ],
)
def test_what_cannot_be_known_says_why(reagent: str, label: str | None, why: str) -> None:
    """Where a table or a strength lacks, the reason is given instead of a figure."""
    with pytest.raises(MissingError, match=why):
        strength(reagent, None if label is None else written(label))


def test_the_fraction_needs_no_table() -> None:
    """Acetic acid of 80 % holds 0.8 g in a gram, though nobody knows its density."""
    assert fraction_of("acetic acid", written("80 %")) == Range(0.8, 0.8)
