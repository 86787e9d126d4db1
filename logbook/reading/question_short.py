"""`A for B`: what A would do to B is not said, and follows from the reactions of the data.

An acid for a metal is there to dissolve it wherever it can. Nothing is worked out here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from logbook.chemistry.named_alloys import alloy_named
from logbook.chemistry.reactions import reactions
from logbook.chemistry.solutions import substances
from logbook.model.entry import Portion
from logbook.model.question import Kind, Material, Question
from logbook.reading.asking import Asking, Read
from logbook.reading.question_parts import materials_in, metals_in, supplies_in
from logbook.reference import metals, reagents

_FOR = re.compile(r"(?<!\S)(?:for|on|per)\s+", re.I)
_WORKS = {
    "dissolve": Kind.DISSOLVE,
    "neutralise": Kind.NEUTRALISE,
    "drop": Kind.DROP,
    "cement": Kind.CEMENT,
    "destroy": Kind.DESTROY,
    "convert": Kind.CONVERT,
}
"""What a supply may be there for, in the order in which it is taken to be meant."""


def in_short(asking: Asking) -> Read:
    """`nitric acid 68 % for 100 g silver`, `soda ash for 1 L battery acid`."""
    joint = asking.search(_FOR)
    if joint is None:
        return None
    before, behind = asking.around(joint)
    asked = supplies_in(asking.reading, before)
    materials, unread = materials_in(asking.reading, behind)
    if not asked or not materials:
        return None
    kind = _meant(asked, materials)
    if kind is None:
        return None
    return Question(kind, asking.text, asking.span, asked, materials, unread=unread)


def _meant(asked: Iterable[Portion], materials: Iterable[Material]) -> Kind | None:
    """What some supplies do to what they are for; an acid that does nothing, to dissolve it."""
    supplies = tuple(asked)
    formulas = frozenset(formula for one in supplies for formula in _formulas(one))
    basis = frozenset(formula for one in materials for formula in _worked_on(one))
    for work, kind in _WORKS.items():
        for one in reactions().values():
            worked = one.equation.into if work == "convert" else (one.basis,)
            may = one.work == work and not basis.isdisjoint(worked)
            if may and (
                formulas.issuperset(one.asks)
                if work == "dissolve"
                else not formulas.isdisjoint(one.asks)
            ):
                return kind
    acid = any(one.reagent and "acid" in reagents()[one.reagent].classes for one in supplies)
    return Kind.DISSOLVE if acid else None


def _formulas(portion: Portion) -> Iterator[str]:
    if portion.reagent:
        yield from substances(portion.reagent)
    else:
        yield from _symbols(metals_in(portion.what))


def _worked_on(material: Material) -> Iterator[str]:
    """The metals by their symbols, or the substance, that something is or holds."""
    yield from _formulas(material.portion)
    yield from _symbols(one.metal for one in material.holds)
    alloy = alloy_named(material.portion.what)
    if alloy is not None:
        yield from _symbols(alloy.parts)


def _symbols(names: Iterable[str]) -> Iterator[str]:
    return (metals()[name].symbol for name in names)
