"""What a strength that somebody wrote says: its limits, and what degrees and volumes stand for."""

from __future__ import annotations

from math import sqrt

from logbook.chemistry.air import molar_volume
from logbook.chemistry.equations import equation
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError, Range
from logbook.model.amount import Amount, Dimension

WRITTEN = 2.0
"""A doubt that was written with ± is taken twice, so that limits are seldom too narrow."""


def limits_of(amount: Amount) -> Range:
    """An amount in its base unit as limits: what is written exactly stays exact.

    A range is taken whole, "about" as far as it reaches, ± twice.

    Raises:
        MissingError: where nobody knows how much it is.
    """
    if amount.low is not None or amount.high is not None:
        return Range(max(0.0, amount.low or 0.0), amount.high)
    if amount.base_value is None:
        raise MissingError(amount.note or f'how much "{amount.span.text}" is, is not known')
    doubt = 0.0
    if amount.u_basis.startswith("about"):
        doubt = sqrt(3.0) * (amount.base_u or 0.0)
    elif amount.u_basis == "stated":
        doubt = WRITTEN * (amount.base_u or 0.0)
    return Range(max(0.0, amount.base_value - doubt), amount.base_value + doubt)


def concentration_of(formula: str, dimension: Dimension, limits: Range) -> Range:
    """Grams of a substance in a litre [g/L] from mol/L, g/L or volumes of oxygen.

    Raises:
        MissingError: for any other kind of strength.
    """
    if dimension is Dimension.MOLARITY:
        return limits.times(molar_mass(formula))
    if dimension is Dimension.CONCENTRATION:
        return limits
    if dimension is Dimension.PEROXIDE:
        if formula != "H2O2":
            raise MissingError(f"volumes of oxygen say nothing of {formula}")
        return limits.times(peroxide_grams_per_litre(1.0))
    raise MissingError(f"{dimension} is no strength of {formula}")


def peroxide_grams_per_litre(volumes: float) -> float:
    """How much hydrogen peroxide a litre holds that gives off so many litres of oxygen.

    Equation: 2 H2O2 -> 2 H2O + O2, so that β = 2 M v / V_m [g/L] with `volumes` v [L/L] of
    oxygen at 0 C and 101.325 kPa, M 34.014 g/mol and V_m 22.414 L/mol.
    Source: definition of the volume strength, general chemistry.

    20 volumes are 60.7 g/L (textbook: 20 × 68 / 22.4 = 60.7):

    >>> round(peroxide_grams_per_litre(20), 1)
    60.7
    """
    per_mole = equation("2 H2O2 -> 2 H2O + O2").moles_per_mole("H2O2", of="O2")
    return per_mole * molar_mass("H2O2") * volumes / molar_volume(0.0)


def gravity_of_baume(degrees: float, *, lighter: bool) -> float:
    """Specific gravity at 60 F against water at 60 F.

    Equation: d = 145 / (145 - B) for what is heavier than water, 140 / (130 + B) for what is
    lighter; `degrees` B [°Bé]. Source: the American scale,
    antoine.frostburg.edu/chem/senese/101/measurement/faq/print-baume-scale.shtml.

    >>> round(gravity_of_baume(20, lighter=False), 4)
    1.16
    >>> round(gravity_of_baume(10, lighter=True), 4)
    1.0
    """
    if lighter:
        return 140.0 / (130.0 + degrees)
    if degrees >= 145.0:
        raise MissingError(f"{degrees:g} degrees Baumé is no strength")
    return 145.0 / (145.0 - degrees)
