"""What was sold against what it was put at, what is held is worth, and on which prices and terms.

A worth has limits where a content has limits only. Every price says its age, which is counted
to the newest day of the book.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import (
    BookFigures,
    BuyerTerms,
    Fate,
    HeldWorth,
    PriceAge,
    Sale,
    Thing,
    ThingCost,
)
from logbook.calculation.sums import add_up, highest
from logbook.pages.addresses import Here, LineLink, Link
from logbook.pages.cost_view import CarriedRow, carried_rows
from logbook.pages.figure_view import FigureView, bare_figure, figure_view
from logbook.pages.frame import Site
from logbook.pages.thing_view import thing_words
from logbook.pages.wording import day_text

KIND_WORDS = {"product": "product", "shelf": "on the shelf", "scrap": "scrap"}
NONE = "none"


@dataclass(frozen=True, slots=True)
class SaleRow:
    """One sale, and the line that tells of it."""

    day: str
    what: Link
    metal: str
    fine: FigureView
    received: FigureView
    fee: FigureView | None
    estimated: FigureView
    difference: FigureView | None
    line: LineLink


@dataclass(frozen=True, slots=True)
class HeldRow:
    """One thing that is held, and what it is worth."""

    thing: Link
    kind: str
    worth: FigureView
    by_metal: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class AgeRow:
    """The latest price of a metal, and how old it is."""

    metal: str
    price: FigureView
    since: str
    words: str
    stale: bool


@dataclass(frozen=True, slots=True)
class TermsRow:
    """What a buyer pays for of a metal, from a day on. An empty cell is a charge that is none."""

    metal: str
    since: str
    payable: FigureView
    charges: tuple[FigureView | None, ...]  # deduction, treatment, refining, lot
    line: LineLink


def sale_rows(figures: BookFigures, site: Site, here: Here) -> tuple[SaleRow, ...]:
    """The sales that may be shown, in the order of the book."""
    return tuple(_sale(one, here) for one in figures.sales if site.privacy.shows(one.entry))


def _sale(one: Sale, here: Here) -> SaleRow:
    return SaleRow(
        day=day_text(one.day),
        what=here.label(one.label) if one.label else Link("without a label"),
        metal=one.metal,
        fine=bare_figure(one.fine),
        received=bare_figure(one.received),
        fee=bare_figure(one.fee) if one.fee is not None else None,
        estimated=figure_view(one.estimated, here, levels=1),
        difference=figure_view(one.difference, here, levels=1) if one.difference else None,
        line=here.line(one.entry.span),
    )


def sale_sums(figures: BookFigures, site: Site, currency: str, here: Here) -> Iterator[FigureView]:
    """What all sales brought in and what they cost, where there is more than one."""
    sales = [one for one in figures.sales if site.privacy.shows(one.entry)]
    if len(sales) < 2:
        return
    received = [one.received for one in sales]
    yield figure_view(add_up("received in all", currency, received), here, levels=1)
    fees = [one.fee for one in sales if one.fee is not None]
    if fees:
        yield figure_view(add_up("fees in all", currency, fees), here, levels=1)


def held_rows(figures: BookFigures, here: Here) -> tuple[HeldRow, ...]:
    """What is held, the most that it can be worth first.

    How the worth of a thing with a label was worked out stands on the page of the label.
    """
    things = {thing.key: thing for thing in figures.things}
    held = sorted(figures.held_worth.things, key=_most, reverse=True)
    return tuple(_held(one, things.get(one.thing), here) for one in held)


def _most(one: HeldWorth) -> float:
    return highest(one.worth) or one.worth.low or 0.0


def _held(one: HeldWorth, thing: Thing | None, here: Here) -> HeldRow:
    return HeldRow(
        thing=thing_link(one.thing, thing, here),
        kind=KIND_WORDS.get(one.kind, one.kind),
        worth=bare_figure(one.worth)
        if thing is not None and thing.label
        else figure_view(one.worth, here, levels=1),
        by_metal=_by_metal(one.by_metal) if len(one.by_metal) > 1 else (),
    )


def _by_metal(worths: Mapping[str, Figure]) -> tuple[FigureView, ...]:
    return tuple(bare_figure(figure, name=metal) for metal, figure in worths.items())


def thing_link(key: str, thing: Thing | None, here: Here) -> Link:
    """A thing in words with its label, and the way to it."""
    if thing is None:
        return Link(key)
    if not thing.label:
        made = here.run(thing.made_by.run) if thing.made_by is not None else Link("")
        return Link(thing_words(thing), made.href)
    return Link(f"{thing_words(thing)} [{thing.label}]", here.label(thing.label).href)


def age_rows(figures: BookFigures, here: Here) -> tuple[AgeRow, ...]:
    """The latest price of each metal with its age."""
    return tuple(_age(age, here) for age in figures.held_worth.ages)


def _age(age: PriceAge, here: Here) -> AgeRow:
    price = figure_view(age.price, here, levels=1)
    return AgeRow(age.metal, price, day_text(age.day), age.words, age.stale)


def terms_rows(figures: BookFigures, site: Site, here: Here) -> tuple[TermsRow, ...]:
    """The buyer's terms that are noted and may be shown."""
    return tuple(
        _terms(one, here) for one in figures.held_worth.terms if site.privacy.shows(one.entry)
    )


def _terms(one: BuyerTerms, here: Here) -> TermsRow:
    charges = (one.deduction, one.treatment, one.refining, one.lot)
    return TermsRow(
        metal=one.metal,
        since=day_text(one.day),
        payable=bare_figure(one.payable),
        charges=tuple(None if charge is None else bare_figure(charge) for charge in charges),
        line=here.line(one.entry.span),
    )


def carried_on_shelf(figures: BookFigures, here: Here) -> tuple[CarriedRow, ...]:
    """The things that stand on the shelf with what they carry, the dearest first."""
    costs, things = figures.costing.things, {thing.key: thing for thing in figures.things}
    standing = [
        costs[thing.key]
        for thing in figures.things
        if thing.fate is Fate.SHELF and thing.key in costs
    ]
    return carried_rows(sorted(standing, key=_least, reverse=True), things, here)


def _least(one: ThingCost) -> float:
    return one.cost.value.value if one.cost.value is not None else one.cost.low or 0.0
