"""A question in plain words becomes a record of what is asked, or a refusal that says what lacks.

Each kind of question has a row in the table below: its readers are tried in order, and the
first that knows the question for its own reads it. Nothing is worked out here.
"""

from __future__ import annotations

from difflib import SequenceMatcher

from logbook.findings import Weight
from logbook.model.book import Customs
from logbook.model.question import Question, Refusal
from logbook.reading.asking import Asking, Form
from logbook.reading.context import Reading
from logbook.reading.question_forms import FORMS
from logbook.reading.question_parts import trimmed, without_small_talk
from logbook.reading.question_whole import NO_LEAVE, asks_for_leave, with_unread
from logbook.source import SourceText

LONGEST_QUESTION = 400  # characters: a sentence or two
IDLE = frozenset({"a", "and", "at", "for", "from", "g", "in", "is", "of", "the", "this", "to"})
WHAT = "what is asked for"


def read_question(reading: Reading, start: int, end: int) -> Question | Refusal:
    """The question between two offsets of a text.

    Doubts about its amounts are among the reading's findings; what stops an amount from being
    used makes it a refusal.
    """
    text, broken = reading.text, reading.broken
    before = len(reading.findings)
    part = trimmed(reading, start, end)
    asking = Asking(reading, part, " ".join(text[part.start : part.end].split()))
    try:
        if end - start > LONGEST_QUESTION:
            return _not_understood(asking, (f"a question of at most {LONGEST_QUESTION} letters",))
        reading.text = without_small_talk(reading, part.start, part.end)
        asking.whole = trimmed(reading, part.start, part.end)
        answer = _no_leave(asking) if asks_for_leave(asking.text) else _read(asking)
        wrong = [one for one in reading.findings[before:] if one.weight is Weight.ERROR]
        if wrong:
            reading.findings[before:] = []
            hints = tuple(dict.fromkeys(f"{one.headline}: {one.hint}" for one in wrong))
            form = asking.form.example if asking.form else _nearest(asking.text)
            return Refusal(asking.text, asking.span, "", hints, form)
        return answer
    finally:
        reading.text, reading.broken = text, broken


def question_in(text: str, customs: Customs) -> tuple[Question | Refusal, Reading]:
    """A question that stands alone, with the reading that holds the doubts about it.

    >>> question_in("salt to drop 80 g silver?", Customs())[0].kind
    <Kind.DROP: 'precipitant to drop'>
    """
    reading = Reading(SourceText("", text), customs)
    return read_question(reading, 0, len(text)), reading


def _read(asking: Asking) -> Question | Refusal:
    reading = asking.reading
    text, whole, before = reading.text, asking.whole, len(reading.findings)
    for form in FORMS:
        asking.form = form
        found = form.read(asking)
        if found is not None:
            if isinstance(found, Question):
                return with_unread(asking, found, text[whole.start : whole.end])
            return found
        # What a reader found that was not meant was none of its business.
        reading.text, asking.whole, reading.findings[before:] = text, whole, []
    asking.form = None
    return _not_understood(asking, (WHAT,))


def _no_leave(asking: Asking) -> Refusal:
    return Refusal(asking.text, asking.span, "it asks whether something may be done", (NO_LEAVE,))


def _not_understood(asking: Asking, missing: tuple[str, ...]) -> Refusal:
    return Refusal(asking.text, asking.span, "", missing, _nearest(asking.text))


def _nearest(text: str) -> str:
    """The example that is most like a question; empty where none shares a word with it."""
    words = text.lower().replace("?", "").split()

    def likeness(form: Form) -> float:
        other = form.example.lower().replace("?", "").split()
        shared = len(set(words).intersection(other).difference(IDLE))
        return shared + SequenceMatcher(None, words, other).ratio() if shared else 0.0

    nearest = max(FORMS, key=likeness)
    return nearest.example if likeness(nearest) else ""
