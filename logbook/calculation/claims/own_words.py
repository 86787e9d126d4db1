"""Arithmetic that rests on a claim's own words: `42 g = 12 x 3.5 g`, `78.21 g of 79 g at 99 %`.

Only plain sums and products of amounts with their units. Words that are no such thing leave the
claim to the book.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from logbook.calculation.claims.known import Claimed, Found, Reading
from logbook.calculation.claims.written import Written, plain
from logbook.calculation.figure import Figure
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.reference import metal_words, reagent_words
from logbook.units import units_by_word

OWN = "by its own words"
_CURRENCIES = {"$": "USD", "€": "EUR", "£": "GBP"}
_NUMBER = r"\d[\d,.]*"
_MONEY = r"[A-Z]{3}|[$€£]"
_AMOUNT = re.compile(
    rf"(?P<before>(?:{_MONEY})\s?)?(?P<number>{_NUMBER})\s?(?P<after>{_MONEY})?"
    r"(?P<unit>%|‰|[A-Za-zµ]+(?:/[A-Za-z]+)?)?(?P<per>\s?(?:/|per\b|an?\b)\s?(?P<each>[A-Za-z]+))?"
)
_FILLING = frozenset(
    {"fine", "pure", "gross", "scrap", "bar", "total", "sum", "makes", "make", "worth", "value"}
    | {"is", "in", "it", "the", "an", "a", "and", "for", "from", "to", "weight", "cost", "costs"}
    | {"of", "at", "x", "each", "times", "plus", "minus", "less", "over", "by", "divided", "are"}
    | {"price", "per", "with", "pieces", "reckoned", "content", "or", "that", "makes", "as"}
)
_EQUAL = re.compile(r"=|\b(?:is|are|makes?|gives?|comes? to|equals?)\b")
_ADDS = re.compile(r"\+|\bplus\b|\band\b")
_TAKES = re.compile(r"[−–]|(?<!\w)-(?!\w)|\bminus\b|\bless\b")
_DIVIDES = re.compile(r"[/÷]|\bover\b|\bdivided by\b")
Dims = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Term:
    """One amount of an expression: its value, what it measures, and where it stands."""

    value: float
    dims: Dims
    start: int
    end: int
    bare: bool = False  # a number without a unit


def own_words(claimed: Claimed) -> Found | None:
    """What a claim's own words come to; None where they say no sum by themselves."""
    if claimed.claim.labels:
        return None
    amount, entry = claimed.claim.amount, claimed.entry
    text, dims = entry.span.text, _dims(amount)
    equal = _EQUAL.search(text)
    if equal is not None:
        found = _equation(text, equal, claimed)
        if found is not None or equal[0] == "=":
            return found
    if dims is None or amount.base_value is None:
        return None
    at = amount.span.start - entry.span.start
    rest = text[:at] + " " * len(amount.span.text) + text[at + len(amount.span.text) :]
    terms = list(_terms(rest, claimed))
    if not terms or not _only_arithmetic(rest, terms):
        return None
    if len(terms) == 1 and _same_unit(rest, terms[0], amount):
        return None
    worked = _worked_out(rest, terms)
    if worked is None or worked[1] != dims:
        return None
    return _found(claimed, amount.base_unit, worked[0], _in_a_row(rest, terms))


def _found(claimed: Claimed, unit: str, value: float, words: str) -> Found:
    figure = Figure(OWN, unit, Uncertain(value), words, rests_on=(claimed.entry.span,))
    return Found(OWN, (Reading(figure, f"what its own words come to ({words})"),))


def _in_a_row(text: str, terms: list[Term]) -> str:
    """The words of an expression, from its first amount to its last."""
    start, end = min(one.start for one in terms), max(one.end for one in terms)
    return " ".join(text[start:end].split())


def _equation(text: str, equal: re.Match[str], claimed: Claimed) -> Found | None:
    """Two sides that should be equal, one of them a single amount: that is what was claimed."""
    before, behind = text[: equal.start()], text[equal.end() :]
    sides = [before.ljust(len(text)), behind.rjust(len(text))]
    found = [list(_terms(side, claimed)) for side in sides]
    if not all(found) or not all(map(_only_arithmetic, sides, found)):
        return None
    alone = 1 if len(found[1]) == 1 else 0
    said, worked = found[alone], _worked_out(sides[1 - alone], found[1 - alone])
    if len(said) != 1 or worked is None or worked[1] != said[0].dims:
        return None
    unit = "*".join(f"{name}" for name, _ in said[0].dims) or "1"
    words = _in_a_row(sides[1 - alone], found[1 - alone])
    one = said[0]
    number = sides[alone][one.start : one.end]
    return replace(_found(claimed, unit, worked[0], words), said=_as_written(one, number, claimed))


def _as_written(term: Term, text: str, claimed: Claimed) -> Written:
    """The single side of an equation as a figure that was written."""
    number = re.search(_NUMBER, text)
    comma = claimed.known.figures.book.customs.decimal_comma
    digits = plain(number[0].strip(",.") if number is not None else "", comma=comma)
    step = term.value / float(digits) if float(digits) else 1.0
    half = 0.5 * 10.0 ** -len(digits.partition(".")[2]) * abs(step)
    return Written(term.value, half, text=digits, step=step)


def _dims(amount: Amount) -> Dims | None:
    return _of_dimension(amount.dimension, amount.currency, amount.per)


def _of_dimension(dimension: Dimension, currency: str = "", per: str = "") -> Dims | None:
    plain: dict[Dimension, dict[str, int]] = {
        Dimension.MASS: {"g": 1},
        Dimension.VOLUME: {"L": 1},
        Dimension.TIME: {"h": 1},
        Dimension.ENERGY: {"kWh": 1},
        Dimension.COUNT: {},
        Dimension.FRACTION: {},
        Dimension.CONCENTRATION: {"g": 1, "L": -1},
        Dimension.MONEY: {currency: 1},
        Dimension.PRICE: {currency: 1, **({per: -1} if per not in ("", "1") else {})},
    }
    found = plain.get(dimension)
    return None if found is None else tuple(sorted(found.items()))


def _terms(text: str, claimed: Claimed) -> Iterator[Term]:
    """The amounts of an expression, from left to right."""
    start, told = claimed.entry.span.start, claimed.entry.compositions
    taken = [(one.span.start - start, one.span.end - start, one.amount) for one in told]
    for low, high, amount in taken:
        if amount.base_value is not None and amount.dimension is Dimension.FRACTION:
            yield Term(amount.base_value, (), low, high)
    inside = [(low, high) for low, high, _ in taken]
    for match in _AMOUNT.finditer(text):
        if any(low <= match.start() < high for low, high in inside):
            continue
        term = _term(match, claimed)
        if term is not None:
            yield term


def _term(match: re.Match[str], claimed: Claimed) -> Term | None:
    comma = claimed.known.figures.book.customs.decimal_comma
    try:
        value = float(plain(match["number"].strip(",."), comma=comma))
    except ValueError:
        return None
    money = (match["before"] or match["after"] or "").strip()
    currency = _CURRENCIES.get(money, money)
    if money:
        return _money_term(value, currency, match)
    end = match.end("number")
    unit = units_by_word().get(match["unit"] or "")
    if unit is None:
        return Term(value, (), match.start(), end, bare=True)
    dims = _of_dimension(unit.dimension)
    return (
        None if dims is None else Term(value * unit.factor, dims, match.start(), match.end("unit"))
    )


def _money_term(value: float, currency: str, match: re.Match[str]) -> Term | None:
    if not match["each"]:
        end = match.end("after") if match["after"] else match.end("number")
        return Term(value, ((currency, 1),), match.start(), end)
    unit = units_by_word().get(match["each"])
    per = _of_dimension(unit.dimension) if unit is not None else None
    if unit is None or per is None:
        return None
    dims = dict([(currency, 1), *((name, -power) for name, power in per)])
    return Term(value / unit.factor, tuple(sorted(dims.items())), match.start(), match.end())


def _only_arithmetic(text: str, terms: list[Term]) -> bool:
    """Whether nothing stands beside the amounts but signs and words that only join them."""
    for one in sorted(terms, key=lambda term: term.start, reverse=True):
        text = text[: one.start] + " " + text[one.end :]
    if re.search(r"\d", text):
        return False
    words = re.findall(r"[^\W\d_]+", text.lower())
    known = {
        *_FILLING,
        *metal_words(),
        *(part for name in reagent_words() for part in name.split()),
    }
    return all(word in known for word in words)


def _same_unit(text: str, term: Term, amount: Amount) -> bool:
    return text[term.start : term.end].strip().endswith(amount.unit or "\0")


def _worked_out(text: str, terms: list[Term]) -> tuple[float, Dims] | None:
    """The value of an expression: products first, then sums, from left to right."""
    terms = sorted(terms, key=lambda one: one.start)
    sums: list[tuple[int, float, Dims, bool]] = []
    sign, value, dims, bare = 1, terms[0].value, terms[0].dims, terms[0].bare
    for before, one in pairwise(terms):
        between = text[before.end : one.start].lower()
        if _ADDS.search(between) or _TAKES.search(between):
            sums.append((sign, value, dims, bare))
            sign = -1 if _TAKES.search(between) else 1
            value, dims, bare = one.value, one.dims, one.bare
            continue
        power = -1 if _DIVIDES.search(between) else 1
        if power < 0 and not one.value:
            return None
        value, dims = value * one.value**power, _times(dims, one.dims, power)
        bare = bare and one.bare
    sums.append((sign, value, dims, bare))
    kinds = {kind for _, _, kind, plain in sums if not plain}
    if len(kinds) > 1:
        return None
    return sum(way * part for way, part, _, _ in sums), (kinds.pop() if kinds else ())


def _times(one: Dims, other: Dims, power: int) -> Dims:
    found = dict(one)
    for name, size in other:
        found[name] = found.get(name, 0) + size * power
    return tuple(sorted((name, size) for name, size in found.items() if size))
