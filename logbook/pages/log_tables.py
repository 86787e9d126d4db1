"""Tables that follow the logs line by line: quantities, tests, claims, cautions, problems.

What a private note holds is left out of them, unless the keeper asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.calculation.results import ClaimCheck
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Claim, Entry, Portion, Terms
from logbook.pages.table import (
    Source,
    Table,
    number,
    stage_names,
    table,
    text,
    value,
    whole,
    words,
)
from logbook.units import units_by_word

FILE = text("file", "path of the file, from the book's folder")
LINE = whole("line", "line of the file, counted from 1")
ROLES = "amount, strength, composition, temperature, time, money, price, claim and more"
SAID_AGAIN = "said again marks the same amount in a second unit"
NOT_IN_A_RUN = "it stands in no run that was done"
BASE_UNITS = "g, L, h, 1, degC, g/g, g/L, mol/L and others, or the currency"


@dataclass(frozen=True, slots=True)
class Place:
    """Where an entry stands. Run and stage are empty on the fixed pages."""

    run: str
    stage: str
    entry: Entry


@dataclass(frozen=True, slots=True)
class Said:
    """One quantity of an entry: its role, what it is of, and the label of that."""

    amount: Amount
    role: str
    what: str
    label: str


def entries(source: Source) -> Table:
    """One row for each quantity that an entry holds."""
    return table(
        "entries",
        "a quantity of an entry",
        ((place, said) for place in _places(source) for said in _said(place.entry)),
        (FILE, lambda row: row[0].entry.span.path),
        (LINE, lambda row: row[1].amount.span.line),
        (text("run", "name of the run; empty for the fixed pages"), lambda row: words(row[0].run)),
        (text("stage", "heading of the stage"), lambda row: words(row[0].stage)),
        (
            text("action", "the action, in the past form, also where the log is a plan"),
            lambda row: row[0].entry.action,
        ),
        (text("what", "what the quantity is of"), lambda row: words(row[1].what)),
        (text("label", "labels of the thing"), lambda row: words(row[1].label)),
        (text("role", f"{ROLES}; {SAID_AGAIN}"), lambda row: row[1].role),
        (
            number("value", "", "the quantity as written, in unit"),
            lambda row: row[1].amount.value,
        ),
        (
            number("uncertainty", "", "its standard uncertainty, in unit"),
            lambda row: in_unit(row[1].amount),
        ),
        (text("unit", "unit of value"), lambda row: words(row[1].amount.unit)),
        (
            number("base_value", "", "the quantity in base_unit"),
            lambda row: row[1].amount.base_value,
        ),
        (text("base_unit", BASE_UNITS), lambda row: words(row[1].amount.base_unit)),
    )


def _places(source: Source) -> Iterator[Place]:
    """Every entry that may be shown, with the names of its run and stage."""
    book, shows = source.figures.book, source.privacy.shows
    for page in (book.supplies, book.prices):
        yield from (Place("", "", one) for one in (page.entries if page else ()) if shows(one))
    for run in book.runs:
        for name, stage in zip(stage_names(run), run.stages, strict=True):
            yield from (Place(run.name, name, one) for one in stage.entries if shows(one))


def _said(entry: Entry) -> Iterator[Said]:
    """Every amount of an entry, each followed by what says it again."""
    for said in _each(entry):
        yield said
        for again in said.amount.also:
            yield Said(again, "said again", said.what, said.label)


def _each(entry: Entry) -> Iterator[Said]:
    for portion in (*entry.portions, *entry.supplies):
        yield from _of_portion(portion)
    first = entry.portions[0] if entry.portions else None
    what, label = (first.what, _labels(first)) if first is not None else ("", "")
    for composition in entry.compositions:
        yield Said(composition.amount, "composition", composition.metal, label)
    for amount in entry.conditions:
        yield Said(amount, amount.dimension.value, what, label)
    if entry.duration is not None:
        yield Said(entry.duration, "time", what, label)
    if entry.price is not None:
        yield Said(entry.price.amount, "money", what, label)
    if entry.per is not None:
        yield Said(entry.per, "price", entry.metal or entry.money or what, label)
    if entry.fee is not None:
        yield Said(entry.fee, "fee", what, label)
    if entry.terms is not None:
        yield from _of_terms(entry.terms, entry.metal)
    if entry.claim is not None:
        yield Said(entry.claim.amount, "claim", entry.claim.what, label)
        if entry.claim.at is not None:
            yield Said(entry.claim.at, "price", entry.claim.what, label)


def _of_terms(terms: Terms, metal: str) -> Iterator[Said]:
    """The terms of a buyer, each under its own name."""
    for role, amount in (
        ("payable", terms.payable),
        ("deduction", terms.deduction),
        ("treatment charge", terms.treatment),
        ("refining charge", terms.refining),
        ("lot charge", terms.lot),
    ):
        if amount is not None:
            yield Said(amount, role, metal, "")


def _of_portion(portion: Portion) -> Iterator[Said]:
    label = _labels(portion)
    for amount in (portion.amount, portion.second):
        if amount is not None:
            yield Said(amount, "amount", portion.what, label)
    if portion.strength is not None:
        yield Said(portion.strength, "strength", portion.what, label)


def _labels(portion: Portion) -> str:
    return " ".join(label.name for label in portion.labels)


def in_unit(amount: Amount) -> float | None:
    """The standard uncertainty of an amount in the unit in which it was written."""
    if amount.base_u is None:
        return None
    unit = units_by_word().get(amount.unit)
    if unit is not None and unit.dimension is amount.dimension:
        return amount.base_u / unit.factor
    if amount.value and amount.base_value and amount.dimension is not Dimension.TEMPERATURE:
        return amount.base_u * abs(amount.value / amount.base_value)
    return amount.base_u if amount.unit == amount.base_unit else None


def tests(source: Source) -> Table:
    """One row for each spot test."""
    return table(
        "tests",
        "a spot test",
        ((place.run, test) for place in _places(source) for test in place.entry.tests),
        (text("run", "name of the run"), lambda row: words(row[0])),
        (FILE, lambda row: row[1].span.path),
        (LINE, lambda row: row[1].span.line),
        (text("test", "the test"), lambda row: words(row[1].test)),
        (
            text("of", "what was tested; empty where it was the charge"),
            lambda row: words(row[1].thing or " ".join(label.name for label in row[1].labels)),
        ),
        (text("seen", "what was seen, in the writer's words"), lambda row: words(row[1].seen)),
        (
            text("finding", "none, faint, clear, strong or unclear"),
            lambda row: words(row[1].finding),
        ),
    )


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A claim, and what came of the check; None where it stands in no run that was done."""

    claim: Claim
    check: ClaimCheck | None


def claims(source: Source) -> Table:
    """One row for each figure that the writer worked out, with what the book gives for it."""
    every = (check for one in source.figures.runs.values() for check in one.claims)
    checks = {check.entry.span: check for check in every}
    claimed = (
        Reckoned(place.entry.claim, checks.get(place.entry.span))
        for place in _places(source)
        if place.entry.claim is not None
    )
    return table(
        "claims",
        "a figure that the writer worked out",
        claimed,
        (FILE, lambda row: row.claim.span.path),
        (LINE, lambda row: row.claim.span.line),
        (text("claim", "what was worked out"), lambda row: words(row.claim.what)),
        (
            number("claimed", "", "the figure the writer gave, in unit"),
            lambda row: row.claim.amount.base_value,
        ),
        (
            number("computed", "", "the figure on the log's own premises, in unit"),
            lambda row: value(row.check.computed) if row.check is not None else None,
        ),
        (
            text("agrees", "yes, no or unknown"),
            lambda row: row.check.agrees if row.check is not None else "unknown",
        ),
        (
            text("why", "what was compared, or why it cannot be checked"),
            lambda row: words(row.check.why) if row.check is not None else NOT_IN_A_RUN,
        ),
        (text("unit", BASE_UNITS), lambda row: words(row.claim.amount.base_unit)),
        (
            number("difference", "", "claimed less computed, in unit"),
            lambda row: value(row.check.difference) if row.check is not None else None,
        ),
        (
            text("slip", "what the writer probably did, where just that gives the figure"),
            lambda row: words(row.check.slip) if row.check is not None else None,
        ),
        (
            text("premises", "what the claim rests on without evidence"),
            lambda row: words("; ".join(row.check.premises)) if row.check is not None else None,
        ),
    )


def cautions(source: Source) -> Table:
    """One row for each caution that a stage raises."""
    raised = (one for figures in source.figures.runs.values() for one in figures.cautions)
    return table(
        "cautions",
        "a caution that was raised",
        (one for one in raised if source.privacy.shows(one.entry)),
        (FILE, lambda one: one.entry.span.path),
        (LINE, lambda one: one.entry.span.line),
        (text("rule", "name of the rule"), lambda one: one.rule),
        (text("signal", "danger or warning"), lambda one: one.signal),
        (text("text", "the hazard"), lambda one: one.text),
        (text("source", "where the rule comes from"), lambda one: words(one.source)),
    )


def problems(source: Source) -> Table:
    """One row for each problem of a log."""
    found = dict.fromkeys((*source.figures.book.findings, *source.figures.findings))
    return table(
        "problems",
        "a problem of a log",
        sorted(filter(source.privacy.shows_finding, found), key=lambda one: one.sort_key),
        (FILE, lambda one: one.span.path),
        (LINE, lambda one: one.span.line),
        (whole("column", "column of the line, counted from 1"), lambda one: one.span.column),
        (
            text("weight", "error: not used; doubt: used, in the reading that is given"),
            lambda one: one.weight.value,
        ),
        (text("message", "what is wrong"), lambda one: one.headline),
        (text("understood", "what was understood"), lambda one: words(one.understood)),
        (text("hint", "what to write instead"), lambda one: words(one.hint)),
    )
