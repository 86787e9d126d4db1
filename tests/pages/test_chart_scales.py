"""Axes hold what they are for, with names that can be read, whatever the numbers are."""

from __future__ import annotations

import itertools
from datetime import date

from hypothesis import given
from hypothesis import strategies as any_

from logbook.pages.charts.scales import (
    UNKNOWN_SIGN,
    day_axis,
    number_axis,
    tenfold_axis,
    unknown_place,
)

FINITE = any_.floats(-1e9, 1e9, allow_nan=False).map(
    lambda value: value if abs(value) > 1e-6 else 0
)
ABOVE = any_.floats(1e-6, 1e9)


@given(any_.lists(FINITE, max_size=20), any_.booleans(), any_.booleans())
def test_an_axis_holds_all_its_values(values: list[float], nothing: bool, strip: bool) -> None:
    """Every value lies on it, at least two are named, and all names lie on it, in order."""
    axis = number_axis("g", values, nothing=nothing, strip=strip)
    held = [*values, *([0.0] if nothing else [])]
    slack = 1e-9 * max([1.0, *map(abs, held)])
    assert all(axis.low - slack <= value <= axis.high + slack for value in held)
    places = [tick.value for tick in axis.ticks]
    assert 2 <= len(places) <= 12
    assert places == sorted(places)
    assert all(axis.low - slack <= place <= axis.high + slack for place in places)
    if strip:
        named = [tick.value for tick in axis.ticks if tick.text != UNKNOWN_SIGN]
        assert unknown_place(axis) < min([*named, *held])


@given(any_.lists(ABOVE, min_size=1, max_size=20))
def test_a_tenfold_axis_names_powers_of_ten(values: list[float]) -> None:
    """Each named value is ten times the one before, and the title says so."""
    axis = tenfold_axis("%", values)
    assert axis.title == "%, tenfold"
    places = [tick.value for tick in axis.ticks]
    for one, other in itertools.pairwise(places):
        assert abs(other / one - 10.0) < 1e-9
    assert all(
        axis.low <= value * (1 + 1e-12) and value <= axis.high * (1 + 1e-12) for value in values
    )


@given(any_.lists(any_.dates(), min_size=1, max_size=5))
def test_an_axis_of_days_holds_them_all(days: list[date]) -> None:
    """From the year 1 to 9999 every day lies on it, and few names stand beside each other."""
    axis = day_axis(days)
    assert all(axis.low <= day.toordinal() <= axis.high for day in days)
    assert axis.low < axis.high
    assert 1 <= len(axis.ticks) <= 7
    assert all(axis.low <= tick.value <= axis.high for tick in axis.ticks)


def test_names_of_months_by_hand() -> None:
    """From January 2025 to March 2026 are 14 months: every third is named."""
    axis = day_axis([date(2025, 1, 18), date(2026, 3, 7)])
    names = [tick.text for tick in axis.ticks]
    assert names == ["Apr 2025", "Jul 2025", "Oct 2025", "Jan 2026"]
