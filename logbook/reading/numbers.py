"""Numbers as people write them: with thousands marks, decimal points or commas, and fractions.

A number keeps its two whole numbers, so that a conversion rounds once, and the step of its last
written digit, which says how finely it was read.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5),
    "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
    "half a": (1, 2), "half an": (1, 2), "a": (1, 1), "an": (1, 1),
}  # fmt: skip
VULGAR_SIGNS = "".join(sign for sign in _VULGAR if len(sign) == 1 and not sign.isascii())


def number_pattern(decimal_comma: bool) -> str:
    """The pattern of a plain number in one of the two ways of writing."""
    mark, point = (r"\.", ",") if decimal_comma else (",", r"\.")
    grouped = rf"\d{{1,3}}(?:{mark}\d{{3}}){{1,5}}(?:{point}\d{{1,15}})?(?![\d{mark}])"
    plain = rf"\d{{1,15}}(?:{point}\d{{1,15}}(?:[eE][-+]?\d{{1,2}})?)?(?!\d)"
    return rf"(?:{grouped}|{plain}|{point}\d{{1,15}})"


class Number(NamedTuple):
    """A number as written: numerator / denominator, and the step of its last digit."""

    numerator: int
    denominator: int
    step: float

    @property
    def value(self) -> float:
        """The number, rounded once."""
        return self.numerator / self.denominator


def plain_number(text: str, decimal_comma: bool = False) -> Number:
    """A number without a fraction. Trailing zeros of a whole number are not digits read.

    >>> plain_number("1,250.5")
    Number(numerator=12505, denominator=10, step=0.1)
    >>> plain_number("1.250,5", decimal_comma=True).value
    1250.5
    >>> plain_number("600").step
    100.0
    """
    if decimal_comma:
        text = text.replace(".", "").replace(",", ".")
    elif "," in text:
        text = text.replace(",", "")
    mantissa, _, exponent = text.lower().partition("e")
    whole, _, decimals = mantissa.partition(".")
    if exponent:
        numerator, places = int(whole + decimals), len(decimals) - int(exponent)
        numerator, denominator = (
            (numerator, 10**places) if places >= 0 else (numerator * 10**-places, 1)
        )
        return Number(numerator, denominator, 10.0**-places)
    return written_number(whole, decimals)


def written_number(whole: str, decimals: str) -> Number:
    """A number from the digits before and after its mark."""
    if decimals:
        places = len(decimals)
        return Number(int(whole + decimals), 10**places, 10.0**-places)
    numerator = int(whole)
    if whole[-1] != "0" or not numerator:
        return Number(numerator, 1, 1.0)
    zeros = len(whole) - len(whole.rstrip("0"))
    return Number(numerator, 1, float(10**zeros))


def with_fraction(number: Number, numerator: int, denominator: int) -> Number:
    """A whole number and a fraction: 1 1/2. It was read to one part of the denominator."""
    top = number.numerator * denominator + numerator * number.denominator
    return Number(top, number.denominator * denominator, 1 / denominator)


def vulgar_fraction(sign: str) -> Number:
    """A number written as one sign or in a word: ½, half a.

    >>> vulgar_fraction("½").value
    0.5
    """
    top, bottom = _VULGAR[sign]
    return Number(top, bottom, 1 / bottom)


FRACTION = re.compile(
    r"\s+(\d{1,4})/(\d{1,4})(?![\d/])|/(\d{1,4})(?![\d/])|\s?([" + VULGAR_SIGNS + "])"
)
