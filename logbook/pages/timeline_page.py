"""The timeline: every month of the book, runs in rows along its days, and what each day brought.

Runs that went on at the same time stand one below the other, day under day. Every mark of the
drawing stands in words below it. No price is told here: that belongs to the page of money.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.across.calendar import StageDays, stage_days
from logbook.calculation.money.markets import every_step
from logbook.calculation.results import BookFigures, Role, Thing
from logbook.calculation.walk import Step
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run
from logbook.pages.addresses import TIMELINE, Here, Link
from logbook.pages.frame import Frame, Site
from logbook.pages.rounding import coordinate, plural
from logbook.pages.thing_view import thing_words
from logbook.pages.wording import NO_DAY, day_text, days_text, period_text

WIDE, HIGH, GAP = 20.0, 10.0, 1.0  # of a day in a row, of a row, and between two stages
MONEY_WORDS = {"bought": "bought", "had": "there already", "sold": "sold", "spent": "spent"}
SHELF = "put on the shelf"


@dataclass(frozen=True, slots=True)
class Mark:
    """A bar in a row: where it begins and how wide it is, in twentieths of a day."""

    x: str
    width: str
    odd: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One run of a month, or one kind of event, along the days."""

    what: Link
    days: str
    marks: tuple[Mark, ...]
    event: bool


@dataclass(frozen=True, slots=True)
class Happening:
    """What happened on a day: a run with its stages, or an event with the thing it is about."""

    kind: str
    what: Link
    parts: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Day:
    """One day and all that happened on it."""

    day: str
    happenings: tuple[Happening, ...]


@dataclass(frozen=True, slots=True)
class Month:
    """One month: its rows, a line at each week, and its days. `length` is its number of days."""

    name: str
    anchor: str
    length: int
    width: str
    weeks: tuple[str, ...]
    rows: tuple[Row, ...]
    days: tuple[Day, ...]


@dataclass(frozen=True, slots=True)
class TimelineView:
    """The page of the timeline."""

    frame: Frame
    summary: str
    height: str
    months: tuple[Month, ...]
    undated: tuple[Happening, ...]


@dataclass(slots=True)
class _Told:
    """What is gathered of the book before it is put into months."""

    stages: list[tuple[Run, StageDays]] = field(default_factory=list)
    events: list[tuple[date | None, Happening]] = field(default_factory=list)


def timeline_view(figures: BookFigures, site: Site) -> TimelineView:
    """All days of a book, the newest month first."""
    here = site.addresses.at(TIMELINE)
    told = _Told()
    for run in figures.book.runs:
        if not run.planned:
            told.stages += [(run, days) for days in stage_days(run)]
        if run.planned or run.day is None:
            kind = "planned" if run.planned else "run"
            told.events.append((run.day, Happening(kind, here.run(run.name), ())))
    told.events += _of_entries(figures, site, here)
    told.events += _of_shelf(figures.things, here)
    months = sorted(set(_months(told)), reverse=True)
    count = plural(len({day for day, _ in told.events if day} | set(_worked(told))), "day")
    return TimelineView(
        frame=site.frame(here, "Timeline"),
        summary=f"{count} with something written" if months else NO_DAY,
        height=coordinate(HIGH),
        months=tuple(_month(year, month, told, here) for year, month in months),
        undated=tuple(happening for day, happening in told.events if day is None),
    )


def _of_entries(
    figures: BookFigures, site: Site, here: Here
) -> Iterator[tuple[date | None, Happening]]:
    """Purchases, opening stock, sales and other spending, by name and amount alone."""
    for step in every_step(figures.book):
        kind = MONEY_WORDS.get(step.entry.action)
        if kind and site.privacy.shows(step.entry):
            line = here.line(step.entry.span)
            happening = Happening(kind, Link(_named(step.entry), line.href), ())
            yield _day(step), happening


def _day(step: Step) -> date | None:
    return None if step.day in (date.min, date.max) else step.day


def _named(entry: Entry) -> str:
    """What an entry is about, without what was paid for it.

    The words of a lump sum ("for the bus") are the writer's; those of a portion are its amount,
    its name and its strength.
    """
    words = [_portion(portion) for portion in entry.portions]
    return ", ".join(word for word in words if word) or entry.words or "see the line"


def _portion(portion: Portion) -> str:
    amount = portion.amount
    many = amount is not None and not amount.currency and amount.known
    parts = [amount.span.text if amount is not None and many else "", portion.what]
    parts += [portion.strength.span.text if portion.strength is not None else ""]
    parts += [f"[{label.name}]" for label in portion.labels]
    return " ".join(" ".join(parts).split())


def _of_shelf(things: Iterable[Thing], here: Here) -> Iterator[tuple[date | None, Happening]]:
    """What the runs set aside, or finished, under a label."""
    for thing in things:
        kept = thing.role in (Role.SIDE, Role.PRODUCT) and thing.made_by is not None
        if kept and thing.label and not thing.part_of:
            label = here.label(thing.label)
            what = Link(f"[{label.text}] {thing_words(thing)}", label.href)
            yield thing.day, Happening(SHELF, what, ())


def _worked(told: _Told) -> Iterator[date]:
    for _, stage in told.stages:
        yield from stage.days()


def _months(told: _Told) -> Iterator[tuple[int, int]]:
    for day in (*_worked(told), *(day for day, _ in told.events if day is not None)):
        yield day.year, day.month


def _month(year: int, month: int, told: _Told, here: Here) -> Month:
    length = monthrange(year, month)[1]
    first, last = date(year, month, 1), date(year, month, length)
    stages = [
        (run, one) for run, one in told.stages if any(first <= day <= last for day in one.days())
    ]
    events = [(day, one) for day, one in told.events if day and first <= day <= last]
    name = f"{year:04}-{month:02}"
    return Month(
        name=period_text(name),
        anchor=f"month-{name}",
        length=length,
        width=coordinate(WIDE * length),
        weeks=tuple(coordinate(WIDE * day) for day in range(7, length, 7)),
        rows=tuple(_rows(stages, events, first, last, here)),
        days=tuple(_days(stages, events, first, last, here)),
    )


def _rows(
    stages: Sequence[tuple[Run, StageDays]],
    events: Sequence[tuple[date, Happening]],
    first: date,
    last: date,
    here: Here,
) -> Iterator[Row]:
    by_run: dict[str, list[StageDays]] = {}
    for run, days in stages:
        by_run.setdefault(run.name, []).append(days)
    for name, own in by_run.items():
        begins, ends = min(one.first for one in own), max(one.last for one in own)
        yield Row(here.run(name), days_text(begins, ends), tuple(_bars(own, first, last)), False)
    kinds = dict.fromkeys(one.kind for _, one in events)
    for kind in kinds:
        at = [day for day, one in events if one.kind == kind]
        marks = tuple(_square(day) for day in sorted(set(at)))
        yield Row(Link(kind), plural(len(at), "time"), marks, True)


def _days_between(first: date, last: date) -> Iterator[date]:
    for number in range(first.day, last.day + 1):
        yield first.replace(day=number)


def _square(day: date) -> Mark:
    return Mark(coordinate(WIDE * (day.day - 0.75)), coordinate(WIDE / 2), False)


def _bars(own: Sequence[StageDays], first: date, last: date) -> Iterator[Mark]:
    """A bar for each stage on each day; stages of one day share its width in their order."""
    days_of = [set(one.days()) for one in own]
    for day in _days_between(first, last):
        here = [place for place, days in enumerate(days_of) if day in days]
        width = WIDE / len(here) if here else 0.0
        for at, place in enumerate(here):
            begin = WIDE * (day.day - 1) + width * at
            yield Mark(coordinate(begin), coordinate(width - GAP), place % 2 == 1)


def _days(
    stages: Sequence[tuple[Run, StageDays]],
    events: Sequence[tuple[date, Happening]],
    first: date,
    last: date,
    here: Here,
) -> Iterator[Day]:
    for day in _days_between(first, last):
        found = [*_work(stages, day, here), *(one for at, one in events if at == day)]
        if found:
            yield Day(f"{day.day}", tuple(found))


def _work(stages: Sequence[tuple[Run, StageDays]], day: date, here: Here) -> Iterator[Happening]:
    """The runs that a day saw, each with the stages that were worked on."""
    by_run: dict[str, list[Link]] = {}
    for run, one in stages:
        if day in one.days():
            by_run.setdefault(run.name, []).append(_stage(run, one, day, here))
    for name, parts in by_run.items():
        yield Happening("run", here.run(name), tuple(parts))


def _stage(run: Run, one: StageDays, day: date, here: Here) -> Link:
    words = one.title or "before the first heading"
    if one.clock is not None and day == one.first and f"{one.clock:%H:%M}" not in words:
        words += f", {one.clock:%H:%M}"
    if one.first < day:
        words += f", begun on {day_text(one.first)}"
    return Link(words, here.stage(run.name, one.place).href if one.title else "")
