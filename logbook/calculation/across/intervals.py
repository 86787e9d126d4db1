"""Intervals for the difference of two means, from the scatter of few values and their doubts.

Plain numbers in and out. An interval that holds zero tells nobody which of the two is higher.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf, sqrt

LEVEL = 0.95
COVERAGE = 2.0  # k, for doubts of readings: about 95 % (JCGM 100:2008, 6.3.3)
SCATTER, FURTHER, READINGS = "scatter", "one further value", "readings"


@dataclass(frozen=True, slots=True)
class Interval:
    """The difference of two means and half the width of its interval, in the values' unit.

    `basis` is scatter, one further value or readings; `degrees` of freedom are given for the
    first two.
    """

    difference: float
    half: float
    basis: str
    degrees: float | None = None


def student(degrees: float, level: float = LEVEL) -> float:
    """The two-sided quantile t of Student's distribution for a level of confidence.

    Source of the function: `scipy.special.stdtrit`. Tables give 2.228 for 10 degrees of freedom
    and 95 %:

    >>> round(student(10.0), 3)
    2.228
    """
    from scipy.special import stdtrit

    return float(stdtrit(degrees, (1.0 + level) / 2.0)) if degrees < inf else 1.959964


def welch_degrees(one: Sequence[float], other: Sequence[float]) -> float:
    """Degrees of freedom for means whose values scatter differently.

    Equation: ν = (a + b)² / (a²/(n − 1) + b²/(m − 1)), with a = s²/n and b = t²/m the variances
    of the two means. Source: B. L. Welch, Biometrika 34 (1947), 28-35; NIST/SEMATECH e-Handbook
    of Statistical Methods, 1.3.5.3.

    Two values on either side that scatter alike, by hand: (1 + 1)² / (1 + 1) = 2.

    >>> welch_degrees([0.0, 2.0], [5.0, 7.0])
    2.0
    """
    a, b = (variance(values) / len(values) for values in (one, other))
    if not a + b:
        return inf
    return (a + b) * (a + b) / (a * a / (len(one) - 1) + b * b / (len(other) - 1))


def variance(values: Sequence[float]) -> float:
    """The variance of some values about their mean: s² = Σ (x − m)² / (n − 1).

    Source: JCGM 100:2008, 4.2.2. Needs two values at least.
    """
    mean = fsum(values) / len(values)
    return fsum((one - mean) * (one - mean) for one in values) / (len(values) - 1)


def interval(one: Sequence[float], other: Sequence[float], u: float) -> Interval:
    """The interval for the mean of one less the mean of the other; `u` from their readings alone.

    With two values or more on both sides it is Welch's: t(ν) √(s²/n + t²/m). With one value on
    a side it is that of one further value, which is taken to scatter as the others do:
    t(n − 1) s √(1 + 1/n). It is never narrower than k u, the doubt that the readings alone give
    the difference: values that agree by chance are not therefore known better. Raises
    `ValueError` where a side has no value.

    Source: NIST/SEMATECH e-Handbook, 1.3.5.3, and 7.2.6 for a further value (clause from memory);
    taking the wider of two is common practice, no source.

    One value each, 5 and 3, with u = 0.5: 2 ± 1, by hand.

    >>> interval([5.0], [3.0], 0.5)
    Interval(difference=2.0, half=1.0, basis='readings', degrees=None)
    """
    if not one or not other:
        raise ValueError("a mean needs a value")
    difference = fsum(one) / len(one) - fsum(other) / len(other)
    least = Interval(difference, COVERAGE * u, READINGS)
    scatter = _by_scatter(one, other, difference)
    return scatter if scatter is not None and scatter.half > least.half else least


def _by_scatter(one: Sequence[float], other: Sequence[float], by: float) -> Interval | None:
    n, m = len(one), len(other)
    if n > 1 and m > 1:
        degrees = welch_degrees(one, other)
        spread = sqrt(variance(one) / n + variance(other) / m)
        return Interval(by, student(degrees) * spread, SCATTER, degrees)
    if n == m:
        return None
    many, degrees = (one, n - 1.0) if n > 1 else (other, m - 1.0)
    spread = sqrt(variance(many) * (1.0 + 1.0 / len(many)))
    return Interval(by, student(degrees) * spread, FURTHER, degrees)
