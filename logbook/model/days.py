"""How a day is spoken, the same in every sentence of the program and on every machine."""

from __future__ import annotations

from datetime import date

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def day_in_words(day: date) -> str:
    """A day as it is spoken.

    >>> day_in_words(date(2026, 5, 9))
    '9 May 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
