"""Money in other currencies, counted only at rates that the writer gave.

A rate holds from its day on until the next one. Nothing is looked up, nothing is turned round
and no rate is made of two others.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.sums import product
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Uncertain

NO_DAY = (date.min, date.max)


@dataclass(frozen=True, slots=True)
class Exchange:
    """The currency of a book, and what a unit of others was worth in it, by day."""

    currency: str
    rates: dict[str, list[tuple[date, Figure]]] = field(default_factory=dict)

    def money(self, name: str, amount: Amount, day: date | None) -> Figure:
        """A sum of money as written, in the book's currency; it has no uncertainty.

        Equation: m = m_f × r [currency], with r the latest rate up to the day, where m_f was
        written in another currency. Source: the definition of an exchange rate.
        """
        figure = leaf(name, amount, f"{name} is not written as a figure")
        value = None if amount.base_value is None else Uncertain(amount.base_value)
        written = replace(figure, value=value, unit=amount.currency or self.currency)
        if amount.currency in ("", self.currency):
            return replace(written, formula="as written")
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
        value = Uncertain(entry.per.base_value)
        words = f"as written for {step.day.isoformat()}"
        name = f"{currency} for one {entry.money}"
        figure = Figure(name, f"{currency}/{entry.money}", value, words, (), (entry.per.span,))
        rates.setdefault(entry.money, []).append((step.day, figure))
    for known in rates.values():
        known.sort(key=lambda one: one[0])
    return Exchange(currency, rates)
