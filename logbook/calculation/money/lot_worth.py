"""What a lot of metal is worth on a day, at the price and by the terms that held then.

A lot is what is handed in together: the products of a run, a bar, what was sold. What still
has to be worked on counts as the pure metal that it holds. No price is looked up anywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.money.markets import Market
from logbook.calculation.money.settlement import (
    after_treatment,
    bears_treatment,
    lot_charge,
    paid_for,
    price_as_metal,
    settled,
)
from logbook.calculation.results import BuyerTerms, Thing

LOT_LATER = "a buyer's charge for each lot is not in it: that falls on it when it is sold"


def worth_of_lot(
    name: str,
    fine: Mapping[str, Figure],
    weight: Figure,
    market: Market,
    day: date | None,
    *,
    sold: bool = False,
) -> Figure:
    """What a lot is worth on a day, or at the latest where the day is None.

    Equation: V = Σ m_p (p − r) − t w, and less the charge l for a lot that was sold [currency];
    see `settlement.py`. Its terms are one figure for each metal, then that charge. Treatment
    counts wherever it is agreed: a product is weighed, and is handed in as it is. Of a lot that
    was not weighed the worth is then not known, or at most so much: leaving the charge out
    would make it worth more than is paid.
    """
    agreed = terms_on(fine, market, day)
    parts = worth_by_metal(fine, weight, market, day)
    lot = lot_charge(agreed)
    value = settled(name, market.currency, tuple(parts.values()), lot if sold else None)
    return value if lot is None or sold else replace(value, notes=(*value.notes, LOT_LATER))


def worth_by_metal(
    fine: Mapping[str, Figure], weight: Figure, market: Market, day: date | None
) -> dict[str, Figure]:
    """What each metal of a lot brings, with the treatment of the lot taken from one of them."""
    agreed = terms_on(fine, market, day)
    bearer = bears_treatment(agreed)
    found = {}
    for metal, grams in fine.items():
        terms, price = agreed.get(metal), market.price(metal, day)
        paid = paid_for(metal, grams, weight, price, terms)
        if terms is not None and metal == bearer:
            paid = after_treatment(metal, paid, weight, terms)
        found[metal] = paid if terms is not None else _no_offer(metal, paid, day)
    return found


def rate_as_metal(metal: str, market: Market, day: date | None) -> Figure:
    """What is paid for a gram of a metal that is still to be won: as if it were handed in pure.

    See `price_as_metal`. A thing is then worth, at the most, its metal times this: what it costs
    to win it is not taken off.
    """
    terms = market.terms(metal, day)
    rate = price_as_metal(metal, market.price(metal, day), terms)
    return rate if terms is not None else _no_offer(metal, rate, day)


def worth_of_thing(thing: Thing, metals: Iterable[str], market: Market, day: date | None) -> Figure:
    """What one product is worth for some of the metals that it holds."""
    fine = {metal: thing.contents[metal] for metal in metals if metal in thing.contents}
    return worth_of_lot("worth", fine, thing.gross, market, day)


def terms_on(
    metals: Mapping[str, Figure], market: Market, day: date | None
) -> dict[str, BuyerTerms]:
    """The terms that hold for some metals on a day; none where none are noted."""
    found = {metal: market.terms(metal, day) for metal in metals}
    return {metal: terms for metal, terms in found.items() if terms is not None}


def _no_offer(metal: str, worth: Figure, day: date | None) -> Figure:
    held = "" if day is None else " for that day"
    note = f"no buyer's terms for {metal} are noted{held}: it is the metal's price, and no offer"
    return replace(worth, notes=(*worth.notes, note))
