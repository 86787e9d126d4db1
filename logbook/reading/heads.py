"""The readers for what follows an action, one for each kind in actions.toml, in a table.

A new kind of entry means one function here, one row of the table, and one case in the tests.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.model.entry import Portion
from logbook.reading.claims import claim_head
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.electric import read_electric
from logbook.reading.price_heads import price_head
from logbook.reading.questions import read_question
from logbook.reading.repeats import times_said
from logbook.reading.spot_tests import read_spot_test
from logbook.reading.thing_heads import (
    check_readings,
    head_and_clauses,
    keep_remarks,
    read_things,
    thing_head,
)
from logbook.reading.things import times, words_of
from logbook.reading.time_heads import (
    clock_times_out,
    read_clock_times,
    time_head,
    times_and_conditions,
)

HeadReader = Callable[[Reading, Draft, int, int], bool]


def _step(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    clocks = clock_times_out(reading, start, end)
    start, end = head_and_clauses(reading, draft, start, end)
    read_electric(reading, draft)
    start, end = times_said(draft, reading, start, end)
    said = draft.duration, len(draft.conditions)
    times_and_conditions(reading, draft, start, end)
    names_a_thing = start < end and said == (draft.duration, len(draft.conditions))
    read_clock_times(reading, draft, clocks)
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


def _reading(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = head_and_clauses(reading, draft, start, end)
    times_and_conditions(reading, draft, start, end)
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
    "time": time_head,
    "reading": _reading,
    "price": price_head,
    "claim": claim_head,
    "words": _words,
    "question": _question,
    "test": _test,
}
