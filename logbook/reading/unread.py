"""Amounts in the words of an entry that became nothing: each is said, so that none is lost.

This looks at what was read, after it was read; it gives no amount a meaning of its own.
"""

from __future__ import annotations

import re

from logbook.model.amount import Dimension
from logbook.model.entry import Label
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.labels import labels_in

# Labels are taken whole, because their figures are names. A figure with no unit counts things.
_FIGURES = re.compile(
    r"\[[^\]]*\]|\d[\d.,/]*(?=\s?(?!times\b|[x×]\s)[^\W\d_]|\s?[%$€£])|[$€£]\s?\d"
)
# What these say is words, or has its own shape: figures in it are not amounts of the entry.
_WORDED = frozenset({"tested", "broke", "reckoned", "ask", "private", "found"})


def unread_amounts(reading: Reading, draft: Draft) -> None:
    """Report every amount with a unit in an entry that is no part of what was read of it.

    Words in parentheses are remarks, and may say what they like.
    """
    text = reading.text  # with its remarks blanked out
    start, end = draft.head
    figures = [
        match.start() for match in _FIGURES.finditer(text, start, end) if text[match.start()] != "["
    ]
    if len(figures) <= len(reading.heard) or draft.action.name in _WORDED:
        return  # one for each amount that was heard, as in most entries
    heard = frozenset(reading.heard)
    for figure in figures:
        if not any(first <= figure < last for first, last in heard):
            _say(reading, figure, end)


def unread_labels(reading: Reading, draft: Draft) -> None:
    """Report a label of an entry about things that names none of them, where they have none."""
    text = reading.text
    if draft.action.reads != "thing" or draft.action.name in {*_WORDED, "spent"}:
        return
    if text.find("[", *draft.head) < 0 or any(one.labels for one in draft.portions):
        return
    heard = {one.span.start for one in (*draft.sources, *draft.destinations)}
    heard |= {label.span.start for one in draft.supplies for label in one.labels}
    for label in labels_in(reading, *draft.head):
        if label.span.start not in heard and not _is_reported(reading, label):
            reading.doubt(
                "label-unread",
                label.span.start,
                label.span.end,
                f"[{label.name}] names nothing in this entry",
                "words: no label was read",
                "put it right behind the thing, or behind into or from",
            )


def _is_reported(reading: Reading, label: Label) -> bool:
    place = label.span
    return any(one.span.start <= place.start < one.span.end for one in reading.findings)


def _say(reading: Reading, start: int, end: int) -> None:
    before = len(reading.findings)
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    del reading.findings[before:]
    if found is None or found[0].dimension is Dimension.COUNT:
        return
    reading.doubt(
        "amount-unread",
        start,
        found[1],
        f'"{found[0].span.text}" is not read as anything in this entry',
        "words: it is not counted",
        "put it right behind the action, or after a comma with what it is for",
    )
