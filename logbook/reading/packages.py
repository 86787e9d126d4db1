"""Things in packages: three bottles of 1 L hold 3 L, and a price `each` is paid three times."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.reading.context import Reading
from logbook.reading.doubt import ROOT_THREE
from logbook.reading.draft import Draft
from logbook.reading.things import times
from logbook.reading.vocabulary import SMALL_NUMBERS
from logbook.reference import load

UNSAID = ("last digit written", "no measure named")
FILLED = "as the maker filled it, within the tolerated error"
_NUMBERS = {
    **SMALL_NUMBERS,
    **{"a": 1, "an": 1, "one": 1, "seven": 7, "eight": 8, "nine": 9, "ten": 10},
    **{"twelve": 12, "a dozen": 12},
}
_N = r"\d{1,3}|" + "|".join(sorted(_NUMBERS, key=len, reverse=True))
_PACKAGE = (
    r"(?:bottle|jar|bag|pack|packet|tin|can|drum|canister|jug|tub|sachet|box|case|carton|ampoule)"
    r"(?:e?s)?\b"
)
_CONTENT = r"\d+(?:[.,]\d+)?[\s-]?[^\W\d_]+(?<!x)"
_OF = rf"{_PACKAGE}\s+(?:of|with)\s+(?=\d)"
_CASES = re.compile(
    rf"(?P<cases>{_N})\s+{_PACKAGE}\s+(?:of|with)\s+(?P<n>{_N})\s*(?:[x×]|{_OF})\s*(?=\d)", re.I
)
_SO_MANY = re.compile(rf"(?P<n>{_N})\s+{_OF}", re.I)
_FILLED = re.compile(
    rf"(?P<n>{_N})\s+(?P<of>{_CONTENT})\s+(?P<kind>{_PACKAGE}(?:\s+of\b)?)(?=\s+[^\W\d_])", re.I
)
_THOUSANDS = re.compile(r"\d{1,3}\s\d{3}\b(?![.,]\d)")
_EACH = re.compile(rf"\s*(?:/|per|a|the)\s*(?:{_PACKAGE}|piece\b)|\s+apiece\b|\s+each\b", re.I)


def packages_as_factor(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Rewrite `3 bottles of 1 L` as `3 x 1 L`, in place, and `2 cases of 6 x 1 L` as `12x1 L`.

    Of what is bought, `two 500 g jars` too: elsewhere a jar is named by what would go into it.
    The text that is matched against keeps its length, so that every span stays where it is.
    """
    text = reading.text
    if cases := _CASES.match(text, start, end):
        draft.cases, inside = _number(cases["cases"]), _number(cases["n"])
        _rewrite(reading, cases.start(), cases.end(), f"{draft.cases * inside}x")
    elif many := _SO_MANY.match(text, start, end):
        _rewrite(reading, many.start(), many.end(), _factor(many["n"]))
    elif draft.action.name == "bought" and (filled := _FILLED.match(text, start, end)):
        if _THOUSANDS.match(text, start, end):
            _two_readings(reading, filled)
        _rewrite(reading, filled.start(), filled.start("of"), _factor(filled["n"]))
        _rewrite(reading, filled.start("kind"), filled.end(), "")
        content = filled["of"].replace("-", " ")
        _rewrite(reading, filled.start("of"), filled.end("of"), content)


def _number(word: str) -> int:
    return _NUMBERS.get(word.lower()) or int(word)


def _factor(word: str) -> str:
    number = _number(word)
    return f"{number}x" if number != 1 else ""


def _rewrite(reading: Reading, start: int, end: int, put: str) -> None:
    text = reading.text
    reading.text = text[:start] + put.ljust(end - start) + text[end:]


def _two_readings(reading: Reading, filled: re.Match[str]) -> None:
    n, content = filled["n"], filled["of"]
    reading.doubt(
        "packages-or-thousands",
        filled.start(),
        filled.end("of"),
        f'"{n} {content}" may be {n} times {content}, or {n}{content}',
        f"{n} times {content}",
        f'write "{n} x {content}", or the number without a space',
    )


def is_for_each(text: str, start: int, end: int) -> bool:
    """Whether the words behind a price say that it is paid for one of several.

    >>> is_for_each("12 EUR a bottle", 6, 15), is_for_each("12 EUR a litre", 6, 14)
    (True, False)
    """
    return _EACH.match(text, start, end) is not None


def filled_by_the_maker(draft: Draft) -> None:
    """What is bought in packages holds what is printed on them, within the tolerated error.

    Equation: u = T / √3 for each package, and n u for n of them, as one maker fills them alike.
    Source: JCGM 100:2008, 4.3.7; T from packages.toml. A doubt that the writer gives stays.
    """
    if draft.action.name == "bought":
        draft.portions = tuple([_filled(portion) for portion in draft.portions])


def _filled(portion: Portion) -> Portion:
    if not portion.reagent or portion.labels:
        return portion
    amount, second = portion.amount, portion.second
    if amount is not None and amount.dimension is Dimension.COUNT and second is not None:
        # "3 bottles nitric acid, 1 L each": the second amount is what all of them hold.
        return replace(portion, second=_as_filled(second, amount.base_value or 1.0))
    return portion if amount is None else replace(portion, amount=_as_filled(amount, amount.times))


def _as_filled(amount: Amount, packages: float) -> Amount:
    """What some packages of one size hold together, in doubt by what the law tolerates."""
    if not amount.base_value or not amount.u_basis.startswith(UNSAID):
        return amount
    thousandth = 1000.0 if amount.dimension is Dimension.VOLUME else 1.0  # L, and g
    error = tolerated(amount.base_value * thousandth / packages)
    if error is None:
        return amount
    return replace(amount, base_u=error * packages / thousandth / ROOT_THREE, u_basis=FILLED)


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
    paid = draft.price.amount
    if count is None:
        _doubted(reading, paid, "how many there were is not said in figures", "paid once")
        return
    if draft.cases:
        outer, inner = draft.cases, int(count)
        count = outer if outer > 1 else inner
        both = f"{outer} times, for the outer packages, or {inner} times, for what is in them"
        _doubted(reading, paid, f"it may be paid {both}", f"paid {int(count)} times")
    draft.price = replace(draft.price, amount=times(paid, count))


def _doubted(reading: Reading, paid: Amount, what: str, understood: str) -> None:
    reading.doubt(
        "each-of-how-many",
        paid.span.start,
        paid.span.end,
        f'"{paid.span.text}" is paid for each, and {what}',
        understood,
        "write the number of pieces before the thing, or what was paid for all",
    )


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
