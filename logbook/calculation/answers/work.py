"""What a reaction asks for: acid to dissolve, a reagent to drop or destroy, a metal to cement.

The equations give limits and no recipe: which way a reaction goes nobody knows beforehand, and
the answer says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.answers.given_off import STATE, gas_figures, given_by_metals, said
from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import (
    Charge,
    charge,
    in_words,
    limits,
    only_metal,
    stated,
)
from logbook.calculation.bench.demand import demand, ratio_words
from logbook.calculation.bench.needed import in_supply
from logbook.calculation.bench.substances import Content, content_of, within
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.reagents import SupplyUse
from logbook.calculation.results import StageChemistry, StageKey, Substance
from logbook.calculation.results.answers import Answer
from logbook.calculation.sums import add_up, zero
from logbook.calculation.supplies import PriceList, supply_in_words
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.reactions import Reaction, reactions
from logbook.chemistry.solutions import substances
from logbook.model.amount import Dimension
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question
from logbook.reference import metals, reagent_words, reagents

_NOWHERE = StageKey("", 0)
_NO_BOOK = PriceList("")
_DO: Mapping[Kind, str] = {
    Kind.DISSOLVE: "dissolve",
    Kind.DROP: "drop",
    Kind.CEMENT: "cement",
    Kind.DESTROY: "destroy",
    Kind.NEUTRALISE: "neutralise",
}
NO_RECIPE = (
    "this is what the equations use up, and no recipe: what is not pure, what forms on the way "
    "and what escapes change it, and only a test tells when the work is done"
)
_BESIDES: Mapping[Kind, str] = {
    Kind.DROP: "nitric acid that is still there uses up more of it (general chemistry)",
    Kind.CEMENT: "acid that is still free takes more of the metal (general chemistry)",
}
_MIXED_ACIDS = {"aqua regia": ("concentrated hydrochloric acid", "concentrated nitric acid")}


@dataclass(frozen=True, slots=True)
class Asked:
    """A supply of a question with the pure substance that counts in it."""

    portion: Portion
    formula: str

    @property
    def words(self) -> str:
        """The supply in words, with its strength."""
        return supply_in_words(self.portion)


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
    figures = tuple(_needed(one, demand(chemistry, one.formula), of) for one in asked)
    answer = _answer(question, asked, figures, chemistry.reactions, of)
    gases = gas_figures(given_by_metals(of, chemistry.reactions))
    if not gases:
        return replace(answer, notes=(*notes, *answer.notes))
    return replace(
        answer,
        sentence=(*answer.sentence, " That can give off ", *said(gases), "."),
        figures=(*answer.figures, *gases),
        notes=(*notes, *answer.notes, STATE),
    )


def what_it_takes_away(question: Question, known: Known) -> Answer:
    """The answer to a question of using up a substance: neutralising, destroying."""
    asked = tuple(supplies_of(question.asked))
    held = [one for material in question.of for one in substances_in(material.portion)]
    formulas = frozenset(one.formula for one in asked)
    there = {one.formula for one in held}
    found = tuple(
        one
        for one in reactions().values()
        if one.work == _DO[question.kind] and one.basis in there and formulas.issuperset(one.asks)
    )
    lacking = there - {one.basis for one in found}
    if lacking:
        raise MissingError(_no_reaction(question, asked, map(_named, sorted(lacking))))
    of = Charge({}, None, in_words(question.of), ())
    figures = tuple(_needed(one, _forsubstances_in(one.formula, held, found), of) for one in asked)
    notes = tuple(note for one in held for note in one.notes)
    answer = _answer(question, asked, figures, found, of)
    return replace(answer, notes=(*notes, *answer.notes))


def _no_reaction(question: Question, asked: Iterable[Asked], of: Iterable[str]) -> str:
    supplies = " and ".join(one.words for one in asked)
    return (
        f"no reaction of the data is one in which {supplies} would {_DO[question.kind]} "
        f"{' or '.join(of)}"
    )


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


def supplies_of(portions: Iterable[Portion]) -> Iterable[Asked]:
    """The supplies of a question, mixed acids as the acids they are mixed of.

    Raises:
        MissingError: for a supply of which the data have no formula.
    """
    symbols = {metal.name: metal.symbol for metal in metals().values()}
    for portion in portions:
        for name in _MIXED_ACIDS.get(portion.reagent, ()):
            apart = replace(portion, reagent=name, what=name, strength=None)
            yield Asked(apart, substances(name)[0])
        if portion.reagent in _MIXED_ACIDS:
            continue
        metal = only_metal(portion.what, portion.reagent)
        formulas = substances(portion.reagent) if portion.reagent else ()
        if metal is not None:
            yield Asked(portion, symbols[metal])
        elif len(formulas) == 1:
            yield Asked(_by_its_word(portion), formulas[0])
        else:
            raise MissingError(f"what is in {supply_in_words(portion)} is not in the data")


def _by_its_word(portion: Portion) -> Portion:
    """A supply under the word that was used for it: battery acid is of another strength."""
    words = portion.what.lower()
    return replace(portion, reagent=words) if words in reagent_words() else portion


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
    return StageChemistry(_NOWHERE, of.metals, rest, (), (), tuple(found))


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
    (content,) = content_of(use, _NO_BOOK)
    needed = in_supply(grams, content, use)
    if not needed.known and needed.high is None:
        return replace(grams, name=f"pure {asked.formula}", notes=(*grams.notes, *content.notes))
    return replace(needed, name=asked.words)


def _use(portion: Portion, dimension: Dimension, used: Figure | None = None) -> SupplyUse:
    nothing = not_known(supply_in_words(portion), "g", "that is what is asked")
    return SupplyUse(_NOWHERE, portion, used or nothing, dimension, date.min)


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
    contents = content_of(_use(portion, amount.dimension, used), _NO_BOOK)
    if not contents:
        raise MissingError(f"what is in {words} is not in the data")
    for one in contents:
        yield _substance(one, used, portion)


def _substance(one: Content, used: Figure, portion: Portion) -> Substance:
    if one.grams is None:
        raise MissingError("; ".join(one.notes))
    grams = within(used) * one.grams
    return Substance(one.formula, grams, supply_in_words(portion), (portion.span,), one.notes)
