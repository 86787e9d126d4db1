"""Units, readability and coverage against what is published about them."""

from __future__ import annotations

import pytest

from logbook.model.amount import Amount, Dimension
from logbook.model.book import Customs, Scale
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.source import SourceText, Span
from logbook.units import units_by_word


def read(text: str, customs: Customs | None = None) -> Amount:
    """One amount, read whole."""
    reading = Reading(SourceText("runs/a.md", text), customs or Customs())
    found = amount_reader(reading.customs.decimal_comma).read(reading, 0, len(text))
    assert found is not None and found[1] == len(text)
    return found[0]


# NIST SP 811 (2008), appendix B.8, and NIST Handbook 44, appendix C: exact definitions.
# The values are from memory of those documents; pint's own definitions agree.
EXACT = {
    "gr": 0.06479891,
    "dwt": 1.55517384,
    "ozt": 31.1034768,
    "lbt": 373.2417216,
    "oz": 28.349523125,
    "lb": 453.59237,
    "ct": 0.2,
    "gal": 3.785411784,
    "fl oz": 0.0295735295625,
    "imp gal": 4.54609,
    "ft³": 28.316846592,
}


@pytest.mark.parametrize(("unit", "base"), EXACT.items())
def test_unit_is_its_definition(unit: str, base: float) -> None:
    """A unit's factor is its published definition, to the last bit."""
    assert units_by_word()[unit].factor == base
    assert read(f"1 {unit}").base_value == base


def test_kilowatt_hour() -> None:
    """One kilowatt-hour is 3.6 MJ (NIST SP 811, B.8): 1000 W for one hour."""
    kilowatt_hour, watt_hour = units_by_word()["kWh"], units_by_word()["Wh"]
    assert kilowatt_hour.factor == 1000 * watt_hour.factor == 1.0


def test_temperatures() -> None:
    """212 °F is 100 °C and 273.15 K is 0 °C (NIST SP 811, B.8, exact)."""
    assert read("212 F").base_value == 100.0
    assert read("32 F").base_value == 0.0
    assert read("273.15 K").base_value == 0.0


def test_karat_is_a_part_in_24() -> None:
    """14 kt is 14/24; the mark 585 is another thing (ISO 9202; 16 CFR 23.3, from memory)."""
    assert read("14 kt").base_value == 14 / 24
    assert read("585 ‰").base_value == 0.585 != 14 / 24


def test_a_conversion_rounds_once() -> None:
    """600 mL is 0.6 L, and 3 x 30 mL is 0.09 L, with nothing in the last digit."""
    assert read("600 mL").base_value == 0.6
    assert read("3 x 30 mL").base_value == 0.09
    assert read("0.1 g").base_value == 0.1


def test_readability_of_an_indication() -> None:
    """A step d of an indication gives u = 0.29 d (JCGM 100:2008, F.2.2.1; from memory)."""
    assert read("412.6 g").base_u == pytest.approx(0.29 * 0.1, abs=0.0005)
    assert read("12.31 g").base_u == pytest.approx(0.29 * 0.01, abs=0.00005)


def test_balance_and_purity_of_a_standard() -> None:
    """Eurachem/CITAC QUAM:2012, example A1: purity ± 0.0001, rectangular, gives 0.000058."""
    assert read("0.9999 ± 0.0001 g").base_u == 0.0001  # ± is one standard uncertainty here
    half_width = read("0.9998 to 1.0000 g")  # the same limits said as a range
    assert half_width.base_u == pytest.approx(0.000058, abs=0.0000005)


def test_coverage_factor_is_divided_out() -> None:
    """An expanded uncertainty U = k u is divided by k (JCGM 100:2008, 6.2.1)."""
    assert read("5.0 ± 0.5 (k=2) g").base_u == 0.25


def test_the_only_fitting_balance_is_used() -> None:
    """Readability and repeatability are combined: sqrt((0.01/sqrt 12)² + 0.01²) = 0.01041 g.

    Worked by hand from JCGM 100:2008, 4.3.7 and 5.1.2.
    """
    span = Span(SourceText("runs/scales.md", ""), 0, 0)
    scales = (
        Scale(span, "pocket", 0.01, 0.01, 200.0),
        Scale(span, "bench", 0.1, 0.1, 3000.0),
    )
    customs = Customs(scales=scales)
    assert read("12.31 g", customs).base_u == pytest.approx(0.010408, abs=1e-6)
    assert read("12.31 g", customs).scale == "pocket"
    assert read("412.6 g", customs).scale == "bench"
    assert read("412.65 g", customs).scale == ""  # too heavy for the one that shows 0.01 g


def test_a_volume_without_a_measure() -> None:
    """A beaker's marks are within 5 %: 250 mL has u = 12.5/sqrt 3 = 7.22 mL.

    The 5 % is what makers print on beakers: common practice, no source.
    """
    amount = read("250 mL")
    assert amount.dimension is Dimension.VOLUME
    assert amount.base_u == pytest.approx(0.00722, abs=5e-6)
