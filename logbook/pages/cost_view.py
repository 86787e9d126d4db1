"""The cost part of a run's page: what it cost, what things carried in and on, what it earned.

The figures that matter stand first, the rest unfolds. Money that is not known is said to be
unknown, with its reason, and lines that are exactly nothing are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import (
    CostLine,
    Earnings,
    RunCosting,
    RunFigures,
    Swing,
    Thing,
    ThingCost,
)
from logbook.calculation.sums import add_up
from logbook.pages.addresses import Here, Link
from logbook.pages.figure_view import FigureView, bare_figure, figure_view
from logbook.pages.thing_view import thing_words

COST_WORDS = {
    "feed": "the scrap itself",
    "reagent": "reagents and supplies",
    "labour": "hours at the bench",
    "energy": "energy",
    "breakage": "breakage",
    "lump": "noted for the whole run",
    "fee": "fees",
    "other": "other costs",
    "carried-in": "came in with things from earlier runs",
    "carried-out": "went on with things kept or taken on",
    "written-off": "written off",
}
SWINGS_SHOWN = 6


@dataclass(frozen=True, slots=True)
class CarriedRow:
    """One thing with the money and hours that it carries, and the rule by which they were shared.

    `thing` leads to the page of its label; `share` is of what the stage that made it passed on.
    """

    thing: Link
    cost: FigureView
    hours: FigureView
    share: FigureView | None
    rule: str


@dataclass(frozen=True, slots=True)
class SwingRow:
    """What an hour would have earned with one input lower or higher, and why those values."""

    what: str
    low_at: str
    low: FigureView
    high_at: str
    high: FigureView
    by: str


@dataclass(frozen=True, slots=True)
class CostView:
    """What a run cost and earned. `lies` is where its money stands now."""

    key: tuple[FigureView, ...]
    kinds: tuple[FigureView, ...]
    brought: tuple[CarriedRow, ...]
    passed_on: tuple[CarriedRow, ...]
    lies: tuple[FigureView, ...]
    written_off_why: str
    unallocated: tuple[FigureView, ...]
    break_even: tuple[FigureView, ...]
    swings: tuple[SwingRow, ...]


def cost_view(figures: RunFigures, here: Here) -> CostView:
    """The cost part of the page of a run."""
    costing, earnings = figures.costing, figures.earnings
    things = {thing.key: thing for thing in (*figures.things_in, *figures.things_out)}
    return CostView(
        key=tuple(_key(figures, here)),
        kinds=tuple(_kinds(figures, costing, here)),
        brought=carried_rows(costing.brought, things, here) if costing is not None else (),
        passed_on=carried_rows(costing.passed_on, things, here) if costing is not None else (),
        lies=tuple(_lies(costing, here)) if costing is not None else (),
        written_off_why=costing.written_off_why if costing is not None else "",
        unallocated=tuple(_unallocated(figures, here)),
        break_even=tuple(_break_even(earnings, here)) if earnings is not None else (),
        swings=_swings(earnings.swings) if earnings is not None else (),
    )


def hour_earned(figures: RunFigures) -> Figure:
    """What an hour of a run earned; a plan has earned nothing yet."""
    if figures.earnings is None:
        return not_known("an hour earned", figures.net_per_hour.unit, figures.net_per_hour.why)
    return figures.earnings.per_hour


def hour_figures(figures: RunFigures, here: Here) -> Iterator[FigureView]:
    """The hours of a run: worked, heated, elapsed, and what came in and went on with things."""
    yield figure_view(figures.hands_on, here)
    if figures.heated is not None and not is_nothing(figures.heated):
        yield figure_view(figures.heated, here, name="heated")
    yield figure_view(figures.elapsed, here)
    if figures.hours_unallocated is not None and not is_nothing(figures.hours_unallocated):
        name = "rest of a total in all"
        yield figure_view(figures.hours_unallocated, here, name=name)
    costing = figures.costing
    if costing is None:
        return
    for figure, name in (
        (costing.hours_carried_in, "came in with things from earlier runs"),
        (costing.hours_carried_out, "went on with things kept or taken on"),
        (costing.hours_in_products, "in the products"),
    ):
        if not is_nothing(figure):
            yield figure_view(figure, here, levels=1, name=name)


def is_nothing(figure: Figure) -> bool:
    """Whether a figure is known to be nothing at all."""
    return figure.value is not None and not figure.value.value and not figure.value.u


def earned_figures(earnings: Earnings, here: Here, *, levels: int = 2) -> Iterator[FigureView]:
    """What an hour earned, with what the scrap cost and without."""
    yield figure_view(earnings.per_hour, here, levels=levels, name="an hour earned")
    name = "the same, had the scrap cost nothing"
    yield figure_view(earnings.per_hour_without_feed, here, levels=levels, name=name)


def _key(figures: RunFigures, here: Here) -> Iterator[FigureView]:
    """What matters most: earned, worth, cost, net."""
    if figures.earnings is not None:
        yield from earned_figures(figures.earnings, here)
    yield figure_view(figures.worth, here, name="worth on the run's last day")
    yield figure_view(figures.worth_latest, here, name="worth at the latest price")
    yield figure_view(figures.net, here, name="net, with the hours at their rate")


def _kinds(figures: RunFigures, costing: RunCosting | None, here: Here) -> Iterator[FigureView]:
    """The costs by kind, with what came in from earlier runs, and their sums."""
    for line in figures.costs:
        if not is_nothing(line.amount):
            yield _cost(line, here)
    yield figure_view(figures.cost, here, levels=1, name="spent here, without the scrap")
    yield figure_view(figures.cost_with_feed, here, levels=1, name="spent here, with the scrap")
    if costing is None or is_nothing(costing.carried_in):
        return
    yield figure_view(costing.carried_in, here, levels=1, name=COST_WORDS["carried-in"])
    whole = add_up(
        "in all", figures.cost_with_feed.unit, [figures.cost_with_feed, costing.carried_in]
    )
    yield figure_view(whole, here, levels=1)


def _cost(line: CostLine, here: Here) -> FigureView:
    return figure_view(line.amount, here, name=COST_WORDS.get(line.kind, line.kind))


def _lies(costing: RunCosting, here: Here) -> Iterator[FigureView]:
    """Where the money of a run stands: in products, on what is kept, lost for good, or open."""
    for figure, name in (
        (costing.in_products, "in the products"),
        (costing.carried_out, COST_WORDS["carried-out"]),
        (costing.written_off, COST_WORDS["written-off"]),
        (costing.in_work, "in work that is still open"),
    ):
        if not is_nothing(figure):
            yield figure_view(figure, here, levels=1, name=name)


def _unallocated(figures: RunFigures, here: Here) -> Iterator[FigureView]:
    """What a total noted in all holds beyond the lines before it."""
    money = figures.cost_unallocated
    if money is not None and not is_nothing(money):
        yield figure_view(money, here, name="rest of a total in all")


def carried_rows(
    costs: Iterable[ThingCost], things: Mapping[str, Thing], here: Here
) -> tuple[CarriedRow, ...]:
    """What things carry, each with the way to its label."""
    return tuple(
        CarriedRow(
            thing=_named(one.thing, things.get(one.thing), here),
            cost=bare_figure(one.cost),
            hours=bare_figure(one.hours),
            share=bare_figure(one.share) if one.share is not None else None,
            rule=one.rule,
        )
        for one in costs
    )


def _named(key: str, thing: Thing | None, here: Here) -> Link:
    """A thing in words, with its label; by its key where the run does not know it itself."""
    if thing is None:
        run, colon, what = key.partition(": ")
        known = colon and run in here.addresses.runs
        return Link(what if known else key, here.run(run).href if known else "")
    if not thing.label:
        return Link(thing_words(thing))
    return Link(f"{thing_words(thing)} [{thing.label}]", here.label(thing.label).href)


def _break_even(earnings: Earnings, here: Here) -> Iterator[FigureView]:
    """The price, and the grade of the scrap, at which worth just covers all that was spent."""
    for metal, price in earnings.break_even_price.items():
        yield figure_view(price, here, levels=1, name=f"price of {metal} that just covers all")
    for metal, grade in earnings.break_even_grade.items():
        yield figure_view(grade, here, levels=1, name=f"{metal} in the scrap that just covers all")


def _swings(swings: Iterable[Swing]) -> tuple[SwingRow, ...]:
    """What would change it most, the widest swing first."""
    known = [one for one in swings if one.low.value is not None and one.high.value is not None]
    known.sort(key=_width, reverse=True)
    return tuple(
        SwingRow(
            what=one.what,
            low_at=one.low_at,
            low=bare_figure(one.low),
            high_at=one.high_at,
            high=bare_figure(one.high),
            by=one.by,
        )
        for one in known[:SWINGS_SHOWN]
    )


def _width(swing: Swing) -> float:
    low, high = swing.low.value, swing.high.value
    return abs(high.value - low.value) if low is not None and high is not None else 0.0
