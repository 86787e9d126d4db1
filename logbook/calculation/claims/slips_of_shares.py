"""Slips with shares: the wrong base, the wrong product, turned round.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

from collections.abc import Iterator

from logbook.calculation.claims.beside import (
    added_things,
    damp_weights,
    is_wet,
    metal_supplies,
)
from logbook.calculation.claims.case import Case, Slips, gross_of, value_of
from logbook.calculation.claims.known import title_of
from logbook.calculation.results import MetalBalance, Role


def recovery(case: Case) -> Slips:
    """A recovery over the wrong base, of the wrong product, or turned round."""
    for balance in case.claimed.balances:
        yield from _bases(case, balance)
        yield from _products(case, balance)
        yield from _with_added(case, balance)
    if case.right:
        yield "what went in was taken over what came out, the wrong way round", 1.0 / case.right
        yield "it is what is missing, not what was won", 1.0 - case.right


def _bases(case: Case, balance: MetalBalance) -> Slips:
    made = value_of(balance.product)
    if made is None:
        return
    over = (
        (value_of(balance.assayed_head), "it was taken over the assayed head"),
        (value_of(balance.built_up_head), "it was taken over all that came out, not what went in"),
        (
            value_of(case.claimed.run.feed),
            f"it was taken over the weight of the scrap, not of the {balance.metal} in it",
        ),
    )
    for base, words in over:
        if base:
            yield words, made / base
    head = value_of(balance.head)
    if made and head:
        yield "what is missing was taken over the product", (head - made) / made
        yield "it was taken over the product", head / made - 1.0


def _products(case: Case, balance: MetalBalance) -> Slips:
    made, head = value_of(balance.product), value_of(balance.head)
    gross = gross_of(case.claimed.products)
    feed = value_of(case.claimed.run.feed)
    if gross and feed:
        yield "product weight was taken over feed weight: that is the mass yield", gross / feed
    if made is None or not head:
        return
    if gross:
        yield "the whole weight of the product was taken, not its fine weight", gross / head
    kept = value_of(balance.shelf)
    if kept:
        yield "what lies on the shelf was counted as product", (made + kept) / head
    for thing in case.claimed.run.things_out:
        weight = value_of(thing.gross)
        if thing.role is not Role.PRODUCT and weight and not is_wet(thing):
            words = f"the weight of {title_of(thing)} was counted as product"
            yield words, (made + weight) / head
    for name, weight in damp_weights(case):
        yield f"{name}, and without the fineness", weight / head


def _with_added(case: Case, balance: MetalBalance) -> Slips:
    """Metal that was added counted as if it had been won, or left out of what went in."""
    made, head = value_of(balance.product), value_of(balance.head)
    if made is None or not head:
        return
    for thing in added_things(case):
        added = value_of(thing.contents.get(balance.metal))
        if added and head > added:
            words = f"the added {balance.metal} was left out of what went in"
            yield words, made / (head - added)
            yield f"the added {balance.metal} was taken off what came out", (made - added) / head
            both = f"the added {balance.metal} was left out on both sides"
            yield both, (made - added) / (head - added)
    for name, grams in metal_supplies(case):
        yield f"the {name} was counted as feed", made / (head + grams)


def mass_yield(case: Case) -> Slips:
    """A mass yield with metal instead of weight, or with what was added."""
    gross, feed = gross_of(case.claimed.products), value_of(case.claimed.run.feed)
    for balance in case.claimed.balances:
        made, head = value_of(balance.product), value_of(balance.head)
        if made and head:
            yield f"it is the recovery of {balance.metal}, not the mass yield", made / head
        if made and feed:
            yield "fine weight was taken over feed weight", made / feed
        if gross and head:
            yield (
                f"it was taken over the {balance.metal} in the scrap, not its weight",
                gross / head,
            )
    if not gross or not feed:
        return
    yield "feed was taken over product, the wrong way round", feed / gross
    for name, weight in damp_weights(case):
        yield name, weight / feed
    for name, weight in _beside(case):
        yield f"the weight of {name} was counted as feed", gross / (feed + weight)
        yield f"the weight of {name} was counted as product", (gross + weight) / feed


def _beside(case: Case) -> Iterator[tuple[str, float]]:
    """What is neither feed nor product, with its weight."""
    for name, grams in metal_supplies(case):
        yield f"the {name}", grams
    for thing in (*added_things(case), *case.claimed.run.things_out):
        weight = value_of(thing.gross)
        if thing.role is not Role.PRODUCT and weight and not is_wet(thing):
            yield title_of(thing), weight


def grade(case: Case) -> Slips:
    """A grade from what came out, or turned round."""
    feed = value_of(case.claimed.run.feed)
    for balance in case.claimed.balances:
        for figure, words in (
            (balance.product, "it is what came out, not what went in, over the feed"),
            (balance.built_up_head, "it was taken from all that came out"),
            (balance.assayed_head, "it was taken from the assay of the scrap"),
        ):
            held = value_of(figure)
            if held and feed:
                yield words, held / feed
    if case.right:
        yield "weight was taken over metal, the wrong way round", 1.0 / case.right


def missing(case: Case) -> Slips:
    """Something that is accounted for was left out, or the sum was turned round."""
    yield "it was subtracted the wrong way round", -case.right
    gross = gross_of(case.claimed.products)
    for balance in case.claimed.balances:
        head = value_of(balance.head)
        share = case.kind.endswith("share")
        base = head if share and head else 1.0
        for figure, words in (
            (balance.shelf, "what lies on the shelf was counted as missing"),
            (balance.lost, "the known loss was counted as missing too"),
            (balance.waste, "what is in the waste was counted as missing"),
        ):
            part = value_of(figure)
            if part:
                yield words, case.right + part / base
        made = value_of(balance.product)
        if gross and made:
            words = "the whole weight of the product was taken off, not its fine weight"
            yield words, case.right - (gross - made) / base
        if share and head and made:
            yield "it was taken over the product, not over what went in", case.right * head / made
