"""What there is to say where more of a supply was used than was there: one finding a time.

Less than the doubt of the readings is no shortage (`walked.py`). Nothing is said of supplies
that were never bought: a small book need not have every bottle.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from logbook.calculation.money.exchange import NO_DAY
from logbook.calculation.supplies.arrivals import came_on
from logbook.calculation.supplies.walked import Shortage, Walked
from logbook.findings import Finding, Weight
from logbook.model.days import day_in_words


def shortage_findings(accounts: Iterable[Walked]) -> Iterator[Finding]:
    """The uses before a purchase, and those for which a purchase is missing."""
    for account in accounts:
        for short in account.shortages:
            yield _finding(account, short)


def _finding(account: Walked, short: Shortage) -> Finding:
    shelf, line, use = account.shelf, short.line, short.line.use
    assert use is not None
    day = "" if line.day in NO_DAY else f" on {day_in_words(line.day)}"
    first, whole = (in_words(size, shelf.unit) for size in (short.first, short.whole))
    more = f", {whole} in all before more came" if whole != first and short.made_up else ""
    more = f", {whole} in all by now" if whole != first and not short.made_up else more
    written = f"{whole} {shelf.words}"
    if short.made_up and short.came is not None:
        code, headline = "supply-early", f"{shelf.words} was used before it was there"
        price = ", at that price" if short.came.paid.known else ""
        how = f"it is counted as a part of what was {came_on(short.came.step)}{price}"
        other = "or give that purchase an earlier date"
    else:
        code, headline = "supply-missing", f"a purchase of {shelf.words} is missing"
        how = "what it cost and how much is left are not known"
        other = "or the purchase that is missing"
    had = f'"- {_day_before(short)}had {written}"'
    return Finding(
        code,
        Weight.DOUBT,
        f"{headline}: {first} short{day}",
        use.portion.span,
        f"in {use.stage.run} {first} more was used than was bought or had{more}; {how}",
        f"write {had} on supplies.md if it was there, {other}",
    )


def _day_before(short: Shortage) -> str:
    return "" if short.line.day in NO_DAY else f"{short.line.day.isoformat()} "


def in_words(size: Decimal, unit: str) -> str:
    """A quantity in a unit of the bench, to four digits.

    >>> in_words(Decimal("0.3"), "L"), in_words(Decimal("1250.46"), "g"), in_words(Decimal(3), "1")
    ('300 mL', '1250 g', '3')
    """
    if unit == "L" and size < 1:
        size, unit = size * 1000, "mL"
    digits = 3 - size.adjusted() if size else 0
    text = f"{round(size, max(digits, 0)):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text if unit == "1" else f"{text} {unit}"
