"""What a plan takes its ratios from: `Like: RUN from STAGE on, without STAGE`, and `For: 1.2 kg`.

Which runs there are is not known here: a name is kept as it was written, and looked up when
the whole book is there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.run import Fact, Likeness
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reference import stage_words

_JOINT = re.compile(r"\s*[,;]\s*(?:and\s+)?|\s+and\s+")
_FROM = re.compile(
    r"(?:^|\s+)(?:from|since)\s+(?:the\s+)?(\S.*?)(?:\s+(?:on|onwards?))?(?=\s+without\s|$)", re.I
)
_WITHOUT = re.compile(r"(?:^|\s+)without\s+(?:the\s+)?(\S.*?)(?=\s+(?:from|since)\s|$)", re.I)


def read_likeness(reading: Reading, facts: tuple[Fact, ...]) -> tuple[Likeness, ...]:
    """The runs that a log names in its `Like:` lines, each with the stages that are meant."""
    found: list[Likeness] = []
    for fact in facts:
        if fact.word.lower() == "like":
            found += _of_fact(reading, fact)
    return tuple(found)


def _of_fact(reading: Reading, fact: Fact) -> list[Likeness]:
    """The runs of one line. What begins with `from` or `without` belongs to the run before."""
    found: list[Likeness] = []
    for start, end in _parts(fact):
        words = reading.source.text[start:end]
        if found and found[-1].without and words.lower() in stage_words():
            last = found[-1]  # "without cement and melt"
            found[-1] = replace(last, without=(*last.without, words))
        elif found and (_FROM.match(words) or _WITHOUT.match(words)):
            found[-1] = _limited(found[-1], words)
        else:
            found.append(_limited(Likeness(reading.span(start, end), ""), words))
            continue
        found[-1] = replace(found[-1], span=reading.span(found[-1].span.start, end))
    return found


def _parts(fact: Fact) -> Iterator[tuple[int, int]]:
    """The places between commas and `and` that hold words."""
    text, start = fact.span.source.text, fact.span.start
    for joint in _JOINT.finditer(text, fact.span.start, fact.span.end):
        if joint.start() > start:
            yield start, joint.start()
        start = joint.end()
    if start < fact.span.end:
        yield start, fact.span.end


def _limited(like: Likeness, words: str) -> Likeness:
    """A likeness with what some words say of it: the run, `from STAGE on`, `without STAGE`."""
    if without := _WITHOUT.search(words):
        like = replace(like, without=(*like.without, without[1].strip()))
        words = words[: without.start()] + words[without.end() :]
    if first := _FROM.search(words):
        like = replace(like, from_stage=first[1].strip())
        words = words[: first.start()] + words[first.end() :]
    return replace(like, run=like.run or words.strip(" []"))


def read_meant(reading: Reading, facts: tuple[Fact, ...]) -> Amount | None:
    """The weight of scrap that a log is for, from a line such as `For: 1.2 kg`.

    `For` is a word of everyday: a value that is no weight is kept as words, and nothing is said.
    """
    for fact in facts:
        if fact.word.lower() == "for":
            return _weight(reading, fact)
    return None


def _weight(reading: Reading, fact: Fact) -> Amount | None:
    before, broken = len(reading.findings), reading.broken
    reader = amount_reader(reading.customs.decimal_comma)
    found = reader.read(reading, fact.span.start, fact.span.end, None)
    if found is not None and found[0].dimension is Dimension.MASS:
        return found[0]
    del reading.findings[before:]
    reading.broken = broken
    return None
