"""Slips with weights: gross for fine, another fineness, something weighed in, damp for dry.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

from logbook.calculation.claims.beside import (
    added_things,
    damp_weights,
    is_wet,
    metal_supplies,
)
from logbook.calculation.claims.case import Case, Slips, fine_of, gross_of, value_of
from logbook.calculation.claims.known import title_of
from logbook.calculation.feed import is_feed
from logbook.calculation.purity import MARK_UNITS
from logbook.calculation.results import Role
from logbook.model.amount import Dimension

GROSS = "the whole weight was taken for the fine weight: the fineness was left out"
TWICE_FINE = "the fineness was taken off twice"
NOT_METAL = "it is what is not {metal}"


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
        if thing.role is not Role.PRODUCT and gross and not is_wet(thing):
            yield f"the weight of {title_of(thing)} was counted in", case.right + gross
    for thing in added_things(case):
        gross = value_of(thing.gross)
        if gross:
            yield f"the added {thing.what or title_of(thing)} was counted in", case.right + gross
            yield f"the added {thing.what or title_of(thing)} was taken off", case.right - gross
    for name, grams in metal_supplies(case):
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


def damp(case: Case) -> Slips:
    """A damp weighing was used, with or without the fineness."""
    for metal in case.claimed.metals:
        gross, fine = gross_of(case.things), fine_of(case.things, metal)
        for name, weight in damp_weights(case):
            if gross and fine and case.kind not in ("weight",):
                yield name, case.right * weight / gross
                yield f"{name}, and without the fineness", case.right * weight / fine
            elif gross and case.kind == "weight":
                yield name, case.right * weight / gross


# Parting


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
