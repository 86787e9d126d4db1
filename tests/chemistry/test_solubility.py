"""What water can hold, against tables in print."""

from __future__ import annotations

from itertools import pairwise

import pytest

from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.solubility import saturated, soluble
from logbook.reference import load

# Grams of dry substance in 100 g of water. romek: romek.info/baza/04-26.html; sigma: the
# solubility table of Sigma-Aldrich; manual: appendix of a manual of general chemistry.
PRINTED = [
    *(("NaCl", t, s) for t, s in ((0, 35.7), (20, 36.0), (40, 36.6), (60, 37.3), (100, 39.8))),
    *(("NH4Cl", t, s) for t, s in ((0, 29.7), (20, 37.56), (40, 46.0), (60, 55.3), (80, 65.6))),
    *(("AgNO3", t, s) for t, s in ((0, 122), (20, 222), (40, 376), (60, 525), (100, 952))),
    *(("CuSO4", t, s) for t, s in ((0, 14.3), (20, 20.7), (40, 28.5), (60, 40), (80, 55))),
    *(("NaHCO3", t, s) for t, s in ((0, 6.9), (20, 9.6), (40, 12.7), (60, 16.4))),
    *(("NaNO3", t, s) for t, s in ((0, 73), (20, 88), (40, 104), (60, 124), (100, 178))),
    *(("Na2CO3", t, s) for t, s in ((0, 7), (20, 21.5), (40, 48.5), (60, 46.4), (100, 45.5))),
    *(("NaOH", t, s) for t, s in ((20, 109), (40, 129), (60, 174))),
    *(("C2H2O4", t, s) for t, s in ((0, 3.5), (25, 11.4), (70, 64))),
    *(("PbCl2", t, s) for t, s in ((0, 0.7), (25, 1.1), (100, 3.3))),
    ("KCl", 10, 31),
    ("H3NSO3", 0, 100 / 6.5),  # the Merck Index: in 6.5 parts of water at 0 C
]


@pytest.mark.parametrize(("formula", "celsius", "expected"), PRINTED)
def test_tables_in_print(formula: str, celsius: float, expected: float) -> None:
    """The printed figure lies within our limits."""
    found = soluble(formula, celsius)
    assert found.low <= expected + 1e-9 and expected <= (found.high or 0.0) + 1e-9


@pytest.mark.parametrize(
    ("formula", "celsius", "expected"), [("NaNO3", 25, 92), ("NaNO3", 10, 81), ("NH4Cl", 10, 33.3)]
)
def test_between_the_points(formula: str, celsius: float, expected: float) -> None:
    """Figures printed between our points (manual, and Perry's 33.3), within 1.5 %."""
    found = soluble(formula, celsius)
    assert found.low * 0.985 <= expected <= (found.high or 0.0) * 1.015


def test_silver_chloride_from_its_product() -> None:
    """1.9 mg/L at 25 C: √1.77e-10 × 143.32 g/mol (solubility product from memory)."""
    found = soluble("AgCl", 25)
    assert found.low <= 1.77e-10**0.5 * 143.32 / 10 <= (found.high or 0.0)


@pytest.mark.parametrize(
    ("formula", "celsius"),
    [("NaCl", -1), ("NaCl", 101), ("Na2CO3", 35), ("Cu(NO3)2", 25), ("FeSO4", 60)],
)
def test_nothing_beyond_a_table(formula: str, celsius: float) -> None:
    """Outside a table, and where the crystals change, nothing is known."""
    with pytest.raises(MissingError, match="is known for"):
        soluble(formula, celsius)


def test_no_table() -> None:
    """Of a salt that is not in the data nothing is said."""
    with pytest.raises(MissingError, match="not in the data"):
        soluble("K2Cr2O7", 20)
    with pytest.raises(MissingError, match="not in the data"):
        saturated("flour", Range.exactly(1.0), Range.exactly(100.0), 20)


def test_rows_are_in_order() -> None:
    """Temperatures rise, the least is not above the most, rows of one salt do not overlap."""
    ends: dict[str, float] = {}
    for row in load("solubility.toml")["salt"]:
        temperatures = [point[0] for point in row["points"]]
        assert temperatures == sorted(set(temperatures))
        assert all(0 < least <= most for _, least, most in row["points"])
        assert temperatures[0] > ends.get(row["formula"], -1)
        ends[row["formula"]] = temperatures[-1]
        if row["formula"] != "Na2CO3":
            assert all(before[1] <= after[2] for before, after in pairwise(row["points"]))


def test_salt_in_a_litre() -> None:
    """300 g of salt dissolve in a kilogram of water at 20 C, 400 g do not (36 g in 100 g)."""
    water = Range.exactly(1000.0)
    assert saturated("sodium chloride", Range.exactly(300.0), water, 20).full is False
    full = saturated("salt", Range.exactly(400.0), water, 20)
    assert full.full is True
    assert full.grams.low <= 360.0 <= (full.grams.high or 0.0)


def test_too_near_to_say() -> None:
    """359 g in a kilogram of water are between what the sources give."""
    assert saturated("NaCl", Range.exactly(359.0), Range.exactly(1000.0), 20).full is None


def test_water_in_the_crystals_counts() -> None:
    """20.7 g CuSO4 in 100 g of water are 36.7 g of blue crystals in 100 g of water added.

    By hand: 20.7 / (0.6392 - 0.3608 × 0.207) is 36.67.
    """
    found = saturated("CuSO4.5H2O", Range.exactly(30.0), Range.exactly(100.0), 20)
    assert found.full is False
    assert found.grams.low <= 36.67 <= (found.grams.high or 0.0)
    assert found.held.low == pytest.approx(100 * 30 * 0.63920 / (100 + 30 * 0.36080), rel=1e-3)


def test_crystals_of_a_supply_are_a_range() -> None:
    """Copper sulfate may be blue crystals or white powder: both limits are kept."""
    found = saturated("copper sulfate", Range.exactly(30.0), Range.exactly(100.0), 20)
    assert found.held.low == pytest.approx(17.3, abs=0.05)  # blue, by hand as above
    assert found.held.high == pytest.approx(30.0)  # white powder
    assert found.full is None


def test_what_water_it_holds_for_is_said() -> None:
    """Every answer says that acid and other salts change it, and names its sources."""
    found = saturated("NaHCO3", Range.exactly(1.0), Range.exactly(100.0), 20)
    assert "pure water" in found.notes[0] and found.sources
    assert any("carbon dioxide" in note for note in found.notes)


def test_no_water_no_answer() -> None:
    """Without a known amount of water, or of salt, nothing is said."""
    with pytest.raises(MissingError, match="not known"):
        saturated("NaCl", Range.exactly(1.0), Range(0.0, None), 20)
    with pytest.raises(MissingError, match="not known"):
        saturated("NaCl", Range(1.0, None), Range.exactly(100.0), 20)
