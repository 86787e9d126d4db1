"""What earnings are made of: worth by metal, costs by kind and hours, of a run or of the book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import BookFigures, Fate, Role, RunFigures
from logbook.calculation.sums import add_up, ratio, zero
from logbook.model.run import Status

NO_PRODUCT = "the run made no product"
OPEN = "the run is open: what it will give is not known yet"
UNMADE = "no product is in the book yet"


@dataclass(frozen=True, slots=True)
class MetalInput:
    """One metal of a product: fine weight [g], market price [currency/g], and what it is worth.

    `refining` is what a buyer takes for each gram that is paid for; `grade` the head grade of the
    feed [g/g], where it is known.
    """

    fine: Figure
    price: Figure
    worth: Figure
    grade: Figure
    refining: float = 0.0


@dataclass(frozen=True, slots=True)
class Inputs:
    """All that an hour's earnings rest on. `received` is worth that no price can change any more.

    `nothing` says why nothing was earned, where there is nothing to count.
    """

    run: str
    currency: str
    metals: Mapping[str, MetalInput]
    received: Figure
    worth: Figure
    costs: Mapping[str, Figure]
    hours: Figure
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


@dataclass(frozen=True, slots=True)
class Charges:
    """What a buyer takes for a gram of each metal that is paid for [currency/g]."""

    refining: Mapping[str, float] = field(default_factory=dict)


def inputs_of_run(figures: RunFigures, charges: Charges = Charges()) -> Inputs:
    """What a run earned is made of: its products, and what they and its losses must bear."""
    currency, costing = figures.net.unit, figures.costing
    made = any(thing.role is Role.PRODUCT for thing in figures.things_out)
    why = "" if made else OPEN if figures.run.status is Status.OPEN else NO_PRODUCT
    worths = {one.name.removeprefix("worth of "): one for one in figures.worth.terms}
    metals = {}
    for balance in figures.balances:
        metal = balance.metal
        if metal not in figures.run.metals or not made:
            continue
        worth = worths.get(metal, figures.worth if len(figures.run.metals) == 1 else None)
        if worth is not None:
            metals[metal] = MetalInput(
                balance.product,
                _price_in(worth, metal, currency),
                worth,
                ratio(f"head grade in {metal}", "g/g", balance.head, figures.feed),
                charges.refining.get(metal, 0.0),
            )
    hours = figures.hands_on
    costs: Mapping[str, Figure] = {line.kind: line.amount for line in figures.costs}
    if costing is not None:
        off = costing.hours_written_off or zero("", "h")
        hours = add_up("hours of what was made", "h", [costing.hours_in_products, off])
        costs = costing.made_kinds
    nothing = zero("received", currency)
    return Inputs(figures.run.name, currency, metals, nothing, figures.worth, costs, hours, why)


def _price_in(worth: Figure, metal: str, currency: str) -> Figure:
    """The market price that a worth was made with, wherever in its working it stands."""
    stack, name = [worth], f"price of {metal}"
    while stack:
        one = stack.pop()
        if one.name == name:
            return one
        stack.extend(one.terms)
    return not_known(name, f"{currency}/g", worth.why or f"no price of {metal} is noted")


def inputs_of_book(figures: BookFigures, currency: str, charges: Charges = Charges()) -> Inputs:
    """What the book earned is made of.

    Products sold count with what was received, those held with the latest price; costs and hours
    are what both carry and what was written off. What lies on the shelf, and its costs, wait.
    """
    sold = [sale.received for sale in figures.sales]
    received = (
        add_up("received for what was sold", currency, sold)
        if sold
        else zero("received for what was sold", currency)
    )
    metals = _held(figures, currency, charges)
    worth = add_up("worth", currency, [received, *(one.worth for one in metals.values())])
    hours = figures.costing.made_hours or not_known("hours", "h", "no time was noted")
    why = "" if sold or metals else UNMADE
    made = figures.costing.made_kinds
    return Inputs("", currency, metals, received, worth, made, hours, why)


def _held(figures: BookFigures, currency: str, charges: Charges) -> dict[str, MetalInput]:
    """The metals of the products that are held, with what they are worth."""
    held = {one.thing: one for one in figures.held_worth.things if one.kind == "product"}
    worths: dict[str, list[Figure]] = {}
    fines: dict[str, list[Figure]] = {}
    for thing in figures.things:
        if thing.fate is not Fate.SHELF or thing.key not in held:
            continue
        for metal, worth in held[thing.key].by_metal.items():
            worths.setdefault(metal, []).append(worth)
            fines.setdefault(metal, []).append(thing.contents[metal])
    prices = {one.metal: one.price for one in figures.prices}
    found = {}
    for metal, parts in worths.items():
        unit = f"{currency}/g"
        none = not_known(f"head grade in {metal}", "g/g", "there is one for each run only")
        price = prices.get(metal)
        found[metal] = MetalInput(
            add_up(f"fine {metal} held", "g", fines[metal]),
            price or not_known(f"price of {metal}", unit, f"no price of {metal} is noted"),
            add_up(f"worth of {metal}", currency, parts),
            none,
            charges.refining.get(metal, 0.0),
        )
    return found
