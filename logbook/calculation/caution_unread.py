"""What a writer may have meant as an entry though it was not read as one, for cautions only.

A slip in a line must not hide a danger: list items that tell of something done, and paragraphs
that begin with an action, are looked at for what they name. No figure ever rests on them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from logbook.calculation.caution_rules import rule_book
from logbook.model.entry import Entry
from logbook.model.run import Prose, Stage
from logbook.reference import actions
from logbook.source import Span

UNREAD = "not read"
"""Stands for the action of an item that names none."""

_MARK = r"(?:[-*+]|\d+[.)])[ \t]+"
_CHUNK = re.compile(
    rf"^[ \t]*(?P<mark>{_MARK})?(?P<words>\S.*(?:\n[ \t]*(?!{_MARK})\S.*)*)", re.MULTILINE
)
_WORD = re.compile(r"[^\W\d_]+")
_OPENING = 4  # words of an item among which its verb is looked for, a date standing before it


@cache
def _action_words() -> Mapping[str, str]:
    """Every form of an action that is one word, with the action's name."""
    return {
        form.lower(): action.name
        for action in actions().values()
        for form in (action.name, *action.forms, *action.plain)
    }


def _action_meant(words: str, is_item: bool) -> str | None:
    """The action an item may have been meant for; None where it tells of nothing done."""
    opening = [word.lower() for word in _WORD.findall(words)[: _OPENING if is_item else 1]]
    for word in opening:
        if word in _action_words():
            return _action_words()[word]
    done = any(word.endswith("ed") or word in rule_book().done for word in opening)
    return UNREAD if is_item and done else None


def unread_items(stage: Stage) -> Iterator[Entry]:
    """The items of a stage's prose that may have been meant as entries."""
    for block in stage.blocks:
        if not isinstance(block, Prose) or block.private:
            continue
        for chunk in _CHUNK.finditer(block.span.text):
            action = _action_meant(chunk["words"], chunk["mark"] is not None)
            if action in (None, "private"):
                continue
            start = block.span.start + chunk.start("words")
            span = Span(block.span.source, start, block.span.start + chunk.end())
            yield Entry(action or UNREAD, span, span.line, words=UNREAD)
