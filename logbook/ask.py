"""A question that is typed: read, answered, with a book where the question needs one.

A book is read and worked out only for questions that are put to it; chemistry needs none.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from logbook.calculation.answers.answering import answer_to
from logbook.calculation.answers.known import Known
from logbook.calculation.results.answers import Answer
from logbook.model.book import Customs
from logbook.model.question import Kind, Question, Refusal
from logbook.reading.question_forms import FORMS
from logbook.reading.questions import question_in
from logbook.writing.book_folder import bench_text

OF_A_BOOK = frozenset({Kind.WORTH, Kind.CONTENT, Kind.FINENESS, Kind.STOCK, Kind.ENOUGH, Kind.PLAN})


@dataclass(frozen=True, slots=True)
class Example:
    """A kind of question: an example, and what its answer tells."""

    question: str
    says: str


def examples() -> tuple[Example, ...]:
    """Questions of each kind that are understood, what is asked most often first."""
    kinds = list(Kind)
    in_order = sorted(FORMS, key=lambda form: kinds.index(form.kind))
    return tuple(Example(form.example, form.says) for form in in_order)


def ask(text: str, folder: Path | None) -> Answer:
    """The answer to a question, with the book in a folder where there is one."""
    customs = _customs(folder) if folder is not None else Customs()
    question, reading = question_in(text, customs)
    figures = None
    pages = None
    if folder is not None and (_needs_a_book(question) or _needs_supplies(question)):
        from logbook.proof import read_from

        pages = read_from(folder)
    if pages is not None and _needs_a_book(question):
        from logbook.calculation.book_figures import work_out

        figures = work_out(pages)
    answer = answer_to(question, Known(figures, pages=pages))
    doubts = tuple(f"{one.headline}: {one.understood}" for one in reading.findings)
    return replace(answer, notes=(*doubts, *answer.notes))


def _customs(folder: Path) -> Customs:
    """How the bench of a book writes, from its bench.md alone."""
    from logbook.reading.read_book import customs_in

    return customs_in(bench_text(folder))


def _needs_a_book(question: Question | Refusal) -> bool:
    if isinstance(question, Refusal):
        return False
    portions = (*question.asked, *(material.portion for material in question.of))
    priced = question.amount("price") is not None
    of_book = question.kind in OF_A_BOOK and not priced
    return of_book or any(portion.labels for portion in portions)


def _needs_supplies(question: Question | Refusal) -> bool:
    """Whether a strength that the question leaves out may stand among a book's supplies."""
    if isinstance(question, Refusal):
        return False
    portions = (*question.asked, *(material.portion for material in question.of))
    return any(portion.reagent and portion.strength is None for portion in portions)
