"""Words that say that something was used, and not how much: "some", "a pinch of", "overnight".

An amount that is not known is never taken for nothing.
"""

from __future__ import annotations

import re
from functools import cache

from logbook.model.amount import Amount, Dimension
from logbook.reading.context import Reading
from logbook.reference import load
from logbook.source import Span

_OVERNIGHT = re.compile(r"over[- ]?night\b", re.I)


@cache
def _unknown_words() -> re.Pattern[str]:
    words = sorted(load("actions.toml")["unknown"]["words"], key=len, reverse=True)
    return re.compile("(?:" + "|".join(re.escape(word) for word in words) + r")\b(?!\s*\d)")


def unknown_amount(reading: Reading, start: int, end: int) -> tuple[Amount, int] | None:
    """`some`, `a pinch of`, `overnight`: something was used, and nobody knows how much."""
    text = reading.text
    if night := _OVERNIGHT.match(text, start, end):
        span = Span(reading.source, start, night.end())
        note = "overnight: no times were written on both sides of it"
        return Amount(span, Dimension.TIME, "h", None, None, note=note), night.end()
    match = _unknown_words().match(text, start, end)
    if match is None:
        return None
    return _not_said(Span(reading.source, start, match.end())), match.end()


@cache
def _loose_measures() -> re.Pattern[str]:
    words = "|".join(map(re.escape, load("actions.toml")["unknown"]["measures"]))
    return re.compile(rf"\s+(?:{words})\b(?:\s+of\b)?", re.I)


def loose_measure(
    reading: Reading, start: int, position: int, end: int
) -> tuple[Amount, int] | None:
    """`15 drops`, `3 capfuls of`: counted, by a measure of which nobody knows the size."""
    match = _loose_measures().match(reading.text, position, end)
    if match is None:
        return None
    return _not_said(Span(reading.source, start, match.end())), match.end()


def _not_said(span: Span) -> Amount:
    note = f'"{span.text}" was used, and not said how much'
    return Amount(span, Dimension.COUNT, "", None, None, note=note)
