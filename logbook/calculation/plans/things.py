"""What a plan would take up, as far as its own words and the shelf tell: nothing of it is done.

A plan is walked as if it were the only run of the book. What it means to take from the shelf is
looked up among the things that stand there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from logbook.calculation.lineage import trace
from logbook.calculation.results import Fate, Thing
from logbook.calculation.schedule import distinct_runs
from logbook.calculation.things import take_stock
from logbook.model.book import Book
from logbook.model.run import Run, Status


def things_of_plans(book: Book, things: Iterable[Thing]) -> Mapping[str, tuple[Thing, ...]]:
    """The things that each plan speaks of; those with a label of the shelf hold what is there."""
    shelf = by_label(things)
    plans = (run for run in distinct_runs(book) if run.planned)
    return {run.name: _planned_things(run, book, shelf) for run in plans}


def _planned_things(run: Run, book: Book, shelf: Mapping[str, Thing]) -> tuple[Thing, ...]:
    done = replace(run, status=Status.FINISHED, continues="")
    alone = replace(book, runs=(done,), supplies=None, prices=None)
    things = take_stock(alone, trace(alone)).things
    return tuple(_as_on_the_shelf(thing, shelf.get(thing.label)) for thing in things)


def _as_on_the_shelf(thing: Thing, found: Thing | None) -> Thing:
    """A thing of a plan with what is known of it from the book; what the plan says goes first."""
    if found is None or thing.made_by is not None:
        return thing
    told = {metal: content for metal, content in thing.contents.items() if content.known}
    return replace(
        thing,
        what=thing.what or found.what,
        gross=thing.gross if thing.gross.known else found.gross,
        volume=thing.volume if thing.volume.known else found.volume,
        contents={**found.contents, **told},
    )


def by_label(things: Iterable[Thing]) -> Mapping[str, Thing]:
    """What stands on the shelf under each label: its newest state."""
    return {thing.label: thing for thing in things if thing.label and thing.fate is Fate.SHELF}
