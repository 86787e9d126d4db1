"""A plated layer, "gold 0.5 µm on 120 cm2", as a content that the writer states.

What is read is thickness and area; what they hold is worked out as chemistry/marks.py has it.
"""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.chemistry.marks import plated
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Composition
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.vocabulary import metal_named

_METAL = re.compile(r"\s*([A-Za-z]+)\s+(?=\d)")
_BEHIND = re.compile(r"\s+(?:of\s+)?([A-Za-z]+)")
_DIGIT = re.compile(r"\s*(?=(?:about\s+|~)?\d)")
_THICKNESS = re.compile(r"\d\s?(?:[µμu](?:m|in)|mm|micro)")  # spares every other clause a reading
_OVER = re.compile(r"\bover\s+(?=\d|about\b|~)")
Layer = tuple[str, Amount]  # the metal and how thick it is


def read_layer(reading: Reading, start: int, end: int) -> tuple[Layer, int] | None:
    """`gold 0.5 µm` or `0.5 µm gold` at `start`, and where the area of it may stand behind `over`.

    None where no thickness of a metal stands.
    """
    if _THICKNESS.search(reading.text, start, end) is None:
        return None
    before = _METAL.match(reading.text, start, end)
    metal = metal_named(before[1]) if before else None
    if before is not None and metal is None:
        return None
    at = before or _DIGIT.match(reading.text, start, end)
    if at is None:
        return None
    heard, findings, broken = set(reading.heard), len(reading.findings), reading.broken
    found = amount_reader(reading.customs.decimal_comma).read(reading, at.end(), end)
    if found is not None and found[0].dimension is Dimension.LENGTH:
        behind = _BEHIND.match(reading.text, found[1], end)
        metal = metal or (metal_named(behind[1]) if behind else None)
        if metal is not None:
            over = _OVER.search(reading.text, found[1], end)
            return (metal, found[0]), over.end() if over else end
    reading.heard = heard
    reading.broken = broken
    del reading.findings[findings:]
    return None


def laid_on(reading: Reading, layer: Layer, start: int, end: int) -> Composition | None:
    """The content of a layer on the area at `start`; None where no area stands there."""
    metal, thickness = layer
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    if found is None or found[0].dimension is not Dimension.AREA:
        return None
    area = found[0]
    span = reading.span(thickness.span.start, area.span.end)
    empty = Amount(span, Dimension.MASS, "g", None, None, note="thickness or area is not known")
    deep, wide = Uncertain.reading(thickness), Uncertain.reading(area)
    if deep is None or wide is None:
        return Composition(span, metal, empty)
    try:
        content = plated(metal, deep.times(1e6), wide.times(1e4))
    except MissingError as missing:
        return Composition(span, metal, replace(empty, note=str(missing)))
    basis = "thickness, area and density of a plated layer"
    note = "as claimed, by thickness and area: a worn or porous layer holds less"
    made = replace(empty, value=content.value, base_value=content.value, base_u=content.u)
    return Composition(span, metal, replace(made, u_basis=basis, note=note))
