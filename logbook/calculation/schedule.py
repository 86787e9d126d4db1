"""The order in which a book is walked: entries of all runs by day, a thing before its use.

Within a run entries keep their order. Where a log gives no day of its own for a stage, its
use of a label waits until another run has made that thing. Nothing here moves a thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from heapq import heapify, heappop, heappush

from logbook.calculation.results import StageKey
from logbook.calculation.walk import Step
from logbook.model.book import Book, FixedPage
from logbook.model.entry import Entry, Label, Portion, When
from logbook.model.run import Run

USES = frozenset(
    {"took", "added", "weighed", "measured", "assayed", "sampled", "discarded", "sold", "lost"}
)
MAKES = frozenset({"got", "kept", "left", "sampled", "bought", "had"})
NAMING = frozenset({"took", "added"})  # may name a thing that comes from outside the book


@dataclass(slots=True, eq=False)
class Line:
    """One run or fixed page: its entries in order, and how far the walk has come."""

    rank: int
    run: Run | None
    steps: list[Step]
    at: int = 0
    continues: str = ""  # the name of the run whose last charge it takes up
    forced: int = -1  # the step that is read without waiting any longer

    @property
    def name(self) -> str:
        """The run's name; empty for a fixed page."""
        return self.run.name if self.run is not None else ""


@dataclass(slots=True)
class Schedule:
    """Hands out steps in order. `known` tells whether a label has ever stood for something."""

    lines: list[Line]
    known: Callable[[str], bool]
    _makers: dict[str, list[tuple[date, int, int]]] = field(default_factory=dict)
    _waiting: dict[str, list[Line]] = field(default_factory=dict)
    _undone: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        for line in self.lines:
            for place, step in enumerate(line.steps):
                for name in made_labels(step.entry):
                    self._makers.setdefault(name, []).append((step.day, line.rank, place))

    def in_order(self) -> Iterator[tuple[Line, Step]]:
        """Every step of the book once. A line that waits in vain goes on in the end."""
        queue = [(line.steps[0].day, line.rank) for line in self.lines if line.steps]
        self._undone = {line.name for line in self.lines if line.steps and line.run}
        heapify(queue)
        left = len(queue)
        while left:
            if not queue:
                self._let_one_go(queue)
            line = self.lines[heappop(queue)[1]]
            yield from self._of_one_day(line, queue)
            left -= line.at == len(line.steps)

    def _of_one_day(self, line: Line, queue: list[tuple[date, int]]) -> Iterator[tuple[Line, Step]]:
        day = line.steps[line.at].day
        while line.at < len(line.steps) and line.steps[line.at].day == day:
            step = line.steps[line.at]
            awaited = self._awaited(line, step)
            if awaited is not None:
                self._waiting.setdefault(awaited, []).append(line)
                return
            line.at += 1
            yield line, step
            for name in made_labels(step.entry):
                self._release(name, queue)
        if line.at < len(line.steps):
            heappush(queue, (line.steps[line.at].day, line.rank))
        else:
            self._undone.discard(line.name)
            self._release(_end_of(line.name), queue)

    def _awaited(self, line: Line, step: Step) -> str | None:
        """What this step has to wait for: a run it continues, or a label made elsewhere."""
        if line.forced == line.at:
            return None
        if line.at == 0 and line.continues in self._undone and line.continues != line.name:
            return _end_of(line.continues)
        for label in used_labels(step.entry):
            if not self.known(label.name) and self._made_elsewhere(label.name, line, step):
                return label.name
        return None

    def _made_elsewhere(self, name: str, line: Line, step: Step) -> bool:
        return any(
            rank != line.rank
            and place >= self.lines[rank].at
            and (day <= step.day or not step.dated)
            for day, rank, place in self._makers.get(name, ())
        )

    def _release(self, name: str, queue: list[tuple[date, int]]) -> None:
        for line in self._waiting.pop(name, ()):
            heappush(queue, (line.steps[line.at].day, line.rank))

    def _let_one_go(self, queue: list[tuple[date, int]]) -> None:
        """Of lines that wait for one another, let the earliest go on regardless."""
        first = min((line for lines in self._waiting.values() for line in lines), key=_by_day)
        for name, lines in self._waiting.items():
            self._waiting[name] = [line for line in lines if line is not first]
        first.forced = first.at
        heappush(queue, _by_day(first))


def used_labels(entry: Entry) -> Iterator[Label]:
    """The labels that must stand for something before the entry can be read."""
    if entry.action in USES:
        for portion in entry.portions:
            if not (entry.action in NAMING and names_itself(entry, portion)):
                yield from portion.labels
    yield from entry.sources


def made_labels(entry: Entry) -> Iterator[str]:
    """The labels at which an entry may put something."""
    for label in entry.destinations:
        yield label.name
    if entry.action in MAKES or entry.action in NAMING:
        for portion in entry.portions:
            for label in portion.labels:
                yield label.name


def names_itself(entry: Entry, portion: Portion) -> bool:
    """Whether an entry says enough of a thing for it to come from outside the book.

    `took 412.6 g relay contacts [RC-3]` does, `took [RC-3]` and `took half of [RC-3]` do not.
    """
    if portion.share is not None and portion.share < 1.0:
        return False
    return bool(portion.what and (portion.amount is not None or entry.compositions))


def _end_of(run: str) -> str:
    return f"the end of {run}\n"  # no label holds a line break


def _by_day(line: Line) -> tuple[date, int]:
    return line.steps[line.at].day, line.rank


def steps_of_run(run: Run) -> list[Step]:
    """The entries of a run with the day on which each was done, which never goes back."""
    day, steps = run.day or date.max, []
    for place, stage in enumerate(run.stages):
        key = StageKey(run.name, place)
        dated = place == 0 or (stage.when is not None and stage.when.day is not None)
        day = _later(day, stage.when)
        for entry in stage.entries:
            dated = dated or (entry.when is not None and entry.when.day is not None)
            day = _later(day, entry.when)
            steps.append(Step(run.name, key, day, dated, entry))
    return steps


def last_day(run: Run) -> date | None:
    """The day on which a run ended, as far as its log says."""
    day = end = run.day or date.max
    for stage in run.stages:
        day = _later(day, stage.when)
        for entry in stage.entries:
            day = end = _later(day, entry.when)
    return None if end == date.max else end


def steps_of_page(page: FixedPage) -> list[Step]:
    """The entries of a fixed page by day; one without a date held from the beginning."""
    steps = []
    for entry in page.entries:
        when = entry.when
        day = when.day if when is not None and when.day is not None else date.min
        steps.append(Step(page.source.name, None, day, True, entry))
    return sorted(steps, key=lambda step: step.day)


def _later(day: date, when: When | None) -> date:
    if when is None or when.day is None:
        return day
    return when.day if day == date.max else max(day, when.day)


def lines_of(book: Book) -> list[Line]:
    """The fixed pages and the runs of a book, each with its steps. Plans are not done yet."""
    lines = [
        Line(rank, None, steps_of_page(page))
        for rank, page in enumerate(page for page in (book.supplies, book.prices) if page)
    ]
    runs = [run for run in distinct_runs(book) if not run.planned]
    names = names_of_runs(runs)
    for run in runs:
        continued = names.get(run.continues.strip("[] ").lower(), "")
        lines.append(Line(len(lines), run, steps_of_run(run), continues=continued))
    return lines


def distinct_runs(book: Book) -> tuple[Run, ...]:
    """The runs of a book, one for each name: of two files called alike only the first."""
    first: dict[str, Run] = {}
    for run in book.runs:
        first.setdefault(run.name, run)
    return tuple(first.values())


def continued_by(run: Run, runs: Sequence[Run]) -> tuple[Run, ...]:
    """The runs that a run continues, the nearest first, none of them twice."""
    if not run.continues:
        return ()
    names, by_name = names_of_runs(runs), {one.name: one for one in runs}
    found: dict[str, Run] = {run.name: run}
    name = names.get(run.continues.strip("[] ").lower(), "")
    while name and name not in found:
        found[name] = by_name[name]
        name = names.get(found[name].continues.strip("[] ").lower(), "")
    return tuple(found.values())[1:]


def names_of_runs(runs: Sequence[Run]) -> dict[str, str]:
    """What a run may be called by another: its name, its title, its name without a date."""
    named = [(run.name, run.name) for run in runs]
    titled = [(run.title, run.name) for run in runs]
    undated = [(run.name[len("2026-03-14-") :], run.name) for run in runs]
    names: dict[str, str] = {}
    for called, name in named + titled + undated:
        names.setdefault(called.lower(), name)
    names.pop("", None)
    return names
