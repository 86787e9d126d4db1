"""Questions about solutions: diluting, making, mixing two strengths, and what water can hold."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import in_words, limits
from logbook.calculation.figure import Figure
from logbook.calculation.results.answers import Answer
from logbook.chemistry.mixing import Diluted, Poured, dilute, mix, poured, poured_water, prepare
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.solubility import Saturation, saturated, soluble, sources_of
from logbook.chemistry.solutions import Strength, pure_per_unit, strength, substances
from logbook.chemistry.written import limits_of
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.model.question import Question

TABLES = "tables of strengths and densities give limits"
_BASIS = {"H2O"}


def diluting(question: Question, known: Known) -> Answer:
    """How much water brings a solution down, or how much of a supply and water make one."""
    reagent = _reagent(question)
    portion = question.of[0].portion
    if portion.amount is None:
        raise MissingError("how much of it there is, or is wanted, is not said")
    to, given = question.amount("to"), question.amount("from")
    if to is not None:
        supply = poured(reagent, portion.amount, portion.strength)
        aim = strength(reagent, to)
        found = dilute(supply, aim)
        return _diluted(question, found, to)
    aim, stock = strength(reagent, portion.strength), strength(reagent, given)
    litres = limits_of(portion.amount)
    if portion.amount.dimension is Dimension.MASS:
        litres = litres.times(0.001) / aim.density
    return _made(question, prepare(substances(reagent)[0], litres, stock, aim), reagent, given)


def _reagent(question: Question) -> str:
    """The reagent of the solution that a question is about."""
    named = [material.portion.reagent for material in question.of]
    named += [portion.reagent for portion in question.asked]
    found = [one for one in named if one and set(substances(one)) != _BASIS]
    if not found:
        raise MissingError("which acid or solution it is, is not said")
    return found[0]


def _diluted(question: Question, found: Diluted, to: Amount) -> Answer:
    water = _litres("water", found.water_litres, "m × w / w′ − m, as a volume at 20 C", found)
    whole = _litres("the solution", found.result.litres, "m × w / w′ over its density", found)
    words = f"To bring {in_words(question.of)} to {' '.join(to.span.text.split())} takes "
    sentence = (words, water, " of water, and makes ", whole, ".")
    return _answer(question, sentence, (water, whole), _of(found), found.notes)


def _made(question: Question, found: Diluted, reagent: str, given: Amount | None) -> Answer:
    said = " ".join(given.span.text.split()) if given is not None else ""
    words = f"{reagent} {said}".strip()
    supply = _litres(words, found.supply.litres, "V′ × β′ / w over its density", found)
    water = _litres("water", found.water_litres, "V′ × ρ′ − m, as a volume at 20 C", found)
    sentence = (
        f"To make {in_words(question.of)} takes ", supply, f" of {words} and ", water, " of water.",
    )  # fmt: skip
    return _answer(question, sentence, (supply, water), _of(found), found.notes)


def _of(found: Diluted) -> tuple[Strength, ...]:
    return found.supply.strength, found.result.strength


def _litres(name: str, between: Range, formula: str, found: Diluted) -> Figure:
    terms = (_strength("before", found.supply), _strength("after", found.result))
    return replace(limits(name, "L", between, TABLES, formula), terms=terms)


def _strength(when: str, solution: Poured) -> Figure:
    name = f"{solution.formula} {when}"
    return limits(name, "g/g", solution.strength.fraction, TABLES, solution.strength.basis)


def _answer(
    question: Question,
    sentence: tuple[str | Figure, ...],
    figures: tuple[Figure, ...],
    strengths: Iterable[Strength],
    notes: Iterable[str],
) -> Answer:
    found = list(strengths)
    sources = dict.fromkeys(source for one in found for source in one.sources)
    said = [note for one in found for note in one.notes]
    return Answer(
        question.text,
        question.kind.value,
        sentence,
        figures,
        tuple(sources),
        notes=tuple(dict.fromkeys((*notes, *said))),
    )


def mixing(question: Question, known: Known) -> Answer:
    """What comes of pouring two strengths of one solution together."""
    portions = [material.portion for material in question.of]
    reagent = _reagent(question)
    solutions = [_poured(portion, substances(reagent)[0]) for portion in portions]
    found = mix(*solutions)
    share = limits("its strength", "g/g", found.strength.fraction, TABLES, "Σ m w / Σ m")
    whole = limits("its volume", "L", found.litres, TABLES, "Σ m over its density")
    sentence = (
        f"Poured together, {in_words(question.of)} make ", whole, f" of {reagent} ", share, ".",
    )  # fmt: skip
    strengths = (*(one.strength for one in solutions), found.strength)
    return _answer(question, sentence, (whole, share), strengths, ())


def _poured(portion: Portion, formula: str) -> Poured:
    if portion.amount is None:
        raise MissingError(f"how much {portion.what} that is, is not said")
    if set(substances(portion.reagent)) == _BASIS:
        water = limits_of(portion.amount)
        mass = portion.amount.dimension is Dimension.MASS
        return poured_water(formula, water.times(0.001) if mass else water)
    return poured(portion.reagent, portion.amount, portion.strength)


def holding(question: Question, known: Known) -> Answer:
    """How much of a salt water can hold, and whether a solution is full."""
    salt = question.asked[0].reagent
    if not salt:
        raise MissingError(f"{question.asked[0].what} is not in the data")
    warmth = question.amount("temperature")
    if warmth is None or warmth.base_value is None:
        raise MissingError("at which temperature: for example at 20 C")
    amount = question.of[0].portion.amount if question.of else None
    said = question.amount("water")
    if said is None:
        return _can_hold(question, salt, warmth)
    water = pure_per_unit("distilled water", said.dimension, None).grams * limits_of(said)
    there = limits_of(amount) if amount is not None else Range.exactly(0.0)
    found = saturated(salt, there, water, warmth.base_value)
    held = limits("there in 100 g of water", "g", found.held, TABLES)
    limit = limits("at most in 100 g of water", "g", found.limit, TABLES)
    most = limits(salt, "g", found.grams, TABLES, "what the water can hold, as it is sold")
    if amount is None:
        return _water_holds(question, said, warmth, found, (most, limit))
    words = {
        True: "is more than it can hold",
        False: "is less than it can hold",
        None: "is too near to what it can hold to say",
    }[found.full]
    sentence = (
        f"{in_words(question.of)} in so much water {words}: it can hold ", most, " of it at ",
        f"{' '.join(warmth.span.text.split())}.",
    )  # fmt: skip
    return replace(
        _answer(question, sentence, (most, held, limit), (), found.notes), sources=found.sources
    )


def _water_holds(
    question: Question,
    water: Amount,
    warmth: Amount,
    found: Saturation,
    figures: tuple[Figure, Figure],
) -> Answer:
    """How much so much water can hold, as the salt is sold and dry."""
    much, warm = (" ".join(one.span.text.split()) for one in (water, warmth))
    most, limit = figures
    sentence = (
        f"At {warm} {much} of pure water can hold ", most, f" of {most.name}; 100 g of it, ",
        limit, f" of {found.formula}.",
    )  # fmt: skip
    return replace(_answer(question, sentence, figures, (), found.notes), sources=found.sources)


def _can_hold(question: Question, salt: str, warmth: Amount) -> Answer:
    formula = substances(salt)[0]
    assert warmth.base_value is not None
    most = soluble(formula, warmth.base_value)
    limit = limits(salt, "g", most, TABLES, "from the table, for 100 g of pure water")
    said = " ".join(warmth.span.text.split())
    sentence = (f"At {said} 100 g of pure water can hold ", limit, f" of {formula}.")
    notes = ("this holds for pure water: acid and other salts change it",)
    found = _answer(question, sentence, (limit,), (), notes)
    return replace(found, sources=sources_of(formula, warmth.base_value))
