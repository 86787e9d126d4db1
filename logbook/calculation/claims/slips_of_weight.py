"""Slips with weights and shares: ounces, gross for fine, the wrong base, damp for dry.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import chain

from logbook.calculation.claims.case import Case, Slips, fine_of, gross_of, value_of
from logbook.calculation.claims.index import lines_before
from logbook.calculation.claims.known import title_of
from logbook.calculation.feed import is_feed
from logbook.calculation.holdings import WET_WORDS
from logbook.calculation.purity import MARK_UNITS
from logbook.calculation.results import MetalBalance, Role, Thing
from logbook.model.amount import Dimension
from logbook.model.entry import Entry
from logbook.units import units_by_word

# Factors of ounce, pennyweight and grain: NIST Handbook 44, appendix C, by way of units.py.
KITCHEN = "a common ounce of 28.35 g was taken for a troy ounce of 31.10 g"
TROY = "a troy ounce of 31.10 g was taken for a common ounce of 28.35 g"
GROSS = "the whole weight was taken for the fine weight: the fineness was left out"
TWICE_FINE = "the fineness was taken off twice"
NOT_METAL = "it is what is not {metal}"
_UNITS = {
    "g": "grams",
    "ozt": "troy ounces",
    "oz": "common ounces",
    "dwt": "pennyweights",
    "gr": "grains",
}
_OUNCES = re.compile(r"\boz|\bounces?\b|\bozt\b|\boz t\b", re.I)


def _grams(unit: str) -> float:
    return units_by_word()[unit].factor


# Units


def units(case: Case) -> Slips:
    """The figure is right in another unit, or an ounce was the wrong one."""
    amount = case.claimed.claim.amount
    if case.figure.unit == "g":
        yield from _of_mass(case, _unit_said(case))
    elif amount.dimension is Dimension.PRICE and amount.per == "g":
        yield from _of_price(case, amount.unit.rpartition("/")[2])
    yield from _of_priced(case)


def _unit_said(case: Case) -> str:
    """The unit of the claimed weight, by what one of it weighs: an equation has two sides."""
    step = abs(case.said.step)
    return next((unit for unit in _UNITS if abs(_grams(unit) - step) < 1e-9), "")


def _of_mass(case: Case, unit: str) -> Slips:
    if unit not in _UNITS:
        return
    for other, words in _UNITS.items():
        if other != unit:
            name = _ounce(other, unit) or f"the figure is in {words}, not in {_UNITS[unit]}"
            yield name, case.right / _grams(other) * _grams(unit)
    if unit == "dwt":
        yield "24 pennyweights were counted to an ounce, not 20", case.right * 24.0 / 20.0
    if unit == "gr":
        yield "20 grains were counted to a pennyweight, not 24", case.right * 20.0 / 24.0
    if any(_OUNCES.search(line.span.text) for thing in case.things for line in thing.entries):
        yield TROY, case.right * _grams("ozt") / _grams("oz")
        yield KITCHEN, case.right * _grams("oz") / _grams("ozt")


def _ounce(other: str, unit: str) -> str:
    """The two ounces taken for each other, by name."""
    return {("oz", "ozt"): KITCHEN, ("ozt", "oz"): TROY}.get((other, unit), "")


def _of_price(case: Case, unit: str) -> Slips:
    """A price for a unit that is the price for another one."""
    if unit not in _UNITS:
        return
    for other, words in _UNITS.items():
        if other != unit:
            name = _ounce(other, unit) or f"it is the price in {words}, not in {_UNITS[unit]}"
            yield name, case.right * _grams(other) / _grams(unit)


def _of_priced(case: Case) -> Slips:
    """Money worked out at a price for an ounce."""
    at = case.claimed.claim.at
    if at is None or at.dimension is not Dimension.PRICE or at.per != "g":
        return
    troy, common = _grams("ozt"), _grams("oz")
    unit = at.unit.rpartition("/")[2]
    if unit == "ozt":
        yield KITCHEN, case.right * troy / common
        yield "the price of an ounce was taken for each gram", case.right * troy
    if unit == "oz":
        yield TROY, case.right * common / troy
    if unit == "g":
        yield "the price of a gram was taken for each ounce", case.right / troy


# Fineness


def fineness(case: Case) -> Slips:
    """Gross for fine, the fineness twice, another fineness, karats read as per cent."""
    for metal in case.claimed.metals:
        gross, fine = gross_of(case.things), fine_of(case.things, metal)
        if gross and fine:
            yield GROSS, case.right * gross / fine
            yield TWICE_FINE, case.right * fine / gross
            yield NOT_METAL.format(metal=metal), case.right * (gross - fine) / fine
            yield from _other_fineness(case, metal, fine / gross)


def _other_fineness(case: Case, metal: str, counted: float) -> Slips:
    for thing in case.things:
        for entry in thing.entries:
            for said in entry.compositions:
                amount = said.amount
                share = amount.base_value
                if said.metal != metal or share is None or amount.value is None:
                    continue
                if amount.dimension is not Dimension.FRACTION:
                    continue
                words = " ".join(said.span.text.split())
                if amount.unit.lower() in MARK_UNITS:
                    name = f"{words} was read as {amount.value:g} %, not as {amount.value:g} of 24"
                    yield name, case.right * amount.value / 100.0 / counted
                if abs(share - counted) > 1e-9:
                    name = f"{words} of {title_of(thing)} was used, which is not what counts"
                    yield name, case.right * share / counted


# What belongs to it and what does not


def counted_in(case: Case) -> Slips:
    """Something that is no product was weighed in with it, or something was left out."""
    for thing in case.claimed.run.things_out:
        gross = value_of(thing.gross)
        if thing.role is not Role.PRODUCT and gross and not _wet(thing):
            yield f"the weight of {title_of(thing)} was counted in", case.right + gross
    for thing in _added(case):
        gross = value_of(thing.gross)
        if gross:
            yield f"the added {thing.what or title_of(thing)} was counted in", case.right + gross
            yield f"the added {thing.what or title_of(thing)} was taken off", case.right - gross
    for name, grams in _metal_supplies(case):
        yield f"the weight of the {name} was counted in", case.right + grams
    yield from _one_left_out(case)


def _one_left_out(case: Case) -> Slips:
    """One of several things is missing from a sum, or stands in it twice."""
    for metal in case.claimed.metals if len(case.things) > 1 else ():
        for thing in case.things:
            part = gross_of([thing]) if case.kind == "weight" else fine_of([thing], metal)
            if part:
                yield f"{title_of(thing)} was left out", case.right - part
                yield f"{title_of(thing)} was counted twice", case.right + part


def _added(case: Case) -> list[Thing]:
    run = case.claimed.run
    return [one for one in run.things_in if not is_feed(run.run, one)]


def _metal_supplies(case: Case) -> Iterator[tuple[str, float]]:
    """Bars and powders that went in as a supply, such as copper to cement with."""
    for use in case.claimed.run.reagents:
        grams = value_of(use.used) if use.used.unit == "g" else None
        if grams and re.search(r"\b(?:copper|zinc|iron|silver|steel|bar|wool)\b", use.reagent):
            yield use.reagent, grams


def _wet(thing: Thing) -> bool:
    return thing.moisture in WET_WORDS


def damp(case: Case) -> Slips:
    """A damp weighing was used, with or without the fineness."""
    for metal in case.claimed.metals:
        gross, fine = gross_of(case.things), fine_of(case.things, metal)
        for name, weight in _damp_weights(case):
            if gross and fine and case.kind not in ("weight",):
                yield name, case.right * weight / gross
                yield f"{name}, and without the fineness", case.right * weight / fine
            elif gross and case.kind == "weight":
                yield name, case.right * weight / gross


def _damp_weights(case: Case) -> Iterator[tuple[str, float]]:
    """Damp weighings of the run before the claim, and of the things themselves."""
    own = chain.from_iterable(thing.entries for thing in case.things)
    seen: set[int] = set()
    for entry in chain(_damp_before(case), own):
        if entry.moisture in WET_WORDS and id(entry) not in seen:
            seen.add(id(entry))
            weight = _weight(entry)
            if weight is not None:
                yield f"the {entry.moisture} weight was taken for the dry one", weight


def _damp_before(case: Case) -> Sequence[Entry]:
    return lines_before(case.claimed.known.lines(case.claimed.run).damp, case.claimed.entry)


def _weight(entry: Entry) -> float | None:
    for portion in entry.portions:
        if portion.amount is not None and portion.amount.dimension is Dimension.MASS:
            return portion.amount.base_value
    return None


# Shares


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
        if thing.role is not Role.PRODUCT and weight and not _wet(thing):
            words = f"the weight of {title_of(thing)} was counted as product"
            yield words, (made + weight) / head
    for name, weight in _damp_weights(case):
        yield f"{name}, and without the fineness", weight / head


def _with_added(case: Case, balance: MetalBalance) -> Slips:
    """Metal that was added counted as if it had been won, or left out of what went in."""
    made, head = value_of(balance.product), value_of(balance.head)
    if made is None or not head:
        return
    for thing in _added(case):
        added = value_of(thing.contents.get(balance.metal))
        if added and head > added:
            words = f"the added {balance.metal} was left out of what went in"
            yield words, made / (head - added)
            yield f"the added {balance.metal} was taken off what came out", (made - added) / head
            both = f"the added {balance.metal} was left out on both sides"
            yield both, (made - added) / (head - added)
    for name, grams in _metal_supplies(case):
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
    for name, weight in _damp_weights(case):
        yield name, weight / feed
    for name, weight in _beside(case):
        yield f"the weight of {name} was counted as feed", gross / (feed + weight)
        yield f"the weight of {name} was counted as product", (gross + weight) / feed


def _beside(case: Case) -> Iterator[tuple[str, float]]:
    """What is neither feed nor product, with its weight."""
    for name, grams in _metal_supplies(case):
        yield f"the {name}", grams
    for thing in (*_added(case), *case.claimed.run.things_out):
        weight = value_of(thing.gross)
        if thing.role is not Role.PRODUCT and weight and not _wet(thing):
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


def inquart(case: Case) -> Slips:
    """Silver to add by a rule that was used wrongly."""
    for thing in case.claimed.run.things_in:
        weight, gold = value_of(thing.gross), fine_of([thing], "gold")
        silver = fine_of([thing], "silver") or 0.0
        if not weight or not gold or not is_feed(case.claimed.run.run, thing):
            continue
        yield "it is three times the whole weight, not three times the gold", 3.0 * weight
        if silver:
            yield "the silver that is in it already was left out", 3.0 * gold
        yield "it is the weight of the melt: that of the scrap was not taken off", 4.0 * gold
        yield "gold and silver were taken the wrong way round", weight / 3.0
        others = weight - gold
        yield "it was reckoned from what is not gold", 3.0 * others
