"""The unit or currency that stands at a place in a text, and units that were mistyped."""

from __future__ import annotations

import re
from functools import cache

from logbook.findings import differs_by_one, nearest_word
from logbook.model.amount import Dimension
from logbook.reference import load
from logbook.units import Unit, currencies, two_word_starts, units_by_word

COUNT = Unit("", Dimension.COUNT, 1, 1)
PER_UNITS = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "L",
    Dimension.TIME: "h",
    Dimension.ENERGY: "kWh",
}
_UNIT = re.compile(
    r"\s?((?:°|º)?\s?[^\W\d_]+[²³]?(?:[23](?![\d/]))?(?:/[^\W\d_]+[²³]?(?:[23](?!\d))?)?|[%‰])"
)
_NEXT_WORD = re.compile(r"\s\(?([^\W\d_]+/?[^\W\d_]*|%)(?:(?<=/[vw])\))?")
_SUFFIX = re.compile(r"\s?([^\W\d_]+|[$€£¥])")
_PER = re.compile(
    r"\s?(?:/|\bper\b|\ban(?=\shour\b)|\ba(?=\s(?:litre|liter|kilo|kilogram|kg|gram)\b))"
    r"\s?([^\W\d_]+(?:\s(?:oz|ounce))?)"
)
_NOT_UNITS = frozenset(
    {"in", "of", "to", "by", "on", "or", "and", "with", "from", "at", "for", "into"}
)
_DOUBLED = re.compile(r"(.)\1")
_DOLLARS = frozenset({"AUD", "CAD", "NZD", "USD", "HKD", "SGD"})


def unit_at(text: str, position: int, end: int) -> tuple[Unit, int] | None:
    """The unit at a place, and where it ends; None where none that is known stands there."""
    match = _UNIT.match(text, position, end)
    if match is None:
        return None
    words = units_by_word()
    word = match[1]
    if word.lower() in two_word_starts():
        following = _NEXT_WORD.match(text, match.end(), end)
        if following:
            pair = f"{word} {following[1]}"
            unit = words.get(pair) or words.get(pair.lower())
            if unit is not None:
                return unit, following.end()
    unit = words.get(word)
    if unit is not None:
        return unit, match.end()
    if word.lower() in currencies():
        return None
    unit = words.get(word.lower()) if len(word) > 2 else None
    if unit is not None:
        return unit, match.end()
    if word[-1] in "23" and (unit := words.get(word[:-1])):
        return unit, match.end() - 1
    if "/" in word and (unit := words.get(word.partition("/")[0])):
        return unit, match.start(1) + word.index("/")
    return None


def currency_at(text: str, position: int, end: int) -> tuple[str, int] | None:
    """The currency written after a number, and where it ends."""
    match = _SUFFIX.match(text, position, end)
    if match and match[1].lower() in currencies():
        return match[1], match.end()
    return None


def priced_unit_at(text: str, position: int, end: int) -> tuple[Unit, int] | None:
    """The unit a price is for ("/g", "per ozt"), and where it ends."""
    match = _PER.match(text, position, end)
    if match is None:
        return None
    words = units_by_word()
    return words.get(match[1]) or words.get(match[1].lower()) or COUNT, match.end()


def currency_code(sign: str, book: str) -> str:
    """The ISO 4217 code of a sign or word; a bare $ is the book's own dollar.

    >>> currency_code("€", ""), currency_code("$", "AUD"), currency_code("$", "EUR")
    ('EUR', 'AUD', 'USD')
    """
    return book if sign == "$" and book in _DOLLARS else currencies()[sign.lower()]


@cache
def mistyped_unit(word: str) -> str | None:
    """The unit a word was meant to be, where it is nearly one and no plain word of the trade.

    >>> mistyped_unit("gramm"), mistyped_unit("mLL"), mistyped_unit("filters")
    ('gram', 'mL', None)
    """
    word = word.lower()
    if len(word) < 2 or word in _NOT_UNITS or word in _plain_words():
        return None
    undoubled = _DOUBLED.sub(r"\1", word)
    for known in units_by_word():
        if undoubled != word and known.lower() == undoubled:
            return known
    close = nearest_word(word, (known for known in units_by_word() if len(known) > 2))
    return close if close is not None and differs_by_one(word, close) else None


@cache
def _plain_words() -> frozenset[str]:
    content = load("actions.toml")
    things = ("cans", "pans", "bars", "pins", "rods", "caps", "lots", "cups")
    return frozenset([*content["equipment"]["words"], *content["vessels"]["words"], *things])
