"""Power and energy wherever an entry says them: "on the 800 W hotplate", "used 1.2 kWh".

What was written as a condition comes first: a plate that can draw 800 W and was set to 500 W
drew 500 W. The power of the plate counts where nothing else is said.
"""

from __future__ import annotations

import re

from logbook.model.amount import Amount, Dimension
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.draft import Draft

_SAID = re.compile(r"(?<![\w.,\[-])\d[\d.,]*\s?(?:[km]?wh?|watts?|kilowatts?)\b", re.I)
_ALONE = re.compile(r"[\d.,]+\s?(?:k?wh?|watts?|volts?|v|a|amps?)$", re.I)
_KINDS = frozenset({Dimension.POWER, Dimension.ENERGY})


def read_electric(reading: Reading, draft: Draft) -> None:
    """Give an entry the power and the energy that stand anywhere in its words.

    In parentheses they count where they stand first: "on the hotplate (800 W)".
    """
    start, end = draft.head
    for match in _SAID.finditer(reading.text, start, end):
        _hear(reading, draft, match.start(), end)
    blanked, reading.text = reading.text, reading.source.text
    for first, last in draft.remark_spans:
        if _SAID.match(reading.text, first, last):
            _hear(reading, draft, first, last)
    reading.text = blanked


def _hear(reading: Reading, draft: Draft, start: int, end: int) -> None:
    if any(first <= start < last for first, last in reading.heard):
        return
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    if found is None or found[0].dimension not in _KINDS:
        return
    said = {one.dimension for one in draft.conditions}
    if not said & {found[0].dimension, Dimension.ENERGY}:
        draft.conditions += (found[0],)


def power_alone(reading: Reading, start: int, end: int) -> Amount | None:
    """`heated with 500 W`: what stands alone after `with` and is no thing that is used up."""
    if _ALONE.match(reading.text, start, end) is None:
        return None
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    return found[0] if found is not None else None
