"""A weighing under water: the piece hangs in a liquid that bears it up, and shows no mass.

Only what stands in such a clause is read here; what it tells of a density is worked out later.
"""

from __future__ import annotations

import re

from logbook.model.amount import Dimension
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.labels import LABEL, labels_in
from logbook.reading.things import words_of
from logbook.reading.vocabulary import reagent_named
from logbook.reference import reagents

WEIGHINGS = frozenset({"weighed", "measured"})
_WATER = re.compile(r"\bwater\b", re.I)
_UNDER_WATER = re.compile(
    r"(?:(?:hung|hanging|held|suspended)\s+)?(?:under\s*water|(?:sub|im)mersed)\b", re.I
)


def is_under_water(draft: Draft, text: str, start: int, end: int) -> bool:
    """Whether `under water` behind a weighing stands at `start`."""
    return draft.action.name in WEIGHINGS and bool(_UNDER_WATER.match(text, start, end))


def is_immersion(draft: Draft, words: str) -> bool:
    """Whether what a thing was weighed in is a liquid that bears it up."""
    if draft.action.name not in WEIGHINGS:
        return False
    if _WATER.search(words):
        return True
    reagent = reagent_named(words)
    return bool(reagent) and reagents()[reagent].state == "liquid"


def read_immersion(reading: Reading, draft: Draft, start: int, end: int) -> int:
    """Read which liquid it was, how warm, and the labels behind it; where the rest begins."""
    text = reading.text
    warm = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    if warm is not None and warm[0].dimension is Dimension.TEMPERATURE:  # in 21 C water
        draft.conditions += (warm[0],)
        start = warm[1]
    water = _WATER.search(text, start, end)
    last = water.end() if water else end
    draft.immersed = words_of(reading, start, last).removeprefix("the ")
    draft.more_labels += labels_in(reading, last, end)
    rest = max([last, *(label.end() for label in LABEL.finditer(text, last, end))])
    while rest < end and text[rest] in " :":
        rest += 1
    return rest
