"""What a supply is called, and in which strength: the keys by which all of it is counted.

Nothing here knows what was bought or used, nor what anything cost.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.reference import metal_words, metals, reagents

Strength = tuple[Dimension, float] | None
FREE = frozenset({"water", "tap water", "rain water"})
QUANTITIES = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})


def dimension_unit(dimension: Dimension) -> str:
    """The base unit in which a supply is counted."""
    return {Dimension.MASS: "g", Dimension.VOLUME: "L"}.get(dimension, "1")


def supply_name(portion: Portion) -> str:
    """The name under which a supply is counted: one for filter and filters.

    A bar, a wire and a pipe of one metal are one supply; a powder is another.

    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/supplies.md", ""), 0, 0)
    >>> [supply_name(Portion(place, what=what)) for what in ("copper pipe", "copper powder")]
    ['copper', 'copper powder']
    """
    metal = bulk_metal(portion)
    if metal and not _POWDER.search((portion.reagent or portion.what).lower()):
        return metal
    return portion.reagent or portion.what.lower().removesuffix("s")


def bulk_metal(portion: Portion) -> str:
    """The metal that a supply is, and nothing else: a reagent of one metal, or its bare name.

    What is called after two metals, or as something made of a metal, is no such supply.
    """
    reagent = reagents().get(portion.reagent)
    if reagent is not None:
        return _metals_by_symbol().get(reagent.formula, "")
    words = _WORD.findall(portion.what.lower())
    named = [metal_words()[word] for word in words if word in metal_words()]
    shapes = [word for word in words if word not in metal_words()]
    return named[0] if len(named) == 1 and all(map(_SHAPE.fullmatch, shapes)) else ""


@cache
def _metals_by_symbol() -> Mapping[str, str]:
    return {metal.symbol: metal.name for metal in metals().values()}


_WORD = re.compile(r"[^\W\d_]+")
_POWDER = re.compile(r"\b(powder|dust|sponge|fines)\b")
_SHAPE = re.compile(
    r"(old|new|clean|bright|pure|scrap|bare|small|thin|thick|fresh|more|some)"
    r"|(bar|wire|pipe|tube|sheet|strip|foil|plate|rod|shot|granule|pellet|turning|shaving"
    r"|piece|bit|chip|lump|powder|dust|metal|sponge|clipping|filing|bus)s?"
)
"""Words that leave a supply of one metal what it is."""


def strength_of(portion: Portion) -> Strength:
    """The strength of a supply, as a key: 68 % and 0.68 g/g are one."""
    strength = portion.strength
    if strength is None or strength.base_value is None:
        return None
    return strength.dimension, round(strength.base_value, 6)


def strength_in_words(portion: Portion) -> str:
    """The strength of a supply in the writer's words; empty where none is written."""
    return portion.strength.span.text if portion.strength is not None else ""


def supply_in_words(portion: Portion) -> str:
    """A supply with its strength, for a sentence."""
    name = portion.reagent or portion.what
    return f"{name} {strength_in_words(portion)}".strip()


def name_in_words(portion: Portion) -> str:
    """The name of a supply for a heading: its metal, its reagent, or the writer's own word."""
    name = supply_name(portion)
    return name if name == bulk_metal(portion) else portion.reagent or portion.what.lower()
