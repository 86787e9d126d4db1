"""What was worked out of the work itself: supplies, chemistry, gas, density, hours, cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results.things import StageKey
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import Reaction
from logbook.model.entry import Entry
from logbook.source import Span


@dataclass(frozen=True, slots=True)
class ReagentUse:
    """One reagent in one stage. `used` is in L, g or 1; in a plan it is what is to be used.

    `needed` is what the reactions of the stage ask for, in the unit of `used`, most often as
    limits; `excess` is used over needed. Both are None where nothing there asks for it.
    """

    stage: StageKey
    reagent: str
    strength: str
    used: Figure
    cost: Figure
    needed: Figure | None = None
    excess: Figure | None = None


@dataclass(frozen=True, slots=True)
class Substance:
    """A pure substance put into a stage, as a formula; `words` are the supply's own.

    `grams` are limits where the strength, or the amount, is not known better. `spans` are the
    words it was read from.
    """

    formula: str
    grams: Range
    words: str
    spans: tuple[Span, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StageChemistry:
    """What stands together in a stage, and which reactions of the data that may set going.

    `metals` are grams of each metal in what went in; `rest` [g] is what of it no line tells,
    None where it was not weighed, or is measured by volume. `added` counts what was put in
    here alone, `substances` also what came with the charge from the stages before, and `left`
    what may be left of them afterwards. `reactions` are all for which everything may be there:
    to dissolve also those of metals that only the rest may hold, which `metals` lacks.
    """

    stage: StageKey
    metals: Mapping[str, Figure]
    rest: Figure | None
    added: tuple[Substance, ...]
    substances: tuple[Substance, ...]
    reactions: tuple[Reaction, ...]
    left: tuple[Substance, ...] = ()


@dataclass(frozen=True, slots=True)
class StageGas:
    """One gas that a stage can give off, at most.

    `litres` at 25 C and 101.325 kPa; `air` [m3] is the air that it brings to the strictest
    limit of short stay; `room` [ppm] what it makes of the room that bench.md states, None
    where none is stated.
    """

    stage: StageKey
    gas: str  # formula
    litres: Figure
    grams: Figure
    air: Figure | None
    room: Figure | None
    words: str


@dataclass(frozen=True, slots=True)
class DensityCheck:
    """A piece that was weighed in air and in water: its density, and the fineness that allows.

    `fineness` has a figure [g/g] for each usual partner of each metal, and one for all of them.
    `contradicts` are the written finenesses that none of the partners agrees with.
    """

    title: str
    density: Figure  # g/cm3
    fineness: tuple[Figure, ...]
    contradicts: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class StageTime:
    """The time a stage took, in hours."""

    stage: StageKey
    hands_on: Figure
    elapsed: Figure
    heated: Figure | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """A rule of cautions.toml that a stage meets, with the entry that raised it.

    `other` is the entry by which the other part came, where that is in a labelled vessel;
    `vessel` is the label of a vessel in which both meet, rather than in the stage.
    """

    rule: str
    signal: str  # danger, warning
    text: str
    do: str
    source: str
    stage: StageKey
    entry: Entry
    other: Entry | None = None
    vessel: str = ""
