"""Questions about the metal in a piece: its density, its mark, its plating, what parting asks for.

A density or a mark is no assay, and each answer says so with its notes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import (
    charge,
    in_words,
    limits,
    only_metal,
    stated,
)
from logbook.calculation.figure import Figure
from logbook.calculation.results.answers import Answer
from logbook.calculation.sums import product, ratio
from logbook.chemistry.density import piece_density
from logbook.chemistry.fineness import Fineness, by_partners, fineness_range, looks_alike
from logbook.chemistry.fineness_sources import (
    documents_of_pair,
    documents_of_plating,
    documents_of_ratio,
)
from logbook.chemistry.inquart import to_ratio, usual_ratio
from logbook.chemistry.marks import WORN, plated
from logbook.chemistry.named_alloys import alloy_named
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.written import limits_of
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Portion
from logbook.model.question import Question
from logbook.reference import metals

_VOLUMES = "how the volumes of two metals add: "


def by_weighings(question: Question, known: Known) -> Answer:
    """Fineness from what a piece weighs in air and in water."""
    in_air, in_water = _reading(question, "in air"), _reading(question, "in water")
    said = question.amount("temperature")
    warmth = Uncertain.reading(said) if said is not None else None
    piece = piece_density(in_air, in_water, warmth)
    terms = tuple(
        Figure(f"weight {part}", "g", value, rests_on=(amount.span,))
        for part, value in (("in air", in_air), ("in water", in_water))
        if (amount := question.amount(part)) is not None
    )
    density = Figure(
        "density",
        "g/cm3",
        piece.value,
        "weight in air × (water − air) / (weight in air − weight in water) + air",
        terms,
    )
    return _of_density(question, density, piece.value, piece.notes)


def by_density(question: Question, known: Known) -> Answer:
    """Fineness from a density that is known."""
    amount = question.amount("density")
    value = Uncertain.reading(amount) if amount is not None else None
    if value is None:
        raise MissingError("the density is not said in figures")
    value = value.times(0.001)  # g/L as read
    return _of_density(question, Figure("density", "g/cm3", value, "as the question says"), value)


def _reading(question: Question, part: str) -> Uncertain:
    amount = question.amount(part)
    value = Uncertain.reading(amount) if amount is not None else None
    if value is None:
        raise MissingError(f"the weight {part} is not said in figures")
    return value


def _of_density(
    question: Question, density: Figure, value: Uncertain, notes: tuple[str, ...] = ()
) -> Answer:
    metal, partners = _metal_and_partners(question.metals)
    if metal is None:
        return Answer(
            question.text,
            question.kind.value,
            ("The piece has a density of ", density, "."),
            (density,),
            notes=(*notes, "name two metals for a fineness: for example gold and copper"),
        )
    found = by_partners(metal, value, partners)
    between = fineness_range(found)
    figures = [_fineness(one, density) for one in found]
    alike = looks_alike(metal, value.value)
    sentence: list[str | Figure] = []
    if len(figures) == 1:
        with_one = f" of {metal}, if all the rest is {found[0].partner}."
        sentence = ["A density of ", density, " allows ", figures[0], with_one]
    else:
        why = f"what {metal} is alloyed with is not said"
        whole = limits(metal, "g/g", between, why)
        partner = " or ".join(one.partner for one in found)
        sentence = [
            "A density of ", density, " allows ", whole,
            f" of {metal}, with {partner} as the rest.",
        ]  # fmt: skip
    said = [note for one in found for note in one.notes]
    return Answer(
        question.text,
        question.kind.value,
        tuple(sentence),
        tuple(figures),
        tuple(
            f"{_VOLUMES}{document}"
            for document in dict.fromkeys(
                document for one in found for document in documents_of_pair(metal, one.partner)
            )
        ),
        notes=tuple(dict.fromkeys((*alike, *said, *notes))),
    )


def _metal_and_partners(named: Iterable[str]) -> tuple[str | None, tuple[str, ...]]:
    """Of the metals of a question the one that is asked about, and its partners."""
    found = tuple(named)
    if not found:
        return None, ()
    precious = [metal for metal in found if metals()[metal].precious]
    metal = precious[0] if precious else found[0]
    return metal, tuple(other for other in found if other != metal)


def _fineness(one: Fineness, density: Figure) -> Figure:
    name = f"{one.metal} with {one.partner}"
    if one.value is not None:
        return Figure(name, "g/g", one.value, "from the density", (density,), notes=one.notes)
    between = one.limits
    low, high = (between.low, between.high) if between is not None else (None, None)
    return Figure(
        name, "g/g", None, "from the density", (density,), why=one.why, low=low, high=high
    )


def silver_to_inquart(question: Question, known: Known) -> Answer:
    """Silver, or an alloy of it, that it takes to come to the ratio of parting.

    Equation: add = (R m_Au − m_Ag) / w [g], R silver to gold by weight, w the silver in what is
    melted in [g/g]. Source: see `to_ratio`.
    """
    of = charge(question.of, known.figures)
    gold = of.metals.get("gold")
    if gold is None or gold.value is None:
        raise MissingError('how much of it is gold is not said: for example "10 g of 14 kt gold"')
    silver = of.metals.get("silver")
    held = silver.value.value if silver is not None and silver.value is not None else 0.0
    said = question.amount("ratio")
    ratios = Range.exactly(said.base_value) if said and said.base_value else usual_ratio()
    found = [
        to_ratio(Uncertain(1.0), gold.value.times(1 / whole), Uncertain(held / whole), times)
        for whole in (_whole(gold, held),)
        for times in (ratios.low, ratios.high or ratios.low)
    ]
    needs = [one.add.times(_whole(gold, held)) for one in found]
    terms = (gold, *((silver,) if silver is not None else ()))
    name, share, sources = _melted_in(question.asked)
    add = _divided(name, needs, share, ratios, terms)
    times = f"{ratios.low:g}" if ratios.exact else f"{ratios.low:g} to {ratios.high:g}"
    sentence = (
        f"To come to {times} parts of silver to one of gold {in_words(question.of)} would take ",
        add,
        f" of {name}.",
    )
    notes = [note for one in found for note in one.notes]
    if of.rest is not None and silver is None:
        notes.append("silver that is in it already is not said, and would be taken off")
    notes += [note for figure in terms for note in figure.notes]
    return Answer(
        question.text,
        question.kind.value,
        sentence,
        (add,),
        (*documents_of_ratio(), *of.sources, *sources),
        notes=tuple(dict.fromkeys(notes)),
    )


def _melted_in(asked: Sequence[Portion]) -> tuple[str, Range, tuple[str, ...]]:
    """What is melted in, which part of it is silver [g/g], and who says so.

    Raises:
        MissingError: where it is not silver, or nothing tells how much silver it holds.
    """
    alloys = [(one, alloy) for one in asked if (alloy := alloy_named(one.what)) is not None]
    if alloys:
        portion, alloy = alloys[-1]
        if "silver" not in alloy.parts or "gold" in alloy.parts:
            raise MissingError(f"{portion.what} is no alloy of silver that parting knows")
        source = f"{alloy.name}: {alloy.source} ({alloy.standing})"
        return portion.what, alloy.parts["silver"], (source,)
    others = [one.what for one in asked if only_metal(one.what, one.reagent) != "silver"]
    if others:
        raise MissingError(f"this is worked out for silver; what {others[-1]} does is not")
    stated_of = [one.strength for one in asked if one.strength is not None]
    if not stated_of:
        return "silver", Range.exactly(1.0), ()
    share = limits_of(stated_of[-1])
    if not 0.0 < share.low <= 1.0 or stated_of[-1].dimension is not Dimension.FRACTION:
        raise MissingError(f"{stated_of[-1].span.text} is no share of silver")
    return f"silver {' '.join(stated_of[-1].span.text.split())}", share, ()


def _divided(
    name: str, needs: Sequence[Uncertain], share: Range, ratios: Range, terms: tuple[Figure, ...]
) -> Figure:
    """What the silver that lacks stands in: a value where ratio and share are each one figure."""
    words = "gold × ratio − silver"
    words = words if share.low == 1.0 else f"({words}) / silver in {name}"
    if ratios.exact and share.exact:
        return Figure(f"{name} to add", "g", needs[0].times(1.0 / share.low), words, terms)
    why = f"{ratios.low:g} to {ratios.high:g} parts of silver to one of gold are in use"
    why = f"how much silver {name} holds is known within limits" if ratios.exact else why
    ends = [need.value / part for need in needs for part in (share.low, share.high or 1.0)]
    return Figure(f"{name} to add", "g", None, words, terms, why=why, low=min(ends), high=max(ends))


def _whole(gold: Figure, silver: float) -> float:
    """The gold and silver of a piece [g]: what the ratio is reckoned over."""
    assert gold.value is not None
    return gold.value.value + silver


def in_plating(question: Question, known: Known) -> Answer:
    """Metal in a plated layer."""
    thick, area = _value(question, "thickness"), _value(question, "area")
    metal = question.metals[0]
    layer = plated(metal, thick.times(1e6), area.times(1e4))
    figure = Figure(metal, "g", layer, "thickness × area × density")
    return Answer(
        question.text,
        question.kind.value,
        ("Such a layer holds ", figure, f" of {metal}, {WORN}."),
        (figure,),
        documents_of_plating(metal),
        notes=("a plated layer is seldom as thick as it is said to be, nor all over alike",),
    )


def in_filled(question: Question, known: Known) -> Answer:
    """Gold in filled or rolled metal, as its mark claims.

    Equation: m = M (1/n) w [g], n of the mark, w the fineness of the layer. Source: 16 CFR 23.3.
    """
    weight = stated("weight", "g", _amount(question, "weight"))
    fine = stated("fineness of the layer", "g/g", _amount(question, "fineness"))
    parts = _value(question, "one part in")
    if parts.value < 1:
        raise MissingError("a layer would be more than the piece")
    layer = ratio("layer", "g", weight, Figure("parts", "1", parts), "weight / parts")
    gold = product("gold", "g", layer, fine)
    return Answer(
        question.text,
        question.kind.value,
        ("By its mark it holds ", gold, f" of gold, {WORN}."),
        (gold,),
        ("what the mark of filled gold says: 16 CFR 23.3",),
        notes=("a mark is a claim and no assay",),
    )


def _amount(question: Question, part: str) -> Amount:
    amount = question.amount(part)
    if amount is None:
        raise MissingError(f"the {part} is not said")
    return amount


def _value(question: Question, part: str) -> Uncertain:
    value = stated(part, "", _amount(question, part)).value
    if value is None:
        raise MissingError(f"the {part} is not said in one figure")
    return value
