"""Values with doubt, held against published examples and a general-purpose library."""

from __future__ import annotations

from math import sqrt

import pytest
from uncertainties import correlation_matrix, ufloat

from logbook.model.amount import ZERO, Uncertain, total


def test_a_sum_of_products_agrees_with_the_library_uncertainties() -> None:
    """First-order propagation gives what the library `uncertainties` gives (JCGM 100, 5.2.2)."""
    weight, assay, other = (412.6, 0.03), (0.71, 0.03), (279.6, 0.02)
    ours = [Uncertain.of(value, u, name) for name, (value, u) in enumerate((weight, assay, other))]
    theirs = [ufloat(value, u) for value, u in (weight, assay, other)]

    def expression(m, w, p):  # type: ignore[no-untyped-def]
        return (m * w - p) / (m * w + p)

    mine, reference = expression(*ours), expression(*theirs)
    assert mine.value == pytest.approx(reference.nominal_value, rel=1e-14)
    assert mine.u == pytest.approx(reference.std_dev, rel=1e-12)


def test_covariance_agrees_with_the_library_uncertainties() -> None:
    """Two contents that share an assay are correlated as `uncertainties` says."""
    assay = Uncertain.of(0.45, 0.01, "assay")
    first = Uncertain.of(100.0, 0.5, "first") * assay
    second = Uncertain.of(60.0, 0.5, "second") * assay
    shared = ufloat(0.45, 0.01)
    one, two = ufloat(100.0, 0.5) * shared, ufloat(60.0, 0.5) * shared
    expected = correlation_matrix([one, two])[0][1]
    assert first.covariance(second) / (first.u * second.u) == pytest.approx(expected, rel=1e-12)


def test_quam_a1_cadmium_standard() -> None:
    """A cadmium standard, c = 1000 m P / V, has the published uncertainty.

    Eurachem/CITAC QUAM:2012.P1, example A1: c = 1002.7 mg/L; u = 0.9 from rounded terms,
    0.835 without intermediate rounding.
    """
    mass = Uncertain.of(100.28, 0.05, "weighing")
    purity = Uncertain.of(0.9999, 0.0001 / sqrt(3.0), "certificate")
    volume = (
        Uncertain.of(100.0, 0.1 / sqrt(6.0), "flask")
        + Uncertain.of(0.0, 0.02, "filling")
        + Uncertain.of(0.0, 0.084 / sqrt(3.0), "temperature")
    )
    concentration = (mass * purity).times(1000.0) / volume
    assert concentration.value == pytest.approx(1002.7, abs=0.05)
    assert concentration.u == pytest.approx(0.835199, abs=5e-6)
    assert volume.u == pytest.approx(0.07, abs=0.005)


def test_gum_h1_end_gauge() -> None:
    """First-order combined uncertainty of an end gauge.

    JCGM 100:2008, H.1: l = 50.000838 mm, u_c = 32 nm (values from memory). The model is
    l = ls + d − ls (δα θ + αs δθ), with δα = 0 and δθ = 0 expected.
    """
    standard = Uncertain.of(50.000623e6, 25.0, "calibration")  # nm
    observed = Uncertain.of(215.0, 5.8, "mean of five")
    for name, u in (("comparator random", 3.9), ("comparator systematic", 6.7)):
        observed = observed + Uncertain.of(0.0, u, name)
    theta = Uncertain.of(-0.1, 0.41, "bed")
    alpha = Uncertain.of(11.5e-6, 1.2e-6, "expansion")
    alpha_difference = Uncertain.of(0.0, 0.58e-6, "difference of expansion")
    theta_difference = Uncertain.of(0.0, 0.029, "difference of temperature")
    correction = standard * (alpha_difference * theta + alpha * theta_difference)
    length = standard + observed - correction
    assert length.value / 1e6 == pytest.approx(50.000838, abs=5e-7)
    assert length.u == pytest.approx(32.0, abs=0.5)
    assert observed.u == pytest.approx(9.7, abs=0.05)


def test_a_reading_used_twice_is_correlated_with_itself() -> None:
    """The same reading twice adds its errors, two equal readings their squares."""
    reading = Uncertain.of(10.0, 0.3, "weighing")
    again = Uncertain.of(10.0, 0.3, "another weighing")
    assert (reading + reading).u == pytest.approx(0.6)
    assert (reading + again).u == pytest.approx(0.3 * sqrt(2.0))
    assert (reading - reading).u == 0.0
    assert (reading / reading).u == pytest.approx(0.0, abs=1e-15)


def test_the_total_is_the_sum_one_by_one() -> None:
    """A total of many values is what adding them one after another gives."""
    values = [Uncertain(float(k), {"shared": 0.1, k: 0.2}) for k in range(1, 20)]
    one_by_one = ZERO
    for value in values:
        one_by_one = one_by_one + value
    assert total(values).value == pytest.approx(one_by_one.value)
    assert total(values).u == pytest.approx(one_by_one.u)
    assert total(values).u == pytest.approx(sqrt((19 * 0.1) ** 2 + 19 * 0.2**2))
