"""Prices of metals by day, and what was sold.

A price holds from its day on until the next one. How old a price is counts from the dates
in the book, never from a clock.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import DayPrice
from logbook.calculation.schedule import distinct_runs, steps_of_page, steps_of_run
from logbook.calculation.walk import Step
from logbook.findings import Finding, Weight
from logbook.model.amount import Uncertain
from logbook.model.book import Book


def book_currency(book: Book) -> str:
    """The currency of a book: as bench.md says, else the first that is written in it."""
    stated = book.bench.currency or book.customs.currency
    if stated:
        return stated
    for step in every_step(book):
        if step.entry.price is not None and step.entry.price.amount.currency:
            return step.entry.price.amount.currency
        if step.entry.per is not None and step.entry.per.currency:
            return step.entry.per.currency
    return ""


def every_step(book: Book) -> Iterator[Step]:
    """The entries of the fixed pages and of all runs that are more than a plan."""
    for page in (book.prices, book.supplies):
        if page is not None:
            yield from steps_of_page(page)
    for run in distinct_runs(book):
        if not run.planned:
            yield from steps_of_run(run)


def day_prices(book: Book, currency: str) -> tuple[tuple[DayPrice, ...], tuple[Finding, ...]]:
    """The prices of metals in order of day, and what there is to say about those not used."""
    prices: list[DayPrice] = []
    findings: list[Finding] = []
    for step in every_step(book):
        entry = step.entry
        if entry.action != "priced" or entry.per is None or not entry.metal:
            continue
        problem = _problem(step, currency)
        if problem or entry.per.base_value is None:
            findings.append(_not_used(step, problem or "the price is not written"))
            continue
        name = f"price of {entry.metal}"
        value = Uncertain(entry.per.base_value)
        words = f"as written for {step.day.isoformat()}"
        figure = Figure(name, entry.per.base_unit, value, words, rests_on=(entry.per.span,))
        prices.append(DayPrice(entry.metal, step.day, figure, entry))
    prices.sort(key=lambda price: price.day)
    return tuple(prices), tuple(findings)


def _problem(step: Step, currency: str) -> str:
    per = step.entry.per
    if step.day in (date.min, date.max):
        return "the price has no date"
    if per is not None and per.per != "g":
        return "the price is not for a weight"
    if per is not None and per.currency not in ("", currency):
        return f"the price is in {per.currency}, the book in {currency}"
    return ""


def _not_used(step: Step, problem: str) -> Finding:
    return Finding(
        "price-unused",
        Weight.ERROR,
        f"a price of {step.entry.metal} cannot be used: {problem}",
        step.entry.span,
        "no worth is counted from it",
        "write a day, and a price for a weight in the currency of bench.md",
    )


@dataclass(frozen=True, slots=True)
class Market:
    """Prices by metal and day, to be looked up."""

    currency: str
    days: dict[str, list[date]]
    prices: dict[str, list[DayPrice]]

    def price(self, metal: str, day: date | None) -> Figure:
        """The price of a metal per gram: the latest, or the latest on or before a day."""
        name, unit = f"price of {metal}", f"{self.currency}/g"
        days = self.days.get(metal, [])
        if not days:
            return not_known(name, unit, f"no price of {metal} is noted")
        place = len(days) if day is None else bisect_right(days, day)
        if not place:
            return not_known(name, unit, f"no price of {metal} is noted up to that day")
        found = self.prices[metal][place - 1]
        if day is None:
            return found.price
        age = (day - found.day).days
        return replace(found.price, notes=(f"{age} days old on {day.isoformat()}",))


def market(prices: Sequence[DayPrice], currency: str) -> Market:
    """Prices, ready to be looked up."""
    by_metal: dict[str, list[DayPrice]] = {}
    for price in prices:
        by_metal.setdefault(price.metal, []).append(price)
    days = {metal: [price.day for price in found] for metal, found in by_metal.items()}
    return Market(currency, days, by_metal)
