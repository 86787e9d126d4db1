"""What a run's product is worth, what is left of it after the costs, and what an hour gave.

Worth is fine grams times a price that was noted: no refiner's charge is taken off here, and
no price is looked up anywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.markets import Market
from logbook.calculation.results import MetalBalance, Role, RunFigures, Thing
from logbook.calculation.sums import add_up, difference, product, ratio, zero
from logbook.model.run import Run, Status

NOTHING_MADE = "nothing was made here"
NO_MAKING = frozenset({Role.SAMPLE, Role.LOSS, Role.WASTE})


@dataclass(frozen=True, slots=True)
class Worth:
    """What a run's product is worth, and what it left."""

    worth: Figure
    latest: Figure
    net: Figure
    net_per_hour: Figure


def run_worth(
    run: Run,
    balances: Sequence[MetalBalance],
    entering: Sequence[Thing],
    leaving: Sequence[Thing],
    market: Market,
    end: date | None,
    cost: Figure,
    hands_on: Figure,
) -> Worth:
    """The worth of a run's product.

    Equations: worth = Σ fine weight [g] × price [currency/g]; net = worth − cost with feed;
    net per hour = net / hours hands-on. Source: common practice, no source. A run that took
    nothing and made nothing, such as one that only sells, has none of them: what it
    received belongs to the sale.
    """
    if not made_anything(entering, leaving):
        return _nothing_made(market.currency)
    made = any(thing.role is Role.PRODUCT for thing in leaving)
    fine = [balance.product for balance in balances if balance.metal in run.metals] if made else []
    names = [balance.metal for balance in balances if balance.metal in run.metals]
    worth = _worth("worth", run, names, fine, market, end)
    latest = _worth("worth at the latest price", run, names, fine, market, None)
    net = difference("net", market.currency, worth, cost, "worth − cost with feed")
    per_hour = ratio("net per hour", f"{market.currency}/h", net, hands_on, "net / hours hands-on")
    return Worth(worth, latest, net, per_hour)


def made_anything(entering: Sequence[Thing], leaving: Sequence[Thing]) -> bool:
    """Whether a run worked on anything, with or without a product in the end."""
    return bool(entering) or any(thing.role not in NO_MAKING for thing in leaving)


def _nothing_made(currency: str) -> Worth:
    return Worth(
        not_known("worth", currency, NOTHING_MADE),
        not_known("worth at the latest price", currency, NOTHING_MADE),
        not_known("net", currency, NOTHING_MADE),
        not_known("net per hour", f"{currency}/h", NOTHING_MADE),
    )


def net_in_sums(figures: RunFigures) -> Figure:
    """What a run adds to the net of a period: its net, or less its costs if it made nothing.

    A run that only sells has no net of its own, but its fares and hours were spent all the
    same. The metal that it sold is worth something to the run that made it.
    """
    if figures.run.planned or made_anything(figures.things_in, figures.things_out):
        return figures.net
    nothing = zero("worth", figures.net.unit, NOTHING_MADE)
    return difference("net", figures.net.unit, nothing, figures.cost_with_feed)


def _worth(
    name: str,
    run: Run,
    metals: Sequence[str],
    fine: Sequence[Figure],
    market: Market,
    day: date | None,
) -> Figure:
    if not fine:
        if run.status is Status.OPEN:
            return not_known(name, market.currency, "the run is open and has no product yet")
        return zero(name, market.currency, "the run made no product")
    parts = [
        product(f"worth of {metal}", market.currency, weight, market.price(metal, day))
        for metal, weight in zip(metals, fine, strict=False)
    ]
    return add_up(name, market.currency, parts, "Σ fine weight × price")
