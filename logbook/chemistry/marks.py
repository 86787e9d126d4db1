"""What a mark, a karat, a filled or plated piece says it holds: a claim, and an upper hope.

A mark is not a formula: 585 promises 585 thousandths, and 14 karat is 14/24, which is less.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.chemistry.density import constant, metal_density
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Uncertain
from logbook.reference import load, marks

WORN = "when it was new: worn, soldered or false, it holds less"


@dataclass(frozen=True, slots=True)
class Claim:
    """What a mark promises [g/g]; `least` allows for what the law lets fall short of it.

    It is never an assay: the piece may hold less than `least`.
    """

    metal: str
    fineness: float
    least: float
    least_with_solder: float
    words: str


def karat(parts: float) -> float:
    """The fineness of a karat [g/g].

    Equation: w = k / 24. Source: the definition of the karat (16 CFR 23.3).

    Raises:
        MissingError: for what is no karat.

    >>> round(karat(14.0), 4), karat(18.0)
    (0.5833, 0.75)
    """
    if not 0.0 < parts <= 24.0:
        raise MissingError(f"{parts:g} karat is none: there are 24 parts at most")
    return parts / 24.0


def marked(metal: str, mark: int) -> Claim:
    """What a mark in thousandths promises.

    Equation: w = mark / 1000, at least; 0.003 less is borne, 0.007 with solder. Source:
    marks.toml; tolerance 15 U.S.C. 295 (gold, in the United States; elsewhere none).

    Raises:
        MissingError: where the mark is not one of this metal.

    >>> marked("gold", 585).fineness, round(marked("gold", 585).least_with_solder, 3)
    (0.585, 0.578)
    """
    promised = marks().get((metal, mark))
    if promised is None:
        raise MissingError(f"{mark} is no mark of {metal} that is in the tables")
    below = {row["name"]: float(row["value"]) for row in load("fineness.toml")["tolerance"]}
    plain, solder = below["below its mark"], below["below its mark with solder"]
    gold = metal == "gold"
    return Claim(
        metal,
        promised,
        promised - (plain if gold else 0.0),
        promised - (solder if gold else 0.0),
        f"{mark} promises {promised * 1000:.0f} thousandths of {metal}, {WORN}",
    )


def filled(one_in: float, parts: float) -> float:
    """Fine gold in a filled or rolled piece, as a share of all of its metal [g/g].

    Equation: w = (1 / n) (k / 24), the layer being 1/n of the weight and of k karat. Source:
    16 CFR 23.3. It is what the piece held when it was new.

    Raises:
        MissingError: where the layer would be more than the piece.

    A piece of 1/20 12 K holds a fortieth of its weight in fine gold:

    >>> filled(20.0, 12.0)
    0.025
    """
    if one_in < 1.0:
        raise MissingError(f"a layer of 1/{one_in:g} would be more than the piece")
    return karat(parts) / one_in


def plated(metal: str, micrometres: Uncertain, square_centimetres: Uncertain) -> Uncertain:
    """The metal in a plated layer [g].

    Equation: m = t A ρ, t [µm] × 0.0001 for cm, A [cm²], ρ [g/cm3]. A layer of gold is taken at
    the density of a bath's gold, which is below that of fine gold. Source: the definition of a
    density.

    10 µm of silver on 100 cm² are 1.05 g (by hand, 0.001 × 100 × 10.5):

    >>> layer = plated("silver", Uncertain(10.0), Uncertain(100.0))
    >>> round(layer.value, 2)
    1.05
    """
    density = constant("plated gold") if metal == "gold" else metal_density(metal)
    return (micrometres * square_centimetres * density).times(1e-4)
