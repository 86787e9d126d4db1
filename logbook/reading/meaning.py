"""What was written becomes an `Amount`: value, base value, doubt, limits.

Here the number meets its unit and the balance it was read on; the text is only quoted.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

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
from logbook.reading.numbers import Number
from logbook.reading.unit_words import PER_UNITS, currency_code
from logbook.source import Span
from logbook.units import Unit, units_by_word

_READ_ON_A_SCALE = frozenset(
    {Dimension.MASS, Dimension.VOLUME, Dimension.FRACTION, Dimension.CONCENTRATION}
)


@dataclass(slots=True)
class Written:
    """An amount as it stands in the text, while it is read from left to right."""

    start: int
    end: int
    number: Number
    about: bool = False
    times: int = 1
    upper: Number | None = None
    u: Number | None = None  # after ±, already one standard deviation
    u_digits: int = 0  # "0.40(5)": the doubt of the last digits
    relative: bool = False  # whether u is in per cent of the value
    parts: tuple[tuple[Number, Unit], ...] = ()  # the further parts of "14 dwt 6 gr"


def amount_of(reading: Reading, written: Written, unit: Unit, scale: Scale | None) -> Amount:
    """The amount that was written, in one unit or in several parts of one kind."""
    span = Span(reading.source, written.start, written.end)
    if written.upper is not None and _is_range(reading, written):
        return _range(span, written, unit)
    number = written.number
    if number.numerator == 0 and unit.dimension in _READ_ON_A_SCALE:
        return _below_reading(span, number, unit)
    top, bottom = _exact(written, unit)
    base = top / bottom
    if (written.times == 1 and not written.parts) or unit.offset:
        value = number.value
    else:
        value = top * unit.denominator / (bottom * unit.numerator)
    u, basis, name = _uncertainty(reading, written, unit, base, scale)
    return Amount(
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


def money_of(reading: Reading, written: Written, sign: str, unit: Unit | None) -> Amount:
    """Money, or a price where it is said what for one unit is paid."""
    value = written.number.value * written.times
    name = sign if len(sign) == 1 else sign.upper()
    base, per, dimension, of_one = value, "", Dimension.MONEY, 1.0
    if unit is not None:
        dimension = Dimension.PRICE
        base = value * unit.denominator / unit.numerator
        of_one = 1.0 / unit.factor
        per = PER_UNITS.get(unit.dimension, "1")
        name = f"{name}/{unit.name}"
    span = Span(reading.source, written.start, written.end)
    currency = currency_code(sign, reading.customs.currency)
    u, basis = _doubt_of_money(written)
    made = Amount(
        span,
        dimension,
        name,
        value,
        base,
        u * abs(base / value) if value else 0.0,
        basis,
        currency=currency,
        per=per,
        times=written.times,
    )
    return made if written.upper is None else _between(reading, made, written, of_one)


def _doubt_of_money(written: Written) -> tuple[float, str]:
    """Money was counted and has no doubt, but for what the writer says of it."""
    value = written.number.value * written.times
    if written.u is not None:
        u = written.u.value
        return (abs(value) * u / 100.0 if written.relative else u * written.times), "stated"
    if written.about:
        return abs(value) * ABOUT_HALF_WIDTH / ROOT_THREE, "about: within 10 %"
    return 0.0, "money"


def _between(reading: Reading, lowest: Amount, written: Written, of_one: float) -> Amount:
    """Money of which two figures were given: the middle, and anywhere between them."""
    assert written.upper is not None
    if not _is_range(reading, written):
        return lowest
    low, high = (one.value * written.times for one in (written.number, written.upper))
    return replace(
        lowest,
        value=(low + high) / 2,
        base_value=(low + high) / 2 * of_one,
        base_u=(high - low) / 2 * of_one / ROOT_THREE,
        u_basis="range: anywhere within it",
        low=low * of_one,
        high=high * of_one,
    )


def ph_of(reading: Reading, written: Written) -> Amount:
    """A pH; a range of pH is kept as two limits and never averaged."""
    span = Span(reading.source, written.start, written.end)
    low = written.number.value
    if written.upper is not None:
        high, note = written.upper.value, "a range of pH is not averaged"
        return Amount(span, Dimension.PH, "pH", None, None, low=low, high=high, note=note)
    if written.u is not None:
        return Amount(span, Dimension.PH, "pH", low, low, written.u.value, "stated")
    u = resolution(written.number.step)
    return Amount(span, Dimension.PH, "pH", low, low, u, "last digit written")


def _exact(written: Written, unit: Unit) -> tuple[int, int]:
    """The base value as two whole numbers, so that it is rounded once."""
    number = written.number
    top, bottom = number.numerator, number.denominator
    if unit.offset:
        top = top * unit.offset.denominator + unit.offset.numerator * bottom
        bottom *= unit.offset.denominator
    top, bottom = top * unit.numerator, bottom * unit.denominator
    for part, smaller in written.parts:
        over = part.denominator * smaller.denominator
        top = top * over + part.numerator * smaller.numerator * bottom
        bottom *= over
    return top * written.times, bottom


def _is_range(reading: Reading, written: Written) -> bool:
    """Whether the two numbers go upwards; a range that goes downwards is none."""
    assert written.upper is not None
    if written.upper.value >= written.number.value:
        return True
    said = reading.text[written.start : written.end]
    reading.error(
        "range-descending",
        written.start,
        written.end,
        f'the range "{said}" runs downwards, so it is no range',
        "write the smaller figure first, or two entries where one followed the other",
    )
    return False


def _range(span: Span, written: Written, unit: Unit) -> Amount:
    assert written.upper is not None
    offset = float(unit.offset)
    lowest = (written.number.value + offset) * unit.factor * written.times
    highest = (written.upper.value + offset) * unit.factor * written.times
    return Amount(
        span,
        unit.dimension,
        unit.name,
        (written.number.value + written.upper.value) / 2 * written.times,
        (lowest + highest) / 2,
        (highest - lowest) / 2 / ROOT_THREE,
        "range: anywhere within it",
        lowest,
        highest,
        times=written.times,
        note=unit.note,
    )


def _below_reading(span: Span, number: Number, unit: Unit) -> Amount:
    """A reading of 0.00 is below what the balance can show; it is not zero."""
    note = f"below what the reading can show ({number.step:g} {unit.name})"
    high = number.step * unit.factor
    return Amount(span, unit.dimension, unit.name, None, None, low=0.0, high=high, note=note)


def below_zero(reading: Reading, amount: Amount, start: int, end: int) -> Amount:
    """A temperature or a voltage behind a minus sign."""
    span = Span(reading.source, start, end)
    if amount.value is None or amount.base_value is None:
        return replace(amount, span=span)
    twice = 2.0 * amount.value * units_by_word()[amount.unit].factor
    base = amount.base_value - twice  # whatever a scale of temperature begins with stays
    return replace(amount, span=span, value=-amount.value, base_value=base, low=None, high=None)


def less_than_nothing(reading: Reading, amount: Amount, start: int, end: int) -> Amount:
    """An amount behind a minus sign, reported, as one of which nobody knows how much it was."""
    span = Span(reading.source, start, end)
    headline = f'"{span.text}" is less than nothing'
    reading.refuse(
        "less-than-nothing",
        start,
        end,
        headline,
        "this figure counts as not known; the rest of the entry counts",
        "leave out the minus sign; what went the other way has an action of its own",
    )
    return Amount(
        span,
        amount.dimension,
        amount.unit,
        None,
        None,
        currency=amount.currency,
        per=amount.per,
        note=headline,
    )


def _uncertainty(
    reading: Reading, written: Written, unit: Unit, base: float, scale: Scale | None
) -> tuple[float | None, str, str]:
    """Standard uncertainty in the base unit, where it comes from, and the balance."""
    dimension = unit.dimension
    if written.u is not None:
        of_one = abs(base) / 100 if written.relative else unit.factor
        return written.u.value * of_one, "stated", scale.name if scale else ""
    if written.u_digits:
        u = written.u_digits * written.number.step * unit.factor
        return u, "stated", scale.name if scale else ""
    if dimension is Dimension.COUNT:
        return 0.0, "counted", ""
    if written.about:
        return abs(base) * ABOUT_HALF_WIDTH / ROOT_THREE, "about: within 10 %", ""
    if dimension not in DIGITS_READ:
        return None, "", ""
    step = written.number.step * unit.factor
    if written.parts:
        last, last_unit = written.parts[-1]
        step = last.step * last_unit.factor
    read_to = resolution(step) * written.times
    if dimension is Dimension.MASS or dimension is Dimension.VOLUME:
        volume = dimension is Dimension.VOLUME
        if scale is None or scale.volume is not volume:
            scale = fitting_scale(reading.customs.scales, abs(base), step, volume)
        if scale is not None:
            return of_scale(scale) * written.times, f"read on {scale.name}", scale.name
        rough = abs(base) * VESSEL_HALF_WIDTH / ROOT_THREE
        if volume and rough >= read_to:
            return rough, "no measure named: within 5 %", ""
    return read_to, "last digit written", ""
