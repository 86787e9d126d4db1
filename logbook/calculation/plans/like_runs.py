"""Which runs and which of their stages a plan takes its ratios from.

A name that is not known is said, with the one it is nearest to; nothing else is guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.schedule import distinct_runs, names_of_runs
from logbook.findings import Finding, Weight, nearest_word
from logbook.model.book import Book
from logbook.model.run import Likeness, Run, Stage
from logbook.reference import stage_words
from logbook.source import Span


@dataclass(frozen=True, slots=True)
class Likes:
    """The runs of a book that a plan may be like: done, and by everything they are called."""

    runs: Mapping[str, Run]
    names: Mapping[str, str]

    def named(self, words: str) -> Run | None:
        """The run that is called so."""
        return self.runs.get(self.names.get(words.strip("[] ").lower(), ""))


def likes_of(book: Book) -> Likes:
    """What the plans of a book may be like."""
    done = [run for run in distinct_runs(book) if not run.planned]
    return Likes({run.name: run for run in done}, names_of_runs(done))


def likenesses(run: Run, likes: Likes) -> tuple[Likeness, ...]:
    """What a run says it is like; a line that is the title of a run, comma and all, is one."""
    facts = [fact for fact in run.facts if fact.word.lower() == "like"]
    whole = {fact.span.start: fact for fact in facts if likes.named(fact.value) is not None}
    if not whole:
        return run.like
    found = [Likeness(fact.span, fact.value) for fact in whole.values()]
    others = [one for one in run.like if not any(_lies_in(one.span, f.span) for f in found)]
    return tuple(sorted((*found, *others), key=lambda one: one.span.start))


def _lies_in(inner: Span, outer: Span) -> bool:
    return outer.start <= inner.start and inner.end <= outer.end


def stage_word(stage: Stage) -> str:
    """What stages of different runs are held together by: the kind, or a name of their own."""
    return stage.kinds[0] if stage.kinds else stage.title.lower()


def places_of(run: Run, word: str) -> tuple[int, ...]:
    """The stages that a word names: by their kind, or by the words of their heading."""
    said = word.lower()
    kind = stage_words().get(said)
    return tuple(
        place
        for place, stage in enumerate(run.stages)
        if (kind is not None and kind in stage.kinds) or _begins(stage.title.lower(), said)
    )


def _begins(title: str, words: str) -> bool:
    """Whether a heading begins with some whole words."""
    return (
        bool(words) and title.startswith(words) and not title[len(words) : len(words) + 1].isalnum()
    )


def counted(run: Run, like: Likeness) -> frozenset[int]:
    """The stages of a run that count: no trial, none before the first, none left out."""
    places = {place for place, stage in enumerate(run.stages) if not stage.trial}
    if like.from_stage:
        first = places_of(run, like.from_stage)
        places = {place for place in places if first and place >= first[0]}
    for word in like.without:
        places.difference_update(places_of(run, word))
    return frozenset(places)


def like_findings(book: Book) -> Iterator[Finding]:
    """Say where a run that another is like, or a stage of it, is not known."""
    likes = likes_of(book)
    every = {run.name: run for run in distinct_runs(book)}
    names = names_of_runs(tuple(every.values()))
    for run in every.values():
        for like in likenesses(run, likes):
            weight = Weight.ERROR if run.planned else Weight.DOUBT
            found = likes.named(like.run)
            if found is None:
                is_plan = names.get(like.run.lower(), "") in every
                yield _no_run(like, weight, likes, is_plan=is_plan)
            else:
                yield from _stages_not_there(like, found, weight)


def _no_run(like: Likeness, weight: Weight, likes: Likes, *, is_plan: bool) -> Finding:
    if is_plan:
        headline = f'"{like.run}" is a plan: it has no ratios to take'
    else:
        headline = f'there is no run "{like.run}" to be like' if like.run else "no run is named"
    near = nearest_word(like.run, likes.names)
    return Finding(
        "like-unknown",
        weight,
        headline,
        like.span,
        "no ratios are taken from it",
        f'did you mean "{near}"?' if near and not is_plan else "write the name of a run's file",
    )


def _stages_not_there(like: Likeness, run: Run, weight: Weight) -> Iterator[Finding]:
    for word in (*((like.from_stage,) if like.from_stage else ()), *like.without):
        if places_of(run, word):
            continue
        near = nearest_word(word, _stages_in(run.stages))
        yield Finding(
            "like-stage-unknown",
            weight,
            f'"{word}" is no stage of {run.name}',
            _place(like.span, word),
            "no stage of it counts" if word == like.from_stage else "nothing is left out for it",
            f'did you mean "{near}"?' if near else f"its stages are {_listed(run.stages)}",
        )


def _stages_in(stages: Sequence[Stage]) -> set[str]:
    return {stage.title.lower() for stage in stages} | {k for s in stages for k in s.kinds}


def _listed(stages: Sequence[Stage]) -> str:
    return ", ".join(dict.fromkeys(stage_word(stage) for stage in stages if stage_word(stage)))


def _place(span: Span, word: str) -> Span:
    """Where a word stands in a span that holds it."""
    at = span.text.rfind(word)
    return span if at < 0 else Span(span.source, span.start + at, span.start + at + len(word))
