"""What is known of waste containers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results.bench import Caution
from logbook.calculation.results.things import Content, StageKey
from logbook.model.entry import Entry


@dataclass(frozen=True, slots=True)
class Discarded:
    """One thing that went into a waste container, or to waste without one."""

    thing: str  # its key
    what: str
    day: date | None
    stage: StageKey | None
    volume: Figure
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class BaseNeed:
    """How much of one base a container takes, with what it dissolved; and the CO2 of that."""

    base: str  # formula
    grams: Figure
    gas: Figure  # L of CO2 at 25 C and 101.325 kPa


@dataclass(frozen=True, slots=True)
class LimitLine:
    """What is known of a container beside one line that a law has drawn.

    `verdict` is reached, may be reached, not reached or not known; none is a permission.
    """

    measure: str  # a metal, or pH
    place: str
    of: str  # waste, works, water
    line: str
    found: Figure
    verdict: str
    source: str


@dataclass(frozen=True, slots=True)
class WasteStep:
    """One step of the order in which careful practice handles waste, with its source."""

    name: str
    text: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class WasteContainer:
    """What was discarded into one label, in one state of it, or without any label.

    `acids` [g] and `base` are limits. `caustic` is the base that it may hold, as grams of NaOH,
    None where none was put in. `may_hold` are metals that no line tells the amount of. `gone` is
    the day on which it left the book, `taken_by` the stage that took it to be treated.
    """

    key: str
    label: str
    what: str
    state: str  # liquid, solid
    received: tuple[Discarded, ...]
    volume: Figure
    gross: Figure
    ph: Figure
    ph_day: date | None
    contents: Mapping[str, Content]
    may_hold: tuple[str, ...]
    acids: tuple[Figure, ...]
    base: tuple[BaseNeed, ...]
    heat: Figure
    caustic: Figure | None
    limits: tuple[LimitLine, ...]
    steps: tuple[WasteStep, ...]
    cautions: tuple[Caution, ...]
    last_run: str
    gone: date | None = None
    gone_entries: tuple[Entry, ...] = ()
    taken_by: StageKey | None = None
    notes: tuple[str, ...] = ()

    @property
    def stands(self) -> bool:
        """Whether it is still there."""
        return self.gone is None and self.taken_by is None
