"""What a reaction asks for: acid to dissolve, a reagent to drop or destroy, a metal to cement.

The equations give limits and no recipe: which way a reaction goes nobody knows beforehand, and
the answer says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from logbook.calculation.answers.asked import Asked, supplies_of
from logbook.calculation.answers.free_acid import free_in, what_it_takes
from logbook.calculation.answers.given_off import Poured, WorkGases, freed_in, volume, work_gases
from logbook.calculation.answers.given_off import notes_with as notes_of_gases
from logbook.calculation.answers.known import Known
from logbook.calculation.answers.mixture import NO_BOOK, NOWHERE
from logbook.calculation.answers.premises import (
    Charge,
    charge,
    in_words,
    limits,
    stated,
)
from logbook.calculation.answers.salts import metal_of_salt
from logbook.calculation.answers.waste import base_for
from logbook.calculation.bench.demand import demand, ratio_words
from logbook.calculation.bench.needed import in_supply
from logbook.calculation.bench.substances import Content, content_of, within
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageChemistry, Substance
from logbook.calculation.results.answers import Answer
from logbook.calculation.sums import add_up, zero
from logbook.calculation.supplies.names import supply_in_words
from logbook.calculation.supplies.uses import SupplyUse
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.reactions import Reaction, reactions
from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question
from logbook.reference import reagent_words, reagents

_DO: Mapping[Kind, str] = {
    Kind.DISSOLVE: "dissolve",
    Kind.DROP: "drop",
    Kind.CEMENT: "cement",
    Kind.DESTROY: "destroy",
    Kind.NEUTRALISE: "neutralise",
    Kind.CONVERT: "convert",
}
NO_RECIPE = (
    "this is what the equations use up, and no recipe: what is not pure, what forms on the way "
    "and what escapes change it, and only a test tells when the work is done"
)
_BESIDES: Mapping[Kind, str] = {
    Kind.DROP: "nitric acid that is still there uses up more of it (general chemistry)",
    Kind.CEMENT: "acid that is still free takes more of the metal (general chemistry)",
}


def what_it_asks(question: Question, known: Known) -> Answer:
    """The answer to a question of work on metals: dissolving, dropping, cementing.

    Equation: m = Σ m_i r_i [g], r_i grams asked for a gram of metal i, between the least and
    the most of its reactions; V = m / c [L], c grams in a litre. Source: reactions.toml, and
    the strengths of strengths.toml.
    """
    of = charge(question.of, known.figures)
    asked = tuple(supplies_of(question.asked))
    chemistry = _of_metals(of, asked, _DO[question.kind])
    untouched = _untouched(of, chemistry.reactions)
    if len(untouched) == len(of.metals):
        raise MissingError(_no_reaction(question, asked, untouched))
    notes = [
        f"{metal} asks for none of it: no reaction of the data is one in which it would "
        f"{_DO[question.kind]}"
        for metal in untouched
    ]
    grams = tuple(demand(chemistry, one.formula) for one in asked)
    figures = tuple(_needed(one, most, of) for one, most in zip(asked, grams, strict=True))
    answer = _answer(question, asked, figures, chemistry.reactions, of)
    free = free_in(question.kind, of.metals)
    gases = work_gases(chemistry, _poured(asked, grams), free)
    return _with_gases(replace(answer, notes=(*notes, *answer.notes)), gases)


def _poured(asked: Iterable[Asked], grams: Iterable[Figure | None]) -> list[Poured]:
    return [Poured(one.formula, one.words, most) for one, most in zip(asked, grams, strict=True)]


def _with_gases(answer: Answer, gases: WorkGases) -> Answer:
    """An answer with the gas that what it speaks of can give off."""
    found = gases.all()
    if not found:
        return answer
    return replace(
        answer,
        sentence=(*answer.sentence, *gases.sentence()),
        figures=(*answer.figures, *map(volume, found)),
        sources=(*answer.sources, *freed_in(found)),
        notes=(*answer.notes, *notes_of_gases(found)),
    )


def what_it_takes_away(question: Question, known: Known) -> Answer:
    """The answer to a question of using up a substance: neutralising, destroying."""
    asked = tuple(supplies_of(question.asked))
    if question.kind is Kind.NEUTRALISE and (jar := _in_a_jar(question)) is not None:
        bases = tuple((one.portion, one.formula) for one in asked)
        return base_for(question, known, bases, lambda grams: _needed(asked[0], grams, jar))
    held = [one for material in question.of for one in substances_in(material.portion)]
    held = list(map(metal_of_salt, held)) if question.kind is Kind.CONVERT else held
    formulas = frozenset(one.formula for one in asked)
    there = {one.formula for one in held}
    found = tuple(
        one
        for one in reactions().values()
        if one.work == _DO[question.kind]
        and one.basis in there
        and _may_go(one, formulas, question)
    )
    lacking = there - {one.basis for one in found}
    if lacking:
        raise MissingError(_no_reaction(question, asked, map(_named, sorted(lacking))))
    of = Charge({}, None, in_words(question.of), ())
    grams = tuple(_forsubstances_in(one.formula, held, found) for one in asked)
    figures = tuple(_needed(one, most, of) for one, most in zip(asked, grams, strict=True))
    notes = tuple(note for one in held for note in one.notes)
    answer = _answer(question, asked, figures, found, of)
    together = StageChemistry(NOWHERE, {}, zero("the rest", "g"), (), (), found)
    there_too = (*held, *free_in(question.kind, ()))
    gases = work_gases(together, _poured(asked, grams), there_too)
    return _with_gases(replace(answer, notes=(*notes, *answer.notes)), gases)


def _may_go(way: Reaction, formulas: frozenset[str], question: Question) -> bool:
    """Whether the supplies set a reaction going; to convert, with whatever else it asks for."""
    if question.kind is Kind.CONVERT:
        return not formulas.isdisjoint(way.asks)
    return formulas.issuperset(way.asks)


def _in_a_jar(question: Question) -> Charge | None:
    """What stands under a label alone, with no amount beside it."""
    whole = all(one.portion.labels and one.portion.amount is None for one in question.of)
    return Charge({}, None, in_words(question.of), ()) if whole and len(question.of) == 1 else None


def _no_reaction(question: Question, asked: Iterable[Asked], of: Iterable[str]) -> str:
    asked, of = tuple(asked), tuple(of)
    supplies = " and ".join(one.words for one in asked)
    refusal = (
        f"no reaction of the data is one in which {supplies} would {_DO[question.kind]} "
        f"{' or '.join(of)}"
    )
    formulas = frozenset(one.formula for one in asked)
    return "; ".join((refusal, *what_it_takes(_DO[question.kind], of, formulas, _named)))


def _named(formula: str) -> str:
    """A substance by the name of its supply."""
    names = (one.name for one in reagents().values() if one.formula == formula)
    return next(names, formula)


def _forsubstances_in(
    formula: str, held: Iterable[Substance], found: Iterable[Reaction]
) -> Figure | None:
    """Grams of a substance that others take: the sum over them, each with its own equation."""
    parts = []
    for one in held:
        ways = [way.asked(formula) for way in found if way.basis == one.formula]
        why = f"how much {one.formula} a litre holds is known within limits only"
        there = limits(f"{one.formula} in {one.words}", "g", one.grams, why)
        per = Range(min(ways), max(ways))
        name, words = f"{formula} for {one.formula}", f"{there.name} × {ratio_words(per)}"
        grams = one.grams * per
        parts.append(replace(limits(name, "g", grams, why, words), terms=(there,)))
    return add_up(f"{formula} asked for", "g", parts) if parts else None


def _of_metals(of: Charge, asked: Sequence[Asked], work: str) -> StageChemistry:
    """The reactions that the supplies of a question may set going with its metals.

    Where no supply does it alone, reactions that ask for one of them and something else count.
    """
    formulas = frozenset(one.formula for one in asked)
    open_rest = of.rest is not None and within(of.rest).high != 0

    def may_go(one: Reaction) -> bool:
        if one.work != work or not one.metal:
            return False
        return one.metal in of.metals or (open_rest and work == "dissolve")

    possible = [one for one in reactions().values() if may_go(one)]
    found = [one for one in possible if one.asks and formulas.issuperset(one.asks)]
    if not found and work != "dissolve":
        found = [one for one in possible if formulas.intersection(one.asks)]
    rest = of.rest or zero("the rest", "g")
    return StageChemistry(NOWHERE, of.metals, rest, (), (), tuple(found))


def _untouched(of: Charge, found: Iterable[Reaction]) -> tuple[str, ...]:
    worked = {one.metal for one in found}
    return tuple(metal for metal in of.metals if metal not in worked)


def _answer(
    question: Question,
    asked: Sequence[Asked],
    figures: tuple[Figure, ...],
    found: Sequence[Reaction],
    of: Charge,
) -> Answer:
    """The sentence with its figures, the equations, and what there is to note."""
    sentence: list[str | Figure] = [f"To {_DO[question.kind]} {of.words} the equations ask for "]
    for place, figure in enumerate(figures):
        sentence += [" and " if place else "", figure, f" of {figure.name}"]
    formulas = {one.formula for one in asked}
    others = dict.fromkeys(f for way in found for f in way.asks if f not in formulas)
    own = [way for way in found if not way.metal or way.metal in of.metals]
    given = [one.portion.amount for one in asked if one.portion.amount is not None]
    notes = [
        f"{one.span.text} stands in the question, and is held against nothing" for one in given
    ]
    notes += [f"the reaction also asks for {_named(formula)}" for formula in others]
    notes += [note for figure in figures for note in figure.notes if "->" not in note]
    notes += [way.note for way in own if way.note]
    notes += [_BESIDES[question.kind]] if question.kind in _BESIDES else []
    return Answer(
        question.text,
        question.kind.value,
        (*sentence, "."),
        figures,
        (*equations(own), *of.sources),
        notes=tuple(dict.fromkeys((*notes, NO_RECIPE))),
    )


def equations(found: Iterable[Reaction]) -> tuple[str, ...]:
    """The equations an answer rests on, those of one source together."""
    by_source: dict[str, list[str]] = {}
    for one in found:
        by_source.setdefault(f"{one.standing}: {one.source}", []).append(one.equation.text)
    return tuple(f"{'; '.join(texts)} ({source})" for source, texts in by_source.items())


def _needed(asked: Asked, grams: Figure | None, of: Charge) -> Figure:
    """How much of a supply the equations ask for, in the unit it is poured or weighed in."""
    if grams is None:
        return not_known(asked.words, "g", f"nothing in {of.words} asks for {asked.formula}")
    name = reagent_words().get(asked.portion.reagent.lower(), "")
    named = reagents().get(name)
    if named is None:
        return replace(grams, name=asked.words)
    use = _use(asked.portion, Dimension.VOLUME if named.state == "liquid" else Dimension.MASS)
    (content,) = content_of(use, NO_BOOK)
    needed = in_supply(grams, content, use)
    if not needed.known and needed.high is None:
        return replace(grams, name=f"pure {asked.formula}", notes=(*grams.notes, *content.notes))
    return replace(needed, name=asked.words)


def _use(portion: Portion, dimension: Dimension, used: Figure | None = None) -> SupplyUse:
    nothing = not_known(supply_in_words(portion), "g", "that is what is asked")
    return SupplyUse(NOWHERE, portion, used or nothing, dimension, date.min)


def substances_in(portion: Portion) -> Iterable[Substance]:
    """The pure substances in what is to be used up.

    Raises:
        MissingError: where its amount, or what is in it, is not said.
    """
    words = supply_in_words(portion)
    amount = portion.amount
    if amount is None or amount.dimension not in (Dimension.MASS, Dimension.VOLUME):
        raise MissingError(f"how much {words} there is, is not said")
    unit = "g" if amount.dimension is Dimension.MASS else "L"
    used = stated(words, unit, amount)
    contents = content_of(_use(portion, amount.dimension, used), NO_BOOK)
    if not contents:
        raise MissingError(f"what is in {words} is not in the data")
    for one in contents:
        yield _substance(one, used, portion)


def _substance(one: Content, used: Figure, portion: Portion) -> Substance:
    if one.grams is None:
        raise MissingError("; ".join(one.notes))
    grams = within(used) * one.grams
    return Substance(one.formula, grams, supply_in_words(portion), (portion.span,), one.notes)
