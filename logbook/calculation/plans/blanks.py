"""The readings that are to be written on a bench sheet, entry by entry.

Every entry that weighs, measures, takes, gives or heats leaves a place for what it will be.
Nothing is put into a blank: what was planned stands in the entry itself.
"""

from __future__ import annotations

from collections.abc import Iterator

from logbook.calculation.results.plans import Blank
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Portion

WEIGHT, VOLUME, NUMBER = Blank("weight", "g"), Blank("volume", "mL"), Blank("number", "")
OF_DIMENSION = {Dimension.MASS: WEIGHT, Dimension.VOLUME: VOLUME, Dimension.COUNT: NUMBER}
READINGS = {
    Dimension.TEMPERATURE: Blank("temperature", "°C"),
    Dimension.PH: Blank("pH", ""),
    Dimension.VOLTAGE: Blank("voltage", "V"),
    Dimension.CURRENT: Blank("current", "A"),
    Dimension.DENSITY: Blank("density", "g/mL"),
    Dimension.BAUME: Blank("degrees Baumé", "°Bé"),
}
FROM, TO = Blank("from", ""), Blank("to", "")  # by the clock
TIMED = frozenset({"heated", "waited", "worked", "dried", "bubbled"})
MOVED = frozenset({"took", "added", "got", "kept", "sampled", "lost", "discarded", "left"})
LIQUIDS = frozenset({"discarded"})
SEEN, UNNAMED = Blank("seen", ""), Blank("reading", "")


def blanks_of(entry: Entry) -> tuple[Blank, ...]:
    """What is to be read or weighed at an entry, each once.

    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/a.md", ""), 0, 0)
    >>> [blank.name for blank in blanks_of(Entry("weighed", place, 1))]
    ['weight']
    """
    return tuple(dict.fromkeys(_blanks(entry)))


def _blanks(entry: Entry) -> Iterator[Blank]:
    if entry.action in MOVED:
        for portion in entry.portions:
            yield _of_portion(entry, portion)
    elif entry.action == "weighed":
        yield WEIGHT
    elif entry.action == "measured":
        yield VOLUME
    elif entry.action in ("tested", "found", "assayed"):
        yield SEEN
    for condition in entry.conditions:
        if condition.dimension in READINGS:
            yield READINGS[condition.dimension]
    if entry.action == "heated" and not entry.conditions:
        yield READINGS[Dimension.TEMPERATURE]
    if entry.action == "read" and not entry.conditions:
        named = entry.words.lower().removeprefix("the ")
        yield next((one for one in READINGS.values() if one.name.lower() == named), UNNAMED)
    if entry.action in TIMED or entry.duration is not None:
        yield from (FROM, TO)
    if entry.end_point or entry.repeats is None:
        yield Blank("times", "")


def _of_portion(entry: Entry, portion: Portion) -> Blank:
    """How much it will be: in the kind of unit that is planned, or that the thing has."""
    if portion.amount is not None and portion.amount.dimension in OF_DIMENSION:
        return OF_DIMENSION[portion.amount.dimension]
    return VOLUME if entry.action in LIQUIDS else WEIGHT
