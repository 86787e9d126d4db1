"""How fine an alloy of two metals is, from its density; a claim about the two metals, no proof.

What the density of a piece allows is worked out for one partner after another. A density that
no mixture of the two has gives no fineness, and says what may be the reason.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from logbook.chemistry.alloys import Pair, excess_at, pair_of, usual_partners
from logbook.chemistry.density import ONE, metal_density
from logbook.chemistry.ranges import MissingError, Range
from logbook.model.amount import Uncertain
from logbook.reference import load

ROUNDS = 30  # each brings the share about a hundred times nearer
ALWAYS = (
    "taken for granted: nothing but {metal} and {partner} is in it; solder, plating, a core or "
    "a third metal would change the figure without a trace"
)


@dataclass(frozen=True, slots=True)
class Fineness:
    """The mass share of a metal in an alloy with one partner [g/g], by its density.

    `value` is None where only `limits` or nothing can be given; `why` then says why, in words
    that finish "not known, because ...". `limits` are two standard uncertainties either way.
    `added` is what volumes that simply add would give, without the excess volume of the alloy.
    """

    metal: str
    partner: str
    value: Uncertain | None
    limits: Range | None
    added: float
    why: str
    notes: tuple[str, ...]


def share_by_density(density: Uncertain, metal: Uncertain, partner: Uncertain) -> Uncertain:
    """The mass share of a metal in an alloy of two whose volumes add [g/g].

    Equation: w = ρ_a (ρ − ρ_b) / (ρ (ρ_a − ρ_b)), ρ of the alloy, ρ_a of the metal, ρ_b of
    its partner [g/cm3]. It follows from 1/ρ = w/ρ_a + (1 − w)/ρ_b. Source: additivity of
    volumes; propagation JCGM 100:2008, 5.1.2.

    Trade notes give 17.62 for 916.7 of gold (19.32) with copper (8.9592):

    >>> round(share_by_density(Uncertain(17.62), Uncertain(19.32), Uncertain(8.9592)).value, 3)
    0.917
    """
    return metal * (density - partner) / (density * (metal - partner))


def fineness(metal: str, partner: str, density: Uncertain) -> Fineness:
    """The fineness of an alloy of a metal with one partner, from its density [g/cm3].

    Equation: `share_by_density` at the density that the alloy would have if its volumes
    added: ρ (1 + e), with e = 4 f (1 − f) E the excess volume at the share f of the volume
    (see `alloys.excess_at`). Its spread, and that of the densities of the pure metals, are
    part of the doubt.

    Raises:
        MissingError: where the tables lack a density, or how the two add.

    Rose has 16.03 for 750 of gold and 250 of silver. Volumes that add would make 0.757 of it
    (by hand, 19.3 × 5.53 / (16.03 × 8.8)):

    >>> found = fineness("gold", "silver", Uncertain(16.03))
    >>> round(found.added, 3), abs(found.value.value - 0.750) < 2 * found.value.u
    (0.757, True)
    """
    pair = pair_of(metal, partner)
    own, other = metal_density(metal), metal_density(partner)
    added = share_by_density(density, own, other).value
    if pair.excess is None:
        why = f"the volumes of {metal} and {partner} do not add: {pair.note or 'compounds form'}"
        return Fineness(metal, partner, None, None, added, why, ())
    share = _with_excess(pair, metal, density, own, other)
    return _judged(pair, metal, partner, share, added, looks_alike(metal, density.value))


def _with_excess(
    pair: Pair, metal: str, density: Uncertain, own: Uncertain, other: Uncertain
) -> Uncertain:
    assert pair.excess is not None
    share = share_by_density(density, own, other)
    for _ in range(ROUNDS):
        at = min(1.0, max(0.0, share.value))
        factor = ONE + pair.excess.times(excess_at(pair, at, metal))
        share = share_by_density(density * factor, own, other)
    return share


def _judged(
    pair: Pair,
    metal: str,
    partner: str,
    share: Uncertain,
    added: float,
    alike: tuple[str, ...],
) -> Fineness:
    """A share as a fineness, where it is one: from nothing to all of the piece."""
    doubt = 2.0 * share.u
    heavier = metal_density(metal).value > metal_density(partner).value
    if share.value + doubt < 0.0 or share.value - doubt > 1.0:
        above = (share.value > 1.0) == heavier
        why = _beyond(metal, partner, above)
        return Fineness(metal, partner, None, None, added, why, ())
    limits = Range(max(0.0, share.value - doubt), min(1.0, share.value + doubt))
    notes = (*_notes(pair, metal, partner, added, share), *alike)
    if 0.0 < share.value < 1.0:
        return Fineness(metal, partner, share, limits, added, "", notes)
    end = metal if share.value >= 1.0 else partner
    why = f"within its doubt the density is that of {end} alone, so that there are only limits"
    return Fineness(metal, partner, None, limits, added, why, notes)


def _beyond(metal: str, partner: str, above: bool) -> str:
    """What may be the matter with a piece that no mixture of the two is as light or heavy as."""
    if above:
        end = max((metal, partner), key=lambda one: metal_density(one).value)
        return (
            f"it is denser than {end}: another metal is in it, or a weighing is wrong "
            "(the wire not tared, the piece touching the glass, an ounce taken for another)"
        )
    end = min((metal, partner), key=lambda one: metal_density(one).value)
    low, high = _inclusions()
    return (
        f"it is lighter than {end}: it is hollow or porous, holds stones ({low:g} to {high:g} "
        "g/cm3) or another metal, had air bubbles on it, or a weighing is wrong"
    )


def _inclusions() -> tuple[float, float]:
    """The lightest and the heaviest of the stones in the data [g/cm3]."""
    rows = load("fineness.toml")["inclusion"]
    return min(row["low"] for row in rows), max(row["high"] for row in rows)


def _notes(pair: Pair, metal: str, partner: str, added: float, share: Uncertain) -> Iterable[str]:
    yield ALWAYS.format(metal=metal, partner=partner)
    if pair.holds == "fairly":
        yield f"the volumes of {metal} and {partner} add only fairly: {pair.note or 'see the data'}"
    assert pair.excess is not None
    if abs(added - share.value) > share.u:
        yield f"volumes that simply add would give {100.0 * added:.1f} %"


def looks_alike(metal: str, density: float) -> tuple[str, ...]:
    """What else has a density such as this one [g/cm3], in words; empty where nothing is known.

    >>> looks_alike("gold", 19.27)[0].startswith("tungsten has the density of gold")
    True
    """
    rows = load("fineness.toml")["alike"]
    return tuple(
        row["words"]
        for row in rows
        if row["metal"] == metal and row["low"] <= density <= row["high"]
    )


def by_partners(
    metal: str, density: Uncertain, partners: Iterable[str] = ()
) -> tuple[Fineness, ...]:
    """The fineness with each of several partners; without any, with the usual ones.

    Partners of which the tables do not say enough are left out.
    """
    found = []
    for partner in tuple(partners) or usual_partners(metal):
        try:
            found.append(fineness(metal, partner, density))
        except MissingError:
            continue
    return tuple(found)


def fineness_range(found: Iterable[Fineness]) -> Range:
    """The limits that hold whichever of the partners it is.

    Raises:
        MissingError: where none of them gives any.
    """
    each = tuple(found)
    known = [one.limits for one in each if one.limits is not None]
    if not known:
        reasons = dict.fromkeys(f"with {one.partner}, {one.why}" for one in each)
        raise MissingError("; ".join(reasons) or "no partner of the alloy is in the tables")
    highs = [one.high for one in known if one.high is not None]
    return Range(min(one.low for one in known), max(highs))
