"""How large the room is: `Room: 30 m3`, or its sides: `Room: 3 x 4 x 2.5 m`."""

from __future__ import annotations

import re
from functools import cache
from math import prod

from logbook.model.amount import Amount, Dimension
from logbook.model.run import Fact
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.doubt import ROOT_THREE, VESSEL_HALF_WIDTH
from logbook.reading.facts import fact
from logbook.reading.numbers import number_pattern, plain_number
from logbook.reading.unit_words import unit_at
from logbook.source import Span

LITRES = 1000.0  # in a cubic metre
SIDES = 3
FOOT = 0.3048  # m, exactly (NIST SP 811, appendix B.8)
_FEET = re.compile(r"\s?(?:(?:ft|foot|feet)\b|['′])", re.I)


def read_room(reading: Reading, facts: tuple[Fact, ...]) -> Amount | None:
    """The volume of the room that a page of facts names [L]; None where it names none."""
    said = fact(facts, "room")
    if said is None:
        return None
    before, broken = len(reading.findings), reading.broken
    room = _of_sides(reading, said.span) or _of_volume(reading, said)
    if room is not None:
        return room
    del reading.findings[before:]
    reading.broken = broken
    reading.doubt(
        "room-not-read",
        said.span.start,
        said.span.end,
        f'"{said.value}" is not read as the volume of a room',
        "no room: what a gas would make of it is not worked out",
        "write it as 30 m3, or by its sides as 3 x 4 x 2.5 m",
    )
    return None


def _of_volume(reading: Reading, said: Fact) -> Amount | None:
    comma = reading.customs.decimal_comma
    feet = _cubic_feet(comma).match(reading.text, said.span.start, said.span.end)
    if feet is not None:
        cubic = plain_number(feet["n"], comma).value * FOOT**3
        return _room(said.span, cubic, "about as written")
    found = amount_reader(comma).read(reading, said.span.start, said.span.end)
    if found is not None and found[0].dimension is Dimension.VOLUME and found[0].base_value:
        return found[0]
    return None


def sides_in(reading: Reading, start: int, end: int) -> Amount | None:
    """The volume of a room whose sides stand somewhere in a stretch [L]; None without them."""
    found = _sides(reading.customs.decimal_comma).search(reading.text, start, end)
    return _of_sides(reading, reading.span(*found.span())) if found is not None else None


def _of_sides(reading: Reading, said: Span) -> Amount | None:
    """Three lengths between crosses; a unit at the last counts for those without one."""
    comma = reading.customs.decimal_comma
    match = _sides(comma).match(reading.text, said.start, said.end)
    if match is None:
        return None
    factors = [_metres(reading.text, match.end(f"n{at}"), said.end) for at in range(SIDES)]
    last = factors[-1]
    if last is None:
        return None
    lengths = [
        plain_number(match[f"n{at}"], comma).value * (factor or last)
        for at, factor in enumerate(factors)
    ]
    return _room(said, prod(lengths), "product of its sides")


def _metres(text: str, position: int, end: int) -> float | None:
    """How many metres the unit at a place is; None where no unit of length stands there."""
    if _FEET.match(text, position, end):
        return FOOT
    found = unit_at(text, position, end)
    return found[0].factor if found and found[0].dimension is Dimension.LENGTH else None


def _room(said: Span, cubic: float, basis: str) -> Amount | None:
    """A room of so many cubic metres, as well known as any volume that nobody measured."""
    if not cubic:
        return None
    litres = cubic * LITRES
    u = litres * VESSEL_HALF_WIDTH / ROOT_THREE
    words = f"{basis}: within 5 %"
    return Amount(said, Dimension.VOLUME, "m³", cubic, litres, u, words)


@cache
def _sides(decimal_comma: bool) -> re.Pattern[str]:
    number = number_pattern(decimal_comma)
    sides = (rf"(?P<n{at}>{number})\s?(?:[^\W\d_]+|['′])?" for at in range(SIDES))
    return re.compile(r"\s*[x×]\s*".join(sides))


@cache
def _cubic_feet(decimal_comma: bool) -> re.Pattern[str]:
    cubic = r"(?:ft3|ft³|cu\.?\s?ft|cubic\s(?:feet|foot))"
    return re.compile(rf"(?P<n>{number_pattern(decimal_comma)})\s?{cubic}\b", re.I)
