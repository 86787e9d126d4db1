"""Facts: the `Word: value` lines right under a title.

A word that is not known is kept and shown; it is never an error.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from logbook.findings import nearest_word
from logbook.model.run import Fact, Status
from logbook.reading.context import Reading
from logbook.reading.dates import date_in_name, read_when
from logbook.reading.vocabulary import metal_named
from logbook.reference import metal_words
from logbook.source import Span

_FACT = re.compile(r"[ \t]*([^\W\d_][\w -]{0,30}?)[ \t]*:(?:[ \t]+(\S.*?))?[ \t]*(?:\r?\n|\r|$)")
KNOWN_WORDS = frozenset(
    {"date", "day", "metal", "metals", "status", "continues", "like", "public", "marks", "numbers"}
    | {"plan", "for"}
    | {"title", "keeper", "currency", "hour", "tariff", "electricity", "room", "theme", "address"}
)
_STATUSES: Mapping[str, Status] = {
    "planned": Status.PLANNED,
    "plan": Status.PLANNED,
    "open": Status.OPEN,
    "running": Status.OPEN,
    "finished": Status.FINISHED,
    "done": Status.FINISHED,
    "closed": Status.FINISHED,
    "abandoned": Status.ABANDONED,
    "failed": Status.ABANDONED,
    "given up": Status.ABANDONED,
}


def read_facts(reading: Reading, words: Span) -> tuple[tuple[Fact, ...], int]:
    """The facts at the start of a paragraph, and where they end; one without a value is none."""
    facts: list[Fact] = []
    position = words.start
    text = reading.source.text
    while match := _FACT.match(text, position, words.end):
        if match[1].lower().startswith("privat"):
            reading.hidden.append(reading.span(match.start(1), match.end(2)))
        elif match[2]:
            span = reading.span(match.start(2), match.end(2))
            facts.append(Fact(span, match[1], match[2]))
        elif match[1].lower() not in KNOWN_WORDS:
            break  # prose that ends in a colon; a known word waits for its value
        position = match.end()
    return tuple(facts), min(position, words.end)


def facts_alone(reading: Reading, words: Span) -> tuple[Fact, ...]:
    """The facts of a paragraph of known words and nothing else; none where it is prose."""
    first = _FACT.match(reading.source.text, words.start, words.end)
    if first is None or first[1].lower() not in KNOWN_WORDS:
        return ()
    hidden = len(reading.hidden)
    facts, end = read_facts(reading, words)
    known = all(one.word.lower() in KNOWN_WORDS for one in facts)
    if known and not reading.source.text[end : words.end].strip() and len(reading.hidden) == hidden:
        return facts
    del reading.hidden[hidden:]
    return ()


def fact(facts: tuple[Fact, ...], *words: str) -> Fact | None:
    """The first fact with one of some words, whatever their case."""
    for found in facts:
        if found.word.lower() in words:
            return found
    return None


def run_day(reading: Reading, facts: tuple[Fact, ...], name: str) -> date | None:
    """The date of a log: from its `Date:` line, else from its file's name."""
    from_name = date_in_name(name)
    reading.near = from_name
    said = fact(facts, "date", "day")
    if said is None:
        return from_name
    when = read_when(reading, said.span.start, said.span.end)
    if when is None or when.day is None:
        if not any(f.span.start == said.span.start for f in reading.findings):
            reading.doubt(
                "date-not-read",
                said.span.start,
                said.span.end,
                f'"{said.value}" is not read as a date',
                f"{from_name.isoformat()}, from the file's name" if from_name else "no date",
                "write the date as 2026-03-14 or 14 March 2026",
            )
        return from_name
    return when.day


def run_status(reading: Reading, facts: tuple[Fact, ...]) -> Status:
    """How far a run has come; finished unless the log says otherwise."""
    said = fact(facts, "status")
    if said is None:
        return Status.FINISHED
    status = _STATUSES.get(said.value.lower())
    if status is None:
        near = nearest_word(said.value, _STATUSES)
        reading.doubt(
            "status-unknown",
            said.span.start,
            said.span.end,
            f'"{said.value}" is not a status that is known',
            "finished",
            f'did you mean "{near}"?' if near else "write planned, open, finished or abandoned",
        )
        return Status.FINISHED
    return status


def run_metals(reading: Reading, facts: tuple[Fact, ...]) -> tuple[str, ...]:
    """The metals a run is after, from its `Metal:` line."""
    said = fact(facts, "metal", "metals")
    if said is None:
        return ()
    metals: list[str] = []
    text = reading.source.text
    for word in re.finditer(r"[^\s,;+/&]+(?:\s(?=metal))?", text[said.span.start : said.span.end]):
        if word[0].lower() in {"and", "with", "plus"}:
            continue
        metal = metal_named(word[0])
        if metal is not None:
            metals.append(metal)
            continue
        near = nearest_word(word[0], metal_words())
        start = said.span.start + word.start()
        reading.doubt(
            "metal-unknown",
            start,
            start + len(word[0]),
            f'"{word[0]}" is not a metal that is known',
            "left out of the metals of this run",
            f'did you mean "{near}"?' if near else "write the name of a metal, such as silver",
        )
    return tuple(dict.fromkeys(metals))


def writes_comma(value: str) -> bool:
    """Whether a `Numbers:` line shows decimal commas.

    >>> writes_comma("1.250,5"), writes_comma("1,250.5"), writes_comma("0,5")
    (True, False, True)
    """
    return value.rfind(",") > value.rfind(".") and not re.fullmatch(r"\d{1,3},\d{3}", value)
