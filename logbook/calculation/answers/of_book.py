"""The answers to what the logs of a book ask, beside the entries that ask it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from logbook.calculation.answers.answering import answer_to
from logbook.calculation.answers.known import Known
from logbook.calculation.results import BookFigures
from logbook.calculation.results.answers import Answer
from logbook.model.run import Run


def with_answers(figures: BookFigures) -> BookFigures:
    """A book's figures, each run with the answers to its questions."""
    runs = {
        name: replace(run, answers=found)
        for name, run in figures.runs.items()
        if (found := answers_of(run.run, figures))
    }
    return replace(figures, runs={**figures.runs, **runs}) if runs else figures


def answers_of(run: Run, figures: BookFigures) -> Mapping[int, Answer]:
    """The answers to the questions of a run, by the start of the entry that asks."""
    known = Known(figures, run.name)
    return {
        entry.span.start: answer_to(entry.question, known)
        for entry in run.entries
        if entry.question is not None
    }
