"""One list item becomes one entry, or stays prose.

What follows the action is read by the table in heads.py; here it is decided whether a list item
begins with an action at all, and asked about where it looks as if it should have.
"""

from __future__ import annotations

import re
from functools import cache

from logbook.findings import differs_by_one
from logbook.model.amount import Dimension
from logbook.model.entry import Entry
from logbook.reading.amounts import amount_in
from logbook.reading.context import Reading
from logbook.reading.dates import read_when
from logbook.reading.draft import Draft
from logbook.reading.heads import HEADS
from logbook.reading.impossible import impossible_checked
from logbook.reading.labels import LABEL
from logbook.reading.spot_tests import read_spot_test
from logbook.reading.thing_heads import WORD
from logbook.reading.unread import unread_amounts, unread_labels
from logbook.reading.vocabulary import (
    action_phrases,
    action_starts,
    action_words,
    metal_named,
    reagent_named,
)
from logbook.reference import Action
from logbook.source import Span

_JOINT = re.compile(r"[\s:,–-]+")
_REMARK = re.compile(r"(?<=[\s,])\((?!k\s?=|[wmv]/[vw]\))([^()]*)\)")
_COUNTED = frozenset(
    {Dimension.MASS, Dimension.VOLUME, Dimension.TIME, Dimension.MONEY, Dimension.ENERGY}
)
LONGEST_ENTRY = 4000  # characters: a page full, and no entry of a person
# Time, money and electricity need no thing: a line that says only them was meant as one of these.
_SAID_ALONE = {Dimension.TIME: "worked", Dimension.MONEY: "spent", Dimension.ENERGY: "heated"}
_ABOUT_PROSE = frozenset({"action-without-thing", "entry-not-read"})


def read_entry(reading: Reading, words: Span, nested: tuple[Span, ...] = ()) -> Entry | None:
    """The entry in the words of a list item; None where the item is prose.

    What stops an entry from being used is reported in `reading.findings`.
    """
    start, end = words.start, words.end
    text = reading.source.text
    while end > start and text[end - 1] in " .\t\r\n":
        end -= 1
    position, when = start, None
    word, found = _opening(text, position, end)
    if found is None and (when := read_when(reading, start, end)) is not None:
        joint = _JOINT.match(text, when.span.end, end)
        position = joint.end() if joint else when.span.end
        word, found = _opening(text, position, end)
    if word is None or found is None:
        _asked_about(reading, words, word, position)
        return None
    after = text[word.end() : word.end() + 1]
    if after and after not in " :,\t\n\r.":
        return None
    action, planned = found
    if end - start > LONGEST_ENTRY:
        _too_long(reading, start, word.end())
        return None
    line = words.line
    draft = Draft(action, reading.span(start, end), line, planned, when, (word.end(), end))
    before = len(reading.findings)
    reading.broken = False
    reading.heard.clear()
    _blank_remarks(reading, draft, word.end(), end)
    is_entry = HEADS[action.reads](reading, draft, word.end(), end)
    if is_entry and nested and action.reads == "test":
        draft.tests = tuple(
            test
            for span in nested
            if (test := read_spot_test(reading, span.start, span.end, draft.tests))
        )
    if is_entry and not reading.broken:
        impossible_checked(reading, draft)
        unread_amounts(reading, draft)
        unread_labels(reading, draft)
    reading.text = text
    if not is_entry and not reading.broken:
        # What turned out to be prose is no place for doubts about its amounts.
        kept = [f for f in reading.findings[before:] if f.code in _ABOUT_PROSE]
        reading.findings[before:] = kept
    return draft.finished() if is_entry and not reading.broken else None


def _opening(
    text: str, start: int, end: int
) -> tuple[re.Match[str] | None, tuple[Action, bool] | None]:
    """The first word, or words, of an item and the action they name: "added", "topped up with"."""
    word = WORD.match(text, start, end)
    if word is None:
        return None, None
    first = word[0].lower()
    if first in action_starts() and (several := action_phrases().match(text, start, end)):
        return several, action_words()[" ".join(several[0].lower().split())]
    return word, action_words().get(first)


def _too_long(reading: Reading, start: int, end: int) -> None:
    reading.error(
        "entry-too-long",
        start,
        end,
        f"this entry is longer than {LONGEST_ENTRY} characters",
        "write an entry for each thing that was done",
    )


def _blank_remarks(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Blank out remarks in parentheses and line ends, so that every other place stays."""
    text = reading.source.text
    blanked = text[start:end]
    if "(" in blanked:
        for match in _REMARK.finditer(text, start, end):
            draft.remark_spans += ((match.start(1), match.end(1)),)
            blank = " " * (match.end() - match.start())
            blanked = blanked[: match.start() - start] + blank + blanked[match.end() - start :]
    if "\n" in blanked:
        blanked = blanked.replace("\n", " ").replace("\r", " ")
    if blanked != text[start:end]:
        reading.text = text[:start] + blanked + text[end:]


@cache
def _mistyped_action(word: str) -> str | None:
    """The action a word was meant to be, where a letter of it went wrong."""
    known = (form for form in action_words() if len(form) > 3 and differs_by_one(word, form))
    return next(known, None)


def _names_a_supply(text: str) -> bool:
    """Whether a reagent or a metal is named anywhere in some words."""
    return bool(reagent_named(text)) or any(metal_named(word) for word in WORD.findall(text))


def _asked_about(reading: Reading, words: Span, word: re.Match[str] | None, position: int) -> None:
    """Say once where a list item looks like an entry that was meant to count."""
    text = words.text
    if amount_in(reading, words.start, words.end, _COUNTED) is None and not LABEL.search(text):
        return
    known = action_words()
    near = _mistyped_action(word[0].lower()) if word else None
    others = [found[0] for found in WORD.finditer(text) if found[0].lower() in known]
    said = amount_in(reading, words.start, words.end, _SAID_ALONE)
    if near is None and not others and said is None and not _names_a_supply(text):
        return
    alone = "added" if said is None else _SAID_ALONE[said.dimension]
    suggestion = near or (others[0].lower() if others else alone)
    start, end = (word.start(), word.end()) if word else (position, words.end)
    reading.doubt(
        "entry-not-read",
        start,
        end,
        "this looks like an entry, and begins with no action that is known",
        "prose: nothing in it is counted",
        f'begin it with the action, for example "{suggestion}"',
    )
