"""What a question names, put together as the things of one stage: metals, supplies, what is open.

A supply without an amount is there without a limit, and one of which the data have no formula is
named. Nothing that was named is passed over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.answers.given_off import imagined
from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import Charge, charge, only_metal, stated
from logbook.calculation.bench.demand import DISSOLVE
from logbook.calculation.bench.substances import substances_of, within
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageChemistry, StageKey, Substance
from logbook.calculation.sums import add_up, zero
from logbook.calculation.supplies.known import SupplyList
from logbook.calculation.supplies.names import supply_in_words
from logbook.calculation.supplies.uses import SupplyUse
from logbook.chemistry.reactions import Reaction, reactions_in
from logbook.chemistry.releases import helpers
from logbook.chemistry.solutions import substances
from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.model.question import Material, Question
from logbook.reference import reagents

NOWHERE = StageKey("", 0)
NO_BOOK = SupplyList()
QUANTITIES = frozenset({Dimension.MASS, Dimension.VOLUME})


@dataclass(frozen=True, slots=True)
class Mixture:
    """What a question puts together.

    `unknown` are the supplies of whose substance the data know nothing; `metal_alone` says that
    no acid and no base is named for the metal.
    """

    chemistry: StageChemistry
    unknown: tuple[str, ...]
    metal_alone: bool


def mixture_of(question: Question, known: Known) -> Mixture:
    """Everything that a question names, in one vessel.

    Raises:
        MissingError: where a weight of metal, or what a thing holds, is not said.
    """
    materials = (*question.of, *(Material(portion) for portion in question.asked))
    metal = [one for one in materials if is_metal(one.portion)]
    supplies = [one.portion for one in materials if not is_metal(one.portion)]
    of = _with_metals(charge([one for one in metal if _is_weighed(one)], known.figures), metal)
    pure = substances_of(map(_use, supplies), NO_BOOK)
    held = (*pure, *_imagined(supplies, pure))
    chemistry = StageChemistry(
        NOWHERE,
        of.metals,
        of.rest or zero("the rest", "g"),
        held,
        held,
        tuple(_possible(of, frozenset(one.formula for one in held))),
    )
    return Mixture(
        chemistry,
        tuple(supply_in_words(one) for one in supplies if not substances(one.reagent)),
        bool(metal) and _classes(supplies).isdisjoint({"acid", "base"}),
    )


def is_metal(portion: Portion) -> bool:
    """Whether a thing is a metal, or holds some, rather than a substance of the shelf."""
    return not portion.reagent or only_metal(portion.what, portion.reagent) is not None


def _is_weighed(material: Material) -> bool:
    return material.portion.amount is not None or bool(material.portion.labels)


def _with_metals(of: Charge, metal: Iterable[Material]) -> Charge:
    """A charge with the metals of which no weight is said: there is no limit to them."""
    found = dict(of.metals)
    for portion in (one.portion for one in metal if not _is_weighed(one)):
        name = only_metal(portion.what, portion.reagent) or portion.what
        why = f"how much {name} there is, is not said"
        open_end = Figure(name, "g", why=why, low=0.0)
        found[name] = add_up(name, "g", [found[name], open_end]) if name in found else open_end
    return replace(of, metals=found)


def _use(portion: Portion) -> SupplyUse:
    words, amount = supply_in_words(portion), portion.amount
    if amount is None or amount.dimension not in QUANTITIES:
        why = f"how much {words} there is, is not said"
        return SupplyUse(NOWHERE, portion, not_known(words, "g", why), None, date.min)
    unit = "g" if amount.dimension is Dimension.MASS else "L"
    return SupplyUse(NOWHERE, portion, stated(words, unit, amount), amount.dimension, date.min)


def _classes(supplies: Iterable[Portion]) -> frozenset[str]:
    known = (reagents().get(one.reagent) for one in supplies)
    return frozenset(name for one in known if one is not None for name in one.classes)


def _imagined(supplies: Iterable[Portion], pure: Iterable[Substance]) -> Iterator[Substance]:
    """The acid and the base that may be there without a formula, or without a word.

    Where neither is named both count; a carbonate names none, since it waits for an acid.
    """
    portions = tuple(supplies)
    formulas = {one.formula for one in pure}
    named = _classes(one for one in portions if "carbonate" not in _classes([one]))
    nothing_said = named.isdisjoint({"acid", "base"})
    for kind in ("acid", "base"):
        of_it = [one for one in portions if kind in _classes([one])]
        without = any(formulas.isdisjoint(substances(one.reagent)) for one in of_it)
        lacks = bool(of_it) and formulas.isdisjoint(helpers(kind))
        if nothing_said or without or lacks or any(_may_be_either(one) for one in portions):
            yield imagined(kind)


def _may_be_either(portion: Portion) -> bool:
    """Whether nothing is known of a supply: neither its formula nor whether it is an acid."""
    return not substances(portion.reagent) and _classes([portion]).isdisjoint({"acid", "base"})


def _possible(of: Charge, formulas: frozenset[str]) -> Iterator[Reaction]:
    """The reactions for which everything is there, or may be in what is not told of the charge."""
    open_rest = of.rest is not None and within(of.rest).high != 0
    for reaction in reactions_in((DISSOLVE,)):
        if formulas.issuperset(reaction.asks):
            there = reaction.metal in of.metals if reaction.metal else reaction.basis in formulas
            if there or (open_rest and reaction.metal and reaction.work == DISSOLVE):
                yield reaction
