"""One amount as people write it becomes an `Amount`, or a finding.

`AmountReader.read` returns None for what is no amount at all; what is an amount and cannot be
used is reported, and the entry it stands in is left out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from logbook.findings import nearest_word
from logbook.model.amount import Amount, Dimension
from logbook.model.book import Scale
from logbook.reading.context import Reading
from logbook.reading.doubt import (
    ABOUT_HALF_WIDTH,
    DIGITS_READ,
    ROOT_THREE,
    VESSEL_HALF_WIDTH,
    fitting_scale,
    of_scale,
    resolution,
)
from logbook.reading.numbers import (
    FRACTION,
    VULGAR_SIGNS,
    Number,
    number_pattern,
    plain_number,
    total_of,
    vulgar_fraction,
    with_fraction,
)
from logbook.reference import load
from logbook.source import Span
from logbook.units import Unit, currencies, two_word_starts, units_by_word

_COUNT = Unit("", Dimension.COUNT, 1, 1)
_PH = Unit("pH", Dimension.PH, 1, 1)
_UNIT = re.compile(
    r"\s?((?:°|º)?\s?[^\W\d_]+[²³]?(?:[23](?![\d/]))?(?:/[^\W\d_]+[²³]?(?:[23](?!\d))?)?|[%‰])"
)
_NEXT_WORD = re.compile(r"\s([^\W\d_]+/?[^\W\d_]*|%)")
_WORD = re.compile(r"\s*([A-Za-z]+)")
_PER = re.compile(r"\s?(?:/|\bper\b)\s?([^\W\d_]+(?:\s(?:oz|ounce))?)")
_COVERAGE = re.compile(r"\s?\(k\s?=\s?(\d(?:\.\d+)?)\)")
_NOT_UNITS = frozenset(
    {"in", "of", "to", "by", "on", "or", "and", "with", "from", "at", "for", "into"}
)


@dataclass(frozen=True, slots=True)
class _Written:
    """An amount as it stands in the text, before it is given its meaning."""

    start: int
    end: int
    number: Number
    upper: Number | None
    about: bool
    times: int


class AmountReader:
    """Reads amounts in one way of writing numbers, with the balances of one bench."""

    def __init__(self, decimal_comma: bool) -> None:
        self.decimal_comma = decimal_comma
        number = number_pattern(decimal_comma)
        signs = "".join(re.escape(sign) for sign in currencies() if len(sign) == 1)
        codes = "|".join(sorted(set(currencies().values())))
        self._amount = re.compile(
            r"(?:(?:only|just|exactly|another|roughly)\s+)?"
            r"(?:(?P<about>about|approx\.?|approximately|around|roughly|circa|ca\.?|~|≈)\s*)?"
            r"(?:(?P<ph>pH)\s*)?"
            rf"(?:(?P<currency>[{signs}]|(?:{codes})(?=\s?\d))\s?)?"
            r"(?:(?P<times>\d{1,3})\s?[x×]\s?)?"
            rf"(?:(?P<n>{number})|(?P<vulgar>[{VULGAR_SIGNS}]))"
        )
        self._upper = re.compile(rf"(?:\s?[-–—]\s?|\s+to\s+)(?P<n>{number})(?![-\d]*-\d)")
        self._plus_minus = re.compile(rf"\s?(?:±|\+/-|\+-)\s?(?P<n>{number})")
        # What is whole under one way of writing and a fraction under the other.
        self._other_style = re.compile(
            r"\d{1,3}[.,]\d{3}(?![\d.,]\d)" if decimal_comma else r"\d+,(?:\d{1,2}|\d{4,})(?![\d,])"
        )
        self._digits_in_doubt = re.compile(r"\((\d{1,3})\)")

    def read(
        self, reading: Reading, start: int, end: int, scale: Scale | None = None
    ) -> tuple[Amount, int] | None:
        """The amount at `start`, and where it ends; None where no amount stands there.

        `scale` is the balance that the entry names; without one, the only one that fits.
        """
        text = reading.text
        match = self._amount.match(text, start, end)
        if match is None:
            return unknown_amount(reading, start, end)
        number, position = self._number(reading, match, text, end)
        start = match.start("about") if match["about"] else match.start()
        upper = None
        digits = self._digits_in_doubt.match(text, position, end)
        u_written: Number | None = None
        u_step = 0.0
        if digits:
            u_step = int(digits[1]) * number.step
            position = digits.end()
        elif upper_match := self._upper.match(text, position, end):
            upper = plain_number(upper_match["n"], self.decimal_comma)
            position = upper_match.end()
        if plus := self._plus_minus.match(text, position, end):
            u_written = plain_number(plus["n"], self.decimal_comma)
            position = plus.end()
            if coverage := _COVERAGE.match(text, position, end):
                u_written = _divided(u_written, coverage[1])
                position = coverage.end()
        times = int(match["times"]) if match["times"] else 1
        written = _Written(start, position, number, upper, bool(match["about"]), times)
        if match["currency"]:
            return self._money(reading, written, match["currency"], end)
        if match["ph"]:
            return self._ph(reading, written, u_written), position
        found = _unit_at(text, position, end)
        if found is None:
            suffix = _currency_at(text, position, end)
            if suffix is not None:
                return self._money(reading, written, suffix[0], end, suffix[1])
            if not self._bare_number(reading, written, text, end):
                return None
            return self._finished(reading, written, _COUNT, position, u_written, u_step, scale)
        unit, position = found
        return self._finished(reading, written, unit, position, u_written, u_step, scale)

    def _number(
        self, reading: Reading, match: re.Match[str], text: str, end: int
    ) -> tuple[Number, int]:
        if match["vulgar"]:
            return vulgar_fraction(match["vulgar"]), match.end()
        if other := self._other_style.match(text, match.start("n"), end):
            return self._in_other_style(reading, other), other.end()
        number = plain_number(match["n"], self.decimal_comma)
        fraction = FRACTION.match(text, match.end(), end)
        if fraction is None:
            return number, match.end()
        if fraction[4]:
            part = vulgar_fraction(fraction[4])
            top, bottom = part.numerator, part.denominator
        elif fraction[3]:
            top, bottom = 0, int(fraction[3])
            if bottom:
                return Number(number.numerator, number.denominator * bottom, 1 / bottom), (
                    fraction.end()
                )
        else:
            top, bottom = int(fraction[1]), int(fraction[2])
        if not bottom:
            return number, match.end()
        return with_fraction(number, top, bottom), fraction.end()

    def _in_other_style(self, reading: Reading, match: re.Match[str]) -> Number:
        """A number whose comma or point has two readings: the one used is reported."""
        as_point = plain_number(match[0].replace(",", "."))
        as_group = plain_number(re.sub("[.,]", "", match[0]))
        used, other = as_point, as_group
        if self.decimal_comma and "." in match[0]:
            used, other = as_group, as_point
        reading.doubt(
            "number-two-readings",
            match.start(),
            match.end(),
            f'"{match[0]}" has two readings',
            f"{used.value:g} was used; the other reading is {other.value:g}",
            "write it without a thousands mark, or say in bench.md how numbers are written",
        )
        return used

    def _finished(
        self,
        reading: Reading,
        written: _Written,
        unit: Unit,
        position: int,
        u_written: Number | None,
        u_step: float,
        scale: Scale | None,
    ) -> tuple[Amount, int]:
        text = reading.text
        end = len(text)
        number, upper = written.number, written.upper
        parts = [(number, unit.numerator, unit.denominator)]
        step, last_unit = number.step, unit
        if upper is None and u_written is None and not u_step and unit is not _COUNT:
            after = self._upper.match(text, position, end)
            if after and (again := _unit_at(text, after.end(), end)) and again[0] is unit:
                upper, position = plain_number(after["n"], self.decimal_comma), again[1]
            elif unit.dimension in (Dimension.MASS, Dimension.TIME):
                while further := self._further_part(text, position, end, last_unit):
                    part, last_unit, position = further
                    parts.append((part, last_unit.numerator, last_unit.denominator))
                    step = part.step
        relative = 0.0
        if u_written is None and (plus := self._plus_minus.match(text, position, end)):
            u_written, position = plain_number(plus["n"], self.decimal_comma), plus.end()
            again = _unit_at(text, position, end)
            if again and again[0].dimension is unit.dimension:
                u_written = _rescaled(u_written, again[0], unit)
                position = again[1]
            elif again and again[0].name == "%":
                relative, position = u_written.value / 100, again[1]
        if u_written is not None and (coverage := _COVERAGE.match(text, position, end)):
            u_written, position = _divided(u_written, coverage[1]), coverage.end()
            relative /= float(coverage[1])
        if upper is not None and upper.value < number.value:
            said = text[written.start : position]
            reading.error(
                "range-descending",
                written.start,
                position,
                f'the range "{said}" runs downwards, so it is no range',
                "write the smaller figure first, or two entries where one followed the other",
            )
            upper = None
        span = reading.span(written.start, position)
        if upper is not None:
            return _range(span, number, upper, unit, written.times), position
        numerator, denominator = _base_fraction(parts, unit, written.times)
        base = numerator / denominator
        value = (numerator * unit.denominator) / (denominator * unit.numerator) - unit.offset
        if number.numerator == 0 and unit.dimension in _READ_ON_A_SCALE:
            high = step * unit.factor
            note = f"below what the reading can show ({number.step:g} {unit.name})"
            return Amount(
                span, unit.dimension, unit.name, None, None, low=0.0, high=high, note=note
            ), position
        u_stated: float | None = None
        if u_written is not None:
            u_stated = relative * base if relative else u_written.value * unit.factor
        elif u_step:
            u_stated = u_step * unit.factor
        u, basis, name = self._uncertainty(reading, written, last_unit, base, step, u_stated, scale)
        amount = Amount(
            span,
            unit.dimension,
            unit.name,
            value,
            base,
            u,
            basis,
            times=written.times,
            scale=name,
            note=unit.note,
        )
        return amount, position

    def _further_part(
        self, text: str, position: int, end: int, unit: Unit
    ) -> tuple[Number, Unit, int] | None:
        """The next smaller part of "14 dwt 6 gr" or "2h15"; None where there is none."""
        at = position + 1 if text[position : position + 1] == " " else position
        match = self._amount.match(text, at, end)
        if match is None or not match["n"] or match["times"] or match["about"] or match["currency"]:
            return None
        found = _unit_at(text, match.end(), end)
        number = plain_number(match["n"], self.decimal_comma)
        if found is None:
            minutes = units_by_word()["min"]
            if unit.name == "h" and at == position:
                return number, minutes, match.end()
            return None
        smaller = found[0]
        if smaller.dimension is not unit.dimension or smaller.factor >= unit.factor:
            return None
        return number, smaller, found[1]

    def _uncertainty(
        self,
        reading: Reading,
        written: _Written,
        unit: Unit,
        base: float,
        step: float,
        u_stated: float | None,
        scale: Scale | None,
    ) -> tuple[float | None, str, str]:
        """Standard uncertainty in the base unit, where it comes from, and the balance."""
        dimension = unit.dimension
        if u_stated is not None:
            return u_stated, "stated", scale.name if scale else ""
        if dimension is Dimension.COUNT:
            return 0.0, "counted", ""
        if written.about:
            return abs(base) * ABOUT_HALF_WIDTH / ROOT_THREE, "about: within 10 %", ""
        if dimension not in DIGITS_READ:
            return None, "", ""
        factor = unit.factor * written.times
        read_to = resolution(step) * factor
        if dimension in (Dimension.MASS, Dimension.VOLUME):
            volume = dimension is Dimension.VOLUME
            if scale is None or scale.volume is not volume:
                scale = fitting_scale(reading.customs.scales, abs(base), step * unit.factor, volume)
            if scale is not None:
                return of_scale(scale) * written.times, f"read on {scale.name}", scale.name
            if volume:
                rough = abs(base) * VESSEL_HALF_WIDTH / ROOT_THREE
                if rough >= read_to:
                    return rough, "no measure named: within 5 %", ""
        return read_to, "last digit written", ""

    def _bare_number(self, reading: Reading, written: _Written, text: str, end: int) -> bool:
        """Whether a number without a unit may count things; a mistyped unit is reported."""
        word = _WORD.match(text, written.end, end)
        if word and word[1].lower() not in _NOT_UNITS and (near := _mistyped_unit(word[1])):
            reading.error(
                "unit-unknown",
                word.start(1),
                word.end(1),
                f'unit "{word[1]}" is not known',
                f'did you mean "{near}"?',
            )
        return True

    def _money(
        self,
        reading: Reading,
        written: _Written,
        sign: str,
        end: int,
        position: int | None = None,
    ) -> tuple[Amount, int]:
        text = reading.text
        position = written.end if position is None else position
        currency = currency_code(sign, reading.customs.currency)
        value = written.number.value * written.times
        per = _PER.match(text, position, end)
        unit = _unit_named(per[1]) if per else None
        dimension = Dimension.MONEY
        base, base_unit, name = value, "", sign if len(sign) == 1 else sign.upper()
        if per and unit is not None:
            dimension, position = Dimension.PRICE, per.end()
            base = value * unit.denominator / unit.numerator
            base_unit = _PER_UNITS.get(unit.dimension, "1")
            name = f"{name}/{unit.name}"
        span = reading.span(written.start, position)
        return (
            Amount(
                span,
                dimension,
                name,
                value,
                base,
                0.0,
                "money",
                currency=currency,
                per=base_unit,
                times=written.times,
            ),
            position,
        )

    def _ph(self, reading: Reading, written: _Written, u_written: Number | None) -> Amount:
        span = reading.span(written.start, written.end)
        low = written.number.value
        if written.upper is not None:
            high = written.upper.value
            note = "a range of pH is not averaged"
            return Amount(span, Dimension.PH, "pH", None, None, low=low, high=high, note=note)
        if u_written is not None:
            return Amount(span, Dimension.PH, "pH", low, low, u_written.value, "stated")
        u = resolution(written.number.step)
        return Amount(span, Dimension.PH, "pH", low, low, u, "last digit written")


_READ_ON_A_SCALE = frozenset(
    {Dimension.MASS, Dimension.VOLUME, Dimension.FRACTION, Dimension.CONCENTRATION}
)
_PER_UNITS = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "L",
    Dimension.TIME: "h",
    Dimension.ENERGY: "kWh",
}


@cache
def amount_reader(decimal_comma: bool) -> AmountReader:
    """The reader for one way of writing numbers."""
    return AmountReader(decimal_comma)


def _base_fraction(parts: list[tuple[Number, int, int]], unit: Unit, times: int) -> tuple[int, int]:
    if len(parts) == 1 and not unit.offset:
        number = parts[0][0]
        return number.numerator * unit.numerator * times, number.denominator * unit.denominator
    top, bottom = total_of(parts)
    if unit.offset:
        shift = unit.offset * unit.numerator / unit.denominator
        top, bottom = top * shift.denominator + shift.numerator * bottom, bottom * shift.denominator
    return top * times, bottom


def _divided(number: Number, coverage: str) -> Number:
    """A stated uncertainty brought down to one standard deviation."""
    by = plain_number(coverage)
    top, bottom = number.numerator * by.denominator, number.denominator * by.numerator
    return Number(top, bottom or 1, number.step)


def _rescaled(number: Number, written: Unit, unit: Unit) -> Number:
    top = number.numerator * written.numerator * unit.denominator
    return Number(top, number.denominator * written.denominator * unit.numerator, number.step)


def _range(span: Span, low: Number, high: Number, unit: Unit, times: int) -> Amount:
    lowest = (low.value + float(unit.offset)) * unit.factor * times
    highest = (high.value + float(unit.offset)) * unit.factor * times
    middle = (low.value + high.value) / 2 * times
    return Amount(
        span,
        unit.dimension,
        unit.name,
        middle,
        (lowest + highest) / 2,
        (highest - lowest) / 2 / ROOT_THREE,
        "range: anywhere within it",
        lowest,
        highest,
        times=times,
        note=unit.note,
    )


def _unit_at(text: str, position: int, end: int) -> tuple[Unit, int] | None:
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
    if word in currencies() or word.lower() in currencies():
        return None
    unit = words.get(word.lower()) if len(word) > 2 else None
    if unit is not None:
        return unit, match.end()
    if word[-1] in "23" and (unit := words.get(word[:-1])):
        return unit, match.end() - 1
    if "/" in word and (unit := words.get(word.partition("/")[0])):
        return unit, match.start(1) + word.index("/")
    return None


def _unit_named(word: str) -> Unit | None:
    words = units_by_word()
    return words.get(word) or words.get(word.lower()) or _COUNT


def _currency_at(text: str, position: int, end: int) -> tuple[str, int] | None:
    match = _SUFFIX.match(text, position, end)
    if match and match[1].lower() in currencies():
        return match[1], match.end()
    return None


_SUFFIX = re.compile(r"\s?([^\W\d_]+|[$€£¥])")


def currency_code(sign: str, book: str) -> str:
    """The ISO 4217 code of a sign or word; a bare $ is the book's own dollar.

    >>> currency_code("€", ""), currency_code("$", "AUD"), currency_code("$", "EUR")
    ('EUR', 'AUD', 'USD')
    """
    code = currencies()[sign.lower()]
    dollars = {"AUD", "CAD", "NZD", "USD", "HKD", "SGD"}
    return book if sign == "$" and book in dollars else code


@cache
def _mistyped_unit(word: str) -> str | None:
    """The unit a word was meant to be, where it is nearly one and no plain word of the trade."""
    if len(word) < 2 or word.lower() in _plain_words():
        return None
    close = nearest_word(word, (known for known in units_by_word() if len(known) > 2))
    if close is None or abs(len(close) - len(word)) > 1:
        return None
    return close if _differs_by_one(word.lower(), close) else None


def _differs_by_one(word: str, other: str) -> bool:
    """Whether one letter was added, dropped or changed, or two were swapped."""
    start = 0
    while start < min(len(word), len(other)) and word[start] == other[start]:
        start += 1
    a, b = word[start:], other[start:]
    return a[1:] == b or a == b[1:] or a[1:] == b[1:] or (a[:2] == b[1::-1] and a[2:] == b[2:])


@cache
def _plain_words() -> frozenset[str]:
    content = load("actions.toml")
    return frozenset(
        [*content["equipment"]["words"], *content["vessels"]["words"], "cans", "pans", "bars"]
    )


@cache
def _unknown_words() -> re.Pattern[str]:
    words = sorted(load("actions.toml")["unknown"]["words"], key=len, reverse=True)
    return re.compile("(?:" + "|".join(re.escape(word) for word in words) + r")\b(?!\s*\d)")


def unknown_amount(reading: Reading, start: int, end: int) -> tuple[Amount, int] | None:
    """`some`, `a pinch of`, `overnight`: something was used, and nobody knows how much."""
    text = reading.text
    if text.startswith("overnight", start):
        span = reading.span(start, start + 9)
        note = "overnight: no times were written on both sides of it"
        return Amount(span, Dimension.TIME, "h", None, None, note=note), start + 9
    match = _unknown_words().match(text, start, end)
    if match is None:
        return None
    span = reading.span(start, match.end())
    note = f'"{span.text}" was used, and not said how much'
    return Amount(span, Dimension.COUNT, "", None, None, note=note), match.end()
