"""What was given for nothing: a price of zero, which is not the same as no price."""

from __future__ import annotations

import re

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Price
from logbook.reading.context import Reading

GIFT = re.compile(r"(?:as\s+)?(?:a\s+)?(?:gift|present|free of charge)\b", re.I)


def free(reading: Reading, start: int, end: int) -> Price:
    """The price of a gift, in the currency of the book."""
    currency = reading.customs.currency
    span = reading.span(start, end)
    return Price(
        Amount(span, Dimension.MONEY, currency, 0.0, 0.0, 0.0, "a gift", currency=currency)
    )
