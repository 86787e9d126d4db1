"""A question, and a book where there is one, become an answer: a table of kinds and functions.

What cannot be answered says what is missing, and a question that rests on a wrong belief is told
what is true. Every answer carries the cautions of what its
question names.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.calculation.answers.books import content, weight_in, worth
from logbook.calculation.answers.fineness import (
    by_density,
    by_weighings,
    in_filled,
    in_plating,
    silver_to_inquart,
)
from logbook.calculation.answers.gases import from_cell, gas_from
from logbook.calculation.answers.known import Known
from logbook.calculation.answers.pieces import fineness_of
from logbook.calculation.answers.plans import enough, plan
from logbook.calculation.answers.solutions import diluting, holding, mixing
from logbook.calculation.answers.stock import stock, with_strengths
from logbook.calculation.answers.strengths import by_parts, in_other_units
from logbook.calculation.answers.warned import signs_of, warned_of
from logbook.calculation.answers.work import what_it_asks, what_it_takes_away
from logbook.calculation.cautions.wrong_advice import contradicted
from logbook.calculation.results.answers import Answer
from logbook.chemistry.ranges import MissingError
from logbook.model.question import Kind, Question, Refusal

NOTHING = Known()
Answering = Callable[[Question, Known], Answer]

ANSWERS: Mapping[Kind, Answering] = {
    Kind.DISSOLVE: what_it_asks,
    Kind.DROP: what_it_asks,
    Kind.CEMENT: what_it_asks,
    Kind.DESTROY: what_it_takes_away,
    Kind.NEUTRALISE: what_it_takes_away,
    Kind.CONVERT: what_it_takes_away,
    Kind.DILUTE: diluting,
    Kind.MIX: mixing,
    Kind.STRENGTH: in_other_units,
    Kind.PARTS: by_parts,
    Kind.SATURATION: holding,
    Kind.GAS: gas_from,
    Kind.CELL: from_cell,
    Kind.WEIGHINGS: by_weighings,
    Kind.DENSITY: by_density,
    Kind.FINENESS: fineness_of,
    Kind.INQUART: silver_to_inquart,
    Kind.PLATING: in_plating,
    Kind.FILLED: in_filled,
    Kind.OUNCES: weight_in,
    Kind.WORTH: worth,
    Kind.CONTENT: content,
    Kind.STOCK: stock,
    Kind.ENOUGH: enough,
    Kind.PLAN: plan,
}
"""The function that answers each kind of question."""


def answer_to(question: Question | Refusal, known: Known = NOTHING) -> Answer:
    """The answer to a question; never raises for what a writer can ask."""
    wrong = contradicted(question.text, signs_of(question))
    found = Answer(question.text, "", wrong=wrong) if wrong else _plain(question, known)
    return replace(found, cautions=warned_of(question))


def _plain(question: Question | Refusal, known: Known) -> Answer:
    if isinstance(question, Refusal):
        made = (question.understood,) if question.understood else ()
        return Answer(question.text, "", notes=made, missing=question.missing, form=question.form)
    question, taken = with_strengths(question, known.book)
    try:
        found = ANSWERS[question.kind](question, known)
    except MissingError as why:
        return Answer(question.text, question.kind.value, missing=(str(why),))
    unread = tuple(f'"{words}" was not understood, and is not counted' for words in question.unread)
    return replace(found, notes=(*unread, *taken, *found.notes))
