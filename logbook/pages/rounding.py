"""Figures and amounts → display text: the only place that rounds or turns a unit into another.

The rules, for every page:

- A value with a doubt: the doubt to two significant digits, the value to the same place
  (JCGM 100:2008, 7.2.6). The common "one digit from 3 upwards" is not used: it would throw
  away up to a seventh of a doubt, and the published examples keep two.
- A value without a doubt: at most three significant digits ("common practice, no source"),
  counts as they are. Nothing is known of its last digits, so none are
  invented.
- Time is spoken in hours and minutes, its doubt in whole minutes and at least one.
- Money paid is exact to the hundredth; estimated money follows its doubt, but is never finer.
- Halves go to the even digit, so that many rounded figures are not biased upwards.

It must not work anything out: what it is given is what it shows.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from math import isfinite

PLAIN_DIGITS = 3
DOUBT_DIGITS = 2
CENT = -2
LONG_TIME = 100.0  # h; from here on, time is a number of hours
MINUS = "−"
THIN_SPACE = "\u202f"
NO_BREAK = "\u00a0"
MONEY = re.compile(r"([A-Z]{3})?(/h)?")  # a book may name no currency
PRICE = re.compile(r"([A-Z]{3})?/\S+")


@dataclass(frozen=True, slots=True)
class Rounded:
    """A figure as it is shown: the digits of its value and of its doubt, and their unit."""

    value: str
    doubt: str = ""
    unit: str = ""

    @property
    def text(self) -> str:
        """The whole figure in one line.

        >>> Rounded("278.2", "0.8", "g").text
        '278.2 ± 0.8 g'
        """
        doubt = f" ± {self.doubt}" if self.doubt else ""
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.value}{doubt}{unit}"


def rounded(value: float, u: float, unit: str) -> Rounded:
    """A value with its standard uncertainty `u` (0 where none is known), ready to be shown.

    The mass of JCGM 100:2008, 7.2.2, and the resistance of 7.2.6:

    >>> rounded(100.02147, 0.00035, "g").text
    '100.02147 ± 0.00035 g'
    >>> rounded(10.05762, 0.027, "ohm").text
    '10.058 ± 0.027 ohm'
    >>> rounded(0.953, 0.011, "g/g").text
    '95.3 ± 1.1 %'
    >>> rounded(2.5, 0.048, "h").text
    '2 h 30 min ± 3 min'
    >>> rounded(0.175, 0.0, "EUR/1").text
    '0.175 EUR each'
    """
    if not isfinite(value) or not isfinite(u):
        return Rounded("not known")
    if unit == "h" and u < 1.0 and abs(value) < LONG_TIME:
        return _clock_time(_exact(value) * 60, _exact(u) * 60)
    unit, factor = _display_unit(unit, abs(value))
    shown, doubt = _exact(value) * factor, _exact(u) * factor
    if doubt:
        place = _doubt_place(doubt)
        if MONEY.fullmatch(unit) or PRICE.fullmatch(unit):
            place = max(place, CENT)
        less = not _at(doubt, place)  # than half a hundredth of money
        words = "" if less else _digits(doubt, place)
        return Rounded(_digits(shown, place), words, _unit_word(unit))
    return Rounded(_digits(shown, _plain_place(shown, unit)), "", _unit_word(unit))


def _clock_time(minutes: Decimal, doubt: Decimal) -> Rounded:
    """Minutes as hours and minutes."""
    whole = int(_at(abs(minutes), 0))
    parts = [f"{whole // 60} h"] if whole >= 60 else []
    parts += [f"{whole % 60} min"] if whole % 60 or not parts else []
    sign = MINUS if minutes < 0 and whole else ""
    least = f"{max(1, int(_at(doubt, 0)))} min" if doubt else ""
    return Rounded(sign + " ".join(parts), least)


def between(low: float | None, high: float | None, unit: str) -> str:
    r"""Limits in words, rounded outwards so that they stay limits; empty where there are none.

    No line breaks between a number and its unit, however narrow the place is.

    >>> between(0.2, 1.404, "g")
    'between 0.2 and 1.41\xa0g'
    >>> between(None, 0.05, "g")
    'at most 0.05\xa0g'
    >>> between(-2.5, 4.0, "g")
    'between −2.5 and 4\xa0g'
    >>> between(2.5, None, "h")
    'at least 2\xa0h\xa030\xa0min'
    >>> between(0.0, None, "g")
    ''
    """
    bound = _clock_limit if unit == "h" else _limit
    unit, factor = _display_unit(unit, max(abs(low or 0.0), abs(high or 0.0)))
    word = f"{NO_BREAK}{_unit_word(unit)}" if _unit_word(unit) and bound is _limit else ""
    least = "" if not low else bound(_exact(low) * factor, ROUND_FLOOR)
    most = "" if high is None else bound(_exact(high) * factor, ROUND_CEILING)
    if least and most:
        return f"between {least} and {most}{word}"
    if most:
        return f"at most {most}{word}"
    return f"at least {least}{word}" if least else ""


def tick(value: float, step: float) -> str:
    """A number beside an axis, with the digits its step needs.

    >>> tick(0.30000000000000004, 0.1), tick(1200.0, 400.0), tick(15000.0, 5000.0)
    ('0.3', '1200', '15\u202f000')
    """
    return _digits(_exact(value), min(0, _exact(step).normalize().adjusted()))


def coordinate(value: float) -> str:
    """A place in a drawing, to the tenth of a unit.

    >>> coordinate(12.3456), coordinate(-0.01), coordinate(7)
    ('12.3', '0', '7')
    """
    text = str(_exact(value).quantize(Decimal("0.1"), ROUND_HALF_EVEN))
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def plural(count: int, one: str, many: str = "") -> str:
    """A count with its noun.

    >>> plural(1, "run"), plural(2, "run"), plural(0, "entry", "entries")
    ('1 run', '2 runs', '0 entries')
    """
    return f"{_digits(Decimal(count), 0)} {one if count == 1 else many or one + 's'}"


def _exact(value: float) -> Decimal:
    """The number that a person would read in the shortest text of a float."""
    return Decimal(repr(float(value)))


def _display_unit(unit: str, size: float) -> tuple[str, Decimal]:
    """The unit in which a bench would say an amount of this size."""
    if unit == "g" and 0 < size < 0.01:
        return "mg", Decimal(1000)
    if unit == "g" and size >= 10_000:
        return "kg", Decimal("0.001")
    if unit == "L" and 0 < size < 1:
        return "mL", Decimal(1000)
    if unit == "g/g":
        return ("ppm", Decimal(1_000_000)) if 0 < size < 0.001 else ("%", Decimal(100))
    return unit, Decimal(1)


def _unit_word(unit: str) -> str:
    if unit.endswith("/1"):
        return f"{unit.removesuffix('/1')} each".strip()
    return {"1": "", "degC": "°C", "m3": "m³"}.get(unit, unit)


def _doubt_place(doubt: Decimal) -> int:
    """The power of ten of a doubt's second significant digit, once it is rounded to it.

    >>> _doubt_place(Decimal("0.0996")), _doubt_place(Decimal("0.0994"))
    (-2, -3)
    """
    place = doubt.adjusted() - (DOUBT_DIGITS - 1)
    return _at(doubt, place).adjusted() - (DOUBT_DIGITS - 1)


def _plain_place(value: Decimal, unit: str) -> int:
    """The power of ten of the last digit that is shown of a value without a doubt."""
    if MONEY.fullmatch(unit):
        return CENT
    written = int(value.normalize().as_tuple().exponent) if value else 0
    finest = value.adjusted() - (PLAIN_DIGITS - 1)
    if PRICE.fullmatch(unit):
        return min(CENT, max(finest, written))
    if unit == "1" and written >= 0:
        return 0
    return max(finest, written, -1 if unit == "h" else finest)


def _at(value: Decimal, place: int, way: str = ROUND_HALF_EVEN) -> Decimal:
    return (value.scaleb(-place)).to_integral_value(way).scaleb(place)


def _limit(value: Decimal, way: str) -> str:
    place = value.adjusted() - (PLAIN_DIGITS - 1)
    kept = _at(value, place, way)
    sign = MINUS if kept < 0 else ""
    return sign + _grouped(f"{abs(kept).normalize():f}")


def _clock_limit(hours: Decimal, way: str) -> str:
    return _clock_time(_at(hours * 60, 0, way), Decimal(0)).value.replace(" ", NO_BREAK)


def _digits(value: Decimal, place: int) -> str:
    """The digits of a value down to a place, with a real minus sign and no negative zero."""
    kept = _at(value, place)
    text = _grouped(f"{abs(kept):.{max(0, -place)}f}")
    return f"{MINUS}{text}" if kept < 0 else text


def _grouped(text: str) -> str:
    """Thin spaces between thousands, from five digits on."""
    whole, point, rest = text.partition(".")
    if len(whole.lstrip("-")) > 4:
        whole = f"{int(whole):,}".replace(",", THIN_SPACE)
    return f"{whole}{point}{rest}"
