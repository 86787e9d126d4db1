"""Questions about metal in a piece: density, inquarting, plating, filled gold, cells, ounces."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.chemistry.named_alloys import alloy_named
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question
from logbook.reading.asking import Asking, Read
from logbook.reading.question_parts import (
    Part,
    amount_at,
    amount_near,
    amounts_in,
    labels_of,
    materials_in,
    metals_in,
    one_at,
)
from logbook.reading.things import ThingReader
from logbook.reading.unit_words import unit_at
from logbook.reading.vocabulary import reagent_named

_MASSES = frozenset({Dimension.MASS})
_TEMPERATURES = frozenset({Dimension.TEMPERATURE})
_DENSITIES = frozenset({Dimension.DENSITY})
_IN_AIR = re.compile(r"(?<!\w)(?:weighed\s+)?(?:dry\s+)?in\s+(?:the\s+)?air(?!\w)", re.I)
_IN_WATER = re.compile(
    r"(?<!\w)(?:weighed\s+)?(?:hanging\s+)?(?:in|under)\s+(?:the\s+)?(?:distilled\s+)?water(?!\w)",
    re.I,
)


def weighings(asking: Asking) -> Read:
    """`fineness of gold and copper from 12.34 g in air and 11.52 g in water at 22 C`."""
    if asking.search(_IN_AIR) is None and asking.search(_IN_WATER) is None:
        return None
    air = amount_near(asking.reading, asking.whole, _IN_AIR, _MASSES)
    water = amount_near(asking.reading, asking.whole, _IN_WATER, _MASSES)
    metals = metals_in(asking.words(asking.whole))
    missing = []
    if air is None:
        missing.append("the weight in air: for example 12.34 g in air")
    if water is None:
        missing.append("the weight in water: for example 11.52 g in water")
    if missing or air is None or water is None:
        return asking.refusal(*missing)
    warmth = next(amounts_in(asking.reading, asking.whole, _TEMPERATURES), None)
    amounts = [("in air", air[0]), ("in water", water[0])]
    amounts += [("temperature", warmth)] if warmth is not None else []
    return Question(Kind.WEIGHINGS, asking.text, asking.span, metals=metals, amounts=tuple(amounts))


def density(asking: Asking) -> Read:
    """`gold in a density of 15.5 g/cm3 with silver`."""
    found = next(amounts_in(asking.reading, asking.whole, _DENSITIES), None)
    words = asking.words(asking.whole)
    if found is None or reagent_named(words) not in ("", "copper bar") or not metals_in(words):
        return None
    return Question(
        Kind.DENSITY,
        asking.text,
        asking.span,
        metals=metals_in(words),
        amounts=(("density", found),),
    )


_INQUART = re.compile(
    r"(?<!\w)(?:(?:to|for)\s+)?(?:in)?quart(?:ing|ation|ate)?(?!\w)(?:\s+of)?", re.I
)
_BY = re.compile(
    r"(?<!\S)(?:with|using|by)\s+(?!about\b|~|\d(?!\d*\s?(?:k|kt|ct|karat|carat)\b))", re.I
)
_QUARTER = re.compile(
    r"(?:,\s*)?(?<!\S)(?:to|at|for)?\s*(?:a\s+ratio\s+of\s+)?(\d(?:\.\d+)?)\s?(?::|to)\s?1(?!\w)",
    re.I,
)


def inquart(asking: Asking) -> Read:
    """`silver to inquart 10 g of 14 kt gold, holding 1 g silver`."""
    found = asking.search(_INQUART)
    if found is None:
        return None
    ratio = asking.search(_QUARTER)
    amounts: tuple[tuple[str, Amount], ...] = ()
    if ratio is not None:
        times = amount_at(asking.reading, Part(ratio.start(1), ratio.end(1)))
        amounts = (("ratio", times),) if times is not None else ()
        asking.without(Part(ratio.start(), ratio.end()))
    before, behind = asking.around(found)
    more = Part(behind.end, behind.end)
    if by := asking.search(_BY, behind):
        behind, more = asking.around(by, behind)
    materials, unread = materials_in(asking.reading, behind)
    if not materials:
        return asking.refusal("how much gold of which fineness: for example 10 g of 14 kt gold")
    asked = tuple(one for part in (before, more) if part and (one := _parting(asking, part)))
    if more and not _parting(asking, more):
        return asking.refusal("with what: for example silver, or sterling")
    metals = tuple(metal for one in asked for metal in metals_in(one.what))
    return Question(
        Kind.INQUART, asking.text, asking.span, asked, materials, metals, amounts, unread=unread
    )


def _parting(asking: Asking, part: Part) -> Portion | None:
    """What is to be melted in: silver, or something that is named for it or said to hold it."""
    reader = ThingReader(asking.reading, None)
    portion = reader.portion(part.start, part.end)
    if not metals_in(portion.what) and alloy_named(portion.what) is None:
        return None
    share = next((one.amount for one in reader.compositions if one.metal == "silver"), None)
    return replace(portion, strength=portion.strength or share)


_LENGTHS = frozenset({Dimension.LENGTH})
_AREAS = frozenset({Dimension.AREA})


def plating(asking: Asking) -> Read:
    """`gold in 12 cm2 plated 2.5 micron`."""
    thick = next(amounts_in(asking.reading, asking.whole, _LENGTHS), None)
    area = next(amounts_in(asking.reading, asking.whole, _AREAS), None)
    plated = re.search(r"\bplat(?:ed|ing)\b", asking.words(asking.whole), re.I)
    if not plated and (thick is None or area is None):
        return None
    metals = metals_in(asking.words(asking.whole))
    missing = []
    if thick is None:
        missing.append("how thick the plating is: for example 2.5 micron")
    if area is None:
        missing.append("how large the plated face is: for example 12 cm2")
    if not metals:
        missing.append("which metal was plated: for example gold")
    if missing or thick is None or area is None:
        return asking.refusal(*missing)
    amounts = (("thickness", thick), ("area", area))
    return Question(Kind.PLATING, asking.text, asking.span, metals=metals[:1], amounts=amounts)


_FILLED = re.compile(r"(?<!\w)(?:gold[- ]?filled|rolled\s+gold|GF|filled)(?!\w)")
_PART_OF = re.compile(r"(?<![\d/.])1\s?/\s?(\d{1,3})(?![\d/])")
_FRACTIONS = frozenset({Dimension.FRACTION})


def filled(asking: Asking) -> Read:
    """`gold in 100 g of 1/20 12 kt gold filled`."""
    part = asking.search(_PART_OF)
    if part is None and (labels_of(asking.reading, asking.whole) or not asking.search(_FILLED)):
        return None
    if part is None:
        return asking.refusal("the mark: for example 1/20 12 kt")
    whole = amount_at(asking.reading, Part(part.start(1), part.end(1)))
    asking.without(Part(part.start(), part.end()))
    karat = next(amounts_in(asking.reading, asking.whole, _FRACTIONS), None)
    weight = next(amounts_in(asking.reading, asking.whole, _MASSES), None)
    missing = []
    if karat is None:
        missing.append("the fineness of its gold: for example 1/20 12 kt")
    if weight is None:
        missing.append("how much there is of it: for example 100 g")
    if missing or karat is None or weight is None or whole is None:
        return asking.refusal(*missing)
    amounts = (("one part in", whole), ("fineness", karat), ("weight", weight))
    return Question(Kind.FILLED, asking.text, asking.span, metals=("gold",), amounts=amounts)


_CURRENTS = frozenset({Dimension.CURRENT})
_TIMES = frozenset({Dimension.TIME})


def cell(asking: Asking) -> Read:
    """`silver from a cell at 5 A for 3 h`."""
    current = next(amounts_in(asking.reading, asking.whole, _CURRENTS), None)
    if current is None:
        return None
    time = next(amounts_in(asking.reading, asking.whole, _TIMES), None)
    metals = metals_in(asking.words(asking.whole))
    missing = []
    if time is None:
        missing.append("for how long: for example 3 h")
    if not metals:
        missing.append("which metal the cell carries over: for example silver")
    if missing or time is None:
        return asking.refusal(*missing)
    amounts = (("current", current), ("time", time))
    return Question(Kind.CELL, asking.text, asking.span, metals=metals[:1], amounts=amounts)


_INTO_UNIT = re.compile(r"(?<!\S)(?:in|into|to|as)\s+(?=[^\W\d])", re.I)


def ounces(asking: Asking) -> Read:
    """`2 ozt in g`, `how many grams are in 2 troy ounces`."""
    text, whole = asking.reading.text, asking.whole
    place = next(iter(_INTO_UNIT.finditer(text, whole.start, whole.end)), None)
    weight = next(amounts_in(asking.reading, whole, _MASSES), None) or one_at(asking.reading, whole)
    if weight is None:
        return None
    before, behind = Part(whole.start, weight.span.start), Part(weight.span.end, whole.end)
    unit = unit_at(text, whole.start, before.end) if before else None
    if unit is None and place is not None and place.start() >= weight.span.end:
        unit = unit_at(text, place.end(), whole.end)
        behind = Part(weight.span.end, place.start())
    if unit is None or unit[0].dimension is not Dimension.MASS:
        return None
    metals = metals_in(asking.words(behind))
    return Question(
        Kind.OUNCES, asking.text, asking.span, metals=metals, amounts=(("weight", weight),),
        unit=unit[0].name,
    )  # fmt: skip
