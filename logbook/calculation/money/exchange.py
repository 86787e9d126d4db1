"""Money in other currencies, counted only at rates that the writer gave.

A rate holds from its day on until the next one. Nothing is looked up, nothing is turned round
and no rate is made of two others.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.sums import product
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.findings import Finding, Weight
from logbook.model.amount import Amount, Uncertain

NO_DAY = (date.min, date.max)


@dataclass(frozen=True, slots=True)
class Exchange:
    """The currency of a book, and what a unit of others was worth in it, by day."""

    currency: str
    rates: dict[str, list[tuple[date, Figure]]] = field(default_factory=dict)

    def money(self, name: str, amount: Amount, day: date | None) -> Figure:
        """A sum of money as written, in the book's currency.

        Money is counted and has no doubt, unless it was written with one: a range, about, ±.

        Equation: m = m_f × r [currency], with r the latest rate up to the day, where m_f was
        written in another currency. Source: the definition of an exchange rate.
        """
        written = as_written(name, amount)
        written = replace(written, unit=amount.currency or self.currency)
        if amount.currency in ("", self.currency):
            return written
        rate = self._rate(amount.currency, day)
        if rate is None:
            why = (
                f"{amount.span.text.strip()} is in {amount.currency}, the book counts in "
                f"{self.currency}, and no rate up to that day is noted"
            )
            return Figure(name, self.currency, why=why, rests_on=(amount.span,))
        return product(name, self.currency, written, rate, f"{amount.currency} × rate of the day")

    def _rate(self, currency: str, day: date | None) -> Figure | None:
        known = self.rates.get(currency, [])
        at = len(known) if day is None else bisect_right([one[0] for one in known], day)
        return known[at - 1][1] if at else None


def as_written(name: str, amount: Amount) -> Figure:
    """A sum of money, or money for a unit, as it was written, with the doubt that was written.

    From 20 to 25 EUR is 22.50 EUR, and anywhere between, by hand 2.50/√3 = 1.44 either way
    (JCGM 100:2008, 4.3.7, from memory):

    >>> from logbook.model.amount import Dimension
    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/a.md", ""), 0, 0)
    >>> u = 2.5 / 3 ** 0.5
    >>> paid = Amount(place, Dimension.MONEY, "EUR", 22.5, 22.5, u, "range: anywhere within it")
    >>> round(as_written("gloves", paid).value.u, 2)
    1.44
    """
    figure = leaf(name, amount, f"{name} is not written as a figure")
    return figure if amount.base_u else replace(figure, formula="as written")


def rates_without_date(steps: Iterable[Step]) -> Iterator[Finding]:
    """Rates of currencies that nobody can use: no line says from which day on they hold."""
    for step in steps:
        entry = step.entry
        if entry.action == "priced" and entry.money and entry.per and step.day in NO_DAY:
            yield Finding(
                "rate-without-date",
                Weight.ERROR,
                f"a rate of {entry.money} has no date, and rates change from day to day",
                entry.span,
                f"it is not used: money in {entry.money} is not known at this rate",
                "write the day before priced: 2026-01-08",
            )


def exchange(steps: Iterable[Step], currency: str) -> Exchange:
    """The rates that a book gives, from entries such as `priced USD at 0.92 EUR`."""
    rates: dict[str, list[tuple[date, Figure]]] = {}
    for step in steps:
        entry = step.entry
        usable = entry.action == "priced" and entry.money and entry.per is not None
        if not usable or entry.per is None or entry.per.base_value is None or step.day in NO_DAY:
            continue
        if entry.per.currency != currency:
            continue
        value = Uncertain.reading(entry.per)
        words = f"as written for {step.day.isoformat()}"
        name = f"{currency} for one {entry.money}"
        figure = Figure(name, f"{currency}/{entry.money}", value, words, (), (entry.per.span,))
        rates.setdefault(entry.money, []).append((step.day, figure))
    for known in rates.values():
        known.sort(key=lambda one: one[0])
    return Exchange(currency, rates)
