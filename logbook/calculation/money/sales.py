"""What was sold: the weight and the fine metal of it, what was received, what was expected."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.costs import money
from logbook.calculation.money.markets import Market, every_step
from logbook.calculation.results import Fate, Sale, Thing
from logbook.calculation.sums import add_up, product
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.model.amount import Dimension
from logbook.model.book import Book
from logbook.model.entry import Composition, Entry
from logbook.reference import metals as metals_known


def sales(book: Book, things: Iterable[Thing], market: Market) -> tuple[Sale, ...]:
    """Every sale of a book, in order of day."""
    of_entry: dict[int, list[Thing]] = {}
    for thing in things:
        if thing.fate is Fate.SOLD:
            for entry in thing.entries:
                if entry.action == "sold":
                    of_entry.setdefault(id(entry), []).append(thing)
    found = [
        _sale(step, of_entry.get(id(step.entry), []), market)
        for step in every_step(book)
        if step.entry.action == "sold"
    ]
    return tuple(sorted(found, key=lambda sale: (sale.day or date.max, sale.run)))


def _sale(step: Step, sold: Sequence[Thing], market: Market) -> Sale:
    entry = step.entry
    metal = _metal(entry, sold)
    day = None if step.day in (date.min, date.max) else step.day
    if sold:
        gross = add_up("weight sold", "g", [thing.gross for thing in sold])
        fine = add_up("fine weight", "g", [_content(thing, metal) for thing in sold])
    else:
        gross, fine = _as_written(entry, metal)
    price = market.price(metal, day)
    return Sale(
        step.where,
        day,
        ", ".join(thing.label for thing in sold),
        metal,
        gross,
        fine,
        _received(entry, market.currency),
        product("estimated", market.currency, fine, price, "fine weight × price"),
        entry,
    )


def _metal(entry: Entry, sold: Sequence[Thing]) -> str:
    """The metal a sale is about: the one named, else the dearest kind that is in it."""
    spoken = [entry.metal] if entry.metal else []
    spoken += [composition.metal for composition in entry.compositions]
    spoken += [
        metal for thing in sold for metal, content in thing.contents.items() if content.known
    ]
    spoken += [metal for thing in sold for metal in thing.contents]
    precious_names = {name for name, metal in metals_known().items() if metal.precious}
    precious = [metal for metal in spoken if metal in precious_names]
    return (precious or spoken or [""])[0]


def _content(thing: Thing, metal: str) -> Figure:
    why = f"the {metal or 'metal'} in [{thing.label}] was never measured"
    return thing.contents.get(metal) or not_known("fine weight", "g", why)


def _as_written(entry: Entry, metal: str) -> tuple[Figure, Figure]:
    """Weight and fine weight of something sold without a label, as far as the entry says."""
    why = "the weight of what was sold is not written"
    masses = [
        portion.amount
        for portion in entry.portions
        if portion.amount is not None and portion.amount.dimension is Dimension.MASS
    ]
    gross = leaf("weight sold", masses[0], why) if masses else not_known("weight sold", "g", why)
    for composition in entry.compositions:
        if composition.metal == metal:
            return gross, _fine(gross, composition)
    return gross, not_known("fine weight", "g", "the fineness of what was sold is not written")


def _fine(gross: Figure, composition: Composition) -> Figure:
    assay = leaf(f"fineness in {composition.metal}", composition.amount, "it is only a limit")
    if composition.amount.dimension is Dimension.MASS:
        return assay
    return product("fine weight", "g", gross, assay)


def _received(entry: Entry, currency: str) -> Figure:
    if entry.price is None:
        return not_known("received", currency, "what was paid for it is not written")
    return money("received", entry.price.amount, currency)
