"""What was sold: the weight and the fine metal of it, what was received, what was expected.

What was expected is what price and terms of that day would have given. Neither is put right by
the other: a difference stays a difference.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.exchange import NO_DAY, Exchange
from logbook.calculation.money.lot_worth import worth_of_lot
from logbook.calculation.money.markets import Market
from logbook.calculation.money.terms import in_book
from logbook.calculation.results import Fate, Sale, Thing
from logbook.calculation.sums import add_up, difference, lowest, product
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.model.amount import ZERO, Dimension
from logbook.model.entry import Composition, Entry
from logbook.reference import metals as metals_known

COVERAGE = 2.0  # |D| within twice its standard uncertainty says nothing
HALF_A_CENT = 0.005  # of the currency: no sum of money that is paid can come nearer
FEE_APART = "what the sale cost besides is not in it"
UNDATED = "the sale has no date: it is put at the latest price"


def sales(
    steps: Iterable[Step], things: Iterable[Thing], market: Market, rates: Exchange
) -> tuple[Sale, ...]:
    """Every sale of a book, in order of day."""
    of_entry: dict[int, list[Thing]] = {}
    for thing in things:
        if thing.fate is Fate.SOLD:
            for entry in thing.entries:
                if entry.action == "sold":
                    of_entry.setdefault(id(entry), []).append(thing)
    found = [
        _sale(step, of_entry.get(id(step.entry), []), market, rates)
        for step in steps
        if step.entry.action == "sold"
    ]
    return tuple(sorted(found, key=lambda sale: (sale.day or date.max, sale.run)))


def _sale(step: Step, sold: Sequence[Thing], market: Market, rates: Exchange) -> Sale:
    entry, day = step.entry, None if step.day in NO_DAY else step.day
    gross = _gross(entry, sold)
    contents = _of_things(sold) if sold else _as_written(entry, gross)
    metal = _metal(entry, contents, market, day)
    received = _received(entry, gross, day, rates)
    estimated = _estimated(metal, contents, gross, market, day)
    return Sale(
        run=step.where,
        day=day,
        label=", ".join(thing.label for thing in sold),
        metal=metal,
        gross=gross,
        fine=contents.get(metal) or _never_measured(metal, sold),
        received=received,
        estimated=estimated,
        entry=entry,
        fee=None if entry.fee is None else in_book("fee", entry.fee, day, rates),
        difference=_difference(received, estimated, fee=entry.fee is not None),
        things=tuple(thing.key for thing in sold),
    )


def _gross(entry: Entry, sold: Sequence[Thing]) -> Figure:
    if sold:
        return add_up("weight sold", "g", [thing.gross for thing in sold])
    why = "the weight of what was sold is not written"
    masses = [
        portion.amount
        for portion in entry.portions
        if portion.amount is not None and portion.amount.dimension is Dimension.MASS
    ]
    if not masses:
        return not_known("weight sold", "g", why)
    return add_up("weight sold", "g", [leaf("weight sold", mass, why) for mass in masses])


def _of_things(sold: Sequence[Thing]) -> dict[str, Figure]:
    """What was sold together, metal by metal."""
    metals = dict.fromkeys(metal for thing in sold for metal in thing.contents)
    return {
        metal: add_up("fine weight", "g", [_content(thing, metal) for thing in sold])
        for metal in metals
    }


def _metal(entry: Entry, contents: Mapping[str, Figure], market: Market, day: date | None) -> str:
    """The metal a sale is about: the one named, else the one that is worth most.

    Where no worth is known it is a precious one, one whose content is known before the others.
    """
    if entry.metal or len(contents) < 2:
        return entry.metal or next(iter(contents), "")

    def rank(metal: str) -> tuple[float, bool, bool]:
        fine, price = contents[metal], market.price(metal, day)
        worth = lowest(fine) * lowest(price) if fine.known else 0.0
        return worth, metal in metals_known() and metals_known()[metal].precious, fine.known

    return max(contents, key=rank)


def _estimated(
    metal: str,
    contents: Mapping[str, Figure],
    gross: Figure,
    market: Market,
    day: date | None,
) -> Figure:
    """What price and terms of the day give for a sold lot, see `settlement.py`.

    Every metal with a price counts. A metal beside the dearest of which nobody knows how much
    there is would not be paid for: it is left out, and named.
    """
    counted, notes = {}, [UNDATED] if day is None else []
    for name, fine in contents.items():
        if name == metal or (fine.known and market.priced(name, day)):
            counted[name] = fine
        elif fine.known:
            notes.append(f"{name} has no price here and is not counted")
        else:
            notes.append(f"how much {name} is in it is not known: none is counted")
    if not counted:
        return not_known("estimated", market.currency, "what was in it is not known")
    worth = worth_of_lot("estimated", counted, gross, market, day, sold=True)
    return replace(worth, notes=(*worth.notes, *notes))


def _difference(received: Figure, estimated: Figure, *, fee: bool) -> Figure:
    """What was received less what was estimated: below nothing where the buyer paid less.

    Equation: D = V_r − V_e [currency]; u(D) = u(V_e) where the money was counted. It says
    something of the buyer only where |D| > 2 u(D). Source: the definition; propagation JCGM
    100:2008, 5.1.2 (from memory).
    """
    name = "difference"
    if not received.known:
        return not_known(name, received.unit, received.why, received, estimated)
    found = difference(name, received.unit, received, estimated, "received − estimated")
    notes = [_meaning(found)] if found.known else []
    notes += [FEE_APART] if fee else []
    return replace(found, notes=(*notes, *found.notes))


def _meaning(found: Figure) -> str:
    """What a difference says, in words."""
    value = found.value or ZERO
    if abs(value.value) <= COVERAGE * value.u or abs(value.value) < HALF_A_CENT:
        return "the doubt of weight and assay can explain it: it says nothing of the buyer"
    less = value.value < 0.0
    return f"the buyer paid {'less' if less else 'more'} than price and terms of the day give"


def _content(thing: Thing, metal: str) -> Figure:
    why = f"the {metal or 'metal'} in [{thing.label}] was never measured"
    return thing.contents.get(metal) or not_known("fine weight", "g", why)


def _never_measured(metal: str, sold: Sequence[Thing]) -> Figure:
    if not sold:
        return not_known("fine weight", "g", "the fineness of what was sold is not written")
    return add_up("fine weight", "g", [_content(thing, metal) for thing in sold])


def _as_written(entry: Entry, gross: Figure) -> dict[str, Figure]:
    """What was in something sold without a label, as far as the entry says."""
    return {said.metal: _fine(gross, said) for said in entry.compositions}


def _fine(gross: Figure, composition: Composition) -> Figure:
    assay = leaf(f"fineness in {composition.metal}", composition.amount, "it is only a limit")
    if composition.amount.dimension is Dimension.MASS:
        return assay
    return product("fine weight", "g", gross, assay)


def _received(entry: Entry, gross: Figure, day: date | None, rates: Exchange) -> Figure:
    """The money that came in: as written, or the weight sold at a price for each gram."""
    if entry.price is not None:
        return in_book("received", entry.price.amount, day, rates)
    if entry.per is None:
        return not_known("received", rates.currency, "what was paid for it is not written")
    if entry.per.per != "g":
        why = f"{entry.per.span.text.strip()} is not a price for a weight"
        return not_known("received", rates.currency, why)
    price = in_book("price agreed", entry.per, day, rates, "/g")
    return product("received", rates.currency, gross, price, "weight sold × price agreed")
