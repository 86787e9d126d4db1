"""Words that several pages share: days, ages, lists, spoken in the same way everywhere.

Nothing here depends on the machine's language or clock.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.model.days import MONTHS, day_in_words
from logbook.model.run import Status
from logbook.pages.rounding import plural

NO_DAY = "day not known"
STATUS_WORDS = {
    Status.PLANNED: "planned",
    Status.OPEN: "still open",
    Status.FINISHED: "finished",
    Status.ABANDONED: "given up",
}


def day_text(day: date | None) -> str:
    """A day as it is spoken.

    >>> day_text(date(2026, 3, 14)), day_text(None)
    ('14 March 2026', 'day not known')
    """
    return NO_DAY if day is None else day_in_words(day)


def days_text(first: date | None, last: date | None) -> str:
    """The days from one to another, without saying the same word twice.

    >>> days_text(date(2026, 3, 14), date(2026, 3, 16))
    '14 to 16 March 2026'
    >>> days_text(date(2025, 12, 30), date(2026, 1, 2))
    '30 December 2025 to 2 January 2026'
    """
    if first is None or last is None or first == last:
        return day_text(first or last)
    if first.year != last.year:
        return f"{day_text(first)} to {day_text(last)}"
    if first.month != last.month:
        return f"{first.day} {MONTHS[first.month - 1]} to {day_text(last)}"
    return f"{first.day} to {day_text(last)}"


def period_text(period: str) -> str:
    """A period of the running totals: a month, a year, or all of the book.

    >>> period_text("2026-03"), period_text("2026"), period_text("all")
    ('March 2026', '2026', 'all of the book')
    """
    if period == "all":
        return "all of the book"
    year, dash, month = period.partition("-")
    return f"{MONTHS[int(month) - 1]} {year}" if dash else year


def age_text(since: date | None, newest: date | None) -> str:
    """How long something has stood, counted to the newest day of the book.

    >>> age_text(date(2026, 3, 1), date(2026, 3, 15)), age_text(None, date(2026, 3, 15))
    ('14 days', '')
    """
    if since is None or newest is None or since > newest:
        return ""
    return plural((newest - since).days, "day")


def listed(words: Sequence[str], last: str = "and") -> str:
    """Words in a row, the last one joined with a word.

    >>> listed(["gold"]), listed(["gold", "silver"]), listed(["gold", "silver", "copper"])
    ('gold', 'gold and silver', 'gold, silver and copper')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def sentence(words: str) -> str:
    """Words with a capital letter and a full stop.

    >>> sentence("a plan"), sentence("Done!"), sentence("")
    ('A plan.', 'Done!', '')
    """
    if not words:
        return ""
    whole = words[0].upper() + words[1:]
    return whole if whole[-1] in ".!?" else f"{whole}."
