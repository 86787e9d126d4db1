"""How the volumes of two metals add in an alloy, as far as tables tell.

A pair of metals that the data do not speak of has no answer here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from logbook.chemistry.density import ROOT_THREE, metal_density
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Uncertain
from logbook.reference import load

HOLDS = ("well", "fairly", "not")


@dataclass(frozen=True, slots=True)
class Pair:
    """Two metals and their excess volume where each fills half of the piece.

    `holds` says how well volumes add: well, fairly or not; `excess` is None where they do not.
    `usual` tells that the second is a common partner of the first.
    """

    metals: tuple[str, str]
    holds: str
    excess: Uncertain | None
    usual: bool
    note: str


@cache
def pairs() -> tuple[Pair, ...]:
    """Every pair of fineness.toml."""
    found = []
    for row in load("fineness.toml")["pair"]:
        one, other = row["metals"]
        excess = None
        if row["holds"] != "not":
            middle, half = (row["low"] + row["high"]) / 2.0, (row["high"] - row["low"]) / 2.0
            name = " and ".join(sorted((one, other)))
            excess = Uncertain.of(middle, half / ROOT_THREE, f"how volumes of {name} add")
        found.append(Pair((one, other), row["holds"], excess, row["usual"], row.get("note", "")))
    return tuple(found)


def pair_of(metal: str, partner: str) -> Pair:
    """The pair of two metals, in whichever order the data have it.

    Raises:
        MissingError: where the data do not say how their volumes add.
    """
    for pair in pairs():
        if set(pair.metals) == {metal, partner}:
            return pair
    raise MissingError(f"how the volumes of {metal} and {partner} add is not in the tables")


def usual_partners(metal: str) -> tuple[str, ...]:
    """The metals that one is commonly alloyed with.

    >>> usual_partners("gold")
    ('silver', 'copper')
    """
    return tuple(pair.metals[1] for pair in pairs() if pair.usual and pair.metals[0] == metal)


def excess_at(pair: Pair, share: float, metal: str) -> float:
    """The factor 4 f (1 − f) that an excess volume is taken with, f [1] the share of volume.

    It is 1 where both metals fill the same volume, and nothing at both ends. Source: the
    simplest form of an excess property (Redlich-Kister, first term; from memory).

    `share` is the mass share of `metal` [g/g]. Half gold and half silver by weight: gold then
    fills (0.5/19.3) / (0.5/19.3 + 0.5/10.5) = 0.352 of it, and 4 × 0.352 × 0.648 = 0.913.

    >>> round(excess_at(pair_of("gold", "silver"), 0.5, "gold"), 3)
    0.913
    """
    partner = next(one for one in pair.metals if one != metal)
    own = share / metal_density(metal).value
    other = (1.0 - share) / metal_density(partner).value
    filled = own / (own + other)
    return 4.0 * filled * (1.0 - filled)


def added_density(shares: Mapping[str, float]) -> float:
    """The density [g/cm3] of what holds mass shares of metals [g/g] whose volumes add.

    Equation: 1 / ρ = Σ w_i / ρ_i. Source: additivity of volumes. What is left out of the
    shares is taken to be nothing, so that they have to make one.

    Sterling, 925 of silver and 75 of copper: 1 / (0.925 / 10.5 + 0.075 / 8.96) by hand.

    >>> round(added_density({"silver": 0.925, "copper": 0.075}), 2)
    10.37
    """
    return 1.0 / sum(share / metal_density(metal).value for metal, share in shares.items())
