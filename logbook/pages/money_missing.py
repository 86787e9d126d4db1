"""What a book does not say that its money would need: in one line each, with what to write.

It names what is missing and never fills it in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.money.worth import made_anything
from logbook.calculation.results import BookFigures, RunFigures
from logbook.pages.addresses import Here, Link
from logbook.pages.rounding import plural

CAME = ("had", "bought")
NAMED = 5  # runs that are named one by one
ANY_CURRENCY = "EUR"  # in a line to copy, where the book names none


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing that is not said: in words, a line that would say it, and where to write it."""

    words: str
    write: str
    where: str
    runs: tuple[Link, ...] = ()
    more: str = ""


def missing_of(figures: BookFigures, currency: str, here: Here) -> Iterator[Missing]:
    """What is missing to know what an hour earned, the widest first."""
    money = currency or ANY_CURRENCY
    done = [one for one in figures.runs.values() if not one.run.planned]
    if not done:
        yield Missing(
            "No run is done yet.", f"- took 412.6 g relay contacts for 20 {money}", "a log in runs/"
        )
    if not figures.book.bench.currency:
        yield Missing(_no_currency(currency), f"Currency: {money}", "runs/bench.md")
    if not figures.prices:
        line = f"- 2026-03-01 priced silver at 1.08 {money}/g"
        yield Missing(
            "No price of a metal is noted, so nothing has a worth.", line, "runs/prices.md"
        )
    if done and figures.book.bench.hour is None:
        words = "What an hour is worth is not said; hours cost nothing in net."
        yield Missing(words, f"Hour: 18 {money}", "runs/bench.md")
    at_work = [one for one in done if made_anything(one.things_in, one.things_out)]
    untimed = [one for one in at_work if not one.hands_on.known]
    unpriced = [one for one in at_work if (cost := scrap_cost(one)) is not None and not cost.known]
    yield from _of_runs(untimed, "all {} hours", "- worked 50 min", here)
    yield from _of_runs(unpriced, "what all {} scrap cost", f"for 20 {money}, or a gift", here)
    yield from _of_supplies(figures, money, here)


def _of_supplies(figures: BookFigures, money: str, here: Here) -> Iterator[Missing]:
    """Supplies that were used and of which no line says what they cost, the most used first."""
    lacking = [
        (sum(one.kind == "used" for one in account.moves), account, move)
        for account in figures.supplies.accounts
        for move in account.moves
        if move.kind in CAME and not move.cost.known
    ]
    used = sorted(
        (one for one in lacking if one[0]),
        key=lambda one: (-one[0], one[1].supply, one[1].strength),
    )
    for times, account, move in used[:NAMED]:
        name = f"{account.supply} {account.strength}".strip()
        line = here.line(move.entry.span)
        yield Missing(
            words=f"What the {name} cost is not said, of which {plural(times, 'line')} used some:",
            write=f"- {move.entry.span.text.splitlines()[0]} for 20 {money}",
            where="its line",
            runs=(Link(line.place, line.href),),
        )
    if len(used) > NAMED:
        more = plural(len(used) - NAMED, "other supply", "other supplies")
        yield Missing(f"Nor is it said of {more}.", f"for 20 {money}", "each line")


def _no_currency(currency: str) -> str:
    if currency:
        return f"No currency is named; the first that was written is taken, {currency}."
    return "No currency is named, and none was written."


def scrap_cost(figures: RunFigures) -> Figure | None:
    """What the scrap of a run cost; None where it took none."""
    return next((line.amount for line in figures.costs if line.kind == "feed"), None)


def _of_runs(lacking: Sequence[RunFigures], what: str, write: str, here: Here) -> Iterator[Missing]:
    """The runs that do not tell one thing, the newest first."""
    if not lacking:
        return
    one_run = len(lacking) == 1
    links = tuple(here.run(one.run.name) for one in reversed(lacking))[:NAMED]
    more = len(lacking) - len(links)
    runs = plural(len(lacking), "run does", "runs do")
    yield Missing(
        words=f"{runs} not tell {what.format('its' if one_run else 'their')}:",
        write=write,
        where="the log" if one_run else "each log",
        runs=links,
        more=f"and {plural(more, 'other')}" if more else "",
    )
