"""A figure in words, with no more digits than a sentence needs; the figures stay in the record."""

from __future__ import annotations

from math import floor, isfinite, log10


def digits(value: float, most: int = 4) -> str:
    """A number to a few digits, without noughts that say nothing.

    >>> digits(1234.56), digits(0.0123456), digits(2.5), digits(0.0), digits(10.0)
    ('1235', '0.01235', '2.5', '0', '10')
    """
    if not value or not isfinite(value):
        return "0" if not value else "endless"
    places = max(most - 1 - floor(log10(abs(value))), 0)
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def said(value: float, unit: str) -> str:
    """A value in a unit, as it is spoken.

    >>> said(0.9346, "g/g"), said(2.4167, "h"), said(0.16, "L"), said(12.5, "EUR")
    ('93.46 %', '2 h 25 min', '160 mL', '12.50 EUR')
    """
    if unit == "g/g":
        return f"{digits(value * 100.0)} %"
    if unit == "h":
        return _time(value)
    if unit == "L" and abs(value) < 1.0:
        return f"{digits(value * 1000.0)} mL"
    if unit.isalpha() and unit.isupper():
        return f"{value:.2f} {unit}"
    return digits(value) if unit == "1" else f"{digits(value)} {unit}".strip()


def _time(hours: float) -> str:
    minutes = round(abs(hours) * 60.0)
    whole, rest = divmod(minutes, 60)
    parts = [f"{whole} h"] * bool(whole) + [f"{rest} min"] * bool(rest or not whole)
    return ("−" if hours < 0 else "") + " ".join(parts)


def compared(claimed: float, computed: float, unit: str) -> str:
    """How much more or less a claim is: in per cent, or how many times, or in points of a hundred.

    >>> compared(2.25, 2.4166667, "h"), compared(0.96, 0.93, "g/g")
    ('6.9 % less than', '3 points of a hundred more than')
    >>> compared(247.0, 24.7, "EUR"), compared(1.0, 0.0, "EUR"), compared(-3.0, 3.0, "EUR")
    ('10 times', 'more than', 'of the other sign than')
    """
    off = claimed - computed
    more = "more than" if off > 0 else "less than"
    if unit == "g/g":
        return f"{digits(abs(off) * 100.0, 2)} points of a hundred {more}"
    if not computed or not claimed:
        return more
    if claimed * computed < 0:
        return "of the other sign than"
    ratio = claimed / computed
    if ratio >= 2.0:
        return f"{digits(ratio, 3)} times"
    return f"{digits(abs(off / computed) * 100.0, 2)} % {more}"
