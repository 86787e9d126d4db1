"""Clock times of a run laid on one line, so that a minute that two lines name counts once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.money.exchange import NO_DAY
from logbook.calculation.schedule import steps_of_run
from logbook.findings import Finding, Weight
from logbook.model.amount import ZERO, Uncertain
from logbook.model.days import day_in_words
from logbook.model.entry import MINUTES_OF_A_DAY, Entry
from logbook.model.run import Run

MINUTE_U = 0.5 / 60.0 / 3.0**0.5  # h; a clock read to the minute (JCGM 100, 4.3.7, rectangular)

Stretch = tuple[int, int]  # minutes since the first day of the calendar, start and end


@dataclass(frozen=True, slots=True)
class Clocked:
    """A stretch of hands-on work of a run on a day that is known."""

    start: int
    end: int
    run: Run
    entry: Entry


def stretches_of(run: Run) -> Mapping[int, tuple[Stretch, ...]]:
    """The stretches that each entry of a run gives by clock times, by the identity of the entry.

    They lie on the day that the log had come to; where no day is known, on one of their own.
    """
    found = {}
    for step in steps_of_run(run):
        if step.entry.clock_times:
            day = 0 if step.day in NO_DAY else step.day.toordinal() * MINUTES_OF_A_DAY
            starts = [
                (one.start.hour * 60 + one.start.minute, one) for one in step.entry.clock_times
            ]
            found[id(step.entry)] = tuple((day + at, day + at + one.minutes) for at, one in starts)
    return found


def not_covered(stretch: Stretch, covered: Sequence[Stretch]) -> list[Stretch]:
    """What of a stretch no other covers.

    >>> not_covered((540, 630), [(600, 660)])
    [(540, 600)]
    """
    left = [stretch]
    for start, end in covered:
        parts = [((a, min(b, start)), (max(a, end), b)) for a, b in left]
        left = [part for pair in parts for part in pair if part[0] < part[1]]
    return left


def counted_once(
    entries: Iterable[Entry], figures: Iterable[Figure], stretches: Mapping[int, Sequence[Stretch]]
) -> list[Figure]:
    """The times of some entries, where a minute that an earlier line named counts once.

    Equation: t_i = |S_i − ∪ S_j for j < i| [h], with S the stretches by the clock, so that
    Σ t_i = |∪ S_i|. Lines without clock times count in full. Source: the measure of a union.
    """
    covered: list[Stretch] = []
    found = []
    for entry, figure in zip(entries, figures, strict=True):
        own = stretches.get(id(entry), ())
        left: list[Stretch] = []
        for stretch in own:
            new = not_covered(stretch, covered)
            left += new
            covered += new
        whole = sum(end - start for start, end in own)
        rest = sum(end - start for start, end in left)
        found.append(figure if rest == whole else _rest(figure, rest, len(left), whole - rest))
    return found


def _rest(figure: Figure, minutes: int, pieces: int, twice: int) -> Figure:
    note = f"{twice} min of it lie in the time of another line and count once"
    value = (
        Uncertain.of(minutes / 60, MINUTE_U * (2 * pieces) ** 0.5, figure.rests_on)
        if minutes
        else ZERO
    )
    words = "its clock times without those of lines before"
    return Figure(figure.name, "h", value, words, (figure,), notes=(*figure.notes, note))


def at_two_runs(runs: Iterable[Run]) -> Iterator[Finding]:
    """Work that lies in the time of another run's work: a person has two hands.

    Neither run is shortened: no line says to which of them the time belongs.
    """
    latest: Clocked | None = None
    for one in sorted(_worked(runs), key=lambda one: (one.start, one.end, one.run.name)):
        if latest is not None and latest.run is not one.run and one.start < latest.end:
            yield _overlap(one, latest)
        if latest is None or one.end > latest.end:
            latest = one


def _worked(runs: Iterable[Run]) -> Iterator[Clocked]:
    for run in runs:
        dated = {id(step.entry) for step in steps_of_run(run) if step.day not in NO_DAY}
        by_entry = stretches_of(run)
        for entry in run.entries:
            if entry.action == "worked" and not entry.in_all and id(entry) in dated:
                for start, end in by_entry.get(id(entry), ()):
                    yield Clocked(start, end, run, entry)


def _overlap(one: Clocked, other: Clocked) -> Finding:
    minutes = min(one.end, other.end) - one.start
    day = day_in_words(date.fromordinal(one.start // MINUTES_OF_A_DAY))
    span = one.entry.clock_times[0].span
    return Finding(
        "two-runs-at-once",
        Weight.DOUBT,
        f'{minutes} min of this work on {day} lie in the time of the work of "{other.run.title}"',
        span,
        "both runs keep their hours, so that sums over runs count these minutes twice: "
        "no line says to which of the two they belong",
        "shorten one of the two, or write its day where it was another",
    )
