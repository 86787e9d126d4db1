"""What a waste container takes to be neutralised, as the waste page has it."""

from __future__ import annotations

from collections.abc import Callable

from logbook.calculation.answers.known import Known
from logbook.calculation.figure import Figure
from logbook.calculation.results import WasteContainer
from logbook.calculation.results.answers import Answer
from logbook.chemistry.ranges import MissingError
from logbook.model.entry import Portion
from logbook.model.question import Question

NO_END = "how much is enough only the pH of the mixed liquid tells: see the container on its page"


def base_for(
    question: Question,
    known: Known,
    bases: tuple[tuple[Portion, str], ...],
    in_supply: Callable[[Figure], Figure],
) -> Answer:
    """The base that a labelled container takes with what it dissolved, in the supply's own unit."""
    label = question.of[0].portion.labels[0].name
    container = _container(label, known)
    (_, formula), *others = bases
    need = next((one for one in container.base if one.base == formula), None)
    if others or need is None:
        worked = ", ".join(one.base for one in container.base)
        has = f"it is worked out for {worked}" if worked else "no acid is known to be in it"
        raise MissingError(f"how much of this base [{label}] takes: {has}")
    grams = in_supply(need.grams)
    return Answer(
        question.text,
        question.kind.value,
        (f"To neutralise [{label}], with what it dissolved, takes ", grams, f" of {grams.name}."),
        (grams, need.gas),
        notes=tuple(dict.fromkeys((*grams.notes, *container.notes, NO_END))),
    )


def _container(label: str, known: Known) -> WasteContainer:
    if known.figures is None:
        raise MissingError(f"a book in which [{label}] stands: none was read")
    found = [one for one in known.figures.waste if one.label == label]
    if not found:
        raise MissingError(f"the book has no waste container [{label}]")
    return next((one for one in found if one.stands), found[-1])
