"""The figure that was claimed, as it was written: its value, its last digit, its digits.

What a writer wrote is a rounded figure: it may be off by half of its last digit, and by what
was said beside it (about, ±, a range).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from logbook.model.amount import Amount, Dimension
from logbook.units import units_by_word

ABOUT = 0.1  # "about" gives a tenth, as everywhere in a log
_NUMBER = re.compile(r"\d[\d,.]*")
_ABOUT = re.compile(r"^\s*(?:about|around|roughly|some|~|≈)", re.I)
_ASIDE = re.compile(r"\([^)]*\)|±.*")
_PER = re.compile(r"/|\bper\b|\ban?\b", re.I)
_BROKEN = re.compile(r"\d\s*/\s*\d|[¼½¾⅓⅔⅛]")
LAST_UNIT = re.compile(r"(\d[\d,.]*)\s*([A-Za-z]*)\W*$")


@dataclass(frozen=True, slots=True)
class Written:
    """A claimed figure in the unit of what it is held against.

    `half` is how far rounding may have moved it, `u` a standard uncertainty that was said.
    `text` are the digits of the number as it stands there and `step` what a unit of it is.
    """

    value: float
    half: float
    u: float = 0.0
    text: str = ""
    step: float = 1.0

    def times(self, factor: float) -> Written:
        """The same figure in another unit."""
        size = abs(factor)
        return Written(
            self.value * factor, self.half * size, self.u * size, self.text, self.step * factor
        )

    def is_near(self, value: float) -> bool:
        """Whether a value, rounded as the claim is, gives the claim."""
        return abs(value - self.value) <= self.half * (1.0 + 1e-6) + 1e-12 * abs(value)


def written(amount: Amount, *, comma: bool) -> Written | None:
    """A claimed figure in its base unit; None where none was given."""
    if amount.base_value is None:
        return None
    text, step = _digits_of(amount), _step(amount)
    half = 0.5 * 10.0 ** -_decimals(text, comma=comma) * abs(step)
    u, wide = 0.0, 0.0
    if _ABOUT.match(amount.span.text):
        wide = ABOUT * abs(amount.base_value)
    elif amount.u_basis == "stated":
        u = amount.base_u or 0.0
    elif amount.u_basis.startswith("range") and amount.base_u:
        wide = amount.base_u * 3.0**0.5  # a rectangle, JCGM 100:2008, 4.3.7 (from memory)
    elif _BROKEN.search(amount.span.text) and amount.base_u:
        half = amount.base_u * 3.0**0.5
    return Written(amount.base_value, half + wide, u, plain(text, comma=comma), step)


def _digits_of(amount: Amount) -> str:
    """The digits of the last number that was written, without what stands beside it."""
    text = _ASIDE.sub("", amount.span.text)
    if amount.dimension is Dimension.PRICE:
        text = _PER.split(text)[0]
    numbers: list[str] = _NUMBER.findall(text)
    return numbers[-1].strip(",.") if numbers else ""


def plain(text: str, *, comma: bool) -> str:
    """The digits with a point before the decimals and nothing between the others."""
    other = "." if comma else ","
    return text.replace(other, "").replace(",", ".") or "0"


def _step(amount: Amount) -> float:
    """What one of the last number is in the base unit: of 2 h 25 min, a minute."""
    if amount.dimension in (Dimension.TIME, Dimension.MASS):
        last = LAST_UNIT.search(_ASIDE.sub("", amount.span.text))
        unit = units_by_word().get(last[2]) if last is not None else None
        if unit is not None and unit.dimension is amount.dimension:
            return unit.factor
        if amount.dimension is Dimension.TIME:
            return 1.0 / 60.0  # 2h15
    if amount.value and amount.base_value:
        return amount.base_value / amount.value
    return 1.0


def _decimals(text: str, *, comma: bool) -> int:
    """How many digits stand behind the point."""
    point = "," if comma else "."
    return len(text.rpartition(point)[2]) if point in text else 0
