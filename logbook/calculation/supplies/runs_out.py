"""When a supply ran out, or will at the pace of the book. No clock: the newest day counts."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from math import ceil

from logbook.calculation.money.exchange import NO_DAY
from logbook.calculation.supplies.walked import Walked
from logbook.model.days import day_in_words

FAR = 36525  # days, a hundred years: beyond that a pace says nothing
FEW = "used on fewer than two days: no pace to tell by"


def runs_out(account: Walked, newest: date | None) -> tuple[date | None, str]:
    """The day on which a supply ran out or will, and in words which of the two and why.

    Equation: d = d_newest + left / pace, whole days, with the pace = used / (d_newest − d_first)
    from the first use on [unit per day]. Source: the definition of a pace.
    """
    shelf = account.shelf
    if shelf.from_tap:
        return None, "from the tap"
    if not shelf.came:
        return None, "none was bought or had, by the book"
    last = account.steps[-1]
    if last.owing:
        return None, "not known: a purchase is missing"
    if last.at_least:
        return None, "not known: how much there was is not written"
    if not last.there:
        return _ran_out(account)
    doubtful = last.at_most or bool(shelf.perhaps)
    return _will_run_out(account, newest, last.there, doubtful)


def _ran_out(account: Walked) -> tuple[date | None, str]:
    """The day of the use after which nothing was left."""
    used_up = None
    for step in account.steps:
        if step.there:
            used_up = None
        elif used_up is None and step.taking is not None:
            used_up = step.line.day
    if used_up is None or used_up in NO_DAY:
        return None, "ran out, on a day that is not written"
    return used_up, f"ran out on {day_in_words(used_up)}"


def _will_run_out(
    account: Walked, newest: date | None, left: Decimal, doubtful: bool
) -> tuple[date | None, str]:
    uses = [
        (step.line.day, step.amount)
        for step in account.uses
        if step.line.day not in NO_DAY and step.amount
    ]
    days = {day for day, _ in uses}
    if newest is None or len(days) < 2 or newest <= min(days):
        return None, FEW
    first = min(days)
    used = sum((size for _, size in uses), Decimal(0))
    ahead = left * (newest - first).days / used
    if ahead > min(FAR, (date.max - newest).days - 1):
        return None, "lasts for more than a hundred years at the pace of the book"
    day = newest + timedelta(days=ceil(ahead))
    basis = f"at the pace from {day_in_words(first)} to {day_in_words(newest)}"
    if doubtful:
        return day, f"will run out by {day_in_words(day)} at the latest, {basis} of what is known"
    return day, f"will run out on {day_in_words(day)}, {basis}"
