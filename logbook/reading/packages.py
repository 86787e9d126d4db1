"""Things in packages: three bottles of 1 L hold 3 L, and a price `each` is paid three times."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.things import times
from logbook.reading.vocabulary import SMALL_NUMBERS

_PACKAGE = (
    r"(?:bottle|jar|bag|pack|packet|tin|can|drum|canister|jug|tub|sachet|box|case|carton|ampoule)"
    r"(?:e?s)?"
)
_SO_MANY = re.compile(
    rf"(?P<n>\d{{1,3}}|{'|'.join(SMALL_NUMBERS)})\s+{_PACKAGE}\s+(?:of|with)\s+(?=\d)", re.I
)
_ONE = re.compile(rf"(?:an?|one|1)\s+{_PACKAGE}\s+(?:of|with)\s+(?=\d)", re.I)


def packages_as_factor(reading: Reading, start: int, end: int) -> None:
    """Rewrite `3 bottles of 1 L` as `3 x 1 L`, and `a case of 6 x 1 L` as `6 x 1 L`, in place.

    The text that is matched against keeps its length, so that every span stays where it is.
    """
    text = reading.text
    if one := _ONE.match(text, start, end):
        put = " " * len(one[0])
    elif many := _SO_MANY.match(text, start, end):
        number = SMALL_NUMBERS.get(many["n"].lower(), many["n"])
        put = f"{number} x".ljust(len(many[0]))
    else:
        return
    reading.text = text[:start] + put + text[start + len(put) :]


def price_of_each(reading: Reading, draft: Draft) -> None:
    """A price `each` is paid for as many things as the entry names; how many must be said."""
    if not draft.price_each or draft.price is None:
        return
    count = _count(draft)
    if count is None:
        span = draft.price.amount.span
        reading.doubt(
            "each-of-how-many",
            span.start,
            span.end,
            f'"{span.text}" is paid for each, and how many there were is not said in figures',
            "paid once",
            "write the number of pieces before the thing, or what was paid for all",
        )
        return
    draft.price = replace(draft.price, amount=times(draft.price.amount, count))


def _count(draft: Draft) -> float | None:
    """How many things an entry names: pieces, packages, labels or vessels."""
    for portion in draft.portions:
        if (found := _count_of(portion)) is not None:
            return found
    return float(draft.vessels) if draft.vessels > 1 else None


def _count_of(portion: Portion) -> float | None:
    amount = portion.amount
    if amount is not None and amount.times > 1:
        return float(amount.times)
    if amount is not None and amount.dimension is Dimension.COUNT and amount.base_value:
        return amount.base_value
    return float(len(portion.labels)) if len(portion.labels) > 1 else None
