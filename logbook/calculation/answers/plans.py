"""Questions before the work: is there enough of a supply, and what a run's ratios come to.

A ratio says what a run used, never what another needs; stock is what the book tells of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from logbook.calculation.answers.known import Known
from logbook.calculation.answers.premises import in_words, stated
from logbook.calculation.answers.stock import stock
from logbook.calculation.figure import Figure
from logbook.calculation.plans.like_runs import Likes, likes_of
from logbook.calculation.plans.likeness import SCALING, like_figures
from logbook.calculation.results.answers import Answer
from logbook.calculation.results.plans import LikeRun, Part, PlannedSupply, Ratio
from logbook.chemistry.ranges import MissingError
from logbook.findings import nearest_word
from logbook.model.amount import Dimension
from logbook.model.question import Question
from logbook.model.run import Likeness, Run, Status

FOR_WHAT = (
    "whether that is enough is not told: for what is not said, and a log of a plan holds it "
    "against the plan"
)


def enough(question: Question, known: Known) -> Answer:
    """Whether what a plan asks for is in stock."""
    book, supply = known.figures, question.asked[0]
    name = supply.reagent or supply.what
    plan = book.plans.get(known.run) if book is not None else None
    if plan is None:
        found = stock(question, known)
        return replace(found, notes=(FOR_WHAT, *found.notes))
    rows = [row for row in plan.supplies if row.reagent == name]
    if not rows:
        raise MissingError(f"this plan asks for no {name}")
    sentence: list[str | Figure] = []
    figures: list[Figure] = []
    for row in rows:
        sentence += [" " if sentence else "", *_told(row)]
        figures += [row.planned, *((row.in_hand,) if row.in_hand is not None else ())]
    notes = [note for figure in figures for note in figure.notes]
    return Answer(
        question.text,
        question.kind.value,
        tuple(sentence),
        tuple(figures),
        notes=tuple(dict.fromkeys((*notes, "what was used without an entry is still counted"))),
    )


def _told(row: PlannedSupply) -> list[str | Figure]:
    """What there is to say of one supply: first whether it is enough, then the two amounts."""
    words = f"{row.reagent} {row.strength}".strip()
    if row.in_hand is None:
        return [f"{words} comes from the tap; the plan asks for ", row.planned, "."]
    verdict = {
        "yes": f"The book has enough {words} for this plan",
        "no": f"The book does not have enough {words} for this plan",
    }.get(row.enough, f"Whether there is enough {words} is not known")
    told: list[str | Figure] = [
        f"{verdict}: it asks for ", row.planned, ", and in stock there is ", row.in_hand,
    ]  # fmt: skip
    return [*told, ", short by ", row.short, "."] if row.short is not None else [*told, "."]


def plan(question: Question, known: Known) -> Answer:
    """What the ratios of a run come to for another weight of scrap."""
    book = known.figures
    if book is None:
        raise MissingError("a book to take the run from: none was read")
    likes = likes_of(book.book)
    run = likes.named(question.run) or _titled(question.run, likes)
    if run is None:
        near = nearest_word(question.run, likes.names)
        hint = f": is it {near}?" if near else ""
        raise MissingError(f"the book has no run {question.run} that was done{hint}")
    amount = question.of[0].portion.amount
    if amount is None or amount.dimension is not Dimension.MASS:
        raise MissingError("for how much of it, by weight: for example 1.2 kg")
    feed = stated("feed of the plan", "g", amount)
    found = like_figures(_as_plan(question, run), likes, book.runs, book.things, feed)
    ratios = [] if found is None else [one for one in found.ratios if one.expected is not None]
    if found is None or not ratios:
        raise MissingError(f"{run.name} has no ratios to take: its scrap was not weighed")
    figures = tuple(_figure(one) for one in ratios if one.part in (Part.USED, Part.PRODUCT))
    made = [_figure(one) for one in ratios if one.part is Part.PRODUCT]
    sentence: list[str | Figure] = [
        f"At the ratios of {run.title}, {in_words(question.of)} would use what stands below"
    ]
    for place, figure in enumerate(made):
        sentence += [", and give " if not place else ", ", figure, f" of {figure.name}"]
    return Answer(
        question.text,
        question.kind.value,
        (*sentence, "."),
        figures,
        (f"what {run.name} used and gave",),
        notes=(*_far(found.runs), SCALING),
    )


def _titled(words: str, likes: Likes) -> Run | None:
    """The run whose title has all of some words.

    Raises:
        MissingError: where several have.
    """
    wanted = [re.compile(rf"(?<!\w){re.escape(word)}", re.I) for word in words.split()]
    found = [run for run in likes.runs.values() if all(one.search(run.title) for one in wanted)]
    if len(found) > 1:
        names = ", ".join(run.name for run in found)
        raise MissingError(f"like which of these: {names}")
    return found[0] if found else None


def _as_plan(question: Question, run: Run) -> Run:
    """A plan that is nothing but like a run."""
    like = (Likeness(question.span, run.name),)
    return Run(
        "", question.span.source, question.text, None, Status.PLANNED, run.metals, "", None,
        (), (), (), like=like,
    )  # fmt: skip


def _figure(one: Ratio) -> Figure:
    assert one.expected is not None
    mean = one.expected.mean
    stage = f" ({one.stage})" if one.stage else ""
    name = f"{one.what} {one.strength}".strip() + stage
    return Figure(
        name, mean.unit, mean.value, mean.formula, mean.terms, (), mean.why, mean.low, mean.high
    )


def _far(runs: Iterable[LikeRun]) -> Iterable[str]:
    return (
        f"that is far from what {one.run} took: its ratios say little of it"
        for one in runs
        if one.far
    )
