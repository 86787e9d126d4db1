"""What a sale itself cost, said beside it: "for 335 EUR, fee 12 EUR", "less 12 EUR postage".

A price "after fees" is already without them: such words are left as they stand.
"""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.draft import Draft

_WORDS = r"(?:fees?|commissions?|postage|shipping|carriage)"
_SPOKEN_OF = re.compile(rf"\b{_WORDS}\b", re.I)
_LESS = re.compile(r"\s*(?:(?:and|less|minus|with|an?|the|his|her|their|selling)\s+)*", re.I)
_BEFORE = re.compile(rf"{_WORDS}(?:\s+(?:of|was|were))?\s*:?\s*", re.I)
_BEHIND = re.compile(rf"\s*(?:of\s+|in\s+|for\s+)?(?:the\s+)?(?:selling\s+)?{_WORDS}\s*$", re.I)


def read_fee(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    """Read the fee of a sale in a clause; whether there is one."""
    text = reading.text
    if draft.action.name != "sold" or not _SPOKEN_OF.search(text, start, end):
        return False
    opening = _LESS.match(text, start, end)
    start = opening.end() if opening else start
    word = _BEFORE.match(text, start, end)
    heard = set(reading.heard)
    found = amount_reader(reading.customs.decimal_comma).read(
        reading, word.end() if word else start, end
    )
    whole = found is not None and not text[found[1] : end].strip()
    if found is None or not (whole if word else _BEHIND.match(text, found[1], end)):
        reading.heard = heard
        return False
    amount = found[0] if found[0].dimension is Dimension.MONEY else _not_money(reading, found[0])
    draft.fee = amount if draft.fee is None else together(draft.fee, amount)
    return True


def together(one: Amount, other: Amount) -> Amount:
    """Two sums of money of one kind as one; where they are in two currencies, nobody knows.

    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/a.md", "fee 12 EUR, postage 4 EUR"), 4, 10)
    >>> fee = Amount(place, Dimension.MONEY, "EUR", 12.0, 12.0, currency="EUR")
    >>> together(fee, fee).base_value
    24.0
    """
    known = one.base_value is not None and other.base_value is not None
    note = "two sums added up"
    if one.currency != other.currency:
        known, note = False, "two sums in two currencies"
    value = (one.base_value or 0.0) + (other.base_value or 0.0) if known else None
    return replace(one, value=value, base_value=value, unit=one.currency, note=note)


def _not_money(reading: Reading, amount: Amount) -> Amount:
    """A fee that is no sum of money: there was one, and nobody knows how much."""
    headline = f'a fee of "{amount.span.text}" is no sum of money'
    reading.doubt(
        "fee-not-money",
        amount.span.start,
        amount.span.end,
        headline,
        "some fee, not known how much",
        "write it in money: fee 12 EUR",
    )
    currency = reading.customs.currency
    return Amount(
        amount.span, Dimension.MONEY, currency, None, None, currency=currency, note=headline
    )
