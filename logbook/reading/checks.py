"""Readings that a careful reader would ask about: which ounce, which per cent, a solid by volume.

Each is reported with both readings and the one that was used; none is guessed silently.
"""

from __future__ import annotations

from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.book import Scale
from logbook.model.entry import Portion
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.reading.vocabulary import metal_pattern
from logbook.reference import reagents, vocabularies
from logbook.units import units_by_word

_LIQUIDS = vocabularies()["liquid"] | {"electrolyte"}


def said_twice(
    portion: Portion, reading: Reading, remark: tuple[int, int], scale: Scale | None
) -> Portion | None:
    """A portion whose amount is said in parentheses, or said again; None for a mere remark."""
    start, end = remark
    reader = amount_reader(reading.customs.decimal_comma)
    blanked, reading.text = reading.text, reading.source.text
    before, broken = len(reading.findings), reading.broken
    found = reader.read(reading, start, end, scale)
    reading.text = blanked
    first = portion.amount
    if found is None or found[1] != end or not found[0].known:
        del reading.findings[before:]
        reading.broken = broken
        return None
    again = found[0]
    if first is None:  # "hydrochloric acid (200 mL)"
        weighed = again.dimension in {Dimension.MASS, Dimension.VOLUME}
        return replace(portion, amount=again) if weighed and portion.share is None else None
    if again.dimension is not first.dimension:
        both = {first.dimension, again.dimension}
        if both == {Dimension.MASS, Dimension.VOLUME} or first.dimension is Dimension.COUNT:
            return replace(portion, second=again)
        return None
    return replace(portion, amount=_settled(first, again, reading))


def _settled(first: Amount, again: Amount, reading: Reading) -> Amount:
    """One amount from two ways of saying it; the second settles which ounce was meant."""
    if first.base_value is None or again.base_value is None:
        return again
    choices = [first]
    if first.unit == "oz":
        choices.append(as_troy(first))
    fitting = [c for c in choices if _agree(c, again)]
    if not fitting:
        reading.doubt(
            "amounts-differ",
            min(first.span.start, again.span.start),  # the parentheses may stand before
            max(first.span.end, again.span.end),
            "the same amount is said twice, and the two differ",
            f"{again.span.text} was used",
            "correct one of the two",
        )
        return replace(again, also=(first,))
    best = min(fitting, key=lambda c: abs((c.base_value or 0.0) - (again.base_value or 0.0)))
    finer = min((again, best), key=lambda a: a.base_u if a.base_u is not None else float("inf"))
    other = best if finer is again else again
    return replace(finer, also=(other,), note=best.note)


def _agree(first: Amount, again: Amount) -> bool:
    one, two = first.base_value or 0.0, again.base_value or 0.0
    doubt = (first.base_u or 0.0) + (again.base_u or 0.0)
    return abs(one - two) <= max(3 * doubt, 0.005 * two)


def as_troy(amount: Amount) -> Amount:
    """An amount in ounces read as troy ounces."""
    unit = units_by_word()["ozt"]
    ratio = unit.factor / units_by_word()["oz"].factor
    assert amount.base_value is not None and amount.value is not None
    u = None if amount.base_u is None else amount.base_u * ratio
    base = amount.value * unit.numerator / unit.denominator
    return replace(amount, unit="ozt", base_value=base, base_u=u, note="read as troy ounces")


def ounces_checked(portion: Portion, reading: Reading, precious: bool) -> Portion:
    """An `oz` of a precious metal has two readings: both are reported, troy is used."""
    amount = portion.amount
    if amount is None or amount.unit != "oz" or amount.also or amount.base_value is None:
        return portion
    if not precious and not metal_pattern().search(portion.what):
        return portion
    troy = as_troy(amount)
    reading.doubt(
        "ounce-two-readings",
        amount.span.start,
        amount.span.end,
        "an ounce of a precious metal has two readings",
        f"troy ounces were used, {troy.base_value:.5g} g; "
        f"avoirdupois ounces would be {amount.base_value:.5g} g",
        "write ozt, or the grams in parentheses",
    )
    return replace(portion, amount=troy)


def solids_checked(portion: Portion, reading: Reading) -> None:
    """A volume of a solid is not a mass: it is reported and never converted."""
    amount = portion.amount
    if amount is None or amount.dimension is not Dimension.VOLUME or portion.second is not None:
        return
    reagent = reagents().get(portion.reagent)
    if reagent is None or reagent.state != "solid" or portion.strength is not None:
        return
    if not _LIQUIDS.isdisjoint(portion.what.lower().split()):
        return
    reading.doubt(
        "volume-of-solid",
        amount.span.start,
        amount.span.end,
        f"a volume of {reagent.name}, a solid, is not a mass",
        "a volume; its mass is not known",
        "weigh it, and write grams",
    )


def strengths_checked(portion: Portion, reading: Reading) -> None:
    """`35 vol %` of peroxide has two readings a factor of three apart."""
    strength = portion.strength
    if strength is None or strength.unit != "vol %" or strength.value is None:
        return
    if "peroxide" in (portion.reagent or portion.what):
        # One volume strength is 1 L of oxygen at 0 °C and 101.325 kPa from 1 L of solution:
        # 2 × 34.01 g / 22.414 L = 3.035 g peroxide a litre, from 2 H2O2 -> 2 H2O + O2.
        grams = strength.value * 3.035
        other = f"{strength.value:g} volumes of oxygen, about {grams / 10:.2g} % by mass"
    else:
        other = f"{strength.value:g} % by volume"
    reading.doubt(
        "strength-two-readings",
        strength.span.start,
        strength.span.end,
        f'"{strength.span.text}" has two readings',
        f"{strength.value:g} % by mass was used; the other reading is {other}",
        "write % for per cent by mass, or vol for volumes of oxygen",
    )
