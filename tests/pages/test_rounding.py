"""Rounding: published examples, hand-made ones, and what must hold of any number."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.pages.rounding import between, coordinate, plural, rounded, tick

PUBLISHED = [
    # JCGM 100:2008, 7.2.2: m_S = 100.021 47 g with u_c = 0.35 mg
    (100.02147, 0.00035, "g", "100.02147 ± 0.00035 g"),
    # JCGM 100:2008, 7.2.6: y = 10.057 62 ohm with u_c = 27 mohm is rounded to 10.058 ohm
    (10.05762, 0.027, "ohm", "10.058 ± 0.027 ohm"),
    # JCGM 100:2008, 7.2.6: u = 28.05 kHz is rounded down to 28 kHz
    (1000.0, 28.05, "kHz", "1000 ± 28 kHz"),
    # EURACHEM/CITAC QUAM:2012, example A1: c = 1002.7 mg/L, u = 0.835 mg/L
    (1002.7, 0.835199, "mg/L", "1002.70 ± 0.84 mg/L"),
]

BY_HAND = [
    (278.202, 0.8388, "g", "278.20 ± 0.84 g"),
    (0.953, 0.0112, "g/g", "95.3 ± 1.1 %"),
    (1234.0, 150.0, "g", "1230 ± 150 g"),
    (9.97, 0.0996, "g", "9.97 ± 0.10 g"),  # the doubt itself is rounded up by a digit
    (0.65, 0.01876, "L", "650 ± 19 mL"),
    (0.004, 0.0003, "g", "4.00 ± 0.30 mg"),
    (0.00085, 0.00002, "g/g", "850 ± 20 ppm"),
    (23456.0, 120.0, "g", "23.46 ± 0.12 kg"),
    (-0.3, 1.2, "g", "−0.3 ± 1.2 g"),
    (0.0, 0.0, "g", "0 g"),
    (412.6, 0.0, "g", "413 g"),
    (5.0, 0.0, "g", "5 g"),
    (3.0, 0.0, "1", "3"),
    (1234567.0, 0.0, "1", "1\u202f234\u202f567"),
    (42.0, 0.0, "EUR", "42.00 EUR"),
    (0.0, 0.0, "EUR", "0.00 EUR"),
    (42.5, 0.0, "", "42.50"),  # a book that names no currency
    (3124.17, 151.0, "EUR", "3120 ± 150 EUR"),
    (10.0, 0.001, "EUR", "10.00 EUR"),  # a doubt of less than half a hundredth
    (23.4, 0.0, "EUR/h", "23.40 EUR/h"),
    (1.08, 0.0, "EUR/g", "1.08 EUR/g"),
    (0.0452, 0.0, "EUR/g", "0.0452 EUR/g"),
    (2.5, 0.048, "h", "2 h 30 min ± 3 min"),
    (50 / 60, 0.0, "h", "50 min"),
    (0.0, 0.0, "h", "0 min"),
    (2.0, 0.001, "h", "2 h ± 1 min"),  # never less than a minute
    (132.4, 0.3, "h", "132.40 ± 0.30 h"),
    (70.0, 0.0, "degC", "70 °C"),
]


@pytest.mark.parametrize(("value", "u", "unit", "text"), PUBLISHED)
def test_published_examples_are_shown_as_they_are_printed(
    value: float, u: float, unit: str, text: str
) -> None:
    """A published value and uncertainty come out with the digits of the publication."""
    assert rounded(value, u, unit).text == text


@pytest.mark.parametrize(("value", "u", "unit", "text"), BY_HAND)
def test_hand_made_examples(value: float, u: float, unit: str, text: str) -> None:
    """Each rule of the module, worked out by hand."""
    assert rounded(value, u, unit).text == text


@given(
    st.floats(-1e6, 1e6, allow_nan=False),
    st.floats(1e-6, 1e5, allow_nan=False),
)
def test_a_shown_value_is_within_half_of_its_last_digit(value: float, u: float) -> None:
    """What is shown differs from what is meant by no more than half of the last digit."""
    shown = rounded(value, u, "ohm")
    digits = Decimal(shown.value.replace("−", "-").replace("\u202f", ""))
    doubt = Decimal(shown.doubt.replace("\u202f", ""))
    place = Decimal(1).scaleb(doubt.adjusted() - 1)
    assert abs(digits - Decimal(repr(value))) <= place / 2
    assert abs(doubt - Decimal(repr(u))) <= place / 2
    assert "-" not in shown.value


@given(st.floats(0.001, 1e5), st.floats(0.001, 1e5))
def test_limits_are_rounded_outwards(one: float, other: float) -> None:
    """A limit that is shown never excludes what the limit allows."""
    low, high = sorted((one, other))
    words = between(low, high, "ohm").replace("\u202f", "").split()
    least, most = Decimal(words[1]), Decimal(words[3])
    assert least <= Decimal(repr(low))
    assert most >= Decimal(repr(high))


def test_no_line_breaks_between_a_number_and_its_unit() -> None:
    """A limit may be broken between its words, never before its unit (common practice)."""
    for low, high, unit in ((None, 569.0, "L"), (2.5, None, "h"), (1.0, 2.0, "EUR/h")):
        words = between(low, high, unit).split(" ")
        assert not words[-1].isalpha()
        assert words[-1][0].isdigit()


def test_limits_that_say_nothing_are_left_out() -> None:
    """Nothing is known of a mass that is at least nothing."""
    assert between(0.0, None, "g") == ""
    assert between(None, None, "g") == ""
    assert between(0.0, 0.0142, "g") == "at most 0.0142\u00a0g"
    assert between(1.0 / 3.0, None, "g") == "at least 0.333\u00a0g"


def test_what_is_no_number_is_not_known() -> None:
    """An overflow is never printed as a figure."""
    assert rounded(float("nan"), 0.0, "g").text == "not known"
    assert rounded(1.0, float("inf"), "g").text == "not known"


def test_small_words_for_charts_and_counts() -> None:
    """Ticks and places keep the digits they need, and no negative zero."""
    assert [tick(step * 0.1, 0.1) for step in range(4)] == ["0.0", "0.1", "0.2", "0.3"]
    assert coordinate(-0.04) == "0"
    assert plural(1, "entry", "entries") == "1 entry"
    assert plural(12000, "run") == "12\u202f000 runs"
