"""What is held is worth at the latest prices and terms: products, shelf, and scrap.

Products count as they would be handed in, all else as the pure metal that it still holds.
Waste counts for nothing, and so does a metal of which no price is noted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.lot_worth import rate_as_metal, worth_by_metal
from logbook.calculation.money.markets import STALE, Market, age_in_words, days_old, is_stale
from logbook.calculation.results import (
    BuyerTerms,
    Fate,
    HeldWorth,
    Holdings,
    PriceAge,
    Role,
    Thing,
)
from logbook.calculation.sums import add_up, product, zero

SHELF = "shelf"
KINDS = {Role.PRODUCT: "product", Role.FEED: "scrap", Role.ADDITION: "scrap"}  # all else: shelf
NAMES = {
    "product": "worth of the products held",
    SHELF: "worth of what is on the shelf",
    "scrap": "worth of the scrap",
}
UNCOUNTED = frozenset({Role.WASTE, Role.LOSS})
TO_BE_WON = "as pure metal: what it costs to win it is not taken off"
NOTHING_TOLD = "nothing tells what it holds"


def held_worth(things: Iterable[Thing], market: Market) -> Holdings:
    """What everything that is held is worth, thing by thing, and the sum of each kind."""
    standing = [one for one in things if one.fate is Fate.SHELF and one.role not in UNCOUNTED]
    rates = {metal: rate_as_metal(metal, market, None) for metal in market.prices}
    held = tuple(_held(thing, market, rates) for thing in standing)
    return Holdings(held, _sums(held, market), _ages(market), _terms(market))


def _held(thing: Thing, market: Market, rates: Mapping[str, Figure]) -> HeldWorth:
    """One thing at the latest price; what has limits only is worth something between limits.

    Equation: V = Σ m_p (p − r) − t w for a product, Σ f p_m for all else [currency], with f the
    metal that is held [g] and p_m what is paid for a gram of it as pure metal; see
    `settlement.py`.
    """
    kind = KINDS.get(thing.role, SHELF)
    fine = {metal: one for metal, one in thing.contents.items() if market.priced(metal, None)}
    if kind == "product":
        by_metal = worth_by_metal(fine, thing.gross, market, None)
    else:
        by_metal = {
            metal: product(f"worth of {metal}", market.currency, grams, rates[metal])
            for metal, grams in fine.items()
        }
    return HeldWorth(thing.key, kind, _worth(thing, kind, by_metal, market.currency), by_metal)


def _worth(thing: Thing, kind: str, by_metal: dict[str, Figure], currency: str) -> Figure:
    without = [metal for metal in thing.contents if metal not in by_metal]
    if not by_metal:
        why = f"no price of {' or '.join(without)} is noted" if without else NOTHING_TOLD
        return not_known("worth", currency, why)
    whole = add_up("worth", currency, tuple(by_metal.values()))
    notes = [] if kind == "product" else [TO_BE_WON]
    notes += [f"no price of {metal} is noted: it is not counted" for metal in without]
    return replace(whole, notes=(*whole.notes, *notes)) if notes else whole


def _sums(held: Sequence[HeldWorth], market: Market) -> dict[str, Figure]:
    """The worth of each kind. A thing that holds only metals without a price is left out."""
    found = {}
    for kind, name in NAMES.items():
        of_kind = [one for one in held if one.kind == kind]
        counted = [one for one in of_kind if one.by_metal or one.worth.why == NOTHING_TOLD]
        left_out = len(of_kind) - len(counted)
        if counted:
            words = f"sum of {len(counted)}"
            whole = add_up(name, market.currency, [one.worth for one in counted], words)
            note = (f"without {left_out} of whose metals no price is noted",) if left_out else ()
            found[kind] = replace(whole, notes=(*whole.notes, *note))
        elif of_kind:
            found[kind] = not_known(name, market.currency, "no price of its metals is noted")
        else:
            found[kind] = zero(name, market.currency, "nothing of it is held")
    return found


def _ages(market: Market) -> tuple[PriceAge, ...]:
    """The latest price of each metal, and how old it is on the newest day of the book."""
    latest = [prices.noted[-1] for prices in market.prices.values()]
    return tuple(
        PriceAge(
            metal=one.metal,
            price=one.price,
            day=one.day,
            days=days_old(one.day, market.newest_day),
            stale=is_stale(one.day, market.newest_day),
            words=_words(one.day, market),
        )
        for one in latest
    )


def _words(day: date, market: Market) -> str:
    age = age_in_words(day, market.newest_day)
    if not is_stale(day, market.newest_day):
        return age
    return f"{age}, older than {STALE} days: note a newer one before you reckon with it"


def _terms(market: Market) -> tuple[BuyerTerms, ...]:
    """All terms that are noted, in order of day."""
    every = (one for terms in market.agreed.values() for one in terms.noted)
    return tuple(sorted(every, key=lambda one: one.day))
