"""What runs leave after all that their products carry, and what that comes to over several runs.

A run that used what earlier runs had made bears their part of the cost; what it set aside bears
its own part. In a sum over runs the gain on a product that was taken in again counts once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from logbook.calculation.figure import Figure
from logbook.calculation.money.lot_worth import worth_of_thing
from logbook.calculation.money.markets import Market
from logbook.calculation.money.worth import NOTHING_MADE, made_anything, net_of
from logbook.calculation.origins import origins_of
from logbook.calculation.results import Costing, Role, RunFigures, Thing
from logbook.calculation.sums import add_up, difference, reasons, zero
from logbook.model.amount import combined

MADE_COST = "in the products + written off"


def with_costing(
    runs: Mapping[str, RunFigures], things: Sequence[Thing], costing: Costing, market: Market
) -> dict[str, RunFigures]:
    """The figures of every run with what it carried in and out, and the net that this leaves.

    Equation: net = worth − (in products + written off) [currency], where in products + written
    off = cost with the scrap + carried in − carried out − in open work. Source: matching of cost
    and product, textbooks of cost accounting (from memory).
    """
    gains = _gains(runs, things, costing, market)
    found = {}
    for name, figures in runs.items():
        if figures.run.planned or name not in costing.runs:
            found[name] = figures
            continue
        own = replace(costing.runs[name], gain_taken=gains.get(name, {}))
        cost = add_up("cost of what was made", market.currency, [own.in_products, own.written_off])
        hours = [own.hours_in_products, own.hours_written_off or zero("", "h")]
        net, hourly = net_of(figures.worth, cost, add_up("hours of what was made", "h", hours))
        found[name] = replace(figures, costing=own, net=net, net_per_hour=hourly)
    return found


def _gains(
    runs: Mapping[str, RunFigures], things: Sequence[Thing], costing: Costing, market: Market
) -> dict[str, dict[str, Figure]]:
    """For each run the products that other runs took in again: worth less what they carried."""
    found: dict[str, dict[str, list[Figure]]] = {}
    for thing, maker, user in taken_again(runs, things, costing):
        made = runs[maker]
        worth = worth_of_thing(thing, made.run.metals, market, made.end)
        gain = difference("gain", market.currency, worth, costing.things[thing.key].cost)
        found.setdefault(maker, {}).setdefault(user, []).append(gain)
    return {
        maker: {user: _sum("gain", gains) for user, gains in users.items()}
        for maker, users in found.items()
    }


def taken_again(
    runs: Mapping[str, RunFigures], things: Sequence[Thing], costing: Costing
) -> Iterator[tuple[Thing, str, str]]:
    """Products that another run took in again, each with its maker and its user.

    A sum over both runs holds their worth, their cost and their hours twice.
    """
    origins = origins_of(things)
    drawn = {thing.part_of for thing in things if thing.part_of}
    for thing in things:
        if thing.role is not Role.PRODUCT or thing.made_by is None or thing.key in drawn:
            continue
        user, maker = origins.user(thing), thing.made_by.run
        if user and user != maker and thing.key in costing.things and maker in runs:
            yield thing, maker, user


def net_in_sums(figures: RunFigures) -> Figure:
    """What a run adds to the net of a period: its net, or less its costs if it made nothing.

    A run that only sells has no net of its own, but its fares and hours were spent all the
    same. The metal that it sold is worth something to the run that made it.
    """
    if figures.run.planned or made_anything(figures.things_in, figures.things_out):
        return figures.net
    nothing = zero("worth", figures.net.unit, NOTHING_MADE)
    return difference("net", figures.net.unit, nothing, figures.cost_with_feed)


def net_over(runs: Sequence[RunFigures]) -> Figure:
    """The net of several runs; the gain on what one of them took from another counts once."""
    names = {figures.run.name for figures in runs}
    terms = [net_in_sums(figures) for figures in runs]
    twice = [
        gain
        for figures in runs
        if figures.costing is not None
        for user, gain in figures.costing.gain_taken.items()
        if user in names
    ]
    words = f"sum of {len(runs)} runs"
    if twice:
        words += ", without the gain on products that one of them took in again"
    return _sum("net", terms, twice, words)


def _sum(
    name: str, terms: Sequence[Figure], less: Sequence[Figure] = (), words: str = ""
) -> Figure:
    """A sum of figures that may be negative, less others; limits of a part say nothing of it."""
    every = (*terms, *less)
    unit = every[0].unit
    values = [(1.0, one.value) for one in terms] + [(-1.0, one.value) for one in less]
    known = [(sign, value) for sign, value in values if value is not None]
    if len(known) < len(every):
        return Figure(name, unit, formula=words, terms=every, why=reasons(every))
    return Figure(name, unit, combined(known), words, every)
