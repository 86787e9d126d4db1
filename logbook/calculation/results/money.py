"""What was worked out in money: prices, costs, supplies, what they follow, what was sold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results.things import StageKey
from logbook.findings import Finding
from logbook.model.entry import Entry


@dataclass(frozen=True, slots=True)
class CostLine:
    """One kind of cost of a run: feed, reagent, labour, energy, breakage, lump, fee, other."""

    kind: str
    amount: Figure


@dataclass(frozen=True, slots=True)
class StageCost:
    """One kind of cost of one stage: what of a run's cost was spent there.

    The sums over the stages of a run are its cost lines, but for the scrap itself, which comes
    with the things that enter.
    """

    stage: StageKey
    kind: str
    amount: Figure


@dataclass(frozen=True, slots=True)
class Sale:
    """A sale: what was received for a labelled thing.

    `estimated` is what it was worth by the noted price and the buyer's terms on that day, `fee`
    what the sale itself cost, `difference` what was received less what was estimated.
    """

    run: str
    day: date | None
    label: str
    metal: str
    gross: Figure
    fine: Figure
    received: Figure
    estimated: Figure
    entry: Entry
    fee: Figure | None = None
    difference: Figure | None = None
    things: tuple[str, ...] = ()  # keys of the things that were sold


@dataclass(frozen=True, slots=True)
class DayPrice:
    """The price of a metal on a day, per gram, in the book's currency."""

    metal: str
    day: date
    price: Figure
    entry: Entry


@dataclass(frozen=True, slots=True)
class SupplyMove:
    """One line of the account of a supply: it was had, bought, used, or came back.

    `quantity` is what came or went, `cost` the money that went with it, `left` and `average`
    how much was there afterwards and what a unit of it had cost.
    """

    day: date | None
    kind: str  # had, bought, used, returned
    quantity: Figure
    cost: Figure
    left: Figure
    average: Figure
    entry: Entry
    stage: StageKey | None = None  # where it was used


@dataclass(frozen=True, slots=True)
class SupplyAccount:
    """One supply in one strength over the whole book, in the order of days.

    `unit` is L, g or 1. `paid` is the money that came in with it, `consumed` what left with
    its uses at moving average cost, `stock_cost` what is left of that: paid = consumed +
    stock_cost, to the last digit. `runs_out` is the day on which it ran out, or will at the
    pace of the book, and `runs_out_words` says which of the two and on what that rests.
    """

    supply: str
    strength: str
    unit: str
    bought: Figure
    used: Figure
    left: Figure
    average: Figure  # currency per unit
    paid: Figure
    consumed: Figure
    stock_cost: Figure
    runs_out: date | None
    runs_out_words: str
    moves: tuple[SupplyMove, ...]
    notes: tuple[str, ...] = ()
    unpriced: tuple[str, ...] = ()  # what came at a cost that is not known, and why


@dataclass(frozen=True, slots=True)
class Supplies:
    """The accounts of all supplies, money that no account and no run can take, and findings.

    `unallocated` are sums such as "34 EUR of chemicals": nothing tells of what or how much.
    """

    accounts: tuple[SupplyAccount, ...] = ()
    unallocated: tuple[Figure, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class ThingCost:
    """The money and hours that a thing carries: its share of all that led to it.

    `cost` is with the scrap, `cost_without_feed` without it; `kinds` is the cost by kind. A
    share is a convention and no measurement. `rule` says by what it was shared: content, worth
    of content, mass, count, one share each, or why it carries nothing.
    """

    thing: str
    cost: Figure
    cost_without_feed: Figure
    hours: Figure
    kinds: Mapping[str, Figure]
    share: Figure | None  # of what the stage that made it passed on
    rule: str


@dataclass(frozen=True, slots=True)
class RunCosting:
    """What came into a run with things from earlier ones, and what went on from it.

    costs spent here with the scrap + carried_in = in_products + carried_out + written_off +
    in_work. `carried_out` lies on side streams and charges that are kept or that other runs
    took, `written_off` on what went to waste or made nothing, `in_work` on what is still open.
    The same holds for hours. `made_kinds` is what the products must bear, in products and
    written off, by kind of cost. `gain_taken` is what products that a later run took in again were
    worth beyond what they carried, by that run: a sum over both runs must count it once.
    """

    run: str
    carried_in: Figure
    carried_in_without_feed: Figure
    carried_out: Figure
    in_products: Figure
    in_products_without_feed: Figure
    written_off: Figure
    in_work: Figure
    hours_carried_in: Figure
    hours_carried_out: Figure
    hours_in_products: Figure
    brought: tuple[ThingCost, ...] = ()  # what it took from earlier runs
    passed_on: tuple[ThingCost, ...] = ()  # products, side streams and charges
    written_off_why: str = ""
    hours_written_off: Figure | None = None
    made_kinds: Mapping[str, Figure] = field(default_factory=dict)
    gain_taken: Mapping[str, Figure] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class BookLine:
    """One line of the book's account, in exact hundredths of the currency as text adds up."""

    name: str
    cents: int
    figure: Figure


@dataclass(frozen=True, slots=True)
class BookAccount:
    """Where the money of a book came in and where it stands: both sides have one sum.

    `came_in` by kind of cost; `stands` in products sold, products held, on the shelf, in
    supplies left, in open work, written off, or not allocated. Lines are rounded together, so
    that what is shown adds up. `not_counted` says what is not known and so lies in neither.
    """

    came_in: tuple[BookLine, ...]
    stands: tuple[BookLine, ...]
    total_cents: int
    not_counted: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Costing:
    """Cost followed along the metal: by thing, by run, and for the book as a whole.

    `made_kinds` and `made_hours` are what the products sold and held must bear: what they carry
    and what was written off.
    """

    things: Mapping[str, ThingCost] = field(default_factory=dict)
    runs: Mapping[str, RunCosting] = field(default_factory=dict)
    account: BookAccount | None = None
    made_kinds: Mapping[str, Figure] = field(default_factory=dict)
    made_hours: Figure | None = None
