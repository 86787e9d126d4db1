"""The metal in stock at the end of a period: all that was there by then and had not gone.

From the days on which things came to be, were drawn from, poured together, used, sold, lost or
thrown away. A stage counts as done on the day of the last thing it made: until then what it
took is in stock, and nothing counts twice. Waste is not stock.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from logbook.calculation.figure import Figure
from logbook.calculation.results import Fate, Role, StageKey, Thing
from logbook.calculation.schedule import lines_of
from logbook.calculation.sums import highest, lowest, zero
from logbook.calculation.walk import Step
from logbook.model.amount import ZERO, Uncertain, combined
from logbook.model.book import Book

ALL = "all"
REMOVES = frozenset({"sold", "lost", "discarded"})
MOST_TOLD = 200  # things that are told one by one


@dataclass(frozen=True, slots=True)
class Stay:
    """A thing with the day from which it was in stock, and the day on which it had gone."""

    thing: Thing
    start: date
    end: date  # date.max where it is there still

    def there_on(self, day: date) -> bool:
        """Whether it was in stock at the end of a day."""
        return self.start <= day < self.end


def last_day_of(period: str) -> date:
    """The last day of a month, a year, or of all days but the one that never comes.

    >>> last_day_of("2026-02"), last_day_of("2025-12"), last_day_of("2026")
    (datetime.date(2026, 2, 28), datetime.date(2025, 12, 31), datetime.date(2026, 12, 31))
    """
    if period == ALL:
        return date.max - timedelta(days=1)
    year, month = int(period[:4]), int(period[5:] or 12)
    following = (year + month // 12, month % 12 + 1)
    return date.max if following[0] > date.max.year else date(*following, 1) - timedelta(days=1)


# When things came and went


def stays(things: Sequence[Thing], book: Book) -> tuple[Stay, ...]:
    """From when to when each thing of a book was in stock, those that never were left out."""
    steps = [step for line in lines_of(book) for step in line.steps]
    days = _Days(things, steps)
    found = (Stay(thing, days.start(thing), days.end(thing)) for thing in things)
    return tuple(stay for stay in found if stay.start < stay.end)


class _Days:
    """The days on which things came and went."""

    def __init__(self, things: Sequence[Thing], steps: Iterable[Step]) -> None:
        self._by_key = {thing.key: thing for thing in things}
        self._jar_of = {part: thing.key for thing in things for part in thing.pooled_from}
        self._drawn: dict[str, date] = {}  # the first draw from a thing
        self._done: dict[StageKey, date] = {}
        for thing in things:
            if thing.part_of:
                before = self._drawn.get(thing.part_of, date.max)
                self._drawn[thing.part_of] = min(before, _born(thing))
            elif thing.made_by is not None and not thing.pooled_from:
                before = self._done.get(thing.made_by, date.min)
                self._done[thing.made_by] = max(before, _born(thing))
        self._removed: dict[str, list[date]] = {}
        for step in steps:
            if step.stage is not None:
                self._done.setdefault(step.stage, step.day)
            if step.entry.action in REMOVES:
                portions = step.entry.portions
                labels = [label for portion in portions for label in portion.labels]
                for label in (*labels, *step.entry.sources):
                    self._removed.setdefault(label.name, []).append(step.day)

    def start(self, thing: Thing) -> date:
        """The day from which a thing counts: a draw takes the place of its lot."""
        if thing.part_of:
            return self._drawn[thing.part_of]
        if thing.made_by is not None and not thing.pooled_from:
            return self._done[thing.made_by]
        return _born(thing)

    def end(self, thing: Thing) -> date:
        """The day on which a thing had gone, or another stands in its place."""
        if thing.key in self._drawn:
            return self._drawn[thing.key]
        if thing.fate in (Fate.SOLD, Fate.LOST, Fate.WASTE):
            return self._day_removed(thing)
        if thing.used_by is not None:
            return self._done.get(thing.used_by, _born(thing))
        jar = self._jar_of.get(thing.key)
        if jar is not None:
            return self.start(self._by_key[jar])
        return date.max if thing.fate is Fate.SHELF else date.min

    def _day_removed(self, thing: Thing) -> date:
        jar = self._jar_of.get(thing.key)
        no_name = not thing.label or (jar is not None and self._by_key[jar].label == thing.label)
        if thing.role in (Role.WASTE, Role.LOSS) or no_name:
            return date.min
        born = _born(thing)
        return min((day for day in self._removed.get(thing.label, ()) if day >= born), default=born)


def _born(thing: Thing) -> date:
    return thing.day or date.min


# What was there


def stock_at_ends(metal: str, periods: Iterable[str], found: Iterable[Stay]) -> dict[str, Figure]:
    """The metal in stock at the end of each period.

    Equation: S(d) = Σ contents of the things that came by day d and had not gone [g]; it is
    carried on from one period to the next, S + came − went, with the errors that they share.
    Source: the definition of a stock (common practice, no source); propagation JCGM 100:2008,
    5.2.2 (from memory).
    """
    held = [stay for stay in found if metal in stay.thing.contents]
    coming = sorted(held, key=lambda stay: stay.start, reverse=True)
    going = sorted(held, key=lambda stay: stay.end, reverse=True)
    stock, figures = _Stock(metal), {}
    for period in sorted(periods, key=last_day_of):
        day, terms = last_day_of(period), []
        while coming and coming[-1].start <= day:
            terms += stock.come(coming.pop())
        while going and going[-1].end <= day:
            terms += stock.go(going.pop())
        stock.carry_on(terms)
        figures[period] = stock.figure()
    return figures


@dataclass(slots=True)
class _Stock:
    """What is in stock of a metal while the days go by."""

    metal: str
    sum: Uncertain = ZERO
    known: dict[str, Figure] = field(default_factory=dict)
    unknown: dict[str, Figure] = field(default_factory=dict)

    def come(self, stay: Stay) -> list[tuple[float, Uncertain]]:
        """Take a thing in, and return what that adds."""
        content = stay.thing.contents[self.metal]
        if content.value is None:
            self.unknown[stay.thing.key] = content
            return []
        self.known[stay.thing.key] = content
        return [(1.0, content.value)]

    def go(self, stay: Stay) -> list[tuple[float, Uncertain]]:
        """Let a thing go, and return what that takes off."""
        self.unknown.pop(stay.thing.key, None)
        gone = self.known.pop(stay.thing.key, None)
        return [] if gone is None or gone.value is None else [(-1.0, gone.value)]

    def carry_on(self, terms: Sequence[tuple[float, Uncertain]]) -> None:
        """Add what came and take off what went."""
        if not self.known:
            self.sum = ZERO  # and not what rounding left
        elif terms:
            self.sum = combined([(1.0, self.sum), *terms])

    def figure(self) -> Figure:
        """The stock as it is; limits where the contents of some things have only limits."""
        count = len(self.known) + len(self.unknown)
        if not count:
            return zero("in stock", "g", f"nothing in stock is said to hold {self.metal}")
        words = f"sum of what was there, {count} things" if count > 1 else "what was there"
        terms = (*self.unknown.values(), *self.known.values()) if count <= MOST_TOLD else ()
        if not self.unknown:
            return Figure("in stock", "g", self.sum, words, terms)
        open_parts = list(self.unknown.values())
        tops = [highest(part) for part in open_parts]
        why = f"it is not known of {len(open_parts)} of {count} things: {open_parts[0].why}"
        return Figure(
            "in stock",
            "g",
            formula=words,
            terms=terms,
            why=why,
            low=self.sum.value + sum(map(lowest, open_parts)),
            high=None if None in tops else self.sum.value + sum(top or 0.0 for top in tops),
        )
