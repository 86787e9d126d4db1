"""A question as a whole: whether it asks for leave, and whether some of its words were left out.

What was not used is said, and a question that asks for something else is refused: an answer to
another question is worse than none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from logbook.chemistry.named_alloys import alloy_named
from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question, Refusal
from logbook.reading.asking import Asking
from logbook.reading.labels import LABEL
from logbook.reading.question_parts import amounts_in, metals_in
from logbook.reading.vocabulary import metal_named
from logbook.reference import metal_words, reagent_words, reagents
from logbook.source import Span

NO_LEAVE = (
    "leave to do it: this program gives no leave. Local law and codes, and those who are "
    "licensed for such work, decide"
)
_PERSON = r"(?:I|we|you|one|someone|somebody|anyone|anybody|people)"
_HARMLESS = (
    r"(?<!\w)(?:safe|safely|ok|okay|all\s+right|alright|fine\s+(?:to|if)|allowed|legal|permitted|"
    r"harmless|dangerous|advisable)(?!\w)"
)
_LEAVE = re.compile(
    rf"(?<!\w)(?:can|may|could|should|might|shall)\s+{_PERSON}\b(?!\s+need)"
    r"|(?<!\w)(?:can|may|could|should|might|shall)\s+(?:it|this|that|they)\s+(?:be|stay|stand|go)\b"
    r"|(?<!\w)am\s+I\s+allowed\b"
    rf"|^\W*(?:is|are|would|will|was)\b.*{_HARMLESS}"
    rf"|(?<!\w)(?:is|are|would)\s+(?:it|this|that|they)\s+(?:be\s+)?{_HARMLESS}",
    re.I | re.S,
)
_AMOUNT_ASKED = re.compile(r"^\W*(?:and|so)?\W*how\s+(?:much|many)\b", re.I)

_TURNS = re.compile(
    r"(?<!\w)(?:left(?:\s+over)?|remains?|(?:is|are)\s+(?:remaining|unused|leftover)|"
    r"stor(?:e|es|ed|ing|age)|keep|keeping|drains?(?!\s+clean)|sink|overnight|costs?|price|how\s+long)(?!\w)",
    re.I,
)
_OF_STOCK = frozenset({Kind.CONTENT, Kind.STOCK, Kind.ENOUGH, Kind.PLAN, Kind.WORTH, Kind.FINENESS})
_COUNTED = frozenset(Dimension) - {Dimension.COUNT, Dimension.PH}


def asks_for_leave(text: str) -> bool:
    """Whether a question asks if something may be done, or is safe.

    >>> asks_for_leave("can I store aqua regia?"), asks_for_leave("salt to drop 80 g silver?")
    (True, False)
    """
    return _LEAVE.search(text) is not None and _AMOUNT_ASKED.search(text) is None


def with_unread(asking: Asking, question: Question, said: str) -> Question | Refusal:
    """A question with all of its weighty words that nobody read; a refusal if one turns it.

    `said` is the question as it was before any of it was read.
    """
    turn = _TURNS.search(_unlabelled(said)) if question.kind not in _OF_STOCK else None
    if turn is not None:
        words = " ".join(turn[0].split())
        return asking.refusal(f'what "{words}" asks for was not understood')
    part = asking.whole
    rest = _unlabelled(asking.reading.text[part.start : part.end])
    found = [*_amounts(asking, question), *_names(question, rest)]
    told = " ".join(question.unread)
    new = tuple(words for words in dict.fromkeys(found) if words not in told)
    return replace(question, unread=(*question.unread, *new)) if new else question


def _unlabelled(text: str) -> str:
    """Some words with the labels blanked out."""
    return LABEL.sub(lambda match: " " * len(match[0]), text)


def _portions(question: Question) -> Iterator[Portion]:
    yield from question.asked
    yield from (material.portion for material in question.of)


def _amounts(asking: Asking, question: Question) -> Iterator[str]:
    """The amounts that stand in the question and were used for nothing."""
    used = list(_used(question))
    reading, before, broken = asking.reading, len(asking.reading.findings), asking.reading.broken
    for amount in list(amounts_in(reading, asking.whole, _COUNTED)):
        span = amount.span
        if not any(one.start < span.end and span.start < one.end for one in used):
            yield " ".join(span.text.split())
    reading.findings[before:], reading.broken = [], broken


def _used(question: Question) -> Iterator[Span]:
    for portion in _portions(question):
        yield from (one.span for one in (portion.amount, portion.strength) if one is not None)
        yield from (label.span for label in portion.labels)
    yield from (one.span for material in question.of for one in material.holds)
    yield from (amount.span for _, amount in question.amounts)
    yield from (label.span for label in question.labels)


@cache
def _named() -> re.Pattern[str]:
    words = sorted({*reagent_words(), *map(str.lower, metal_words())}, key=len, reverse=True)
    known = "|".join(map(re.escape, (word for word in words if len(word) > 2)))
    return re.compile(rf"(?<![\w(])(?:{known})(?![\w(])", re.I)


def _names(question: Question, text: str) -> Iterator[str]:
    """The metals and reagents that stand in the question and were used for nothing."""
    used = {portion.reagent for portion in _portions(question)}
    used |= set(question.metals)
    used |= {one.metal for material in question.of for one in material.holds}
    for portion in _portions(question):
        used |= set(metals_in(portion.what))
        alloy = alloy_named(portion.what)
        used |= set(metals_in(alloy.name)) if alloy is not None else set()
    for found in _named().finditer(text):
        words = found[0]
        name = reagent_words().get(words.lower()) or metal_named(words) or ""
        water = name in reagents() and reagents()[name].formula == "H2O"
        if name not in used and not water:
            yield words
