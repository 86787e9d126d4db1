"""The door to the accounts of all supplies: what each use cost, and what is in stock.

Built once for a book, from what was bought or had and from what its runs used; plans use
nothing, and may ask what is there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.exchange import Exchange
from logbook.calculation.results import Supplies
from logbook.calculation.sums import zero
from logbook.calculation.supplies.account_figures import Account, account_of
from logbook.calculation.supplies.arrivals import arrivals_of_book
from logbook.calculation.supplies.conversion import WEIGHED, converted
from logbook.calculation.supplies.known import SupplyList
from logbook.calculation.supplies.names import (
    FREE,
    dimension_unit,
    strength_of,
    supply_in_words,
    supply_name,
)
from logbook.calculation.supplies.shelving import belongs_to, shelves
from logbook.calculation.supplies.shortages import shortage_findings
from logbook.calculation.supplies.use_costs import estimate
from logbook.calculation.supplies.uses import SupplyUse
from logbook.calculation.supplies.walked import Walked, walked
from logbook.findings import Finding
from logbook.model.amount import Dimension
from logbook.model.book import Book
from logbook.model.entry import Portion


@dataclass(frozen=True, slots=True)
class Accounts:
    """The accounts of a book. What is asked of them changes nothing."""

    currency: str
    supplies: Supplies = field(default_factory=Supplies)
    by_name: Mapping[str, Sequence[Account]] = field(default_factory=dict)
    costs: Mapping[SupplyUse, Figure] = field(default_factory=dict)

    def cost_of(self, use: SupplyUse) -> Figure:
        """What a use cost; of a plan, what it would cost at the average on its day."""
        found = self.costs.get(use)
        return found if found is not None else self._estimate(use)

    def in_stock(self, portion: Portion, dimension: Dimension) -> Figure | None:
        """What is left of a supply; None for what comes from the tap and is never bought."""
        words, unit = f"{supply_in_words(portion)} in stock", dimension_unit(dimension)
        accounts = self._of(portion)
        if not accounts:
            if supply_name(portion) in FREE:
                return None
            return not_known(words, unit, self._why_none(portion, "was bought or had"))
        found = _in_unit(accounts, dimension)
        if found is None:
            counted = "pieces" if dimension is Dimension.COUNT else unit
            why = f"no {supply_in_words(portion)} was bought or had in {counted}"
            return not_known(words, unit, why)
        if found.shelf.dimension is dimension:
            return found.figures.left
        return converted(found.figures.left, dimension, found.shelf.litre)

    def came_of(self, portion: Portion) -> tuple[Account, ...]:
        """The accounts of a supply that was bought or had; of all strengths where none is named."""
        wanted = strength_of(portion)
        return tuple(
            one
            for one in self.by_name.get(supply_name(portion), ())
            if one.shelf.came
            and (None in (wanted, one.shelf.strength) or one.shelf.strength == wanted)
        )

    def _of(self, portion: Portion) -> list[Account]:
        """The accounts of a supply in the strength of a portion, of which some came in."""
        came = [one for one in self.by_name.get(supply_name(portion), ()) if one.shelf.came]
        kinds = dict.fromkeys(one.shelf.strength for one in came)
        strength = belongs_to(kinds, strength_of(portion))
        return [one for one in came if one.shelf.strength == strength]

    def _why_none(self, portion: Portion, done: str) -> str:
        """Why there is no account of a portion: none came in, or it may be of several strengths."""
        words = supply_in_words(portion)
        if strength_of(portion) is None and self.came_of(portion):
            return f"{words} was bought in several strengths, and none is named"
        return f"no {words} {done}"

    def _estimate(self, use: SupplyUse) -> Figure:
        name = f"cost of {supply_in_words(use.portion)}"
        accounts = self._of(use.portion)
        if not accounts and use.name in FREE:
            return zero(name, self.currency, f"{supply_in_words(use.portion)} is counted as free")
        found = _in_unit(accounts, use.dimension) or (accounts[0] if accounts else None)
        if found is None:
            why = use.used.why or self._why_none(use.portion, "was bought or had")
            return not_known(name, self.currency, why, use.used)
        quantity = found.shelf.counted(use)
        average = _average_on(found, use.day)
        if average is None:
            why = f"no purchase of {supply_in_words(use.portion)} was noted up to that day"
            return not_known(name, self.currency, use.used.why or why, use.used)
        return estimate(found.shelf, quantity, average, name, self.currency)


def _in_unit(accounts: Sequence[Account], dimension: Dimension | None) -> Account | None:
    """The account in a kind of unit, or one that can be told in it."""
    for one in accounts:
        if one.shelf.dimension is dimension:
            return one
    for one in accounts:
        if dimension in WEIGHED and one.shelf.dimension in WEIGHED and one.shelf.litre.known:
            return one
    return None


def _average_on(account: Account, day: date) -> Figure | None:
    held = [average for on, average in account.averages if on <= day]
    return held[-1] if held else None


def supply_accounts(
    book: Book, uses: Iterable[SupplyUse], exchange: Exchange, supplies: SupplyList
) -> Accounts:
    """The accounts of a book; `uses` are those of the runs that were done."""
    own, of_lots = _apart(uses, supplies)
    walks, loose = _walks(book, own, exchange)
    newest = book.newest_day
    by_name: dict[str, list[Account]] = {}
    costs = {use: _with_its_lot(use, exchange.currency) for use in of_lots}
    for walk in walks:
        account = account_of(walk, exchange.currency, newest)
        by_name.setdefault(walk.shelf.name, []).append(account)
        costs |= account.costs
    return Accounts(
        exchange.currency,
        Supplies(
            tuple(one.figures for found in by_name.values() for one in found),
            loose,
            _findings(walks),
        ),
        by_name,
        costs,
    )


def supply_findings(
    book: Book, uses: Iterable[SupplyUse], exchange: Exchange, supplies: SupplyList
) -> tuple[Finding, ...]:
    """What the accounts have to say, without their figures: quick, as `proof` needs it."""
    walks, _ = _walks(book, _apart(uses, supplies)[0], exchange)
    return _findings(walks)


def _walks(
    book: Book, uses: Sequence[SupplyUse], exchange: Exchange
) -> tuple[list[Walked], tuple[Figure, ...]]:
    arrivals, loose = arrivals_of_book(book, exchange, {use.name for use in uses})
    shelved = shelves(arrivals, uses)
    walks = [walked(shelf) for found in shelved.values() for shelf in found if shelf.lines]
    return walks, loose


def _findings(walks: Iterable[Walked]) -> tuple[Finding, ...]:
    return tuple(sorted(shortage_findings(walks), key=lambda one: one.sort_key))


def _apart(
    uses: Iterable[SupplyUse], supplies: SupplyList
) -> tuple[list[SupplyUse], list[SupplyUse]]:
    """Uses of supplies, and those of a labelled lot, whose money follows the lot."""
    own: list[SupplyUse] = []
    of_lots: list[SupplyUse] = []
    for use in uses:
        sources = use.entry.sources if use.entry is not None else ()
        labels = (label.name for label in (*use.portion.labels, *sources))
        (of_lots if any(name in supplies.lots for name in labels) else own).append(use)
    return own, of_lots


def _with_its_lot(use: SupplyUse, currency: str) -> Figure:
    note = "its money came with the labelled lot that it was taken from"
    return zero(f"cost of {supply_in_words(use.portion)}", currency, note)
