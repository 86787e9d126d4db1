"""A buyer's terms in the clauses of `priced METAL`: payable share, deduction, charges.

Terms that cannot be read are reported, and the entry is left out: a charge that was lost on the
way would make the metal worth more than is paid for it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Terms
from logbook.reading.amounts import amount_reader
from logbook.reading.compositions import PER, as_fineness, per_unit
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.fees import together

_NUMBER = re.compile(r"(?<![\w.,\]-])(?:(?:about|~)\s*)?(?:[-−]\s?)?(?:[$€£¥]|[A-Z]{3}\s)?\s?\d")
_CHARGE = r"(?:charges?|fees?|costs?)"
_TERMS: Mapping[str, re.Pattern[str]] = {
    "payable": re.compile(r"\b(?:payable|pays?|paid|paying)\b", re.I),
    "deduction": re.compile(r"\b(?:deductions?|deducts?|deducted|deducting)\b", re.I),
    "lot": re.compile(
        rf"\b(?:lot|assay|handling)\s+{_CHARGE}|{_CHARGE}\s+(?:per|a|for each)\s+lot\b"
        r"|\bper\s+lot\b",
        re.I,
    ),
    "treatment": re.compile(rf"\b(?:treatment|smelting)\b(?:\s+{_CHARGE})?", re.I),
    "refining": re.compile(rf"\brefining\b(?:\s+{_CHARGE})?", re.I),
}
_WRITE = {
    "payable": "write: payable 96 %",
    "deduction": "write: deduction 1 g/kg, or deduction 0.1 %",
    "lot": "write: lot charge 12 EUR",
    "treatment": "write: treatment charge 2 EUR/kg",
    "refining": "write: refining charge 0.02 EUR/g, or 0.60 EUR per ozt",
}
_NEEDS = {
    "payable": "a share of the metal, above nothing and up to all of it",
    "deduction": "a weight of metal per weight of material, or a share",
    "lot": "a sum of money for each lot",
    "treatment": "money per weight of material",
    "refining": "money per weight of metal",
}


@dataclass(frozen=True, slots=True)
class Term:
    """Which of the terms a clause gives, and the offsets of the words that say so."""

    name: str
    start: int
    end: int


def term_in(reading: Reading, start: int, end: int) -> Term | None:
    """The term that a clause speaks of; None where it is about something else.

    A clause without a figure is one only where it begins with the words of a term.
    """
    text = reading.text
    figure = _NUMBER.search(text, start, end)
    for name, pattern in _TERMS.items():
        if match := pattern.search(text, start, end):
            before = text[start : match.start()].strip().lower()
            if figure or before in {"", "and", "with", "a", "the"}:
                return Term(name, match.start(), match.end())
    return None


def read_term(reading: Reading, draft: Draft, metal: str, term: Term, start: int, end: int) -> None:
    """Read the amount of a term between two offsets into the terms of the entry."""
    before = len(reading.findings)
    amount = _amount(reading, metal, start, end)
    if reading.broken and len(reading.findings) > before:
        return  # said already
    as_meant = _as_meant(term.name, metal, amount) if amount is not None else None
    if as_meant is None:
        last = amount.span.end if amount is not None else term.end
        reading.error(
            "terms-unread",
            min(term.start, amount.span.start) if amount is not None else term.start,
            max(term.end, last),
            f'"{reading.text[term.start : term.end]}" needs {_NEEDS[term.name]}',
            _WRITE[term.name],
        )
        return
    terms = draft.terms or Terms(reading.span(start, end))
    said: Amount | None = getattr(terms, term.name)
    if said is not None and term.name == "lot":
        as_meant = together(said, as_meant)
    elif said is not None:
        _said_twice(reading, term, as_meant)
        return
    span = reading.span(min(terms.span.start, start), max(terms.span.end, end))
    draft.terms = replace(terms, span=span, **{term.name: as_meant})


def _amount(reading: Reading, metal: str, start: int, end: int) -> Amount | None:
    """The first amount of a clause; a weight per weight is a share."""
    figure = _NUMBER.search(reading.text, start, end)
    reader = amount_reader(reading.customs.decimal_comma)
    found = reader.read(reading, figure.start(), end) if figure else None
    if found is None:
        return None
    amount, position = found
    if amount.dimension is Dimension.MASS and (per := PER.match(reading.text, position, end)):
        return per_unit(reading, metal, amount, per, end)[0]
    return amount


def _as_meant(name: str, metal: str, amount: Amount) -> Amount | None:
    """The amount as the term needs it; None where it is of another kind, or cannot be."""
    value = amount.base_value
    if name in ("payable", "deduction"):
        if value is not None and 0.0 < value < 1.0:
            amount = as_fineness(metal, amount)  # a bare 0.96
        if amount.dimension is not Dimension.FRACTION or value is None or not 0.0 <= value <= 1.0:
            return None
        agreed = replace(amount, base_u=0.0, u_basis="as agreed")  # no reading of anything
        return agreed if value > 0.0 or name == "deduction" else None
    if name == "lot":
        if amount.dimension is Dimension.PRICE and amount.per == "1":
            amount = replace(amount, dimension=Dimension.MONEY, unit=amount.currency, per="")
        return amount if amount.dimension is Dimension.MONEY and value is not None else None
    per_weight = amount.dimension is Dimension.PRICE and amount.per == "g"
    return amount if per_weight and value is not None else None


def _said_twice(reading: Reading, term: Term, amount: Amount) -> None:
    words = reading.text[term.start : term.end]
    reading.error(
        "terms-twice",
        min(term.start, amount.span.start),
        max(term.end, amount.span.end),
        f'"{words}" is said twice for one metal and one day',
        "leave one of them; the terms of another buyer are another entry",
    )
