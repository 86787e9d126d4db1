"""What a run's product is worth, what is left of it after the costs, and what an hour gave.

Worth is what was noted of price and of a buyer's terms, and nothing is looked up anywhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.lot_worth import worth_of_lot
from logbook.calculation.money.markets import Market
from logbook.calculation.results import MetalBalance, Role, Thing
from logbook.calculation.sums import add_up, difference, ratio, zero
from logbook.model.run import Run, Status

NOTHING_MADE = "nothing was made here"
AT_END, LATEST, PER_HOUR = "worth", "worth at the latest price", "net per hour"
NO_MAKING = frozenset({Role.SAMPLE, Role.LOSS, Role.WASTE})


def product_worth(
    run: Run,
    balances: Sequence[MetalBalance],
    entering: Sequence[Thing],
    leaving: Sequence[Thing],
    market: Market,
    end: date | None,
) -> tuple[Figure, Figure]:
    """The worth of a run's product at the price of its last day, and at the latest price.

    Equation: worth = Σ payable metal [g] × (price − refining) − treatment × weight [currency],
    by the terms that held; without terms Σ fine weight × price. See `settlement.py`. All that a
    run made counts as one lot. A run that took nothing and made nothing, such as one that only
    sells, has none: what it received belongs to the sale.
    """
    if not made_anything(entering, leaving):
        nothing = (not_known(name, market.currency, NOTHING_MADE) for name in (AT_END, LATEST))
        return next(nothing), next(nothing)
    made = [thing for thing in leaving if thing.role is Role.PRODUCT]
    fine = {one.metal: one.product for one in balances if one.metal in run.metals}
    if not made or not fine:
        return _no_product(AT_END, run, market.currency), _no_product(LATEST, run, market.currency)
    weight = add_up("product weight", "g", [one.gross for one in made if _holds(one, fine)])
    return (
        worth_of_lot(AT_END, fine, weight, market, end),
        worth_of_lot(LATEST, fine, weight, market, None),
    )


def _holds(thing: Thing, metals: Mapping[str, Figure]) -> bool:
    return any(metal in thing.contents for metal in metals)


def _no_product(name: str, run: Run, currency: str) -> Figure:
    if run.status is Status.OPEN:
        return not_known(name, currency, "the run is open and has no product yet")
    return zero(name, currency, "the run made no product")


def net_of(worth: Figure, cost: Figure, hands_on: Figure) -> tuple[Figure, Figure]:
    """What is left of a worth after the costs, and that for each hour of work.

    Equations: net = worth − cost of what was made [currency]; net per hour = net / hours of what
    was made [currency/h]. Source: common practice, no source.

    A product worth 110 that cost 40, made in 2 h, leaves 70, or 35 an hour, by hand:

    >>> from logbook.model.amount import Uncertain
    >>> worth, cost = (Figure("", "EUR", Uncertain(one)) for one in (110.0, 40.0))
    >>> net, per_hour = net_of(worth, cost, Figure("", "h", Uncertain(2.0)))
    >>> net.value.value, per_hour.value.value
    (70.0, 35.0)
    """
    unit = f"{worth.unit}/h"
    if worth.why == NOTHING_MADE:
        return not_known("net", worth.unit, NOTHING_MADE), not_known(PER_HOUR, unit, NOTHING_MADE)
    net = difference("net", worth.unit, worth, cost, "worth − cost of what was made")
    return net, ratio(PER_HOUR, unit, net, hands_on, "net / hours of what was made")


def made_anything(entering: Sequence[Thing], leaving: Sequence[Thing]) -> bool:
    """Whether a run worked on anything, with or without a product in the end."""
    return bool(entering) or any(thing.role not in NO_MAKING for thing in leaving)
