"""An answer as it is shown, on a page and on a terminal: the sentence, the working, the cautions.

Figures are put into words here; limits go outwards, and none of them is turned into advice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.figure import Figure
from logbook.calculation.results.answers import Answer, Warned
from logbook.pages.addresses import Here, chapter_path
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.rounding import NO_BREAK, between, plural, rounded

LEVELS = 3
LINES_SHOWN, LEAST_LINES = 42, 6
NOT_KNOWN = "an amount that is not known"


@dataclass(frozen=True, slots=True)
class WorkingLine:
    """One line of a working, so many levels deep. `how` is the formula in words, `why` a reason."""

    depth: int
    name: str
    text: str
    how: str
    why: str


@dataclass(frozen=True, slots=True)
class WarnedView:
    """A caution of an answer. `title` is the rule's short name, `word` the signal word."""

    title: str
    signal: str
    word: str
    text: str
    do: str
    source: str


@dataclass(frozen=True, slots=True)
class AnswerView:
    """An answer in words. `sentence` is empty where there is none; `missing` then says why.

    `wrong` is what is true instead of what a question takes for granted, each with its source.
    `figures` are for a page and lead to the lines they rest on; `working` is the same in plain
    lines. `form` is an example of the nearest question that is understood, and `guide` leads to
    the chapter that has them all.
    """

    question: str
    kind: str
    sentence: str
    figures: tuple[FigureView, ...]
    working: tuple[WorkingLine, ...]
    sources: tuple[str, ...]
    cautions: tuple[WarnedView, ...]
    notes: tuple[str, ...]
    missing: tuple[str, ...]
    form: str
    wrong: tuple[tuple[str, str], ...]
    deferral: str
    guide: str = ""

    @property
    def signals(self) -> tuple[tuple[WarnedView, ...], ...]:
        """The cautions by signal word, the graver first."""
        words = dict.fromkeys(one.signal for one in self.cautions)
        return tuple(tuple(one for one in self.cautions if one.signal == word) for word in words)


def answer_view(answer: Answer, here: Here | None = None) -> AnswerView:
    """An answer in words; on a page, which is `here`, its figures lead to their lines."""
    figures = answer.figures if here is not None else ()
    return AnswerView(
        question=answer.question,
        kind=answer.kind,
        sentence="".join(map(_said, answer.sentence)),
        figures=tuple(figure_view(figure, here, levels=LEVELS) for figure in figures if here),
        working=tuple(
            line
            for figure in answer.figures
            for line in _working(figure, max(LEAST_LINES, LINES_SHOWN // len(answer.figures)))
        ),
        sources=answer.sources,
        cautions=tuple(map(_warned, answer.cautions)),
        notes=answer.notes,
        missing=answer.missing,
        form=answer.form,
        wrong=tuple((one.true, one.source) for one in answer.wrong),
        deferral=DEFERRAL,
        guide=here.to(chapter_path("questions")) if here is not None else "",
    )


def _said(part: str | Figure) -> str:
    """A part of the sentence, figures held together.

    >>> _said(Figure("acid", "L", low=0.0814, high=0.1229)).replace(NO_BREAK, " ")
    'between 81.4 and 123 mL'
    """
    if isinstance(part, str):
        return part
    text = in_words(part) or NOT_KNOWN
    if part.value is None:
        return text
    number, space, unit = text.rpartition(" ")
    return f"{number.replace(' ± ', f'{NO_BREAK}±{NO_BREAK}')}{NO_BREAK if space else ''}{unit}"


def in_words(figure: Figure) -> str:
    """A figure with its doubt, or its limits; empty where nothing is known of it."""
    if figure.value is not None:
        return rounded(figure.value.value, figure.value.u, figure.unit).text
    return between(figure.low, figure.high, figure.unit)


def _working(figure: Figure, room: int) -> list[WorkingLine]:
    """A figure and the terms it is made of, as many levels deep as there is room for."""
    for levels in range(LEVELS, 0, -1):
        lines = list(_lines(figure, 0, levels))
        if len(lines) <= room:
            return lines
    more = len(lines) - room
    return [*lines[:room], WorkingLine(1, f"and {plural(more, 'term')} more", "", "", "")]


def _lines(figure: Figure, depth: int, levels: int) -> Iterator[WorkingLine]:
    why = "" if figure.known else figure.why
    text = in_words(figure) or "not known"
    yield WorkingLine(depth, figure.name, text, figure.formula, why)
    terms = figure.terms
    if len(terms) == 1 and (terms[0].name, in_words(terms[0])) == (figure.name, text):
        terms = terms[0].terms  # the same figure under the same name
    if depth < levels:
        for term in terms:
            yield from _lines(term, depth + 1, levels)


def _warned(caution: Warned) -> WarnedView:
    return WarnedView(
        title=caution.rule.replace("-", " "),
        signal=caution.signal,
        word=caution.signal.capitalize(),
        text=caution.text,
        do=caution.do,
        source=caution.source,
    )
