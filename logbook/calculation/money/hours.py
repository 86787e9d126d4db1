"""Hours: hands-on work as it was noted, and elapsed time of stages and runs.

Waiting is never labour. A time that was not written is not known, never nothing; an
`overnight` counts only where the dates and clock times around it tell how long it was.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.clock import counted_once, stretches_of
from logbook.calculation.results import StageKey, StageTime
from logbook.calculation.sums import add_up, difference, lowest
from logbook.calculation.weights import leaf
from logbook.findings import Finding, Weight
from logbook.model.amount import Uncertain
from logbook.model.entry import Entry, When
from logbook.model.run import Run
from logbook.source import Span

CLOCK_U = 0.5 / 60.0 / 3.0**0.5  # h; a clock read to the minute (JCGM 100, 4.3.7, rectangular)
NO_TIME = "no time was noted"
NO_HEAT = "no line says how long anything was heated"


@dataclass(frozen=True, slots=True)
class Mark:
    """A date and time of day that a log gives, at a stage or an entry."""

    stage: int
    moment: datetime
    span: Span


@dataclass(frozen=True, slots=True)
class Spell:
    """A stretch of elapsed time that an entry gives: heated for 2 h, waited overnight.

    `after` is how many marks stand before it: it lies between that one and the next.
    """

    stage: int
    after: int
    figure: Figure


@dataclass(frozen=True, slots=True)
class TimeLine:
    """The moments and stretches of time of a run, in the order they were written."""

    marks: tuple[Mark, ...]
    spells: tuple[Spell, ...]


def hands_on(entries: Iterable[Entry]) -> Figure:
    """Hours of work at the bench: the sum of what `worked` entries say, leaving `in all` out.

    Equation: t = Σ t_i [h]. Where one of them is not known the sum is not, and `low` is what
    is known. Source: the definition of a sum.

    Three quarters of an hour and half an hour, by hand:

    >>> from logbook.model.amount import Amount, Dimension
    >>> from logbook.source import SourceText
    >>> place = Span(SourceText("runs/a.md", ""), 0, 0)
    >>> hours = [Amount(place, Dimension.TIME, "h", h, h) for h in (0.75, 0.5)]
    >>> hands_on([Entry("worked", place, 1, duration=one) for one in hours]).value.value
    1.25
    """
    worked = [entry for entry in entries if entry.action == "worked" and not entry.in_all]
    if not worked:
        return not_known("hands-on", "h", NO_TIME)
    return add_up("hands-on", "h", [_duration("worked", entry) for entry in worked])


def worked_by_stage(run: Run) -> list[list[Figure]]:
    """What was worked in each stage, where a minute that two lines name counts once."""
    worked = [
        [one for one in stage.entries if one.action == "worked" and not one.in_all]
        for stage in run.stages
    ]
    flat = [one for stage in worked for one in stage]
    figures = [_duration("worked", one) for one in flat]
    times = iter(counted_once(flat, figures, stretches_of(run)))
    return [[next(times) for _ in stage] for stage in worked]


def heated(entries: Iterable[Entry], stretches: Mapping[int, Sequence[tuple[int, int]]]) -> Figure:
    """The hours that some entries say it was heated; vessels side by side count once.

    What has clock times counts once where they overlap; other lines are taken as one after the
    other. Equation: see `counted_once`.
    """
    lines = [one for one in entries if one.action == "heated"]
    if not lines:
        return not_known("heated", "h", NO_HEAT)
    figures = [_duration("heated", one) for one in lines]
    return add_up("heated", "h", counted_once(lines, figures, stretches))


def _summed(parts: Sequence[Figure]) -> Figure:
    return add_up("hands-on", "h", parts) if parts else not_known("hands-on", "h", NO_TIME)


def hands_on_of_run(run: Run, *, alone: bool) -> Figure:
    """Hours of work of a run. `alone` tells that nothing from an earlier run went in.

    What was worked `in all` covers everything that led there: it stands for the run where
    nothing else led there, and is left aside, with a note, where earlier work lies in it.
    """
    noted = _summed([one for stage in worked_by_stage(run) for one in stage])
    in_all = [entry for entry in run.entries if entry.action == "worked" and entry.in_all]
    if not in_all:
        return noted
    whole = _duration("worked in all", in_all[-1])
    if alone and lowest(whole) >= lowest(noted):
        note = "as worked in all: what was noted for single stages lies inside it"
        return replace(whole, name="hands-on", notes=(*whole.notes, note))
    note = f'left aside: "{in_all[-1].span.text.strip()}", which covers earlier work too'
    return replace(noted, notes=(*noted.notes, note))


def in_all_findings(run: Run, continued: Sequence[Run] = ()) -> Iterable[Finding]:
    """Say where more hours were noted than were worked in all, in the runs it continues too."""
    lines = [one for each in (run, *continued) for stage in worked_by_stage(each) for one in stage]
    noted = lowest(_summed(lines))
    for entry in run.entries:
        if entry.action == "worked" and entry.in_all and entry.duration is not None:
            whole = entry.duration.base_value
            if whole is not None and whole < noted - 1e-9:
                yield Finding(
                    "in-all-less",
                    Weight.DOUBT,
                    "more hours were noted than were worked in all",
                    entry.duration.span,
                    "the hours noted one by one are counted",
                    "correct the hours in all, or one of the others",
                )


def _duration(name: str, entry: Entry) -> Figure:
    words = entry.span.text.strip().split("\n")[0]
    why = f'how long "{words}" took is not written'
    if entry.duration is None:
        return Figure(name, "h", why=why, rests_on=(entry.span,))
    return leaf(name, entry.duration, why)


def time_line(run: Run) -> TimeLine:
    """Read the moments and stretches of time from a run's entries.

    Beakers that stand side by side by the clock take their time once.
    """
    marks: list[Mark] = []
    spells: list[Spell] = []
    day = run.day
    waited = [one for one in run.entries if one.action != "worked" and one.duration is not None]
    each = [_duration(one.action, one) for one in waited]
    once = dict(zip(map(id, waited), counted_once(waited, each, stretches_of(run)), strict=True))
    for place, stage in enumerate(run.stages):
        day = _mark(marks, place, stage.when, day)
        for entry in stage.entries:
            day = _mark(marks, place, entry.when, day)
            if id(entry) in once:
                spells.append(Spell(place, len(marks), once[id(entry)]))
    return TimeLine(tuple(marks), tuple(spells))


def _mark(marks: list[Mark], place: int, when: When | None, day: date | None) -> date | None:
    """Note a date-time; one that goes back is left out, as nobody can tell its day."""
    if when is None:
        return day
    day = when.day or day
    if when.clock is not None and day is not None:
        moment = datetime.combine(day, when.clock.replace(tzinfo=None))
        if not marks or moment >= marks[-1].moment:
            marks.append(Mark(place, moment, when.span))
    return day


def between(start: Mark, end: Mark) -> Figure:
    """The hours from one date-time to another, each read to the minute.

    Equation: t = t_2 − t_1 [h]; u²(t) = 2 (0.5 min / √3)². Source: JCGM 100:2008, 4.3.7 for
    a rectangular half-minute, 5.1.2 for the difference (clause numbers from memory).

    From 17:00 to 08:30 the next day are 15.5 h, give or take half a minute at either end:

    >>> from logbook.source import SourceText
    >>> log = SourceText("runs/a.md", "15 March 17:00 ... 16 March 08:30")
    >>> evening = Mark(0, datetime(2026, 3, 15, 17, 0), Span(log, 0, 14))
    >>> morning = Mark(0, datetime(2026, 3, 16, 8, 30), Span(log, 19, 33))
    >>> night = between(evening, morning)
    >>> night.value.value, round(night.value.u, 4)
    (15.5, 0.0068)
    """
    hours = (end.moment - start.moment).total_seconds() / 3600.0
    first = Uncertain.of(0.0, CLOCK_U, start.span)
    second = Uncertain.of(hours, CLOCK_U, end.span)
    words = "later date and time − earlier date and time"
    return Figure("from date to date", "h", second - first, words, rests_on=(start.span, end.span))


def elapsed_of_stages(run: Run, line: TimeLine) -> list[Figure]:
    """The elapsed hours of each stage: what its entries say, an unknown one from the dates."""
    between_marks: dict[int, list[Spell]] = {}
    of_stage: dict[int, dict[int, list[Spell]]] = {}
    for spell in line.spells:
        between_marks.setdefault(spell.after, []).append(spell)
        of_stage.setdefault(spell.stage, {}).setdefault(spell.after, []).append(spell)
    figures = []
    for place, stage in enumerate(run.stages):
        parts: list[Figure] = []
        for after, spells in of_stage.get(place, {}).items():
            whole = _from_dates(line, place, after, between_marks[after])
            parts.extend([whole] if whole else [spell.figure for spell in spells])
        why = f'{NO_TIME} for "{stage.title}"' if stage.title else NO_TIME
        figures.append(add_up("elapsed", "h", parts) if parts else not_known("elapsed", "h", why))
    return figures


def _from_dates(line: TimeLine, place: int, after: int, spells: list[Spell]) -> Figure | None:
    """An overnight as long as the dates say: from the date-time before it to the next one.

    What other stages noted in between is taken off. None where nothing needs or gives it.
    """
    unknown = any(not spell.figure.known for spell in spells if spell.stage == place)
    if not unknown or not 0 < after < len(line.marks) or line.marks[after - 1].stage != place:
        return None
    whole = between(line.marks[after - 1], line.marks[after])
    others = [spell.figure for spell in spells if spell.stage != place]
    if not others:
        return whole
    left = difference("elapsed", "h", whole, add_up("noted by other stages", "h", others))
    return left if left.known else None


def run_elapsed(line: TimeLine, stages: Sequence[Figure]) -> Figure:
    """The elapsed hours of a run: from its first date-time to its last, else its stages' sum.

    What was noted before the first date-time or after the last one is added.
    """
    if len(line.marks) > 1:
        around = [s.figure for s in line.spells if s.after in (0, len(line.marks))]
        return add_up("elapsed", "h", [between(line.marks[0], line.marks[-1]), *around])
    if not line.spells:
        return not_known("elapsed", "h", NO_TIME)
    return add_up("elapsed", "h", stages)


def stage_times(run: Run) -> tuple[tuple[StageTime, ...], Figure]:
    """The time of each stage, and the elapsed time of the run."""
    line = time_line(run)
    elapsed = elapsed_of_stages(run, line)
    worked, stretches = worked_by_stage(run), stretches_of(run)
    times = tuple(
        StageTime(
            StageKey(run.name, place),
            _summed(worked[place]),
            elapsed[place],
            heated(stage.entries, stretches),
        )
        for place, stage in enumerate(run.stages)
    )
    written = [time for time, stage in zip(elapsed, run.stages, strict=True) if stage.entries]
    return times, run_elapsed(line, written)
