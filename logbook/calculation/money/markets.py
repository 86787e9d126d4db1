"""Prices of metals and buyers' terms, by metal and day.

A price holds from its day on until the next one, and so do terms. How old a price is counts
from the dates in the book, never from a clock.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Generic, TypeVar

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.exchange import NO_DAY, Exchange
from logbook.calculation.money.terms import in_book, missing_rate, write_the_rate
from logbook.calculation.results import BuyerTerms, DayPrice
from logbook.calculation.schedule import distinct_runs, steps_of_page, steps_of_run
from logbook.calculation.walk import Step
from logbook.findings import Finding, Weight
from logbook.model.amount import Amount
from logbook.model.book import Book
from logbook.model.days import day_in_words

STALE = 30  # days; within a month metals often move by some per cent (common practice, no source)
Noted = TypeVar("Noted", DayPrice, BuyerTerms)


@dataclass(frozen=True, slots=True)
class ByDay(Generic[Noted]):
    """What holds of one metal from a day on until the next, in order of day."""

    days: tuple[date, ...]
    noted: tuple[Noted, ...]

    def up_to(self, day: date | None) -> Noted | None:
        """The latest, or the latest on or before a day."""
        place = len(self.days) if day is None else bisect_right(self.days, day)
        return self.noted[place - 1] if place else None


def _by_metal(noted: Sequence[Noted]) -> dict[str, ByDay[Noted]]:
    found: dict[str, list[Noted]] = {}
    for one in noted:
        found.setdefault(one.metal, []).append(one)
    return {
        metal: ByDay(tuple(one.day for one in some), tuple(some)) for metal, some in found.items()
    }


def days_old(since: date, newest: date | None) -> int:
    """How many days something written on a day is old on another; none where that is before."""
    return max((newest - since).days, 0) if newest is not None else 0


def is_stale(since: date, newest: date | None) -> bool:
    """Whether a price is too old to be reckoned with unseen."""
    return days_old(since, newest) > STALE


def age_in_words(since: date, newest: date | None) -> str:
    """How old a price is, in words.

    >>> age_in_words(date(2026, 3, 1), date(2026, 3, 20))
    '19 days old on 20 March 2026'
    >>> age_in_words(date(2026, 3, 1), date(2026, 3, 2)), age_in_words(date(2026, 3, 1), None)
    ('1 day old on 2 March 2026', 'of 1 March 2026')
    """
    if newest is None or newest < since:
        return f"of {day_in_words(since)}"
    if newest == since:
        return f"of that day, {day_in_words(since)}"
    days = days_old(since, newest)
    return f"{days} day{'' if days == 1 else 's'} old on {day_in_words(newest)}"


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


def day_prices(
    steps: Iterable[Step], rates: Exchange
) -> tuple[tuple[DayPrice, ...], tuple[Finding, ...]]:
    """The prices of metals in order of day, and what there is to say about those not used.

    The rate of a currency is no price of a metal, and neither are a buyer's terms without one.
    """
    prices: list[DayPrice] = []
    findings: list[Finding] = []
    for step in steps:
        entry = step.entry
        if entry.action != "priced" or entry.per is None or not entry.metal or entry.money:
            continue
        problem = _problem(step, entry.per, rates)
        if problem is not None:
            findings.append(problem)
            continue
        figure = in_book(f"price of {entry.metal}", entry.per, step.day, rates, "/g")
        if not figure.terms:
            doubt = f"; uncertainty: {entry.per.u_basis}" if entry.per.base_u else ""
            words = f"as written for {day_in_words(step.day)}{doubt}"
            figure = replace(figure, formula=words)
        prices.append(DayPrice(entry.metal, step.day, figure, entry))
    prices.sort(key=lambda price: price.day)
    return tuple(prices), tuple(findings)


def _problem(step: Step, per: Amount, rates: Exchange) -> Finding | None:
    if step.day in NO_DAY:
        return _not_used(step, "it has no date", "write the day before priced: 2026-01-08")
    if per.per != "g":
        return _not_used(step, "it is not for a weight", "write: at 1.08 EUR/g, or per ozt")
    if per.base_value is None:
        return _not_used(step, "it is not written as a figure", "write: at 1.08 EUR/g")
    currency = missing_rate((per,), step.day, rates)
    if currency:
        why = f"it is in {currency}, the book counts in {rates.currency}, and no rate is noted"
        return _not_used(step, why, write_the_rate(currency, step.day, rates))
    return None


def _not_used(step: Step, problem: str, hint: str) -> Finding:
    return Finding(
        "price-unused",
        Weight.ERROR,
        f"a price of {step.entry.metal} cannot be used: {problem}",
        step.entry.span,
        "no worth is counted from it",
        hint,
    )


@dataclass(frozen=True, slots=True)
class Market:
    """Prices and buyers' terms by metal and day, to be looked up."""

    currency: str
    prices: Mapping[str, ByDay[DayPrice]]
    agreed: Mapping[str, ByDay[BuyerTerms]]
    newest_day: date | None = None

    def price(self, metal: str, day: date | None) -> Figure:
        """The price of a metal per gram: the latest, or the latest on or before a day.

        It says how old it was on that day; the latest does where it is stale.
        """
        name, unit = f"price of {metal}", f"{self.currency}/g"
        if metal not in self.prices:
            return not_known(name, unit, f"no price of {metal} is noted")
        found = self.prices[metal].up_to(day)
        if found is None:
            return not_known(name, unit, f"no price of {metal} is noted up to that day")
        if day is None and not is_stale(found.day, self.newest_day):
            return found.price
        age = f"{name}: {age_in_words(found.day, day or self.newest_day)}"
        return replace(found.price, notes=(*found.price.notes, age))

    def terms(self, metal: str, day: date | None) -> BuyerTerms | None:
        """What a buyer pays for of a metal: the latest terms, or those that held on a day."""
        return self.agreed[metal].up_to(day) if metal in self.agreed else None

    def priced(self, metal: str, day: date | None) -> bool:
        """Whether any price of a metal holds on a day, or at all."""
        return metal in self.prices and self.prices[metal].up_to(day) is not None


def market(
    prices: Sequence[DayPrice],
    currency: str,
    terms: Sequence[BuyerTerms] = (),
    newest_day: date | None = None,
) -> Market:
    """Prices and terms, ready to be looked up."""
    return Market(currency, _by_metal(prices), _by_metal(terms), newest_day)
