"""Things in packages: three bottles of 1 L hold 3 L, and a price `each` is paid three times."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.reading.context import Reading
from logbook.reading.doubt import ROOT_THREE
from logbook.reading.draft import Draft
from logbook.reading.things import times
from logbook.reading.vocabulary import SMALL_NUMBERS
from logbook.reference import load

UNSAID = ("last digit written", "no measure named")
FILLED = "as the maker filled it, within the tolerated error"
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


def filled_by_the_maker(draft: Draft) -> None:
    """What is bought in packages holds what is printed on them, within the tolerated error.

    Equation: u = T / √3 for each package, and n u for n of them, as one maker fills them alike.
    Source: JCGM 100:2008, 4.3.7; T from packages.toml. A doubt that the writer gives stays.
    """
    if draft.action.name == "bought":
        draft.portions = tuple([_filled(portion) for portion in draft.portions])


def _filled(portion: Portion) -> Portion:
    amount = portion.amount
    if (
        not portion.reagent
        or portion.labels
        or amount is None
        or not amount.base_value
        or not amount.u_basis.startswith(UNSAID)
    ):
        return portion
    thousandth = 1000.0 if amount.dimension is Dimension.VOLUME else 1.0  # L, and g
    error = tolerated(amount.base_value * thousandth / amount.times)
    if error is None:
        return portion
    u = error * amount.times / thousandth / ROOT_THREE
    return replace(portion, amount=replace(amount, base_u=u, u_basis=FILLED))


def tolerated(content: float) -> float | None:
    """The tolerated error of a package by its content in grams or millilitres; None outside.

    >>> tolerated(1000.0), tolerated(500.0), tolerated(2.0)
    (15.0, 15.0, None)
    """
    for row in load("packages.toml")["content"]:
        if row["from"] <= content < row["to"]:
            found: float = row.get("grams") or content * row["percent"] / 100.0
            return found
    return None


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
