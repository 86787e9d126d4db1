"""Two reckoned figures in one log about the same thing that cannot both be right."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from logbook.calculation.claims.written import written
from logbook.calculation.results import ClaimCheck

Subject = tuple[str, str, str, frozenset[str], bool]
_IDLE = frozenset({"of", "the", "a", "an", "is", "was", "about", "run", "this", "in"})


@dataclass(frozen=True, slots=True)
class Limits:
    """A claim with the limits that it leaves open, rounded and in doubt as it is."""

    place: int
    check: ClaimCheck
    low: float
    high: float


def contradictions(checks: Sequence[ClaimCheck]) -> tuple[ClaimCheck, ...]:
    """The claims of a log, each that another contradicts with a word on that.

    Two contradict each other where they say the same words of the same things and their limits
    do not meet. Where the book tells which of them is wrong, nothing needs to be added.
    """
    found = list(checks)
    by_subject: dict[Subject, list[Limits]] = {}
    for place, check in enumerate(found):
        subject, limits = _subject(check), _limits(place, check)
        if subject is not None and limits is not None:
            by_subject.setdefault(subject, []).append(limits)
    for same in by_subject.values():
        lowest = min(same, key=lambda one: one.high)
        highest = max(same, key=lambda one: one.low)
        for one in same:
            other = _contradicted_by(one, lowest, highest)
            if other is not None:
                found[one.place] = _with_word(one.check, other.check)
    return tuple(found)


def _subject(check: ClaimCheck) -> Subject | None:
    """What a claim is about: its words, its dimension, its things, whether in all.

    None where it names nothing, or where the book has told already that it is wrong.
    """
    claim = check.entry.claim
    if claim is None or check.agrees == "no":
        return None
    words = re.findall(r"\w+", f"{claim.what} {claim.of}".lower())
    about = " ".join(sorted({one for one in words if one not in _IDLE}))
    labels = frozenset(one.name for one in claim.labels)
    if not about and not labels:
        return None
    at = f"{claim.at.base_value:g}" if claim.at is not None and claim.at.base_value else ""
    measures = f"{claim.amount.dimension.value} {claim.amount.per}"
    return about, at, measures, labels, check.entry.in_all


def _limits(place: int, check: ClaimCheck) -> Limits | None:
    """The limits of a claim: half of its last digit, and twice a doubt that it states."""
    claim, value = check.entry.claim, check.claimed.value
    if claim is None or value is None:
        return None
    figure = written(claim.amount, comma=False)
    wide = (figure.half if figure is not None else 0.0) + 2.0 * value.u + 1e-12
    return Limits(place, check, value.value - wide, value.value + wide)


def _contradicted_by(one: Limits, lowest: Limits, highest: Limits) -> Limits | None:
    """Of all claims of the same subject one that does not meet it.

    If any does not, then the one that reaches least far up, or the one that begins furthest up:
    many claims take no longer than each of them alone.
    """
    if lowest.high < one.low:
        return lowest
    return highest if highest.low > one.high else None


def _with_word(check: ClaimCheck, other: ClaimCheck) -> ClaimCheck:
    claim = other.entry.claim
    assert claim is not None
    said = " ".join(claim.amount.span.text.split())
    words = f"line {other.entry.line} reckons {said} for the same: both cannot be right"
    return replace(check, why=f"{check.why}; {words}")
