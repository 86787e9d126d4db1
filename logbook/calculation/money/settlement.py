"""What a buyer pays for metal by agreed terms: payable metal, price, and the charges.

Arithmetic alone, in the words of the settlement trade: it knows no book, no day and no log. A
price that was agreed has no doubt of its own; weight and assay have theirs.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import BuyerTerms
from logbook.calculation.sums import (
    add_up,
    difference,
    highest,
    lowest,
    notes_of,
    product,
    reasons,
    zero,
)
from logbook.model.amount import ZERO, Uncertain

PAYS_LESS = "by share or by deduction, whichever pays less"
NOTHING_PAID = "it holds no more than the deduction: nothing of it is paid for"
NOTHING_LEFT = "the charges are more than is paid for it"
GRAM = Figure("a gram of it", "g", Uncertain(1.0), "as pure metal")


def payable_metal(metal: str, fine: Figure, weight: Figure, terms: BuyerTerms) -> Figure:
    """The metal that is paid for.

    Equation: m_p = min(f s, f − d w), no less than nothing [g], with f the fine weight [g], w
    the weight of the material [g], s the payable share and d the deduction [g/g]. Source:
    "percentage or minimum deduction, whichever pays less", settlement of concentrates (course
    sheets named in the tests). With limits only, the lowest and the highest of both are taken.

    Lead concentrate of 53.25 %, pay 92 % or deduct 4 units: 48.99 and not 49.25 units. Source:
    course sheet of prices of 10 July 2009.

    >>> from datetime import date
    >>> from logbook.model.entry import Entry
    >>> from logbook.source import SourceText, Span
    >>> said = Entry("priced", Span(SourceText("runs/prices.md", ""), 0, 0), 1)
    >>> pay, deduct = (Figure("", "g/g", Uncertain(one)) for one in (0.92, 0.04))
    >>> terms = BuyerTerms("lead", date.min, pay, deduct, None, None, None, said)
    >>> lead, sheet = (Figure("", "g", Uncertain(one)) for one in (53.25, 100.0))
    >>> round(payable_metal("lead", lead, sheet, terms).value.value, 2)
    48.99
    """
    name = f"payable {metal}"
    by_share = product(name, "g", fine, terms.payable, "fine weight × payable share")
    if terms.deduction is None:
        return by_share
    kept = product("deduction", "g", terms.deduction, weight, "deduction × weight")
    by_deduction = difference(name, "g", fine, kept, "fine weight − deduction × weight")
    return _lesser(name, by_share, by_deduction)


def _lesser(name: str, one: Figure, other: Figure) -> Figure:
    """The lesser of two figures, no less than nothing; limits where either is not known."""
    both = (one, other)
    if one.value is None or other.value is None:
        tops = [top for top in map(highest, both) if top is not None]
        low = max(min(map(lowest, both)), 0.0)
        high = max(min(tops), 0.0) if tops else None
        why = reasons(figure for figure in both if not figure.known)
        return Figure(name, "g", None, PAYS_LESS, both, why=why, low=low, high=high)
    lesser = one if one.value.value <= other.value.value else other
    if lesser.value is not None and lesser.value.value <= 0.0:
        return replace(zero(name, "g", NOTHING_PAID), formula=PAYS_LESS, terms=both)
    return Figure(name, "g", lesser.value, PAYS_LESS, both, notes=notes_of(both))


def price_paid(metal: str, price: Figure, terms: BuyerTerms) -> Figure:
    """The price of a gram of payable metal, less what it costs to refine it.

    Equation: p_n = p − r [currency/g], with p the price and r the refining charge. Source:
    course sheets named in the tests. A charge that is not known leaves it at most the price.
    """
    if terms.refining is None:
        return price
    name = f"price of {metal} less refining"
    return difference(name, price.unit, price, terms.refining, "price − refining charge")


def paid_for(
    metal: str, fine: Figure, weight: Figure, price: Figure, terms: BuyerTerms | None
) -> Figure:
    """What is paid for one metal of a material, before treatment and lot charges.

    Equation: P = m_p (p − r) [currency]; without terms P = f p, all of the metal. Source:
    settlement of concentrates (course sheets named in the tests).
    """
    name, currency = f"worth of {metal}", price.unit.removesuffix("/g")
    if terms is None:
        return product(name, currency, fine, price)
    payable, rate = payable_metal(metal, fine, weight, terms), price_paid(metal, price, terms)
    paid = product(name, currency, payable, rate)
    if not paid.known and rate.value is not None and rate.value.value < 0.0:
        return replace(paid, low=None, high=None)  # the more there is of it, the less it brings
    return paid


def price_as_metal(metal: str, price: Figure, terms: BuyerTerms | None) -> Figure:
    """What is paid for a gram of a metal that is handed in as pure metal.

    Equation: p_m = min(s, 1 − d) (p − r) − t, no less than nothing [currency/g]: the settlement
    of one gram of material that is nothing but the metal. It is the most that the same metal
    can bring in a poorer material, as deduction and treatment fall on each gram of that.
    """
    if terms is None:
        return price
    paid = after_treatment(metal, paid_for(metal, GRAM, GRAM, price, terms), GRAM, terms)
    rate = replace(paid, name=f"paid for a gram of {metal}", unit=price.unit)
    if rate.value is not None and rate.value.value < 0.0:
        return replace(rate, value=ZERO, notes=(*rate.notes, NOTHING_LEFT))
    return rate


def after_treatment(metal: str, paid: Figure, weight: Figure, terms: BuyerTerms) -> Figure:
    """What is paid for a metal less the charge for working up the material, by its weight.

    Equation: P − t w [currency], with t the treatment charge [currency/g] and w the weight of
    the material [g]. It is below nothing where the charge is more than is paid.
    """
    if terms.treatment is None:
        return paid
    charge = product("treatment charge", paid.unit, weight, terms.treatment, "weight × charge")
    return difference(paid.name, paid.unit, replace(paid, name=f"paid for {metal}"), charge)


def bears_treatment(terms: Mapping[str, BuyerTerms]) -> str:
    """The metal from which the treatment of a material is taken: empty where none is agreed.

    A material is worked up once. Where the terms of several of its metals give a charge, the
    highest counts; one that is not known may be higher than any.
    """
    rates = {metal: one.treatment for metal, one in terms.items() if one.treatment is not None}
    return _dearest(rates) if rates else ""


def lot_charge(terms: Mapping[str, BuyerTerms]) -> Figure | None:
    """The charge for each lot that is handed in: once, the highest where several metals have one.

    None where none was agreed.
    """
    charges = {metal: one.lot for metal, one in terms.items() if one.lot is not None}
    return charges[_dearest(charges)] if charges else None


def _dearest(charges: Mapping[str, Figure]) -> str:
    unknown = [metal for metal, charge in charges.items() if not charge.known]
    return unknown[0] if unknown else max(charges, key=lambda metal: lowest(charges[metal]))


def settled(name: str, currency: str, paid: Sequence[Figure], lot: Figure | None) -> Figure:
    """What a lot brings: the sum over its metals, less the charge for the lot.

    Equation: V = Σ m_p (p − r) − t w − l [currency]. Source: settlement of concentrates (course
    sheets named in the tests). It is below nothing where the charges are more than is paid.
    """
    if not paid:
        return not_known(name, currency, "it holds no metal with a price")
    whole = add_up(name, currency, paid)
    if lot is None:
        return whole
    words = f"{whole.formula} − {lot.name}"
    return replace(difference(name, currency, whole, lot, words), terms=(*paid, lot))
