"""What earnings are made of: worth by metal, costs by kind and hours, of a run or of the book."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.feed import is_feed
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.lot_worth import terms_on, worth_by_metal
from logbook.calculation.money.markets import Market
from logbook.calculation.money.settlement import bears_treatment, payable_metal
from logbook.calculation.money.worth import NOTHING_MADE
from logbook.calculation.results import BookFigures, Fate, Role, RunFigures, Thing
from logbook.calculation.sums import add_up, product, zero
from logbook.model.amount import Amount
from logbook.model.run import Status

LABOUR, FEED = "labour", "feed"
NO_PRODUCT = "the run made no product"
OPEN = "the run is open: what it will give is not known yet"
UNMADE = "no product is in the book yet"
UNDONE = "no run is done yet"
NO_RATE = "hours are not priced: bench.md gives no worth of an hour"


@dataclass(frozen=True, slots=True)
class MetalInput:
    """One metal of a product, and how it is paid for.

    worth = payable × (price − refining) − treatment [currency], with `fine` and `payable` in
    grams, `price` and `refining` per gram of payable metal, and `treatment` for the lot. Without
    a buyer's terms all that is fine is paid for. `recovery` [g/g] is that of the run.
    """

    fine: Figure
    payable: Figure
    price: Figure
    worth: Figure
    recovery: Figure
    refining: Figure | None = None
    treatment: Figure | None = None


@dataclass(frozen=True, slots=True)
class Inputs:
    """All that an hour's earnings rest on. `received` is worth that no price can change any more.

    `feed` is the weight of the scrap [g]. `nothing` says why nothing was earned, where there is
    nothing to count.
    """

    run: str
    currency: str
    metals: Mapping[str, MetalInput]
    received: Figure
    worth: Figure
    costs: Mapping[str, Figure]
    hours: Figure
    feed: Figure
    nothing: str = ""

    @property
    def cost(self) -> Figure:
        """All costs with labour."""
        return self._sum("cost", ())

    def cost_without(self, *kinds: str) -> Figure:
        """All costs but some kinds."""
        return self._sum(f"cost without {' and '.join(kinds)}", kinds)

    def _sum(self, name: str, left_out: tuple[str, ...]) -> Figure:
        parts = [one for kind, one in self.costs.items() if kind not in left_out]
        return add_up(name, self.currency, parts) if parts else zero(name, self.currency)


def inputs_of_run(figures: RunFigures, market: Market, hour: Amount | None) -> Inputs:
    """What a run earned is made of: its products, and what they and its losses must bear."""
    currency, costing = market.currency, figures.costing
    made = [thing for thing in figures.things_out if thing.role is Role.PRODUCT]
    hours = figures.hands_on
    costs: Mapping[str, Figure] = {line.kind: line.amount for line in figures.costs}
    if costing is not None:
        off = costing.hours_written_off or zero("hours written off", "h")
        hours = add_up("hours of what was made", "h", [costing.hours_in_products, off])
        costs = costing.made_kinds
    return Inputs(
        run=figures.run.name,
        currency=currency,
        metals=_made(figures, made, market) if made else {},
        received=zero("received", currency),
        worth=figures.worth,
        costs=_with_labour(costs, currency, hour),
        hours=hours,
        feed=_feed(figures),
        nothing="" if made else _why_nothing(figures),
    )


def _why_nothing(figures: RunFigures) -> str:
    if figures.worth.why == NOTHING_MADE:
        return NOTHING_MADE
    return OPEN if figures.run.status is Status.OPEN else NO_PRODUCT


def _with_labour(
    costs: Mapping[str, Figure], currency: str, hour: Amount | None
) -> dict[str, Figure]:
    """Costs with the hours among them: where they have no rate, their cost is not known."""
    if hour is not None or LABOUR in costs:
        return dict(costs)
    return {**costs, LABOUR: not_known(LABOUR, currency, NO_RATE)}


def _feed(figures: RunFigures) -> Figure:
    """The weight of the scrap; several lots are taken as one."""
    lots = sum(is_feed(figures.run, thing) for thing in figures.things_in)
    if lots < 2:
        return figures.feed
    note = f"{lots} lots were worked together: it is the grade of all of them as one"
    return replace(figures.feed, notes=(*figures.feed.notes, note))


def _made(figures: RunFigures, made: Sequence[Thing], market: Market) -> dict[str, MetalInput]:
    aims = [one for one in figures.balances if one.metal in figures.run.metals]
    fine = {one.metal: one.product for one in aims}
    holding = [one.gross for one in made if any(metal in one.contents for metal in fine)]
    weight = add_up("product weight", "g", holding)
    found = metal_inputs(fine, weight, market, figures.end)
    return {
        one.metal: replace(found[one.metal], recovery=_recovery(figures, one.metal, one.recovery))
        for one in aims
    }


def _recovery(figures: RunFigures, metal: str, recovery: Figure) -> Figure:
    """The recovery from the scrap; not known where the same metal was added beside it."""
    for thing in figures.things_in:
        if not is_feed(figures.run, thing) and metal in thing.contents:
            why = f"{metal} was added beside the scrap, so nothing follows for the scrap alone"
            return not_known(recovery.name, recovery.unit, why)
    return recovery


def metal_inputs(
    fine: Mapping[str, Figure], weight: Figure, market: Market, day: date | None
) -> dict[str, MetalInput]:
    """The metals of a lot, and how they are paid for on a day; see `settlement.py`."""
    agreed = terms_on(fine, market, day)
    bearer = bears_treatment(agreed)
    worths = worth_by_metal(fine, weight, market, day)
    unsaid = not_known("recovery", "g/g", "there is one for each run only")
    found = {}
    for metal, grams in fine.items():
        price, terms = market.price(metal, day), agreed.get(metal)
        one = MetalInput(grams, grams, price, worths[metal], unsaid)
        if terms is not None:
            payable = payable_metal(metal, grams, weight, terms)
            one = replace(one, payable=payable, refining=terms.refining)
            if metal == bearer and terms.treatment is not None:
                charge = product("treatment charge", market.currency, weight, terms.treatment)
                one = replace(one, treatment=charge)
        found[metal] = one
    return found


def inputs_of_book(figures: BookFigures, market: Market, hour: Amount | None) -> Inputs:
    """What the book earned is made of.

    Products sold count with what was received, those held with the latest price; costs and hours
    are what both carry and what was written off. What lies on the shelf, and its costs, wait.
    """
    currency = market.currency
    sold = [sale.received for sale in figures.sales]
    name = "received for what was sold"
    received = add_up(name, currency, sold) if sold else zero(name, currency)
    metals = _held(figures, market)
    worth = add_up("worth", currency, [received, *(one.worth for one in metals.values())])
    return Inputs(
        run="",
        currency=currency,
        metals=metals,
        received=received,
        worth=worth,
        costs=_with_labour(figures.costing.made_kinds, currency, hour),
        hours=figures.costing.made_hours or not_known("hours", "h", "no time was noted"),
        feed=not_known("feed", "g", "there is a grade for each run only"),
        nothing="" if sold or metals else _why_unmade(figures),
    )


def _why_unmade(figures: BookFigures) -> str:
    done = any(not one.run.planned for one in figures.runs.values())
    return UNMADE if done else UNDONE


def _held(figures: BookFigures, market: Market) -> dict[str, MetalInput]:
    """The metals of the products that are held, at the latest prices and terms.

    Only metals count that the run aimed at which made the product, as they do in its own worth.
    """
    lots: dict[str, list[MetalInput]] = {}
    for thing in products_held(figures.things):
        maker = figures.runs.get(thing.made_by.run) if thing.made_by is not None else None
        aims = maker.run.metals if maker is not None else ()
        fine = {metal: held for metal, held in thing.contents.items() if metal in aims}
        for metal, one in metal_inputs(fine, thing.gross, market, None).items():
            lots.setdefault(metal, []).append(one)
    return {metal: _together(metal, parts, market.currency) for metal, parts in lots.items()}


def products_held(things: Iterable[Thing]) -> list[Thing]:
    """The products that stand in the book now, each once: a bar that was cut, as its pieces."""
    every = list(things)
    elsewhere = {one.part_of for one in every if one.part_of}
    elsewhere |= {part for one in every for part in one.pooled_from}
    return [
        one
        for one in every
        if one.role is Role.PRODUCT and one.fate is Fate.SHELF and one.key not in elsewhere
    ]


def _together(metal: str, lots: Sequence[MetalInput], currency: str) -> MetalInput:
    """Lots of one metal at one price and by the same terms."""
    first = lots[0]
    treated = [one.treatment for one in lots if one.treatment is not None]
    return replace(
        first,
        fine=add_up(f"fine {metal} held", "g", [one.fine for one in lots]),
        payable=add_up(f"payable {metal} held", "g", [one.payable for one in lots]),
        worth=add_up(f"worth of {metal}", currency, [one.worth for one in lots]),
        treatment=add_up("treatment charges", currency, treated) if treated else None,
    )
