"""How much a drawn part may differ from its lot: `sampling ± 5 %`.

A relative standard uncertainty, as `±` is everywhere. What it means for a balance is decided
elsewhere.
"""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading

_SIGN = re.compile(r"(?:±|\+/-|\+-)\s*")
_COVERAGE = re.compile(r"\s?\(k\s?=\s?([1-9]\d*(?:\.\d+)?)\)")
_HINT = "write it as a share of the lot's content: sampling ± 5 %"


def read_sampling(reading: Reading, start: int, end: int) -> tuple[Amount | None, int] | None:
    """`± 5 %`, `about 5 %`, `5 %`, `± 10 % (k=2)` at `start`, and where it ends.

    None where the words say something else; an amount of None where the figure cannot be one.
    """
    text = reading.text
    sign = _SIGN.match(text, start, end)
    first = sign.end() if sign else start
    found = amount_reader(reading.customs.decimal_comma).read(reading, first, end)
    if found is None:
        return None
    amount, position = found
    if amount.dimension is not Dimension.FRACTION:
        if sign is None:
            return None
        _no_share(reading, start, position)
        return None, position
    value, share = amount.value or 0.0, amount.base_value or 0.0
    if coverage := _COVERAGE.match(text, position, end):
        value, share = value / float(coverage[1]), share / float(coverage[1])
        position = coverage.end()
    span = reading.span(start, position)
    reading.heard.add((start, position))
    if share > 1.0:
        _too_much(reading, start, position)
        return None, position
    said = replace(amount, span=span, value=value, base_value=share)
    return replace(said, base_u=None, u_basis="stated", low=None, high=None, note=""), position


def _no_share(reading: Reading, start: int, end: int) -> None:
    reading.doubt(
        "sampling-not-read",
        start,
        end,
        f'"{reading.text[start:end]}" is no share of what the lot holds',
        "words: how far a drawn part may differ is not known",
        _HINT,
    )


def _too_much(reading: Reading, start: int, end: int) -> None:
    reading.refuse(
        "sampling-over-100",
        start,
        end,
        "a drawn part cannot differ from its lot by more than all of it",
        "how far a drawn part may differ is not known; the rest of the entry counts",
        _HINT,
    )
