"""The reader for heated, waited and worked: how long, from when to when, under which conditions.

A length of time that is not said in figures is not known. It is never nothing, and a day of
work is never a number of hours.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import time

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import ClockTimes
from logbook.reading.amounts import amount_reader
from logbook.reading.clauses import replaced
from logbook.reading.context import Reading
from logbook.reading.doubt import resolution
from logbook.reading.draft import Draft
from logbook.reading.electric import read_electric
from logbook.reading.thing_heads import WORD, head_and_clauses, is_prose, keep_remarks
from logbook.reading.things import times, words_of

_CLOCK = r"([01]?\d|2[0-3])(?::|h(?=\d\d))([0-5]\d)(?:\s?([ap])\.?m\b\.?)?"
_FIGURES = re.compile(r"\s*(?:(?:from|for|about)\s+)?\d")  # no prose, however it goes on
_FROM_TO = re.compile(
    rf"(?<![\d:])(?:\bfrom\s+)?{_CLOCK}\s*(?:-|–|to|until|till)\s*{_CLOCK}(?![\d:])", re.I
)
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
_DAYS = frozenset({"d", "week"})
_MINUTE = 1.0 / 60.0  # h
_WRITE = "write it as 2 h 30 min, or from 9:00 to 11:30"


def time_head(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    """A head of time; False where it is prose."""
    figures = _FIGURES.match(reading.text, start, end)
    matches = clock_times_out(reading, start, end)
    start, end = head_and_clauses(reading, draft, start, end)
    times_and_conditions(reading, draft, start, end)
    keep_remarks(reading, draft)
    first = WORD.match(reading.text, start, end)
    draft.words = words_of(reading, start, end)
    read_electric(reading, draft)
    read_clock_times(reading, draft, matches)
    if draft.action.name == "worked":
        _work_on_each(draft)
        _day_of_work(reading, draft)
    if draft.duration is not None or draft.conditions:
        return True
    if not figures and (first is None or is_prose(first[0].lower())):
        return False
    if draft.action.name != "heated":
        headline = "how long this took is not said in figures"
        draft.duration = _not_said(reading, draft, headline)
    return True


def times_and_conditions(reading: Reading, draft: Draft, start: int, end: int) -> None:
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


def clock_times_out(reading: Reading, start: int, end: int) -> list[re.Match[str]]:
    """The clock times in a text, which are blanked out there.

    `15 to 11` of `9:15 to 11:00` is no range of numbers.
    """
    matches = list(_FROM_TO.finditer(reading.text, start, end))
    for match in matches:
        blank = " " * (match.end() - match.start())
        reading.text = reading.text[: match.start()] + blank + reading.text[match.end() :]
    return matches


def read_clock_times(reading: Reading, draft: Draft, matches: Sequence[re.Match[str]]) -> None:
    """`from 9:00 to 11:30`, as often as it stands there: when it was, and for how long.

    A length that is said beside it counts, and has to be the same.
    """
    if not matches:
        return
    span = reading.span(matches[0].start(), matches[-1].end())
    windows = [one for match in matches if (one := _window(reading, match)) is not None]
    said = draft.duration
    if len(windows) < len(matches):
        if said is None:
            headline = f'"{span.text}" does not tell how long this took'
            draft.duration = _not_said(reading, draft, headline)
        return
    minutes = sum(one.minutes for one in windows)
    if said is None or not said.known:
        replaced(reading, said)
        u = resolution(_MINUTE) * (2 * len(windows)) ** 0.5  # each was read to the minute
        basis = "last digit written, twice"
        draft.duration = Amount(span, Dimension.TIME, "h", minutes / 60, minutes / 60, u, basis)
    elif abs((said.base_value or 0.0) * 60 - minutes) > 1 + 120 * (said.base_u or 0.0):
        reading.doubt(
            "time-said-twice",
            span.start,
            span.end,
            f'"{said.span.text}" is not the time of "{span.text}"',
            f'"{said.span.text}"; the clock times are left aside',
            "leave one of the two out, or give each stretch between pauses its clock times",
        )
        return
    draft.clock_times = tuple(windows)


def _window(reading: Reading, match: re.Match[str]) -> ClockTimes | None:
    """The clock times of a match; None where they may be read in more ways than one.

    With am or pm at one of them only, the other may be either; from 9:00 to 9:00 is nothing or
    a whole day.
    """
    if (match[3] is None) != (match[6] is None):
        return None
    start, end = _clock(match[1], match[2], match[3]), _clock(match[4], match[5], match[6])
    if start is None or end is None or start == end:
        return None
    return ClockTimes(reading.span(match.start(), match.end()), start, end)


def _clock(hour: str, minute: str, half: str | None) -> time | None:
    if half is None:
        return time(int(hour), int(minute))
    if not 1 <= int(hour) <= 12:
        return None
    return time(int(hour) % 12 + (12 if half.lower() == "p" else 0), int(minute))


def _work_on_each(draft: Draft) -> None:
    """Hands can be at one vessel at a time: `worked 50 min each in 3 beakers` is 150 min.

    Vessels stand and heat beside each other, so that waiting and heating take no longer; and a
    clock goes on once, however many vessels there are.
    """
    if not draft.each or draft.vessels < 2 or draft.clock_times:
        return
    if draft.duration is not None and draft.duration.known:
        note = f'"{draft.duration.span.text}" each, in {draft.vessels} vessels one after the other'
        draft.duration = replace(times(draft.duration, draft.vessels), note=note)


def _day_of_work(reading: Reading, draft: Draft) -> None:
    """A day of work has no number of hours, neither 24 nor 8: it is not known."""
    said = draft.duration
    if said is None or not said.known or said.unit not in _DAYS:
        return
    headline = f'how many hours of work "{said.span.text}" were is not said'
    draft.duration = replace(_not_said(reading, draft, headline), span=said.span)


def _not_said(reading: Reading, draft: Draft, headline: str) -> Amount:
    """Work or waiting whose length was not said in figures: some time, not known how much."""
    reading.doubt(
        "time-not-read",
        draft.span.start,
        draft.span.end,
        headline,
        "some time, not known how much",
        _WRITE,
    )
    note = f'"{draft.span.text}" does not say how long'
    return Amount(draft.span, Dimension.TIME, "h", None, None, note=note)
