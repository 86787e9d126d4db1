"""What the book gives for a claim about worth: of what is named, or of what the run made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from logbook.calculation.claims.known import Claimed, Found, Reading, title_of
from logbook.calculation.claims.metal import content, fine
from logbook.calculation.claims.premises import price_premise
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.lot_worth import worth_of_thing
from logbook.calculation.results import Sale, Thing
from logbook.calculation.sums import add_up, product
from logbook.model.amount import Dimension


def own_price(claimed: Claimed) -> Figure | None:
    """The price per gram that the claim states, in the book's currency; None without one."""
    at = claimed.claim.at
    if at is None or at.dimension is not Dimension.PRICE:
        return None
    currency = claimed.known.currency
    unit = f"{currency}/g"
    if at.per != "g":
        return not_known("price that was said", unit, f"{at.span.text} is no price of a weight")
    priced = claimed.known.exchange.money("price that was said", at, claimed.day)
    return replace(priced, unit=unit)


def worth(claimed: Claimed) -> Found:
    """On the claim's own price where it states one, else by the prices and terms of the day."""
    price = own_price(claimed)
    if price is not None:
        return _at_own_price(claimed, price)
    if claimed.things:
        readings = tuple(_of_things(claimed))
        return Found("worth", readings, fine(claimed).premises)
    return Found("worth", tuple(_of_run(claimed)), fine(claimed).premises)


def _at_own_price(claimed: Claimed, price: Figure) -> Found:
    currency = claimed.known.currency
    of = fine(claimed)
    readings = tuple(
        Reading(
            product("worth", currency, one.figure, price), f"{one.basis}, at the price said here"
        )
        for one in of.readings
    )
    return Found("worth", readings, (*of.premises, *price_premise(claimed, claimed.metal, price)))


def _of_things(claimed: Claimed) -> Iterator[Reading]:
    """By the buyer's terms of the day, and as fine weight times price alone."""
    currency, known = claimed.known.currency, claimed.known
    titles = " and ".join(map(title_of, claimed.things))
    if not claimed.said:
        parts = [
            worth_of_thing(one, _metals(claimed, one), known.market, claimed.day)
            for one in claimed.things
        ]
        basis = f"{titles} at the price of the day and by the buyer's terms"
        yield Reading(add_up("worth", currency, parts), basis)
    for metal, one in zip(claimed.metals, fine(claimed).readings, strict=False):
        if len(claimed.metals) == 1:
            price = known.market.price(metal, claimed.day)
            basis = f"{one.basis}, at the price of the day"
            yield Reading(product("worth", currency, one.figure, price), basis)
    if not claimed.metals:
        why = f"nothing tells what {titles} holds: write its fineness"
        yield Reading(not_known("worth", currency, why), "what the book gives")


def _metals(claimed: Claimed, thing: Thing) -> list[str]:
    return [metal for metal in claimed.metals if metal in thing.contents]


def _of_run(claimed: Claimed) -> Iterator[Reading]:
    yield Reading(claimed.run.worth, "what the run made, at the price of its last day")
    whole = fine_worth(claimed, "at the price")
    if whole is not None:
        yield Reading(whole, "fine weight times price, before any buyer's terms")


def fine_worth(claimed: Claimed, name: str) -> Figure | None:
    """The fine weight of all products times the price of the day; None where none was made."""
    found = [
        product(
            f"worth of {one.metal}",
            claimed.known.currency,
            one.product,
            claimed.known.market.price(one.metal, claimed.day),
        )
        for one in claimed.balances
    ]
    return add_up(name, claimed.known.currency, found) if found else None


def fine_of(claimed: Claimed) -> list[tuple[str, Figure]]:
    """The fine weight of what a claim of worth is about, by metal."""
    if claimed.things:
        return [
            (metal, content(one, metal))
            for one in claimed.things
            for metal in _metals(claimed, one)
        ]
    return [(one.metal, one.product) for one in claimed.balances]


# Sales


def sales_of(claimed: Claimed) -> list[Sale]:
    """The sales that a claim may be about: of what is named, else of the run."""
    names = dict.fromkeys(label.name for label in claimed.claim.labels)
    known = claimed.known
    if names:
        return [one for name in names for one in known.sales_by_label.get(name, ())]
    return list(known.sales_by_run.get(claimed.run.run.name, ()))


def sale(claimed: Claimed) -> Found:
    """What a sale brought: after the fee, before it, or the fee alone."""
    currency, found = claimed.known.currency, sales_of(claimed)
    if not found:
        why = "no sale is noted here: write sold [X] for ..."
        return Found("sale", (Reading(not_known("received", currency, why), "what was received"),))
    fees = [one.fee for one in found if one.fee is not None]
    if claimed.says(r"\bfees?\b"):
        why = "no fee is noted with the sale"
        fee = add_up("fee", currency, fees) if fees else not_known("fee", currency, why)
        return Found("sale", (Reading(fee, "the fee that is noted with the sale"),))
    if claimed.says(r"\bestimat|\bshould\b|\bexpect"):
        parts = [one.estimated for one in found]
        basis = "what price and terms of that day would have given"
        return Found("sale", (Reading(add_up("estimated", currency, parts), basis),))
    received = add_up("received", currency, [one.received for one in found])
    readings = [Reading(received, "what was received, less the fee")]
    if fees:
        before = add_up("received before the fee", currency, [received, *fees])
        readings.append(Reading(before, "what was paid for it, before the fee"))
    return Found("sale", tuple(readings))
