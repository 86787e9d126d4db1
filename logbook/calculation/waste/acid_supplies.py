"""What the supplies of a stage bring of acid and of base, and which of them cannot be counted.

Upper limits alone matter here: None is no limit, and whatever is not known has none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache

from logbook.calculation.cautions.signs import LIQUID
from logbook.calculation.results import Role, StageChemistry, StageKey, Substance, Thing
from logbook.calculation.supplies.uses import SupplyUse
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.neutralising import acidity
from logbook.chemistry.ranges import Range
from logbook.chemistry.ranges import added as sum_of
from logbook.chemistry.waste_data import waste_data
from logbook.model.amount import Dimension
from logbook.reference import reagents

FROM_OUTSIDE = "a liquid that came from outside the book: what it held is not written"

NAMELESS = "what came from outside under a label alone: no line tells what it was"


def uncounted(
    uses: Iterable[SupplyUse], chemistry: Mapping[StageKey, StageChemistry]
) -> Mapping[StageKey, tuple[str, ...]]:
    """What was added, stage by stage, that may be acid or take up base, and nobody can count."""
    found: dict[StageKey, dict[str, None]] = {}
    for use in uses:
        stage = chemistry.get(use.stage)
        counted = {one.formula for one in stage.added} if stage is not None else set()
        if _is_open(use, counted):
            found.setdefault(use.stage, {})[use.portion.reagent or use.portion.what] = None
    return {stage: tuple(words) for stage, words in found.items()}


def _is_open(use: SupplyUse, counted: set[str]) -> bool:
    """Whether a supply may bring acid that no substance of its stage stands for."""
    known = reagents().get(use.portion.reagent)
    if known is None:
        return use.dimension is not Dimension.COUNT
    brought = {part: acidity(part) for part in known.formula.split(" + ") if part}
    if brought and None not in brought.values():
        return any(each and each > 0 and part not in counted for part, each in brought.items())
    return not suspect_classes().isdisjoint(known.classes)


@cache
def suspect_classes() -> frozenset[str]:
    """The classes of reagents that may bring acid, or a salt that takes up base."""
    return frozenset(waste_data()["suspect"]["classes"])


def least(one: float | None, other: float | None) -> float | None:
    """The lower of two upper limits; None is no limit."""
    known = [limit for limit in (one, other) if limit is not None]
    return min(known, default=None)


def most_of(limits: Iterable[float | None]) -> float | None:
    """The sum of upper limits; None as soon as one of them is none."""
    found = list(limits)
    return None if None in found else sum(limit for limit in found if limit is not None)


def uncounted_words(supply: str) -> str:
    """Why there is no limit where such a supply was added."""
    return f"what {supply} holds is not in the data"


def times(part: float, limit: float | None) -> float | None:
    """A part of an upper limit."""
    return None if limit is None else part * limit


def grams_of(added: Iterable[Substance], formula: str) -> float | None:
    """The most of a substance that was added [g]."""
    return most_of(one.grams.high for one in added if one.formula == formula)


def amount_of(found: Iterable[Substance], formula: str) -> Range:
    """How much of a substance there is among some [g]."""
    return sum_of(one.grams for one in found if one.formula == formula)


def acid_of(added: Iterable[Substance]) -> float | None:
    """Moles of base that what was added takes at most."""
    moles = ((one, acidity(one.formula) or 0) for one in added)
    return most_of(
        times(each / molar_mass(one.formula), one.grams.high) for one, each in moles if each > 0
    )


def base_of(added: Iterable[Substance]) -> Range:
    """Moles of base that was added: the sure ones, and all that there may be."""
    found = [one for one in added if (acidity(one.formula) or 0) < 0]
    each = [-(acidity(one.formula) or 0) / molar_mass(one.formula) for one in found]
    sure = sum(one.grams.low * mole for one, mole in zip(found, each, strict=True))
    return Range(
        sure, most_of(times(m, one.grams.high) for one, m in zip(found, each, strict=True))
    )


def limited(grams: Range, most: float | None, *, gone: bool = False) -> Range:
    """A range that is no more than was put in, and may be nothing where acid may have gone."""
    high = least(grams.high, most)
    low = 0.0 if gone else grams.low
    return Range(low if high is None else min(low, high), high)


def within_takes(name: str, grams: Range, takes: float | None, doubts: Sequence[str]) -> Range:
    """An acid that is there takes base: no more of it is left than base is taken."""
    if takes is None or doubts:
        return grams
    return limited(grams, takes * molar_mass(name) / (acidity(name) or 1))


def outside_words(thing: Thing) -> str:
    """Why what came from outside cannot be counted; empty where it brings no acid."""
    if thing.role is Role.ADDITION:
        return ""
    return FROM_OUTSIDE if is_liquid(thing) else NAMELESS if _is_nameless(thing) else ""


def _is_nameless(thing: Thing) -> bool:
    """Whether a thing has a label, and no line tells what it is or what metal it holds."""
    known = any(content.known for content in thing.contents.values())
    return thing.what.strip("[] ") in ("", thing.label) and not known


def is_liquid(thing: Thing) -> bool:
    """Whether a thing was measured by volume, or is called a liquid."""
    return thing.volume.known or LIQUID.search(thing.what.lower()) is not None
