"""Cautions: which rules of cautions.toml the runs of a book meet.

Rules are matched on what was added, used, taken and kept, stage by stage, together with what
an earlier stage left behind and with what stands in labelled vessels, over the whole book in
order of date. Nothing here ever says that a step is safe.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.cautions.rules import Signs
from logbook.calculation.cautions.signs import thing_signs
from logbook.calculation.cautions.vessels import Deposit, Vessels, emptied, named
from logbook.calculation.cautions.walk import Walk
from logbook.calculation.results import Caution
from logbook.calculation.schedule import Line, Schedule, lines_of, made_labels, names_of_runs
from logbook.calculation.walk import Step
from logbook.model.book import Bench, Book, Customs, FixedPage
from logbook.model.run import Run

DEFERRAL = (
    "These cautions are reminders, not permission and not advice. Local law and codes, proper "
    "ventilation, protective equipment and licensed practice come first. A danger that is not "
    "named here is still a danger: the absence of a caution says nothing about safety."
)
"""The sentences that follow wherever cautions are shown."""


@dataclass(slots=True)
class _Bench:
    """The runs of a book on their way; lives only while cautions are looked for."""

    vessels: Vessels
    walks: Mapping[str, Walk]
    known: set[str] = field(default_factory=set)

    def carried(self, run: str) -> Signs:
        """What a run left to one that continues it."""
        walk = self.walks.get(run)
        return walk.carried if walk is not None else frozenset()

    def step(self, line: Line, step: Step) -> None:
        """One entry of the book, in order of date."""
        self.known.update(made_labels(step.entry))
        day = None if step.day in (date.min, date.max) else step.day
        if step.stage is None:
            self._of_page(step, day)
            return
        walk = self.walks[line.name]
        if line.at == 1:
            walk.begin(self.carried(line.continues))
        walk.reach(step.stage.index, step.entry, day)
        if line.at == len(line.steps):
            walk.finish()

    def _of_page(self, step: Step, day: date | None) -> None:
        """A bottle that comes to the bench, by a fixed page."""
        for label, portion in named(step.entry):
            signs = thing_signs(portion)
            self.vessels.put(label, Deposit(signs, step.entry, "", day))
        self.vessels.empty(emptied(step.entry))


def cautions_of_runs(
    runs: Iterable[Run], supplies: FixedPage | None = None
) -> Mapping[str, tuple[Caution, ...]]:
    """The cautions of each run, by its name, with jars and waste containers followed through.

    A label keeps what was put into it until all of that is taken or discarded elsewhere, so
    that a waste container filled in two runs is looked at as one mixture; `supplies` tells of
    the bottles that came under a label. `Continues` takes up what the earlier run left in the
    vessel. A plan looks at the jars as they stand at the end, and leaves them as they are.
    """
    all_runs = tuple(runs)
    vessels = Vessels()
    done = {run.name: Walk(run, vessels) for run in reversed(all_runs) if not run.planned}
    bench = _Bench(vessels, done)
    lines = lines_of(Book(Bench(), Customs(), all_runs, supplies))
    silent = [walk for walk in reversed(done.values()) if not walk.run.entries]
    for line, step in Schedule(lines, bench.known.__contains__).in_order():
        while silent and (silent[0].run.day or date.max) <= step.day:
            _walk_alone(silent.pop(0), bench)
        bench.step(line, step)
    for walk in silent:
        _walk_alone(walk, bench)
    planned = {run.name: Walk(run, vessels.copy()) for run in reversed(all_runs) if run.planned}
    for walk in planned.values():
        _walk_alone(walk, bench)
    return {run.name: tuple((done | planned)[run.name].raised) for run in all_runs}


def _walk_alone(walk: Walk, bench: _Bench) -> None:
    """Go through a run whose entries have no place among those of others: a plan, or none."""
    names = names_of_runs([other.run for other in bench.walks.values()])
    before = names.get(walk.run.continues.strip("[] ").lower(), "")
    walk.begin(bench.carried(before) if before != walk.run.name else frozenset())
    walk.finish()
