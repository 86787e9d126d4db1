"""Intervals for a difference of means: published worked examples, tables, and a second library."""

from __future__ import annotations

from math import inf, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import ttest_ind

from logbook.calculation.across.intervals import interval, student, variance, welch_degrees

# A. R. Cushny and A. R. Peebles (1905), hours of sleep gained with two drugs, as "Student" printed
# them in Biometrika 6 (1908), 1-25; the data set `sleep` of R, in whose manual of `t.test` stand
# t = -1.8608, df = 17.776 and the interval -3.3654832 to 0.2054832.
FIRST = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]
SECOND = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]


def test_hours_of_sleep() -> None:
    """The interval and the degrees of freedom that R's manual prints for Student's hours."""
    found = interval(FIRST, SECOND, 0.0)
    assert found.basis == "scatter"
    assert found.difference == pytest.approx(0.75 - 2.33)
    assert found.degrees == pytest.approx(17.776, abs=5e-4)
    assert found.difference - found.half == pytest.approx(-3.3654832, abs=1e-7)
    assert found.difference + found.half == pytest.approx(0.2054832, abs=1e-7)


def of(mean: float, deviation: float, count: int) -> list[float]:
    """An odd number of values with just that mean and standard deviation."""
    half = (count - 1) // 2
    return [mean, *[mean - deviation] * half, *[mean + deviation] * half]


def test_miles_per_gallon() -> None:
    """NIST/SEMATECH e-Handbook, 1.3.5.3, AUTO83B.DAT: T = -12.94627, 136.8750 degrees of freedom.

    249 American cars with mean 20.14458 and deviation 6.41470, 79 Japanese ones with 30.48101 and
    6.10771 (from memory).
    """
    one, other = of(20.14458, 6.41470, 249), of(30.48101, 6.10771, 79)
    assert welch_degrees(one, other) == pytest.approx(136.8750, abs=5e-4)
    found = interval(one, other, 0.0)
    spread = sqrt(variance(one) / 249 + variance(other) / 79)
    assert found.difference / spread == pytest.approx(-12.94627, abs=5e-5)


@pytest.mark.parametrize(
    ("degrees", "t"),
    [(1, 12.706), (2, 4.303), (3, 3.182), (5, 2.571), (10, 2.228), (30, 2.042), (inf, 1.960)],
)
def test_quantiles_of_student(degrees: float, t: float) -> None:
    """The two-sided values for 95 % as every table has them (NIST e-Handbook, 1.3.6.7.2)."""
    assert student(degrees) == pytest.approx(t, abs=5e-4)


def test_one_run_against_several() -> None:
    """Three values 2, 4, 9 against one of 20, by hand.

    Mean 5, s² = (9 + 1 + 16)/2 = 13, s √(1 + 1/3) = √(13 × 4/3) = 4.1633; t for two degrees of
    freedom is 4.303, so half the width is 17.914 and the difference −15 is not apart from zero.
    """
    found = interval([2.0, 4.0, 9.0], [20.0], 0.1)
    assert found.basis == "one further value"
    assert (found.difference, found.degrees) == (-15.0, 2.0)
    assert found.half == pytest.approx(17.914, abs=2e-3)


def test_values_that_agree_by_chance_are_not_known_better() -> None:
    """0.95 twice against 0.90 twice, each mean ± 0.02 by its readings: no narrower than 2 u.

    u of the difference is √2 × 0.02 = 0.02828, so half the width is 0.05657: zero is outside of
    the scatter, and inside of that.
    """
    found = interval([0.95, 0.95], [0.90, 0.90], sqrt(2) * 0.02)
    assert found.basis == "readings"
    assert found.half == pytest.approx(0.05657, abs=1e-5)
    assert found.difference - found.half < 0.0


def test_nothing_is_no_mean() -> None:
    """A side without a value is refused, not read as zero."""
    with pytest.raises(ValueError, match="needs a value"):
        interval([], [1.0], 0.1)


values = st.lists(st.floats(-100.0, 100.0), min_size=2, max_size=9).filter(
    lambda found: max(found) - min(found) > 1e-3
)


@given(values, values)
def test_the_same_as_another_library(one: list[float], other: list[float]) -> None:
    """Any two samples: the interval of scipy.stats.ttest_ind, equal_var=False."""
    found = interval(one, other, 0.0)
    theirs = ttest_ind(one, other, equal_var=False).confidence_interval(0.95)
    size = max(abs(found.difference), found.half)
    assert found.difference - found.half == pytest.approx(theirs.low, abs=1e-8 * size)
    assert found.difference + found.half == pytest.approx(theirs.high, abs=1e-8 * size)
