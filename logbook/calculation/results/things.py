"""What every figure is about: stages, and the physical things between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from logbook.calculation.figure import Figure
from logbook.model.entry import Entry


@dataclass(frozen=True, slots=True, order=True)
class StageKey:
    """A stage of a run: the run's name and the stage's place in it, from 0."""

    run: str
    index: int


class Role(StrEnum):
    """The part a thing plays between two stages."""

    FEED = "feed"  # entered from outside the book
    ADDITION = "addition"  # a reagent or supply with a stated composition
    CHARGE = "charge"  # what a stage hands on to the next
    SIDE = "side stream"  # kept
    PRODUCT = "product"
    SAMPLE = "sample"
    LEFT = "left behind"
    LOSS = "loss"
    WASTE = "waste"


class Fate(StrEnum):
    """Where a thing is now."""

    USED = "used"  # a later stage took it
    SHELF = "on the shelf"
    WASTE = "in waste"
    LOST = "lost"
    SOLD = "sold"


class Standing(StrEnum):
    """How well the content of a thing is known."""

    MEASURED = "measured"  # as read, and nothing to check it against, or its check is open
    ADJUSTED = "adjusted"  # measured, and reconciled with what is around it
    DEDUCED = "deduced"  # not measured, but given by what is around it
    BOUNDED = "bounded"  # not measured: only limits can be given
    UNKNOWN = "unknown"  # not measured, and without an upper limit


@dataclass(frozen=True, slots=True)
class Content:
    """What one thing holds of one metal: as it was read, and as the whole book gives it.

    `best` is the reconciled or deduced figure; where there is none it has limits and says why.
    `read` is what was measured, or what follows from readings by pouring and drawing alone,
    before any stage is balanced. `adjustment` is best less measured, in standard uncertainties
    of the measured one.
    `side` tells from where a deduced content follows: making ("any loss included"), use ("any
    later loss not included") or both ("checked"); `words` says that, and whatever else there
    is to say of it, in words. `allocated` is a share, given by `share_rule`, of a sum that is
    known where its parts are not; it is for the costs to follow and enters no balance.
    """

    measured: Figure  # g
    best: Figure  # g
    standing: Standing
    adjustment: float | None = None
    side: str = ""  # making, use, both
    words: str = ""
    allocated: Figure | None = None  # g
    share_rule: str = ""  # own assay, declared estimate, mass, count
    read: Figure | None = None  # g


@dataclass(frozen=True, slots=True)
class Thing:
    """One physical thing in one state: an arc from the stage that made it to the one that used it.

    `key` is the label, with a number where the same jar had several states ("F-21 (2)"), or
    for a thing without a label the run and what it was. `contents` gives grams of each metal
    spoken of; a metal that is in the run but not stated for this thing has an unknown figure.
    `part_of` is the key of the lot or jar it was drawn from; `pooled_from` the keys poured in.
    """

    key: str
    label: str
    what: str
    role: Role
    fate: Fate
    made_by: StageKey | None
    used_by: StageKey | None
    gross: Figure  # g
    volume: Figure  # L
    contents: Mapping[str, Figure]  # metal -> g, the best there is
    day: date | None  # when it came to be
    part_of: str = ""
    share: Figure | None = None
    pooled_from: tuple[str, ...] = ()
    entries: tuple[Entry, ...] = ()
    moisture: str = ""
    held: Mapping[str, Content] = field(default_factory=dict)  # metal -> how that is known
    handed_over: tuple[Entry, ...] = ()  # what says that waste left the book
