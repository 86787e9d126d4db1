"""How much silver, or copper, gold scrap needs before acid parts it.

Two ways of saying it are in use: silver to gold by weight, and the share of gold in the melt.
They agree only where silver and gold are all there is; each is worked out by its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.chemistry.density import ONE
from logbook.chemistry.ranges import MissingError, Range
from logbook.model.amount import ZERO, Uncertain
from logbook.reference import load

HOPE = (
    "a mark or a claim is an upper hope: with less gold in it, the melt holds less gold than "
    "was aimed at"
)


@dataclass(frozen=True, slots=True)
class Inquarted:
    """What to add [g], the melt it makes [g], and what the melt then is.

    `to_gold` is silver to gold by weight, `gold_share` gold over all of the melt [g/g].
    """

    add: Uncertain
    melt: Uncertain
    to_gold: Uncertain
    gold_share: Uncertain
    notes: tuple[str, ...]


def usual_ratio(name: str = "assay") -> Range:
    """A usual ratio of silver to gold by weight, from the data.

    >>> usual_ratio("assay")
    Range(low=2.3, high=3.0)
    """
    row = next(row for row in load("fineness.toml")["inquart"] if row["name"] == name)
    return Range(float(row["low"]), float(row["high"]))


def to_ratio(
    weight: Uncertain, gold: Uncertain, silver: Uncertain = ZERO, ratio: float = 3.0
) -> Inquarted:
    """Silver to add so that there is `ratio` times as much silver as gold.

    Equation: add = R W w_Au − W w_Ag [g], W the weight [g], w_Au and w_Ag the contents [g/g],
    R the ratio. Other metals are not counted. Source: ISO 11426, 7.2.1 (R from 2.3 to 3).

    Raises:
        MissingError: where the contents are no shares, or the ratio is none.

    10.00 g of 14 K, without silver, at 3 to 1: 17.5 g (by hand, 30 × 14/24):

    >>> need = to_ratio(Uncertain(10.0), Uncertain(14.0 / 24.0), ratio=3.0)
    >>> round(need.add.value, 2)
    17.5
    """
    _checked(weight, gold, silver)
    if ratio <= 0.0:
        raise MissingError(f"{ratio:g} is no ratio of silver to gold")
    return _inquarted(weight, gold, silver, weight * gold.times(ratio) - weight * silver)


def to_share(
    weight: Uncertain, gold: Uncertain, silver: Uncertain = ZERO, share: float = 0.25
) -> Inquarted:
    """Silver, or copper, to add so that gold is `share` of all of the melt.

    Equation: add = W w_Au / s − W [g], s the share wanted. What else is in the scrap counts as
    if it were silver. Source: quartation, gold a quarter of the melt (Cooley).

    Raises:
        MissingError: where the contents are no shares, or the share wanted is none.

    10.00 g of 10 K to a quarter of gold: 6.667 g (by hand, 10 × (10/24)/0.25 − 10):

    >>> need = to_share(Uncertain(10.0), Uncertain(10.0 / 24.0))
    >>> round(need.add.value, 3), round(need.melt.value, 3)
    (6.667, 16.667)
    """
    _checked(weight, gold, silver)
    if not 0.0 < share < 1.0:
        raise MissingError(f"{share:g} is no share of a melt")
    return _inquarted(weight, gold, silver, weight * gold.times(1.0 / share) - weight)


def _checked(weight: Uncertain, gold: Uncertain, silver: Uncertain) -> None:
    if weight.value <= 0.0:
        raise MissingError("the weight is not above nothing")
    if not 0.0 < gold.value <= 1.0:
        raise MissingError("how much of it is gold is not a share above nothing")
    if silver.value < 0.0 or gold.value + silver.value > 1.0 + 1e-9:
        raise MissingError("gold and silver together are more than the piece")


def _inquarted(weight: Uncertain, gold: Uncertain, silver: Uncertain, add: Uncertain) -> Inquarted:
    notes = [HOPE]
    if add.value < 0.0:
        add = ZERO
        notes.append("there is enough of it already: nothing is to be added")
    melt = weight + add
    fine = weight * gold
    to_gold = (weight * silver + add) / fine
    share = fine / melt
    notes.extend(_warnings(to_gold.value, (ONE - share).value))
    return Inquarted(add, melt, to_gold, share, tuple(notes))


def _warnings(to_gold: float, others: float) -> list[str]:
    """What a melt of such a ratio does in acid; `others` is all that is not gold [g/g]."""
    attack, assay = usual_ratio("attack"), usual_ratio("assay")
    found = []
    others_to_gold = others / (1.0 - others) if others < 1.0 else float("inf")
    if others_to_gold < attack.low:
        found.append("too much gold to part: acid stops at the skin of it")
    elif others_to_gold < assay.low:
        found.append("little to part with: acid may leave silver in the gold")
    if assay.high is not None and to_gold > assay.high + 1e-9:
        found.append("so much silver lets the gold fall to powder: settle and filter it with care")
    return found
