"""What a thing holds of a metal, in the ways people say it: "silver 71 %", "gold 0.3 g per kg".

A content per weight is a fraction; only a weight that stands alone is a content as such.
"""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.chemistry.marks import filled
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Composition
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.doubt import resolution
from logbook.reading.unit_words import unit_at
from logbook.reading.vocabulary import metal_named
from logbook.reference import marks, metals, reagent_words
from logbook.units import units_by_word

BEFORE_AMOUNT = re.compile(r"(?<![\w-])([A-Za-z]+)\s+(?=[\d~≈½¼¾.]|[-−]\d|about|approx)")
_NUMBER = re.compile(r"(?:(?:about|approx\.?|around|~|≈)\s*)?[-−]?\d")
_NEXT_WORD = re.compile(r"\s+([A-Za-z]+)")
PER = re.compile(r"\s?(?:/|\b(?:per|to\s+the|in\s+each)\b)\s?(?=[^\W\d_])")
_FILLED = re.compile(
    r"(?:(?:rolled\s+)?gold(?:[- ]?(?:filled|plated?))?\s+)?1/(\d{1,3})\s+"
    r"(\d{1,2}(?:\.\d+)?)\s?(?P<karat>kt?|ct|[ck]arats?)\b"
    r"(?:\s+(?:gf|rgp|(?:rolled\s+)?gold(?:[- ]?filled|\s+plated?|\s+overlay)?)(?=\s*(?:[,;]|$)))?",
    re.I,
)
_CONTENTS = frozenset({Dimension.FRACTION, Dimension.CONCENTRATION, Dimension.MASS})
_SHARES = frozenset({Dimension.FRACTION, Dimension.CONCENTRATION})
_KARATS = frozenset({"kt", "K", "ct"})  # behind "gold", K is no kelvin and ct no weight


def read_composition(reading: Reading, start: int, end: int) -> tuple[Composition, int] | None:
    """`silver 71 ± 3 %` or `71 % silver` at `start`, and where it ends."""
    text = reading.text
    while start < end and text[start] in " \t\n":
        start += 1
    if filled_piece := _FILLED.match(text, start, end):
        return _filled(reading, filled_piece)
    match = BEFORE_AMOUNT.match(text, start, end)
    if match is not None and metal_named(match[1]) is not None:
        return _behind_metal(reading, match, start, end)
    if not _NUMBER.match(text, start, end):
        return None
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    following = _NEXT_WORD.match(text, found[1], end) if found else None
    metal = metal_named(following[1]) if following else None
    if found is None or following is None or metal is None:
        return None
    salt = _NEXT_WORD.match(text, following.end(), end)
    if salt and f"{following[1]} {salt[1]}".lower() in reagent_words():
        return None  # 5 % silver nitrate is a strength
    amount = as_fineness(metal, found[0])
    if amount.dimension not in _SHARES:
        return None
    return Composition(reading.span(start, following.end()), metal, amount), following.end()


def _behind_metal(
    reading: Reading, match: re.Match[str], start: int, end: int
) -> tuple[Composition, int] | None:
    metal = metal_named(match[1])
    if metal is None:
        return None
    found = amount_reader(reading.customs.decimal_comma).read(reading, match.end(), end)
    if found is None:
        return None
    amount, position = as_fineness(metal, found[0]), found[1]
    if amount.dimension is Dimension.MASS and (per := PER.match(reading.text, position, end)):
        amount, position = per_unit(reading, metal, amount, per, end)
    if amount.dimension not in _CONTENTS:
        return None
    return Composition(reading.span(start, position), metal, amount), position


def _filled(reading: Reading, match: re.Match[str]) -> tuple[Composition, int] | None:
    """A mark of filled or rolled gold: what the piece held of its weight when it was new."""
    share, karats = float(match[1]), float(match[2])
    try:
        fineness = filled(share, karats)
    except MissingError:
        return None
    span = reading.span(match.start(1) - 2, match.end("karat"))
    reading.heard.add((match.start(), match.end()))
    amount = Amount(
        span,
        Dimension.FRACTION,
        "g/g",
        fineness,
        fineness,
        filled(share, resolution(1.0)),
        "last digit written",
        note="a mark: what it promised when it was new, not an assay; worn, it holds less",
    )
    return Composition(reading.span(match.start(), match.end()), "gold", amount), match.end()


def as_fineness(metal: str, amount: Amount) -> Amount:
    """Karats of gold, marks ("gold 585") and bare fractions ("silver 0.999") as fractions."""
    value = amount.value
    if value is None:
        return amount
    if metal == "gold" and amount.unit in _KARATS and value <= 24:
        step = (amount.base_u or 0.0) if amount.unit == "kt" else resolution(1.0) / 24
        return _fraction(amount, "kt", value / 24, step)
    if amount.dimension is not Dimension.COUNT:
        return amount
    if 0 < value < 1:
        digits = len(amount.span.text.partition(".")[2])
        return _fraction(amount, "g/g", value, resolution(10.0**-digits))
    fineness = marks().get((metal, int(value)))
    if fineness is None:
        return amount
    marked = _fraction(amount, "‰", fineness, resolution(0.001))
    return replace(marked, note="a mark: what it promises, not an assay")


def _fraction(amount: Amount, unit: str, value: float, u: float) -> Amount:
    return replace(
        amount,
        dimension=Dimension.FRACTION,
        unit=unit,
        base_value=value,
        base_u=u,
        u_basis="last digit written",
    )


def per_unit(
    reading: Reading, metal: str, amount: Amount, per: re.Match[str], end: int
) -> tuple[Amount, int]:
    """`0.3 g per kg` is a fraction and `2 g per L` a concentration; of what else is asked."""
    found = unit_at(reading.text, per.end(), end)
    kinds = {Dimension.MASS: Dimension.FRACTION, Dimension.VOLUME: Dimension.CONCENTRATION}
    if found is None or found[0].dimension not in kinds:
        reading.error(
            "content-per-what",
            amount.span.start,
            found[1] if found else end,
            f"a content of {metal} per something that is neither a weight nor a volume",
            "write it as 1.9 g/kg, 850 ppm or 71 %",
        )
        return amount, end
    unit, position = found
    factor, note = 1.0 / unit.factor, unit.note
    if amount.unit == "oz" and metals()[metal].precious:
        # Assayers count precious metals in troy ounces, to the ton too.
        factor *= units_by_word()["ozt"].factor / units_by_word()["oz"].factor
        note = f"troy ounces; {note}".rstrip("; ")
    base = None if amount.base_value is None else amount.base_value * factor
    u = None if amount.base_u is None else amount.base_u * factor
    name = f"{amount.unit}/{unit.name}"
    span = reading.span(amount.span.start, position)
    kind = kinds[unit.dimension]
    made = replace(amount, span=span, dimension=kind, unit=name, base_value=base, base_u=u)
    return replace(made, note=note), position
