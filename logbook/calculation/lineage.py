"""Which thing enters and leaves each stage, over the whole book, in order of date.

`trace` walks every log and fixed page once. It weighs nothing and counts no money; what the
things hold is worked out afterwards, so that an assay noted in autumn counts for a filter
kept in spring.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from logbook.calculation.charges import OpenRun, close_stage, enter, open_stage
from logbook.calculation.holdings import Holding
from logbook.calculation.movements import move
from logbook.calculation.products import holds_water, is_product
from logbook.calculation.results import Fate, Role
from logbook.calculation.schedule import (
    Line,
    Schedule,
    distinct_runs,
    lines_of,
    made_labels,
    names_itself,
)
from logbook.calculation.walk import Step, Walk
from logbook.findings import Finding, Weight, nearest_word
from logbook.model.book import Book
from logbook.model.entry import Entry
from logbook.model.run import Run
from logbook.source import Span


@dataclass(frozen=True, slots=True)
class Lineage:
    """Every thing of a book in the order it came to be, and what there is to say about them.

    `days` gives the day of each entry, by its identity.
    """

    holdings: tuple[Holding, ...]
    findings: tuple[Finding, ...]
    days: Mapping[int, date]


def trace(book: Book) -> Lineage:
    """Walk a book and follow every thing from the stage that made it to the one that used it."""
    lines = lines_of(book)
    walk = Walk(waste=_waste_labels(step.entry for line in lines for step in line.steps))
    runs = {line.name: OpenRun(line.run) for line in lines if line.run is not None}
    for line, step in Schedule(lines, walk.labels.__contains__).in_order():
        work = runs.get(line.name)
        if work is not None:
            _reach(walk, runs, work, line, step)
        move(walk, work, step)
        if work is not None and line.at == len(line.steps):
            close_stage(walk, work, None)
    _set_rests_apart(walk)
    _say_called_alike(walk, book)
    _settle_roles(walk, {name: work.run for name, work in runs.items()})
    days = {id(step.entry): step.day for line in lines for step in line.steps}
    return Lineage(tuple(walk.holdings), tuple(walk.findings), days)


def _waste_labels(entries: Iterable[Entry]) -> frozenset[str]:
    """The labels into which anything is ever discarded: waste everywhere."""
    into: set[str] = set()
    thrown: set[str] = set()
    made: set[str] = set()
    for entry in entries:
        if entry.action != "discarded":
            made.update(made_labels(entry))
            continue
        into.update(label.name for label in entry.destinations)
        for portion in entry.portions:
            if names_itself(entry, portion):
                thrown.update(label.name for label in portion.labels)
    return frozenset(into | (thrown - made))


def _reach(walk: Walk, runs: dict[str, OpenRun], work: OpenRun, line: Line, step: Step) -> None:
    """Come to the stage that an entry belongs to, if the walk is not in it already."""
    key = step.stage
    if key is None or (work.stage is not None and work.stage.key == key):
        return
    stage = work.run.stages[key.index]
    first = work.stage is None and line.at == 1
    close_stage(walk, work, stage)
    if first and work.run.continues:
        _take_up(walk, runs, work, line)
    continued = list(work.waiting) if first else []
    open_stage(walk, work, key, stage, step.day)
    if work.stage is not None and work.stage.takes:
        work.stage.behind = [held for held in work.stage.behind if held not in continued]
        for held in continued:
            enter(walk, work.stage, held)


def _take_up(walk: Walk, runs: dict[str, OpenRun], work: OpenRun, line: Line) -> None:
    """Let a run begin with the last charge of the run it continues."""
    before = runs.get(line.continues)
    if before is None or before is work:
        near = nearest_word(work.run.continues, runs)
        _say_continues(
            walk,
            work.run,
            "run-unknown",
            Weight.ERROR,
            f'there is no run "{work.run.continues}" to continue',
            f'did you mean "{near}"?' if near else "write the name of that run's file",
        )
        return
    work.waiting = [held for held in before.waiting if held.at_hand]
    if not work.waiting:
        _say_continues(
            walk,
            work.run,
            "run-empty",
            Weight.DOUBT,
            f'the run "{work.run.continues}" left no charge to go on with',
            "take what it left by its label",
        )


def _say_continues(
    walk: Walk, run: Run, code: str, weight: Weight, headline: str, hint: str
) -> None:
    spans = [fact.span for fact in run.facts if fact.word.lower() == "continues"]
    spans += [stage.span for stage in run.stages]
    span = spans[0] if spans else Span(run.source, 0, 0)
    walk.say(code, weight, headline, span, "the run starts without a charge", hint)


def _set_rests_apart(walk: Walk) -> None:
    """What is left of a thing that was drawn from stands as a thing of its own."""
    for held in tuple(walk.holdings):
        if held.draws and held.at_hand:
            walk.take_all(held, held.draws[-1].day)


def _say_called_alike(walk: Walk, book: Book) -> None:
    used = {id(run) for run in distinct_runs(book)}
    for run in book.runs:
        if id(run) not in used:
            walk.say(
                "run-name-twice",
                Weight.ERROR,
                f'another log is called "{run.name}" as well',
                Span(run.source, 0, 0),
                "only the first of them is counted",
                "give each log a file name of its own",
            )


def _settle_roles(walk: Walk, runs: dict[str, Run]) -> None:
    """Tell products from charges, and what was used from what stands, now that all is known."""
    for held in walk.holdings:
        poured = held.pool is not None and held.fate is Fate.SHELF
        if held.used_by is not None or held.draws or poured:
            held.fate = Fate.USED
    finished = {id(held) for held in walk.holdings if _is_finished(held, runs)}
    for held in walk.holdings:
        if id(_root(held)) in finished and held.role in (Role.CHARGE, Role.SIDE):
            held.role = Role.PRODUCT


def _root(held: Holding) -> Holding:
    """The thing that was first made, of which this one is what is left or what was drawn."""
    while held.parent is not None:
        held = held.parent
    return held


def _is_between(held: Holding, run: Run) -> bool:
    """Whether a run went on with a part of a powder that it got: the rest of it waits for that.

    A part that was only looked at, in an assay or a trial, tells nothing of that; and a bar of
    which a part was cast again is a bar.
    """
    went_on = (
        run.stages[draw.used_by.index]
        for draw in held.draws
        if draw.used_by is not None and draw.used_by.run == run.name
    )
    return holds_water(held.what) and any(
        not stage.trial and "assay" not in stage.kinds for stage in went_on
    )


def _is_finished(held: Holding, runs: dict[str, Run]) -> bool:
    """Whether a thing is what its run was for: got, of the run's metal, and not used up in it."""
    run = runs.get(held.made_by.run) if held.made_by is not None else None
    if run is None or held.parent is not None or not held.entries:
        return False
    user = held.used_by or (held.pool.used_by if held.pool is not None else None)
    if user is not None and user.run == run.name:
        return False
    if _is_between(held, run):
        return False
    was_got = held.role is Role.CHARGE and held.entries[0].action == "got"
    return held.as_product or (was_got and is_product(held, run.metals))
