"""How often a step was done: "3 times", "twice", at the start or the end of its words."""

from __future__ import annotations

import re

from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.vocabulary import SMALL_NUMBERS

_SOME_TIMES = rf"(once|twice|(?:{'|'.join(SMALL_NUMBERS)}) times)\b"
REPEATS = re.compile(rf"(\d+)\s?(?:times|x|×)(?!\w)|{_SOME_TIMES}", re.I)
_ENDS_REPEATED = re.compile(rf"\s(?:(\d+)\s?(?:times|x|×)|{_SOME_TIMES})$", re.I)
_TIMES_SAID = {"once": 1, "twice": 2} | {
    f"{word} times": number for word, number in SMALL_NUMBERS.items()
}


def repeat(draft: Draft, match: re.Match[str]) -> None:
    """Keep how often the step of an entry was done."""
    draft.repeats = int(match[1]) if match[1] else _TIMES_SAID[match[2].lower()]
    draft.repeats_said = True


def times_said(draft: Draft, reading: Reading, start: int, end: int) -> tuple[int, int]:
    """Read `3 times` at the start or the end of a step's head; what is left of the head."""
    if match := REPEATS.match(reading.text, start, end):
        repeat(draft, match)
        return match.end(), end
    if match := _ENDS_REPEATED.search(reading.text, start, end):
        repeat(draft, match)
        return start, match.start()
    return start, end
