"""The readers for what follows an action, one for each kind in actions.toml, in a table.

A new kind of entry means one function here, one row of the table, and one case in the tests.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.reading.amounts import amount_reader
from logbook.reading.claims import claim_head
from logbook.reading.clauses import replaced
from logbook.reading.context import Reading
from logbook.reading.doubt import resolution
from logbook.reading.draft import Draft
from logbook.reading.electric import read_electric
from logbook.reading.price_heads import price_head
from logbook.reading.questions import read_question
from logbook.reading.repeats import times_said
from logbook.reading.spot_tests import read_spot_test
from logbook.reading.thing_heads import (
    WORD,
    check_readings,
    head_and_clauses,
    is_prose,
    keep_remarks,
    read_things,
    thing_head,
)
from logbook.reading.things import times, words_of

HeadReader = Callable[[Reading, Draft, int, int], bool]


def _step(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = head_and_clauses(reading, draft, start, end)
    read_electric(reading, draft)
    start, end = times_said(draft, reading, start, end)
    said = draft.duration, len(draft.conditions)
    _times_and_conditions(reading, draft, start, end)
    names_a_thing = start < end and said == (draft.duration, len(draft.conditions))
    if names_a_thing:
        read_things(reading, draft, start, end)
        draft.words = words_of(reading, start, end)
        _use_what_goes_in(reading, draft)
    else:
        keep_remarks(reading, draft)
        check_readings(reading, draft)
    if draft.repeats is not None and (factor := draft.repeats * draft.vessels) > 1:
        draft.supplies = tuple(
            [replace(p, amount=times(p.amount, factor)) if p.amount else p for p in draft.supplies]
        )
    if draft.end_point and not draft.repeats_said and draft.supplies:
        draft.repeats = None
    return True


_MOVES = frozenset({"decanted", "poured"})
"""Steps whose thing is the charge, or a liquid that goes elsewhere, and nothing that is used."""


def _use_what_goes_in(reading: Reading, draft: Draft) -> None:
    """What a step bubbles or stirs in is used, as if it stood after `with`."""
    if draft.action.name in _MOVES:
        _poured_in_checked(reading, draft)
        return
    used = tuple(one for one in draft.portions if _is_used(draft, one))
    draft.supplies += used
    draft.portions = tuple(one for one in draft.portions if one not in used)


def _is_used(draft: Draft, portion: Portion) -> bool:
    """Whether the thing of a step is a supply; `the silver chloride` that is rinsed is none."""
    if not portion.reagent or portion.labels:
        return False
    stands_there = portion.amount is None and portion.span.text.lower().startswith("the ")
    return not stands_there or draft.action.name in {"bubbled", "stirred"}


def _poured_in_checked(reading: Reading, draft: Draft) -> None:
    """An acid that was poured, and not into a label, may have gone in: say how it is read."""
    if draft.destinations or draft.sources:
        return
    for portion in draft.portions:
        if portion.reagent and portion.amount is not None and not portion.labels:
            reading.doubt(
                "poured-not-added",
                portion.span.start,
                portion.span.end,
                f'"{portion.span.text}" was {draft.action.name}, and into no label',
                "a step of the work: nothing was used, and nothing went to waste",
                'write "added" for what went in, or "discarded ... into [W-1]" for what went away',
            )


def _times_and_conditions(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Durations, temperatures and the like in a head, as many as there are."""
    reader = amount_reader(reading.customs.decimal_comma)
    text = reading.text
    position = start
    while position < end:
        if text[position] in " \t":
            position += 1
            continue
        found = reader.read(reading, position, end)
        if found is None:
            word = WORD.match(text, position, end)
            position = word.end() if word else position + 1
            continue
        amount, position = found
        if amount.dimension is Dimension.TIME:
            replaced(reading, draft.duration)
            draft.duration = amount
        elif amount.dimension in _CONDITIONS:
            draft.conditions += (amount,)


_CLOCK = r"([01]?\d|2[0-3]):([0-5]\d)"
_CLOCKS = re.compile(rf"\b(?:from\s+)?{_CLOCK}\s*(?:-|–|to|until)\s*{_CLOCK}")
_FIGURES = re.compile(r"\s*(?:(?:from|for|about)\s+)?\d")  # no prose, however it goes on
_CONDITIONS = frozenset(
    {
        Dimension.TEMPERATURE,
        Dimension.PH,
        Dimension.VOLTAGE,
        Dimension.CURRENT,
        Dimension.POWER,
        Dimension.BAUME,
        Dimension.DENSITY,
    }
)


def _time(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    figures = _FIGURES.match(reading.text, start, end)
    between = _between_clocks(reading, start, end)
    start, end = head_and_clauses(reading, draft, start, end)
    _times_and_conditions(reading, draft, start, end)
    keep_remarks(reading, draft)
    first = WORD.match(reading.text, start, end)
    draft.words = words_of(reading, start, end)
    read_electric(reading, draft)
    if draft.duration is None:
        draft.duration = between
    _work_on_each(draft)
    if draft.duration is not None or draft.conditions:
        return True
    if not figures and (first is None or is_prose(first[0].lower())):
        return False
    if draft.action.name != "heated":
        draft.duration = _not_said(reading, draft)
    return True


def _work_on_each(draft: Draft) -> None:
    """Hands can be at one vessel at a time: `worked 50 min each in 3 beakers` is 150 min.

    Vessels stand and heat beside each other, so that waiting and heating take no longer.
    """
    if draft.action.name != "worked" or not draft.each or draft.vessels < 2:
        return
    if draft.duration is not None and draft.duration.known:
        note = f'"{draft.duration.span.text}" each, in {draft.vessels} vessels one after the other'
        draft.duration = replace(times(draft.duration, draft.vessels), note=note)


def _between_clocks(reading: Reading, start: int, end: int) -> Amount | None:
    """`from 9:00 to 11:30` as a duration: the two and a half hours between them.

    The words are blanked out: `15 to 11` of `9:15 to 11:00` is no range of numbers.
    """
    match = _CLOCKS.search(reading.text, start, end)
    if match is None:
        return None
    blank = " " * (match.end() - match.start())
    reading.text = reading.text[: match.start()] + blank + reading.text[match.end() :]
    hours, minutes = int(match[3]) - int(match[1]), int(match[4]) - int(match[2])
    value = (hours + minutes / 60) % 24
    u = resolution(1 / 60) * 2**0.5  # each of the two times was read to the minute
    span = reading.span(match.start(), match.end())
    return Amount(span, Dimension.TIME, "h", value, value, u, "last digit written, twice")


def _not_said(reading: Reading, draft: Draft) -> Amount:
    """Work or waiting whose length was not said in figures: some time, not known how much."""
    reading.doubt(
        "time-not-read",
        draft.span.start,
        draft.span.end,
        "how long this took is not said in figures",
        "some time, not known how much",
        "write it as 2 h 30 min, or from 9:00 to 11:30",
    )
    note = f'"{draft.span.text}" does not say how long'
    return Amount(draft.span, Dimension.TIME, "h", None, None, note=note)


def _reading(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = head_and_clauses(reading, draft, start, end)
    _times_and_conditions(reading, draft, start, end)
    keep_remarks(reading, draft)
    draft.words = words_of(reading, start, end)
    return bool(draft.conditions) or _TO_BE_READ.fullmatch(draft.words) is not None


_TO_BE_READ = re.compile(r"(?:the )?(?:ph|temperature|voltage|current)", re.I)
"""What a plan says is to be read; what it will be is written on the sheet."""


def _words(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    text = reading.source.text
    draft.words = " ".join(text[start:end].strip(" :,").split())
    return bool(draft.words)


def _question(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    if not _words(reading, draft, start, end):
        return False
    while start < end and reading.text[start] in " \t:,":
        start += 1
    blanked, reading.text = reading.text, reading.source.text  # parentheses are no remark here
    draft.question = read_question(reading, start, end)
    reading.text = blanked
    return True


def _test(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    test = read_spot_test(reading, start, end, ())
    if test is not None:
        draft.tests = (test,)
    return test is not None


HEADS: Mapping[str, HeadReader] = {
    "thing": thing_head,
    "step": _step,
    "time": _time,
    "reading": _reading,
    "price": price_head,
    "claim": claim_head,
    "words": _words,
    "question": _question,
    "test": _test,
}
