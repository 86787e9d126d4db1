"""What a question takes for granted, as figures: its weights, and the metals in what it names.

A weight in a question is a premise: it has no doubt but the one that was written with it. What
an alloy's name or a stated share leaves open is kept as a rest of which nothing is known.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, Thing
from logbook.calculation.sums import add_up, difference, product
from logbook.chemistry.named_alloys import NamedAlloy, alloy_named
from logbook.chemistry.ranges import MissingError, Range
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Composition
from logbook.model.question import Material
from logbook.reference import metal_words, metals, reagents

PREMISE = "as the question says"
REST = "what else it is made of is not said"


@dataclass(frozen=True, slots=True)
class Charge:
    """What is worked on: grams of each metal, and of what nothing is said."""

    metals: dict[str, Figure]
    rest: Figure | None
    words: str
    sources: tuple[str, ...]


def stated(name: str, unit: str, amount: Amount) -> Figure:
    """An amount of a question in its base unit, with a doubt only where one was written."""
    if amount.base_value is None:
        why = amount.note or f'"{amount.span.text}" names limits only'
        return Figure(name, unit, why=why, low=amount.low, high=amount.high)
    said = amount.u_basis.startswith(("stated", "about"))
    u = (amount.base_u or 0.0) if said else 0.0
    value = Uncertain.of(amount.base_value, u, amount)
    notes = (amount.note,) if amount.note else ()
    return Figure(name, unit, value, PREMISE, notes=notes)


def limits(name: str, unit: str, between: Range, why: str, formula: str = "") -> Figure:
    """A figure from limits; a value where both are one."""
    if between.exact:
        return Figure(name, unit, Uncertain(between.low), formula)
    return Figure(name, unit, formula=formula, why=why, low=between.low, high=between.high)


def charge(materials: Sequence[Material], book: BookFigures | None) -> Charge:
    """The metals in what a question names.

    Raises:
        MissingError: where a weight, or what the thing holds, is not said.
    """
    parts: dict[str, list[Figure]] = {}
    rests: list[Figure] = []
    sources: list[str] = []
    for material in materials:
        held, rest, source = _held(material, book)
        for metal, figure in held.items():
            parts.setdefault(metal, []).append(figure)
        rests += [rest] if rest is not None else []
        sources += [source] if source else []
    together = {metal: _together(metal, found) for metal, found in parts.items()}
    rest = _together("the rest", rests) if rests else None
    return Charge(together, rest, in_words(materials), tuple(dict.fromkeys(sources)))


def _together(name: str, figures: Sequence[Figure]) -> Figure:
    return figures[0] if len(figures) == 1 else add_up(name, "g", figures)


def in_words(materials: Iterable[Material]) -> str:
    """What is worked on in the question's own words."""
    found = []
    for material in materials:
        words = " ".join(material.portion.span.text.split())
        behind = [one for one in material.holds if one.span.start >= material.portion.span.end]
        said = " and ".join(" ".join(one.span.text.split()) for one in behind)
        found.append(f"{words}, {said} of it," if said else words)
    return " and ".join(found)


Held = tuple[dict[str, Figure], Figure | None, str]


def _held(material: Material, book: BookFigures | None) -> Held:
    portion = material.portion
    words = portion.what or portion.span.text
    if portion.amount is None and portion.labels:
        return _in_jar(portion.labels[0].name, book)
    if portion.amount is None or portion.amount.dimension is not Dimension.MASS:
        raise MissingError(f"how much {words} weighs is not said")
    gross = stated(f"weight of {words}", "g", portion.amount)
    if gross.value is None and not gross.low:
        raise MissingError(f"how much {words} it is, if any: {gross.why}")
    if material.holds:
        return _by_composition(gross, material.holds)
    alloy = alloy_named(portion.what)
    if alloy is not None:
        return _by_name(gross, alloy)
    metal = only_metal(portion.what, portion.reagent)
    if metal is None:
        raise MissingError(f'what {words} holds is not said: write it as "silver 71 %" after it')
    return {metal: replace(gross, name=metal)}, None, ""


def only_metal(what: str, reagent: str) -> str | None:
    """The metal that a thing is, by its name: silver wire, copper bar, and no salt of either."""
    formula = reagents()[reagent].formula if reagent else ""
    by_symbol = {metal.symbol: metal.name for metal in metals().values()}
    if reagent:
        return by_symbol.get(formula)
    words = metal_words()
    named = {words.get(word) or words.get(word.lower()) for word in what.split()} - {None}
    return named.pop() if len(named) == 1 else None


def _by_composition(gross: Figure, holds: Sequence[Composition]) -> Held:
    held = {one.metal: content(gross, one) for one in holds}
    told = add_up("what is told of", "g", list(held.values()))
    rest = difference("the rest", "g", gross, told, f"{gross.name} − {told.name}")
    most = rest.value.value if rest.value is not None else rest.high
    if most is not None and most < -1e-9 * (gross.value.value if gross.value else 1.0):
        raise MissingError("it would hold more metal than it weighs")
    return held, (rest if most is None or most > 0 else None), ""


def content(gross: Figure, said: Composition) -> Figure:
    """The metal in a thing by what is said of it.

    Raises:
        MissingError: where that is no share and no weight.
    """
    amount = said.amount
    if amount.dimension is Dimension.MASS:
        return stated(said.metal, "g", amount)
    if amount.dimension is not Dimension.FRACTION:
        raise MissingError(f"{said.span.text} is no share of a weight")
    share = stated(f"share of {said.metal}", "g/g", amount)
    return product(said.metal, "g", gross, share)


def _by_name(gross: Figure, alloy: NamedAlloy) -> Held:
    held = {}
    for metal, part in alloy.parts.items():
        why = f"{alloy.name} is a name for several alloys"
        share = limits(f"{metal} in {alloy.name}", "g/g", part, why, "by its name")
        held[metal] = product(metal, "g", gross, share)
    return held, None, f"{alloy.name}: {alloy.source} ({alloy.standing})"


def _in_jar(label: str, book: BookFigures | None) -> Held:
    thing = thing_of(label, book)
    if not thing.contents:
        raise MissingError(f"no line tells what [{label}] holds")
    held = dict(thing.contents)
    told = add_up("what is told of", "g", list(held.values()))
    rest = difference("the rest", "g", thing.gross, told)
    unknown = Figure("the rest", "g", why=REST, low=0.0, high=rest.high if rest.high else None)
    known = rest.value is not None and rest.value.value >= 0
    return held, (rest if known else unknown), ""


def thing_of(label: str, book: BookFigures | None) -> Thing:
    """What stands under a label now, or stood there last.

    Raises:
        MissingError: without a book, or where no line gives the label.
    """
    if book is None:
        raise MissingError(f"a book in which [{label}] stands: none was read")
    states = [thing for thing in book.things if thing.label == label]
    if not states:
        raise MissingError(f"no line of the book gives anything under [{label}]")
    open_states = [thing for thing in states if thing.used_by is None]
    return (open_states or states)[-1]
