"""On which days the stages of a run were worked on, as far as its log tells.

A stage without a date of its own goes on from the day of what stands before it. Days never go
back. A run without any date has none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time, timedelta

from logbook.model.entry import When
from logbook.model.run import Run

LONGEST = 31  # days through which a stage is taken to go on; a longer one shows its two ends


@dataclass(frozen=True, slots=True)
class StageDays:
    """A stage with its first and its last day, and the hour at which it began, if that is told."""

    place: int
    title: str
    first: date
    last: date
    clock: time | None

    def days(self) -> Iterator[date]:
        """Each day from the first to the last; these two alone where they lie far apart.

        Nothing tells then of the time between them.

        >>> far = StageDays(0, "Settle", date(2025, 3, 1), date(2026, 3, 1), None)
        >>> [day.year for day in far.days()]
        [2025, 2026]
        """
        length = (self.last - self.first).days
        if length > LONGEST:
            yield self.first
            yield self.last
            return
        for more in range(length + 1):
            yield self.first + timedelta(days=more)


def stage_days(run: Run) -> Iterator[StageDays]:
    """The stages of a run that have a day and a heading or an entry, in the order of the log."""
    day = run.day
    for place, stage in enumerate(run.stages):
        day = _later(day, stage.when)
        first, last = day, day
        for at, entry in enumerate(stage.entries):
            last = _later(last, entry.when)
            if at == 0 and (stage.when is None or stage.when.day is None):
                first = last
        day = last
        if first is not None and last is not None and (stage.title or stage.entries):
            clock = stage.when.clock if stage.when is not None else None
            yield StageDays(place, stage.title, first, last, clock)


def _later(day: date | None, when: When | None) -> date | None:
    if when is None or when.day is None:
        return day
    return when.day if day is None else max(day, when.day)
