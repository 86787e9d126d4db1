"""One amount as people write it: the text is read from left to right, its meaning given elsewhere.

`AmountReader.read` returns None for what is no amount at all; what is an amount and cannot be
used is reported, and the entry it stands in is left out.
"""

from __future__ import annotations

import re
from collections.abc import Container
from functools import cache

from logbook.model.amount import Amount, Dimension
from logbook.model.book import Scale
from logbook.reading.context import Reading
from logbook.reading.meaning import (
    Written,
    amount_of,
    below_zero,
    less_than_nothing,
    money_of,
    ph_of,
)
from logbook.reading.numbers import (
    FRACTION,
    VULGAR_SIGNS,
    Number,
    number_pattern,
    plain_number,
    vulgar_fraction,
    with_fraction,
    written_number,
)
from logbook.reading.unit_words import (
    COUNT,
    currency_at,
    mistyped_unit,
    priced_unit_at,
    unit_at,
)
from logbook.reading.unknown import loose_measure, unknown_amount
from logbook.units import Unit, currencies, two_word_starts, units_by_word

_WORD = re.compile(r"\s*([A-Za-z]+)")
_SAID = (
    r"(?:hour|hr|day|week|litre|liter|gram|kilo|pound|gallon|quart|pint|teaspoon|tablespoon|cup)"
)
_AND_A_HALF = re.compile(r"\s+and\s+a\s+half\b")
_AND = re.compile(r"\s+and\s+(?=\d)")
_NUMBER = re.compile(r"(?<![\w.,/\]-])(?:[$€£]\s?)?\d")
_MINUTES = re.compile(r"[0-5]\d(?=\s*(?:[,;.)]|$)|\s+(?:at|on|in|with|for|by|from|and)\b)")
_COVERAGE = re.compile(r"\s?\(k\s?=\s?(\d(?:\.\d+)?)\)")
_IN_PARTS = frozenset({Dimension.MASS, Dimension.TIME})
_MINUS = re.compile(r"(?:(?:about|approx\.?|~)\s*)?(?<![^\s(])[-−](?=[\d$€£])")
_GOES_BELOW_ZERO = frozenset({Dimension.TEMPERATURE, Dimension.VOLTAGE, Dimension.CURRENT})


class AmountReader:
    """Reads amounts in one way of writing numbers."""

    def __init__(self, decimal_comma: bool) -> None:
        self.decimal_comma = decimal_comma
        number = number_pattern(decimal_comma)
        signs = "".join(re.escape(sign) for sign in currencies() if len(sign) == 1)
        codes = "|".join(sorted(set(currencies().values())))
        self._amount = re.compile(
            r"(?:(?:only|just|exactly|another)\s+)?"
            r"(?:(?P<about>about|approx\.?|approximately|around|roughly|circa|ca\.?|~|≈)\s*)?"
            r"(?:(?P<ph>pH)\s*)?"
            rf"(?:(?P<currency>[{signs}]|(?:{codes})(?=\s?\d))\s?)?"
            r"(?:(?P<times>\d{1,3})\s?[x×]\s*)?"
            rf"(?:(?P<n>{number})|(?P<vulgar>[{VULGAR_SIGNS}]|half an?(?=\s)|an?(?=\s{_SAID}\b)))"
        )
        # Nine amounts in ten are a number and a unit, and nothing that could go on from there.
        # A word that may begin a unit of two words is left to the longer way.
        starts = two_word_starts() - {"%"}
        self._units = {word: unit for word, unit in units_by_word().items() if word not in starts}
        decimals = r",(\d{1,2}|\d{4,15})" if decimal_comma else r"\.(\d{1,15})"
        self._plain = re.compile(
            rf"(\d{{1,15}})(?:{decimals})?\s?([^\W\d_]+|%)(?=[\s,;\]]|$)"
            r"(?!\s?(?:[-–—±+(\d]|[½¼¾⅓⅔⅛]|to\s+\d|and\s+[\da]|w/w|w/v|m/v|v/v|vol))"
        )
        self._upper = re.compile(rf"(?:\s?[-–—]\s?|\s+to\s+)(?P<n>{number})(?![-\d]*-\d)")
        self._plus_minus = re.compile(rf"\s?(?:±|\+/-|\+-)\s?(?P<n>{number})")
        self._digits_in_doubt = re.compile(r"\((\d{1,3})\)")
        # What is whole under one way of writing and a fraction under the other.
        self._other_style = re.compile(
            r"[1-9]\d{0,2},\d{3}(?![\d.,]\d)|(?:0\.\d+|\d+\.(?:\d{1,2}|\d{4,}))(?!\d|[.,]\d)"
            if decimal_comma
            else r"\d+,(?:\d{1,2}|\d{4,})(?![\d,])|0,\d+(?!\d|[.,]\d)"
        )

    def read(
        self, reading: Reading, start: int, end: int, scale: Scale | None = None
    ) -> tuple[Amount, int] | None:
        """The amount at `start`, and where it ends; None where no amount stands there.

        `scale` is the balance that the entry names; without one, the only one that fits.
        """
        found = self._read(reading, start, end, scale)
        if found is not None:
            reading.heard.add((start, found[1]))
        return found

    def _read(
        self, reading: Reading, start: int, end: int, scale: Scale | None
    ) -> tuple[Amount, int] | None:
        text = reading.text
        if plain := self._plain.match(text, start, end):
            whole, decimals, word = plain.groups("")
            unit = self._units.get(word)
            if unit is not None:
                number = written_number(whole, decimals)
                written = Written(start, plain.end(), number)
                return amount_of(reading, written, unit, scale), written.end
        match = self._amount.match(text, start, end)
        if match is None:
            return self._less_than_nothing(reading, start, end, scale) or unknown_amount(
                reading, start, end
            )
        number, position = self._number(reading, match, text, end)
        about, times = match["about"], match["times"]
        start = match.start("about") if about else match.start()
        written = Written(start, position, number, bool(about), int(times) if times else 1)
        if _goes_on(text, position):
            self._upper_or_doubt(written, text, end)
        if match["currency"]:
            return self._money(reading, written, match["currency"], end)
        if match["ph"]:
            return ph_of(reading, written), written.end
        found = unit_at(text, written.end, end)
        if found is None:
            if suffix := currency_at(text, written.end, end):
                written.end = suffix[1]
                return self._money(reading, written, suffix[0], end)
            if loose := loose_measure(reading, written.start, written.end, end):
                return loose
            _mistyped_checked(reading, written, end)
            return amount_of(reading, written, COUNT, scale), written.end
        unit, written.end = found
        if _goes_on(text, written.end):
            self._after_unit(written, text, end, unit)
        return amount_of(reading, written, unit, scale), written.end

    def _less_than_nothing(
        self, reading: Reading, start: int, end: int, scale: Scale | None
    ) -> tuple[Amount, int] | None:
        """`-5 C` is a temperature; of `-20 g` nobody knows how much was meant."""
        minus = _MINUS.match(reading.text, start, end)
        found = self._read(reading, minus.end(), end, scale) if minus else None
        if found is None:
            return None
        amount, position = found
        if amount.dimension in _GOES_BELOW_ZERO:
            return below_zero(reading, amount, start, position), position
        return less_than_nothing(reading, amount, start, position), position

    def _number(
        self, reading: Reading, match: re.Match[str], text: str, end: int
    ) -> tuple[Number, int]:
        """The number itself, with a fraction behind it."""
        digits = match["n"]
        if not digits:
            return vulgar_fraction(match["vulgar"]), match.end()
        position = match.end()
        two_readings = "," in digits or "." in digits or text[position : position + 1] in {",", "."}
        if two_readings and (other := self._other_style.match(text, match.start("n"), end)):
            return self._in_other_style(reading, other), other.end()
        number = plain_number(digits, self.decimal_comma)
        if not _goes_on(text, position):
            return number, position
        fraction = FRACTION.match(text, position, end)
        if fraction is None or 0 in (int(fraction[2] or 1), int(fraction[3] or 1)):
            return number, position
        if fraction[4]:
            part = vulgar_fraction(fraction[4])
            return with_fraction(number, part.numerator, part.denominator), fraction.end()
        if fraction[3]:
            bottom = int(fraction[3])
            of_one = Number(number.numerator, number.denominator * bottom, 1 / bottom)
            return of_one, fraction.end()
        return with_fraction(number, int(fraction[1]), int(fraction[2])), fraction.end()

    def _in_other_style(self, reading: Reading, match: re.Match[str]) -> Number:
        """A number whose comma or point has two readings: the one used is reported."""
        as_point = plain_number(match[0].replace(",", "."))
        as_group = plain_number(match[0].replace(",", "").replace(".", ""))
        reading.doubt(
            "number-two-readings",
            match.start(),
            match.end(),
            f'"{match[0]}" has two readings',
            f"{as_point.value:g} was used; the other reading is {as_group.value:g}",
            "write it without a thousands mark, or say in bench.md how numbers are written",
        )
        return as_point

    def _upper_or_doubt(self, written: Written, text: str, end: int) -> None:
        """What may stand between a number and its unit: (5), the end of a range, ±."""
        if digits := self._digits_in_doubt.match(text, written.end, end):
            written.u_digits, written.end = int(digits[1]), digits.end()
        elif upper := self._upper.match(text, written.end, end):
            written.upper = plain_number(upper["n"], self.decimal_comma)
            written.end = upper.end()
        self._plus_or_minus(written, text, end, None)

    def _plus_or_minus(self, written: Written, text: str, end: int, unit: Unit | None) -> None:
        plus = self._plus_minus.match(text, written.end, end)
        if plus is None or written.u is not None:
            return
        u, written.end = plain_number(plus["n"], self.decimal_comma), plus.end()
        again = unit_at(text, written.end, end) if unit is not None else None
        if again and unit and again[0].dimension is unit.dimension:
            u, written.end = _rescaled(u, again[0], unit), again[1]
        elif again and again[0].name == "%":
            written.relative, written.end = True, again[1]
        written.u = u
        self._coverage(written, text, end)

    def _coverage(self, written: Written, text: str, end: int) -> None:
        """Bring an expanded uncertainty, `(k=2)`, down to one standard deviation."""
        coverage = _COVERAGE.match(text, written.end, end)
        if coverage is None or written.u is None:
            return
        u, by = written.u, plain_number(coverage[1])
        bottom = (u.denominator * by.numerator) or 1
        written.u = Number(u.numerator * by.denominator, bottom, u.step)
        written.end = coverage.end()

    def _after_unit(self, written: Written, text: str, end: int, unit: Unit) -> None:
        """What may stand after a unit: the end of a range, smaller parts, ±."""
        if written.upper is None and written.u is None and not written.u_digits:
            upper = self._upper.match(text, written.end, end)
            if upper and (again := unit_at(text, upper.end(), end)) and again[0] is unit:
                written.upper = plain_number(upper["n"], self.decimal_comma)
                written.end = again[1]
            elif unit.dimension in _IN_PARTS:
                self._smaller_parts(written, text, end, unit)
        self._coverage(written, text, end)
        self._plus_or_minus(written, text, end, unit)

    def _smaller_parts(self, written: Written, text: str, end: int, unit: Unit) -> None:
        """The smaller parts of "14 dwt 6 gr", "2 h 15 min", "2h15" and "2 h 15"."""
        if half := _AND_A_HALF.match(text, written.end, end):
            written.parts, written.end = ((Number(1, 2, 0.5), unit),), half.end()
            return
        last = unit
        while True:
            joint = _AND.match(text, written.end, end)
            at = joint.end() if joint else written.end + text.startswith(" ", written.end)
            match = self._amount.match(text, at, end)
            if match is None or not match["n"] or len(match[0]) != len(match["n"]):
                return
            found = unit_at(text, match.end(), end)
            if (
                found is None
                and last.name == "h"
                and (at == written.end or _MINUTES.match(text, at, end))
            ):
                found = units_by_word()["min"], match.end()
            if found is None or found[0].dimension is not last.dimension:
                return
            if found[0].factor >= last.factor:
                return
            last = found[0]
            number = plain_number(match["n"], self.decimal_comma)
            written.parts = (*written.parts, (number, last))
            written.end = found[1]

    def _money(self, reading: Reading, written: Written, sign: str, end: int) -> tuple[Amount, int]:
        unit: Unit | None = None
        if priced := priced_unit_at(reading.text, written.end, end):
            unit, written.end = priced
        return money_of(reading, written, sign, unit), written.end


def amount_in(reading: Reading, start: int, end: int, kinds: Container[Dimension]) -> Amount | None:
    """The first amount of some kinds anywhere between two offsets; None where there is none."""
    reader = amount_reader(reading.customs.decimal_comma)
    before, broken, heard = len(reading.findings), reading.broken, set(reading.heard)
    found: Amount | None = None
    for number in _NUMBER.finditer(reading.text, start, end):
        read = reader.read(reading, number.start(), end)
        if read is not None and read[0].dimension in kinds:
            found = read[0]
            break
    del reading.findings[before:]
    reading.broken, reading.heard = broken, heard
    return found


@cache
def amount_reader(decimal_comma: bool) -> AmountReader:
    """The reader for one way of writing numbers."""
    return AmountReader(decimal_comma)


def _goes_on(text: str, position: int) -> bool:
    """Whether more of the same amount may follow, from a look at the next sign or two.

    Most amounts are plain, and looking spares them half a dozen patterns.
    """
    sign = text[position : position + 1]
    if sign == " ":
        sign = text[position + 1 : position + 2]
    if sign == "a":  # "1 hour and 20 minutes"
        return text.startswith("and ", position + 1)
    return sign != "" and (not (sign.isalpha() or sign in "[%,") or sign == "t")


def _rescaled(number: Number, written: Unit, unit: Unit) -> Number:
    top = number.numerator * written.numerator * unit.denominator
    return Number(top, number.denominator * written.denominator * unit.numerator, number.step)


def _mistyped_checked(reading: Reading, written: Written, end: int) -> None:
    """A number without a unit counts things; a unit that was mistyped is reported."""
    word = _WORD.match(reading.text, written.end, end)
    if word and (near := mistyped_unit(word[1])):
        reading.error(
            "unit-unknown",
            word.start(1),
            word.end(1),
            f'unit "{word[1]}" is not known',
            f'did you mean "{near}"?',
        )
