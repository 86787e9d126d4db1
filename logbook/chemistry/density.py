"""Densities of metals, water and air, each with its doubt, and what a piece weighs in water.

Nothing here says what a piece is made of; see fineness.py. No table is left on either side.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import pi, sqrt
from typing import Any

from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Uncertain
from logbook.reference import load, metals

ROOT_THREE = sqrt(3.0)
ONE = Uncertain(1.0)
PRECAUTIONS = (
    "the piece hung free on a thin thread, without air bubbles, its wire tared in the water",
    "no hollow, pore, stone, spring or core is in it",
)
"""What a weighing in water takes for granted. Source: common practice, no source."""


@dataclass(frozen=True, slots=True)
class PieceDensity:
    """The density of a piece [g/cm3] by two weighings; `notes` say what was taken for granted."""

    value: Uncertain
    notes: tuple[str, ...]


@cache
def _rows(table: str, key: str = "name") -> Mapping[str, Mapping[str, Any]]:
    """The rows of a table of fineness.toml by their name."""
    return {row[key]: row for row in load("fineness.toml")[table]}


def constant(name: str) -> Uncertain:
    """A constant of fineness.toml: its half-width is that of a rectangle (JCGM 100, 4.3.7).

    >>> constant("air").value
    0.0012
    """
    row = _rows("constant")[name]
    return Uncertain.of(row["value"], row["half_width"] / ROOT_THREE, name)


def metal_density(metal: str) -> Uncertain:
    """The density of a pure metal [g/cm3], with the spread between tables as its doubt.

    Source: metals.toml, and fineness.toml for the spread and for what is missing there.

    Raises:
        MissingError: where no table of the data gives it.

    >>> metal_density("gold").value, round(metal_density("gold").u, 3)
    (19.3, 0.017)
    """
    known = metals()[metal].density if metal in metals() else None
    own = _rows("density", "metal").get(metal)
    spread = _rows("spread", "metal").get(metal)
    if own is not None:
        known, half_width = float(own["density"]), float(own["spread"])
    elif known is not None and spread is not None:
        half_width = float(spread["half_width"])
    else:
        raise MissingError(f"the density of {metal} is not in the tables")
    return Uncertain.of(known, half_width / ROOT_THREE, f"density of pure {metal}")


def water_density(celsius: float) -> float:
    """The density of pure water at 101.325 kPa [g/cm3], from 0 to 40 C and nowhere else.

    Equation: ρ = a5 (1 − (t + a1)² (t + a2) / (a3 (t + a4))), t [C]. Source: Tanaka et al.,
    Metrologia 38 (2001) 301, whose uncertainty is below 0.000001 g/cm3.

    Raises:
        MissingError: outside the table.

    The paper's table gives 0.9982067 at 20 C and 0.9991026 at 15 C:

    >>> round(water_density(20.0), 7), round(water_density(15.0), 7)
    (0.9982067, 0.9991026)
    """
    a = _rows("water")["Tanaka"]
    if not a["lowest"] <= celsius <= a["highest"]:
        raise MissingError(
            f"the density of water at {celsius:g} C is not in the table, which goes from "
            f"{a['lowest']:g} to {a['highest']:g} C"
        )
    above = (celsius + a["a1"]) ** 2 * (celsius + a["a2"])
    ratio = above / (a["a3"] * (celsius + a["a4"]))
    return float(a["a5"] * (1.0 - ratio) / 1000.0)


def water(celsius: Uncertain | None) -> tuple[Uncertain, tuple[str, ...]]:
    """The density of the water of a bench [g/cm3] with its doubt, and what was taken for granted.

    The doubt of the temperature goes in by the slope between half a degree either way; water
    of which no temperature was written is taken to have any of a room.

    Raises:
        MissingError: where the temperature is outside the table.
    """
    impure = constant("water not pure")
    if celsius is None:
        low = constant("room temperature, lowest").value
        high = constant("room temperature, highest").value
        ends = water_density(low), water_density(high)
        half_width = (ends[0] - ends[1]) / 2.0
        known = Uncertain.of(sum(ends) / 2.0, half_width / ROOT_THREE, "temperature of the water")
        note = f"the temperature of the water is not written: {low:g} to {high:g} C was taken"
        return known + impure, (note,)
    at = celsius.value
    below, above = max(at - 0.5, 0.0), min(at + 0.5, 40.0)
    density = water_density(at)
    slope = (water_density(above) - water_density(below)) / (above - below)
    errors = {source: error * slope for source, error in celsius.errors.items()}
    return Uncertain(density, errors) + impure, ()


def piece_density(
    in_air: Uncertain, in_water: Uncertain, celsius: Uncertain | None = None
) -> PieceDensity:
    """The density of a piece from what it weighs in air and hanging in water.

    Equation: ρ = W_a (ρ_w − ρ_a) / (W_a − W_w) + ρ_a [g/cm3], W_a and W_w the readings in air
    and in water [g], ρ_w and ρ_a the densities of water and air [g/cm3]. The density of the
    balance's weights falls out, because it is in both readings. Propagation: JCGM 100:2008,
    5.1.2. Source: the manual of a density kit, p. 24.

    Raises:
        MissingError: where the readings or the temperature allow no density.

    A textbook's crown of 8.90 N, which weighs 7.80 N in water, is of 8.1 g/cm3 and no gold:

    >>> crown = piece_density(Uncertain(890.0), Uncertain(780.0), Uncertain(4.0))
    >>> round(crown.value.value, 1)
    8.1
    """
    lost = in_air - in_water
    if in_air.value <= 0.0 or in_water.value < 0.0:
        raise MissingError("a weight is not above nothing")
    if lost.value <= 0.0:
        raise MissingError("the piece weighs no less in water than in air")
    if lost.value <= 2.0 * lost.u:
        raise MissingError(
            "the balance cannot show how much lighter the piece is in water: it is too small"
        )
    wet, notes = water(celsius)
    air = constant("air")
    value = in_air * (wet - air) / lost + air
    return PieceDensity(value, (*notes, *(f"taken for granted: {one}" for one in PRECAUTIONS)))


def mass_of(reading: float, density: float) -> float:
    """The mass of a piece from a reading in air [g], its density [g/cm3] being known.

    Equation: m = W (1 − ρ_a / ρ_weights) / (1 − ρ_a / ρ) [g]. Source: air buoyancy, as balance
    makers tabulate it.

    Aluminium (2.7 g/cm3) that reads 2000 mg has a mass of 2000.589 mg by a maker's table:

    >>> round(mass_of(2000.0, 2.7), 3)
    2000.589
    """
    air = constant("air").value
    return reading * (1.0 - air / constant("weights").value) / (1.0 - air / density)


def bubble(millimetres: float) -> float:
    """What a round air bubble takes off a weight in water [g].

    Equation: V = π d³ / 6 [mm³], at 1 mg of water a mm³. Source: the volume of a ball.

    A bubble of 2 mm takes about 4.2 mg off by the manual of a density kit:

    >>> round(bubble(2.0), 4)
    0.0042
    """
    return pi * millimetres**3 / 6.0 / 1000.0
