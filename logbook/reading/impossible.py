"""What cannot be: contents over 100 %, and contents heavier than the thing that holds them.

Looked for once an entry has been read. Each costs only what is impossible, so that the rest of
the entry still counts; what is merely unlikely is no business of this module.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import hypot

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Composition, Portion
from logbook.reading.context import Reading
from logbook.reading.draft import Draft

BEYOND_DOUBT = 2.0  # standard uncertainties
_OVER = "100 % is all there is of anything: correct the figure"


def impossible_checked(reading: Reading, draft: Draft) -> None:
    """Report what is impossible in the contents and strengths of an entry, and leave it out."""
    if draft.compositions:
        _less_than_nothing_out(draft)
        weighed = _weight_of(draft.portions)
        for one in draft.compositions:
            _alone_checked(reading, draft, one, weighed)
        if len(draft.compositions) > 1 and len(draft.portions) < 2:
            _together_checked(reading, draft, weighed)
    if any(one.strength is not None for one in draft.portions):
        draft.portions = tuple([_strength_checked(reading, one) for one in draft.portions])
    if any(one.strength is not None for one in draft.supplies):
        draft.supplies = tuple([_strength_checked(reading, one) for one in draft.supplies])


def _less_than_nothing_out(draft: Draft) -> None:
    """Leave out contents that have no figure at all: the reader of amounts said why."""
    draft.compositions = tuple(
        [one for one in draft.compositions if one.amount.known or one.amount.high is not None]
    )


def _weight_of(portions: tuple[Portion, ...]) -> Amount | None:
    """The weight of the one thing that an entry speaks of; None where there is none."""
    if len(portions) != 1:
        return None
    both = (portions[0].amount, portions[0].second)
    weights = [one for one in both if one is not None and one.dimension is Dimension.MASS]
    return weights[0] if weights and weights[0].base_value else None


def _share(one: Composition, weighed: Amount | None) -> tuple[float, float] | None:
    """The part of the thing that a content is, and its standard uncertainty; None if unknown.

    Equation: w = m / M [g/g], u(w) = hypot(u(m), w u(M)) / M. Source: the definition of a mass
    fraction; propagation JCGM 100:2008, 5.1.2 (from memory).
    """
    amount = one.amount
    if amount.base_value is None:
        return None
    u = amount.base_u or 0.0
    if amount.dimension is Dimension.FRACTION:
        return amount.base_value, u
    if amount.dimension is not Dimension.MASS or weighed is None or not weighed.base_value:
        return None
    whole = weighed.base_value
    part = amount.base_value / whole
    return part, hypot(u, part * (weighed.base_u or 0.0)) / whole


def _is_too_much(shares: Iterable[tuple[float, float]]) -> bool:
    found = list(shares)
    whole = sum(part for part, _ in found)
    return whole - BEYOND_DOUBT * hypot(*(u for _, u in found)) > 1.0


def _alone_checked(
    reading: Reading, draft: Draft, one: Composition, weighed: Amount | None
) -> None:
    share = _share(one, weighed)
    if share is None or not _is_too_much([share]):
        return
    draft.compositions = tuple([other for other in draft.compositions if other is not one])
    instead = f"how much {one.metal} it holds is not known; the rest of the entry counts"
    start, end = one.span.start, one.span.end
    if one.amount.dimension is Dimension.FRACTION:
        headline = f'"{one.span.text}" is more than all of it'
        reading.refuse("content-over-100", start, end, headline, instead, _OVER)
        return
    assert weighed is not None
    headline = f"more {one.metal} than the whole thing weighs, {weighed.span.text}"
    hint = "correct the weight or the content; a content per weight is written 5 g/kg or 0.5 %"
    reading.refuse("content-too-heavy", start, end, headline, instead, hint)


def _together_checked(reading: Reading, draft: Draft, weighed: Amount | None) -> None:
    """Several metals of one thing, each possible, that are together more than all of it."""
    latest = {one.metal: one for one in draft.compositions}
    shares = {metal: _share(one, weighed) for metal, one in latest.items()}
    known = [share for share in shares.values() if share is not None]
    if len(known) < 2 or not _is_too_much(known):
        return
    metals = [metal for metal, share in shares.items() if share is not None]
    whole = sum(part for part, _ in known)
    refused = [one for one in draft.compositions if one.metal in metals]
    draft.compositions = tuple([one for one in draft.compositions if one not in refused])
    named = f"{', '.join(metals[:-1])} and {metals[-1]}"
    reading.refuse(
        "contents-over-100",
        min(one.span.start for one in refused),
        max(one.span.end for one in refused),
        f"{named} are together {100 * whole:.4g} % of it, beyond their doubts",
        f"how much {named} it holds is not known; the rest of the entry counts",
        _OVER,
    )


def _strength_checked(reading: Reading, portion: Portion) -> Portion:
    strength = portion.strength
    if strength is None or strength.dimension is not Dimension.FRACTION:
        return portion
    if strength.base_value is None:
        return portion
    if not _is_too_much([(strength.base_value, strength.base_u or 0.0)]):
        return portion
    reading.refuse(
        "strength-over-100",
        strength.span.start,
        strength.span.end,
        f'a strength of "{strength.span.text}" is more than all of it',
        "how strong it is is not known; the rest of the entry counts",
        _OVER,
    )
    return replace(portion, strength=None)
