"""Sums of money in a text, found by their signs and words, to be left out of it."""

from __future__ import annotations

import re
from functools import cache

from logbook.units import currencies

SUM = "(a sum left out)"


def has_sum(text: str) -> bool:
    """Whether a text names a sum of money in figures.

    >>> has_sum("reckoned 27 EUR an hour"), has_sum("reckoned 8.6 ozt")
    (True, False)
    """
    return _sum().search(text) is not None


def without_sums(text: str, *, entry: bool) -> str:
    """A text without its sums of money: cut out of an entry, and told of in prose.

    >>> without_sums("- took 30 g wire [W], silver 80 %, for 12.50 EUR, on the scale", entry=True)
    '- took 30 g wire [W], silver 80 %, on the scale'
    >>> without_sums("- sold [AG-1] for $270 (fee $ 9.20)", entry=True)
    '- sold [AG-1]'
    >>> without_sums("The jeweller gave me 34 EUR for it.", entry=False)
    'The jeweller gave me (a sum left out) for it.'
    """
    if entry:
        text = replaced_in_lines(_sum_in_parentheses(), "", text)
        text = replaced_in_lines(_sum_with_its_word(), "", text)
    return replaced_in_lines(_sum(), SUM, text)


def replaced_in_lines(pattern: re.Pattern[str], put: str, text: str) -> str:
    """The text with other words for those of a pattern, and as many lines as before."""
    return pattern.sub(lambda match: put + "\n" * match[0].count("\n"), text)


@cache
def _sum() -> re.Pattern[str]:
    """A sum of money in figures, a range or one with its doubt, and what it is for one of."""
    signs = [word for word in currencies() if not word[0].isalpha()]
    words = sorted((word for word in currencies() if word[0].isalpha()), key=len, reverse=True)
    sign = "[" + "".join(map(re.escape, signs)) + "]"
    word = rf"(?:{'|'.join(words)}|cents?|bucks|quid)\b"
    # Of bounded length, so that a line of digits and commas takes no longer than its length.
    number = (
        r"\d(?:[\d.,'\u2019]{0,20}\d)?(?:[\s\u00a0\u202f]\d{3}\b){0,4}(?:[.,]\d{1,4})?"
        r"(?:[.,][-\u2013\u2014])?(?:\s?[½¼¾]|k\b|-odd)?"
    )
    more = rf"(?:\s?(?:±|\+/-|-|\u2013|to)\s?{sign}?\s?{number})?"
    one = r"(?:hour|gram|kilo|litre|liter|ounce|piece)"
    per = rf"(?:\s?/\s?\w+|\s+per\s+(?:kilowatt[- ])?\w+|\s+an?\s+{one}|\s+each|\s+apiece)?"
    before = rf"(?:(?:\b[A-Z]{{1,2}})?{sign}|\b{word})\s?{number}{more}(?:\s?{word})?"
    after = rf"(?<![\w.]){number}{more}\s?(?:{sign}|{word})"
    return re.compile(rf"[~\u2248]?(?:{before}|{after}){per}", re.I)


@cache
def _sum_with_its_word() -> re.Pattern[str]:
    """A sum with the comma and the word that lead to it."""
    lead = r"(?:would cost|which cost|costing|costs?|for|at|worth|paid|fees? of|fee)"
    about = r"(?:about|approx\.?|~)"
    return re.compile(rf"\s*,?\s*(?:\b{lead}\s+)?(?:{about}\s*)?{_sum().pattern}", re.I)


@cache
def _sum_in_parentheses() -> re.Pattern[str]:
    """Parentheses with a sum in them."""
    return re.compile(rf"\s*\([^()]*(?:{_sum().pattern})[^()]*\)", re.I)
