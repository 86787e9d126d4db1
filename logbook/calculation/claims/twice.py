"""Two reckoned figures in one log about the same thing that cannot both be right."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from logbook.calculation.claims.written import written
from logbook.calculation.results import ClaimCheck

Subject = tuple[str, str, frozenset[str], bool]
_IDLE = frozenset({"of", "the", "a", "an", "is", "was", "about", "run", "this", "in"})


def contradictions(checks: Iterable[ClaimCheck]) -> tuple[ClaimCheck, ...]:
    """The claims of a log, each that another contradicts with a word on that.

    Two contradict each other where they say the same words of the same things and their
    figures differ by more than what was rounded off.
    """
    found = list(checks)
    by_subject: dict[Subject, list[int]] = {}
    for place, check in enumerate(found):
        by_subject.setdefault(_subject(check), []).append(place)
    for places in by_subject.values():
        for place in places:
            others = [found[one] for one in places if one != place]
            found[place] = _with_word(found[place], others)
    return tuple(found)


def _subject(check: ClaimCheck) -> Subject:
    """What a claim is about: its words, its dimension, its things, whether in all."""
    claim = check.entry.claim
    assert claim is not None
    words = re.findall(r"[^\W\d_]+", f"{claim.what} {claim.of}".lower())
    about = " ".join(sorted({one for one in words if one not in _IDLE}))
    at = f"{claim.at.base_value:g}" if claim.at is not None and claim.at.base_value else ""
    labels = frozenset(one.name for one in claim.labels)
    return f"{about} {at}", claim.amount.dimension.value, labels, check.entry.in_all


def _with_word(check: ClaimCheck, others: Iterable[ClaimCheck]) -> ClaimCheck:
    for other in others:
        one, two = check.claimed.value, other.claimed.value
        if one is None or two is None:
            continue
        allowed = _half(check) + _half(other) + 2.0 * (one.u**2 + two.u**2) ** 0.5
        if abs(one.value - two.value) > allowed + 1e-12:
            claim = other.entry.claim
            assert claim is not None
            said = " ".join(claim.amount.span.text.split())
            words = f"line {other.entry.line} reckons {said} for the same: both cannot be right"
            return replace(check, why=f"{check.why}; {words}")
    return check


def _half(check: ClaimCheck) -> float:
    """Half of the last digit that was written."""
    claim = check.entry.claim
    found = written(claim.amount, comma=False) if claim is not None else None
    return found.half if found is not None else 0.0
