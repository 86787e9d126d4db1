"""Spot tests: `tested THING with TEST: what was seen`, and the lines nested below one."""

from __future__ import annotations

import re

from logbook.model.entry import SpotTest
from logbook.reading.context import Reading
from logbook.reading.labels import LABEL, labels_in
from logbook.reading.things import words_of
from logbook.reading.vocabulary import finding_of

_SEEN = re.compile(r":(?=\s|$)")
_WITH = re.compile(r"(?:^|(?<=\s))with\s+")


def read_spot_test(
    reading: Reading, start: int, end: int, above: tuple[SpotTest, ...]
) -> SpotTest | None:
    """The test between two offsets; `above` is the entry that a nested line belongs to.

    Without a thing the charge was tested; without words after a colon nothing was seen yet.
    """
    text = reading.text
    colon = _SEEN.search(text, start, end)
    head_end = colon.start() if colon else end
    seen = words_of(reading, colon.end(), end) if colon else ""
    with_ = _WITH.search(text[:head_end], start)
    outer = above[0] if above else None
    if with_ is not None:
        thing = _thing(text[start : with_.start()])
        test = words_of(reading, with_.end(), head_end)
    elif outer is not None:
        thing, test = _thing(text[start:head_end]), outer.test
    else:
        thing, test = "", words_of(reading, start, head_end)
    if not test and not seen:
        return None
    labels = labels_in(reading, start, head_end)
    return SpotTest(reading.span(start, end), thing, labels, test, seen, finding_of(seen))


def _thing(words: str) -> str:
    """The thing in the writer's words; empty where nothing but its label is said."""
    return " ".join(words.split()) if LABEL.sub("", words).strip() else ""
