"""What buyers pay for, from the lines that say so: share, deduction and charges of each metal.

Terms hold from their day on until the next of the same metal. Those that cannot be used are
named, and nothing is counted with them; a charge in money that has no rate is not known.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.money.exchange import NO_DAY, Exchange
from logbook.calculation.results import BuyerTerms
from logbook.calculation.walk import Step
from logbook.calculation.weights import leaf
from logbook.findings import Finding, Weight
from logbook.model.amount import Amount, Uncertain

ALL_OF_IT = Figure(
    "payable share", "g/g", Uncertain(1.0), "all of it: the terms name no share that is paid for"
)


def buyer_terms(
    steps: Iterable[Step], rates: Exchange
) -> tuple[tuple[BuyerTerms, ...], tuple[Finding, ...]]:
    """The terms of buyers in order of day, and what there is to say about those not used."""
    found: list[BuyerTerms] = []
    findings: list[Finding] = []
    for step in steps:
        if step.entry.action != "priced" or step.entry.terms is None or not step.entry.metal:
            continue
        problem = _problem(step)
        if problem is not None:
            findings.append(problem)
            continue
        found.append(_terms(step, rates))
        findings += _without_rate(step, rates)
    found.sort(key=lambda one: one.day)
    return tuple(found), (*findings, *_of_one_day(found))


def _terms(step: Step, rates: Exchange) -> BuyerTerms:
    said, day = step.entry.terms, step.day
    assert said is not None

    def charge(name: str, amount: Amount | None, per: str = "/g") -> Figure | None:
        return None if amount is None else in_book(name, amount, day, rates, per)

    return BuyerTerms(
        metal=step.entry.metal,
        day=day,
        payable=ALL_OF_IT if said.payable is None else _share("payable share", said.payable),
        deduction=None if said.deduction is None else _share("deduction", said.deduction),
        treatment=charge("treatment charge per gram", said.treatment),
        refining=charge("refining charge per gram", said.refining),
        lot=charge("lot charge", said.lot, per=""),
        entry=step.entry,
    )


def _share(name: str, amount: Amount) -> Figure:
    """A share that was agreed: it was never measured, and has no doubt."""
    value = None if amount.base_value is None else Uncertain(amount.base_value)
    return replace(leaf(name, amount, f"the {name} is not a figure"), value=value)


def in_book(name: str, amount: Amount, day: date | None, rates: Exchange, per: str = "") -> Figure:
    """Money, or money per gram, in the book's currency; with the doubt it was written with.

    Equation: m = m_f × r [currency, or currency/g], with r the rate of the day where it was
    written in another currency. Source: the definition of an exchange rate.
    """
    figure = rates.money(name, amount, day)
    terms = figure.terms
    if terms:
        terms = (replace(terms[0], unit=f"{terms[0].unit}{per}"), *terms[1:])
    return replace(figure, unit=f"{figure.unit}{per}", terms=terms)


def missing_rate(amounts: Iterable[Amount | None], day: date, rates: Exchange) -> str:
    """The first currency that some amounts are in and that has no rate up to a day."""
    for amount in amounts:
        if amount is None or amount.base_value is None:
            continue
        if amount.currency != rates.currency and not rates.money("", amount, day).known:
            return amount.currency
    return ""


def write_the_rate(currency: str, day: date, rates: Exchange) -> str:
    """What to write so that money in another currency counts."""
    return (
        f"write what one {currency} was worth on that day or before: "
        f"{day.isoformat()} priced {currency} at ... {rates.currency}"
    )


def _problem(step: Step) -> Finding | None:
    said = step.entry.terms
    assert said is not None
    if step.day in NO_DAY:
        return _not_used(step, "they have no date", "write the day before priced: 2026-01-08")
    if said.payable is not None and (said.payable.base_value or 0.0) > 1.0:
        why = "more than all of the metal would be paid for"
        return _not_used(step, why, "write a share of no more than 100 %: payable 96 %")
    return None


def _not_used(step: Step, why: str, hint: str) -> Finding:
    return Finding(
        "terms-unused",
        Weight.ERROR,
        f"terms of a buyer of {step.entry.metal} cannot be used: {why}",
        step.entry.span,
        "nothing is taken off by them: worth is more than this buyer pays",
        hint,
    )


def _without_rate(step: Step, rates: Exchange) -> Iterable[Finding]:
    """A charge in another currency: what is worth by these terms is then not known."""
    said = step.entry.terms
    assert said is not None
    currency = missing_rate((said.treatment, said.refining, said.lot), step.day, rates)
    if currency:
        yield Finding(
            "terms-no-rate",
            Weight.ERROR,
            f"a charge is in {currency}, the book counts in {rates.currency}, and no rate is noted",
            said.span,
            "what is worth by these terms is not known, or at most so much",
            write_the_rate(currency, step.day, rates),
        )


def _of_one_day(found: Iterable[BuyerTerms]) -> Iterable[Finding]:
    """Two buyers of one metal on one day: only one of them can be reckoned with."""
    before: dict[tuple[str, date], BuyerTerms] = {}
    for one in found:
        if (one.metal, one.day) in before:
            yield Finding(
                "terms-same-day",
                Weight.DOUBT,
                f"terms of a buyer of {one.metal} are written twice for one day",
                one.entry.span,
                "these, the later ones, are counted with",
                "leave the terms of the buyer you mean to sell to",
            )
        before[one.metal, one.day] = one
