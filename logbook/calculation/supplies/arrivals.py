"""What supplies came in, at what price; and money of which no line tells what it was for.

A lot of scrap is no supply: its money follows the thing. Nothing is divided by guessing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.exchange import NO_DAY, Exchange
from logbook.calculation.schedule import distinct_runs, steps_of_page
from logbook.calculation.sums import part_of, product
from logbook.calculation.supplies.known import is_lot, purchases
from logbook.calculation.supplies.names import (
    QUANTITIES,
    bulk_metal,
    strength_of,
    supply_in_words,
    supply_name,
)
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Uncertain
from logbook.model.book import Book
from logbook.model.days import day_in_words
from logbook.model.entry import Entry, Portion

LEAST = 1e-9  # of a gram, litre or piece: what is less is no purchase
MOST = 1e12  # of a gram, litre, piece or coin: more is a slip that no sum should carry
NO_ITEM = "no line says what for: no supply and no run carries it"
SPENT = "no line says that a supply was bought with it: no supply and no run carries it"
NO_AMOUNT = "how much that was is not written: no account can take the money"
TOGETHER = "one price of several supplies cannot be divided between them"
UNLABELLED = "scrap without a label: no run can be found that took it"
IN_ALL = "a total in all: what was noted by itself lies inside it"


@dataclass(frozen=True, slots=True, eq=False)
class Arrival:
    """A supply that was bought or had. `amounts` are the one or two in which it was measured.

    `paid` is in the book's currency; where it is not known, that is why the quantity has no
    price. Without an amount nobody knows how much came.
    """

    step: Step
    portion: Portion
    amounts: tuple[Amount, ...]
    paid: Figure

    @property
    def day(self) -> date:
        """The day on which it came."""
        return self.step.day

    @property
    def words(self) -> str:
        """What came and when, for a sentence."""
        return f"{supply_in_words(self.portion)} that was {came_on(self.step)}"


def came_on(step: Step) -> str:
    """How and when something came, behind "what was"."""
    how = "bought" if step.entry.action == "bought" else "there"
    return how if step.day in NO_DAY else f"{how} on {day_in_words(step.day)}"


def arrivals_of_book(
    book: Book, exchange: Exchange, used: Collection[str]
) -> tuple[list[Arrival], tuple[Figure, ...]]:
    """Every supply that came in, and the money that no account can take.

    `used` are the names of supplies that some run used: what is called so is a supply.
    """
    found: list[Arrival] = []
    loose: list[Figure] = []
    taken = _taken_as_scrap(book) - set(used)
    for step in purchases(book):
        bought = _sorted_out(step.entry, taken, used)
        prices = _divided(step, bought, exchange)
        found += _arrivals(step, bought, prices, exchange)
        if step.entry.price is not None and not prices and not bought.lots:
            loose.append(_named(_paid(step, exchange), _what(step.entry), _why_loose(bought)))
    loose += _spent_on_pages(book, exchange)
    return [one for one in found if one.amounts or _is_known(one.portion, used)], tuple(loose)


@dataclass(frozen=True, slots=True)
class _Bought:
    """What one entry brought: supplies, scrap without a label, and whether there is a lot."""

    supplies: tuple[Portion, ...]
    scrap: bool
    lots: bool


def _sorted_out(entry: Entry, taken: Collection[str], used: Collection[str]) -> _Bought:
    loose = [portion for portion in entry.portions if not is_lot(entry, portion)]
    names = [supply_name(portion) for portion in loose]
    supplies = tuple(
        portion
        for portion, name in zip(loose, names, strict=True)
        if name in used or (name not in taken and not entry.compositions)
    )
    return _Bought(supplies, len(supplies) < len(loose), len(loose) < len(entry.portions))


def _is_known(portion: Portion, used: Collection[str]) -> bool:
    """Whether something without an amount is a supply at all: chemicals are no item."""
    return bool(portion.reagent or bulk_metal(portion)) or supply_name(portion) in used


def _taken_as_scrap(book: Book) -> set[str]:
    """What runs took as scrap under no label, by the names of supplies."""
    return {
        supply_name(portion)
        for run in distinct_runs(book)
        if not run.planned
        for entry in run.entries
        if entry.action == "took"
        for portion in entry.portions
        if portion.what and not portion.labels and not entry.sources
    }


def _arrivals(
    step: Step, bought: _Bought, prices: list[Figure], exchange: Exchange
) -> list[Arrival]:
    """The supplies of one entry, each with its price or why it has none."""
    measured = [_amounts(portion) for portion in bought.supplies]
    prices = prices or [_unit_priced(step, bought, amounts, exchange) for amounts in measured]
    return [
        Arrival(step, portion, amounts, paid)
        for portion, amounts, paid in zip(bought.supplies, measured, prices, strict=True)
    ]


def _amounts(portion: Portion) -> tuple[Amount, ...]:
    """The amounts in which a portion was measured: no two in one kind of unit."""
    both = (portion.amount, portion.second)
    found = {
        one.dimension: one
        for one in reversed(both)
        if one is not None and one.dimension in QUANTITIES and _is_usable(one)
    }
    return tuple(reversed(found.values()))


def _is_usable(amount: Amount) -> bool:
    """Whether an amount says anything of how much it was: "some" does not."""
    if amount.base_value is None:
        return amount.low is not None or amount.high is not None
    return 0.0 <= amount.base_value < MOST


def _divided(step: Step, bought: _Bought, exchange: Exchange) -> list[Figure]:
    """The price of an entry by the amounts of one supply; nothing where it cannot be divided."""
    price, portions = step.entry.price, bought.supplies
    if price is None or not portions:
        return []
    if price.amount.base_value == 0.0:
        return [_paid(step, exchange)] * len(portions)  # a gift is one, however it is divided
    if bought.scrap or bought.lots or len({(supply_name(p), strength_of(p)) for p in portions}) > 1:
        return []
    measured = [_amounts(portion) for portion in portions]
    first = [one[0] for one in measured if one and (one[0].base_value or 0.0) > LEAST]
    if len(first) < len(portions) or len({one.dimension for one in first}) > 1:
        return []
    paid, sizes = _paid(step, exchange), [one.base_value or 0.0 for one in first]
    if len(sizes) == 1:
        return [paid]
    return [part_of(paid.name, paid, size / sum(sizes), "its part") for size in sizes]


def _paid(step: Step, exchange: Exchange) -> Figure:
    """The price of an entry as written, in the book's currency."""
    entry = step.entry
    assert entry.price is not None
    paid = _money(f"paid for {_what(entry)}", entry.price.amount, step, exchange)
    if entry.price.would_cost:
        note = "what it would cost, not what was paid"
        paid = replace(paid, notes=(*paid.notes, note))
    return paid


def _money(name: str, amount: Amount, step: Step, exchange: Exchange) -> Figure:
    day = None if step.day in NO_DAY else step.day
    if amount.base_value is not None and not 0.0 <= amount.base_value < MOST:
        why = f'"{amount.span.text.strip()}" cannot be what was paid'
        return Figure(name, exchange.currency, why=why, rests_on=(amount.span,))
    return exchange.money(name, amount, day)


def _unit_priced(
    step: Step, bought: _Bought, amounts: tuple[Amount, ...], exchange: Exchange
) -> Figure:
    """What came at a price per unit, or why its price is not known."""
    entry, per = step.entry, step.entry.per
    name = f"paid for {_what(entry)}"
    for amount in amounts:
        if per is not None and amount.base_value is not None and per.per == amount.base_unit:
            price = _money(f"price of {_what(entry)}", per, step, exchange)
            quantity = replace(leaf("bought", amount, ""), value=Uncertain(amount.base_value))
            return product(name, exchange.currency, quantity, price, "bought × price")
    why = f"what the {_what(entry)} that was {came_on(step)} cost is not written"
    if entry.price is not None:
        why = f"{_why_loose(bought)}: {entry.price.amount.span.text.strip()} {came_on(step)}"
    return not_known(name, exchange.currency, why)


def _what(entry: Entry) -> str:
    return " and ".join(supply_in_words(portion) for portion in entry.portions) or "something"


def _why_loose(bought: _Bought) -> str:
    """Why no account can take the money of an entry; that of a lot follows the lot."""
    if bought.scrap:
        return UNLABELLED
    if len(bought.supplies) > 1:
        return TOGETHER
    return NO_AMOUNT if bought.supplies else NO_ITEM


def _named(paid: Figure, words: str, why: str) -> Figure:
    return replace(paid, name=words, notes=(*paid.notes, why))


def _spent_on_pages(book: Book, exchange: Exchange) -> Iterator[Figure]:
    """Money spent on a fixed page: it belongs to no run."""
    pages = [page for page in (book.supplies, book.prices) if page is not None]
    for step in (step for page in pages for step in steps_of_page(page)):
        entry = step.entry
        if entry.action not in ("spent", "broke") or entry.price is None:
            continue
        words = entry.words or _what(entry)
        if entry.in_all:
            yield not_known(words, exchange.currency, IN_ALL)
        else:
            yield _named(_paid(step, exchange), words, SPENT)
