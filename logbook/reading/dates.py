"""Dates and times of day as people write them.

A date with slashes has two readings: both are reported, and the day-first one is used unless
the numbers allow only the other. A day without a year is near the date of the log.
"""

from __future__ import annotations

import re
from datetime import date, time

from logbook.model.days import MONTHS
from logbook.model.entry import When
from logbook.reading.context import Reading

_MONTH_NUMBERS = {
    name[:length].lower(): number
    for number, name in enumerate(MONTHS, start=1)
    for length in (3, 4, len(name))
}
_MONTH = r"(?P<month>jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
_CLOCK = re.compile(
    r"(?:at\s+)?(?P<hour>[01]?\d|2[0-3])(?::|h(?=\d\d))(?P<minute>[0-5]\d)(?::\d\d)?(?:\s?(?P<half>am|pm))?(?!\d)",
    re.IGNORECASE,
)
_WEEKDAY = re.compile(
    r"(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+", re.I
)
_YEAR = r"(?:,?\s+(?P<year>\d{4}))?(?!\w|:\d)"
_DATES = (
    re.compile(r"(?P<year>\d{4})-(?P<number>\d\d)-(?P<day>\d\d)(?!\d)"),
    re.compile(rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th)?\s+{_MONTH}{_YEAR}", re.I),
    re.compile(rf"{_MONTH}\s+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?{_YEAR}", re.I),
    re.compile(r"(?P<day>\d{1,2})\.\s?(?P<number>\d{1,2})\.\s?(?P<year>\d{4})(?!\d)"),
    re.compile(r"(?P<day>\d{1,2})/(?P<number>\d{1,2})/(?P<year>\d{4})(?!\d)"),
)  # fmt: skip
_FILE_DATE = re.compile(r"(?<!\d)(\d{4})-(\d\d)-(\d\d)(?!\d)")
_HALF_A_YEAR = 182  # days: within them, no other year brings a day nearer
_STARTS = frozenset("jfmasond")


def date_in_name(name: str) -> date | None:
    """The date in a file's name.

    >>> date_in_name("2026-03-14-relay-contacts")
    datetime.date(2026, 3, 14)
    """
    match = _FILE_DATE.search(name)
    return _date(int(match[1]), int(match[2]), int(match[3])) if match else None


def read_when(reading: Reading, start: int, end: int) -> When | None:
    """The date, the time, or both at `start`; None where neither stands there."""
    text = reading.text
    first = text[start : start + 1].lower()
    if not first.isdigit() and first not in _STARTS and first not in "twh":
        return None
    position = start
    if not first.isdigit() and (weekday := _WEEKDAY.match(text, start, end)):
        position = weekday.end()
    day, position, clock = _read_day(reading, position, end)
    at = position if day is None else _past_joint(text, position, end)
    if match := _CLOCK.match(text, at, end):
        clock = _clock(match)
        position = match.end()
    if day is None and clock is None:
        return None
    return When(reading.span(start, position), day, clock)


_JOINT = re.compile(r"(?:,?\s+(?:at\s+)?|T)")


def _past_joint(text: str, position: int, end: int) -> int:
    joint = _JOINT.match(text, position, end)
    return joint.end() if joint else position


def _clock(match: re.Match[str]) -> time:
    hour = int(match["hour"])
    half = (match["half"] or "").lower()
    if half and hour <= 12:
        hour = hour % 12 + (12 if half == "pm" else 0)
    return time(hour, int(match["minute"]))


def _read_day(reading: Reading, start: int, end: int) -> tuple[date | None, int, time | None]:
    text = reading.text
    for pattern in _DATES:
        match = pattern.match(text, start, end)
        if match is None:
            continue
        parts = match.groupdict()
        number = (
            int(parts["number"]) if parts.get("number") else _MONTH_NUMBERS[parts["month"].lower()]
        )
        day = int(parts["day"])
        if "/" in match[0]:
            return _slashed(reading, match, day, number, int(parts["year"])), match.end(), None
        if parts["year"]:
            found = _date(int(parts["year"]), number, day)
        else:
            found = _nearest_year(reading.near, number, day)
        if found is None:
            reading.doubt(
                "date-not-possible",
                match.start(),
                match.end(),
                f'there is no date "{match[0]}", or no year for it',
                "the entry without a date",
                "write the date as 2026-03-14",
            )
        return found, match.end(), None
    return None, start, None


def _slashed(
    reading: Reading, match: re.Match[str], first: int, second: int, year: int
) -> date | None:
    day_first, month_first = _date(year, second, first), _date(year, first, second)
    used = day_first or month_first
    if reading.near is not None and reading.near in (day_first, month_first):
        return reading.near  # the file's name or the heading has said which day it is
    if used is None or (day_first and month_first and day_first != month_first):
        other = month_first.isoformat() if month_first else "none"
        reading.doubt(
            "date-two-readings",
            match.start(),
            match.end(),
            f'the date "{match[0]}" has two readings',
            f"{used.isoformat()} was used; the other reading is {other}" if used else "no date",
            f"write {used.isoformat() if used else '2026-03-14'}",
        )
    return used


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _nearest_year(near: date | None, month: int, day: int) -> date | None:
    """The date of a day and month that lies nearest to the date of the log."""
    if near is None:
        return None
    same = _date(near.year, month, day)
    if same is not None and abs((same - near).days) <= _HALF_A_YEAR:
        return same
    choices = [_date(near.year + shift, month, day) for shift in (-1, 0, 1)]
    return min(
        (choice for choice in choices if choice is not None),
        key=lambda choice: abs((choice - near).days),
        default=None,
    )
