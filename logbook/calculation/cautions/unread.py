"""What a writer may have meant as an entry though it was not read as one, for cautions only.

A slip in a line must not hide a danger: list items that tell of something done, and paragraphs
that begin with an action, are looked at for what they name. Other paragraphs are looked at for
the gravest pairs only, each paragraph by itself. No figure ever rests on them, and nothing of a
private note is looked at.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from logbook.calculation.cautions.rules import rule_book
from logbook.model.entry import Entry, Label
from logbook.model.run import Block, Prose, Stage
from logbook.reference import actions
from logbook.source import Span

UNREAD = "not read"
"""Stands for the action of an item that names none."""

TOLD = "told"
"""Stands for the action of a paragraph that was not meant as an entry."""

_ORDER = re.compile(r"(?:^|(?<=[.!?:])\s+)(?:never|do not|don't)\b[^.!?]*[.!?]?", re.IGNORECASE)
_TO_BUY = re.compile(r"\b(?:buy|shopping|order|ordered|need|needed)\b", re.IGNORECASE)

_ABSENT = re.compile(r"\bno \w+(?: \w+)?(?=[,.;])", re.IGNORECASE)

_MARK = r"(?:[-*+]|\d+[.)])[ \t]+"
_CHUNK = re.compile(
    rf"^[ \t]*(?P<mark>{_MARK})?(?P<words>\S.*(?:\n[ \t]*(?!{_MARK})\S.*)*)", re.MULTILINE
)
_WORD = re.compile(r"[^\W\d_]+")
_LABEL = re.compile(r"(?:\b(?P<into>into|in|to)\s+(?:\w+\s+){0,3})?\[(?P<name>[^\[\]\n]+)\](?!\()")
_SENTENCE = re.compile(r"[^.!?]+[.!?]*")
_OPENING = 4  # words of an item among which its verb is looked for, a date standing before it


@cache
def _ignored() -> re.Pattern[str]:
    return re.compile("|".join(map(re.escape, rule_book().ignored)), re.IGNORECASE)


@cache
def action_words() -> Mapping[str, str]:
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
        if word in action_words():
            return action_words()[word]
    done = any(word.endswith("ed") or word in rule_book().done for word in opening)
    return UNREAD if is_item and done else None


def _chunks(block: Block) -> Iterator[tuple[str | None, bool, Span]]:
    """The items and paragraphs of open prose: what each was meant for, and whether an item."""
    if not isinstance(block, Prose) or block.private:
        return
    for chunk in _CHUNK.finditer(block.span.text):
        is_item = chunk["mark"] is not None
        action = _action_meant(chunk["words"], is_item)
        if action == "private":
            continue
        start = block.span.start + chunk.start("words")
        yield action, is_item, Span(block.span.source, start, block.span.start + chunk.end())


def unread_items(stage: Stage) -> Iterator[Entry]:
    """The items of a stage's prose that may have been meant as entries."""
    for block in stage.blocks:
        for action, _, span in _chunks(block):
            if action is not None:
                sources, destinations = _labels_in(span)
                yield Entry(
                    *(action, span, span.line),
                    words=UNREAD,
                    sources=sources,
                    destinations=destinations,
                )


def _labels_in(span: Span) -> tuple[tuple[Label, ...], tuple[Label, ...]]:
    """The labels of a text that was not read: what is taken of, and what is poured into."""
    found: tuple[list[Label], list[Label]] = [], []
    for label in _LABEL.finditer(span.text):
        place = Span(span.source, span.start + label.start("name"), span.start + label.end("name"))
        found[label["into"] is not None].append(Label(place, label["name"].strip()))
    return tuple(found[0]), tuple(found[1])


def told_labels(text: str) -> Iterator[str]:
    """The labels that a paragraph names.

    >>> list(told_labels("The rest went into [W-2], see [the guide](guide.md)."))
    ['W-2']
    """
    for label in _LABEL.finditer(text):
        yield label["name"].strip()


def written(blocks: Iterable[Block]) -> Iterator[Entry]:
    """Every item and paragraph of open prose, whatever it was meant for."""
    for block in blocks:
        for _, _, span in _chunks(block):
            yield Entry(TOLD, span, span.line, words=span.text)


def told_paragraphs(blocks: Iterable[Block]) -> Iterator[Entry]:
    """The paragraphs of open prose: no entries, looked at for the gravest pairs only.

    A list of things without a verb is taken as one paragraph, a list of what to buy as none.
    """
    for block in blocks:
        listed = []
        for action, is_item, span in _chunks(block):
            if not is_item:
                yield Entry(TOLD, span, span.line, words=span.text)
            elif action in (None, UNREAD) and not _TO_BUY.search(span.text):
                listed.append(span)
        if listed:
            words = "\n".join(span.text for span in listed)
            yield Entry(TOLD, listed[0], listed[0].line, words=words)


def told_pours(text: str) -> Iterator[tuple[str, str]]:
    """The labels into which a paragraph says that something went, each with that sentence.

    >>> list(told_pours("A long day. The rest of the bleach went into [W-2]. Tea."))
    [('W-2', 'The rest of the bleach went into [W-2].')]
    """
    for sentence in _SENTENCE.findall(without_denials(text)):
        for label in _LABEL.finditer(sentence):
            if label["into"] == "into":
                yield label["name"].strip(), sentence.strip()


def heading_told(stage: Stage) -> Entry:
    """The heading of a stage, where a run has nothing else to point to."""
    start, source = stage.span.start, stage.span.source
    span = Span(source, start, start + len(source.line(stage.span.line)))
    return Entry(TOLD, span, span.line, words=UNREAD)


def without_denials(text: str) -> str:
    """A text without what it forbids, what it says was not there, and smells.

    >>> without_denials("Never mix these. It had a smell of chlorine, and I left.")
    '  It had a , and I left.'
    """
    return _ignored().sub("", _ABSENT.sub(" ", _ORDER.sub(" ", text)))
