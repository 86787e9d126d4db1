"""What is worked out for plans: records that pages and data files show.

Everything here is a figure or a name; how it is said stands in `pages/`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from logbook.calculation.figure import Figure
from logbook.calculation.results.bench import Caution, ReagentUse, StageGas
from logbook.calculation.results.things import StageKey
from logbook.model.entry import Entry


class Part(StrEnum):
    """What a ratio is of."""

    USED = "used"
    PRODUCT = "product"
    KEPT = "kept"
    WASTE = "discarded"
    HANDS_ON = "hands-on"
    ELAPSED = "elapsed"
    RECOVERY = "recovery"


@dataclass(frozen=True, slots=True)
class Spread:
    """One thing over several runs: the mean, the least and the most, all in the unit of `mean`.

    `deviation` is one standard deviation between runs, None for fewer than three. `runs` of
    the `of` runs that were looked at gave it.
    """

    mean: Figure
    least: float | None = None
    most: float | None = None
    deviation: float | None = None
    runs: int = 0
    of: int = 0


@dataclass(frozen=True, slots=True)
class LikeRun:
    """A run whose ratios a plan takes.

    `words` are the writer's own; `stages` the places of the stages that count, `left_out` the
    headings of the others. Ratios are per gram of `feed`: of scrap, unless `charge` tells that
    it is what went into the first stage that counts. `times` is how many times as much the
    plan takes, and `far` whether that is more than twice or less than half.
    """

    run: str
    words: str
    stages: frozenset[int]
    left_out: tuple[str, ...]
    feed: Figure  # g
    charge: bool
    times: Figure  # 1
    far: bool = False


@dataclass(frozen=True, slots=True)
class Ratio:
    """What like runs used or gave of one thing in one kind of stage.

    `per_gram` is in a unit per gram of feed, `per_hundred` for 100 g of it, `per_run` as it
    was, `expected` for the feed of the plan. None of them is right for a time: how much of it
    is the same for any weight is not known. A recovery does not grow: it has `per_run` alone.
    """

    part: Part
    stage: str  # kind of stage, empty for the whole run
    what: str
    strength: str
    per_run: Spread
    per_gram: Spread | None = None
    per_hundred: Spread | None = None
    expected: Spread | None = None


@dataclass(frozen=True, slots=True)
class LikeFigures:
    """The ratios of the runs that a plan is like, and what they come to for its feed."""

    runs: tuple[LikeRun, ...]
    ratios: tuple[Ratio, ...]


@dataclass(frozen=True, slots=True)
class PlannedReagent:
    """One supply in one stage of a plan; `like` is what the like runs would use of it."""

    use: ReagentUse
    like: Spread | None


@dataclass(frozen=True, slots=True)
class PlannedSupply:
    """One supply over the whole plan, against what is left of it.

    `enough` is yes, no or not known; `short` is what is missing, where that is known. A
    supply of which no stock is kept, such as water from the tap, has none.
    """

    reagent: str
    strength: str
    planned: Figure
    in_hand: Figure | None
    enough: str
    short: Figure | None = None


@dataclass(frozen=True, slots=True)
class VesselLoad:
    """How much liquid stands in each vessel of a stage at most, and how large it must be.

    `share` is how full the vessel may be at most, `reason` why; `beaker` is the smallest usual
    size that will do, None where there is none.
    """

    stage: StageKey
    vessels: int
    liquid: Figure  # L
    least: Figure  # L
    share: float
    reason: str
    beaker: Figure | None


@dataclass(frozen=True, slots=True)
class LikeSafety:
    """What the stages that a plan is like say of danger, beyond the plan's own words.

    `cautions` are theirs, with the entries that raised them; `gases` and `vessels` are what they
    had at most, times as much as the plan takes. All have the stages of those runs.
    """

    cautions: tuple[Caution, ...]
    gases: tuple[StageGas, ...]
    vessels: tuple[VesselLoad, ...]


@dataclass(frozen=True, slots=True)
class Blank:
    """A place on the sheet where a reading is to be written."""

    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class PlanFigures:
    """Everything that is worked out for one plan before the work."""

    run: str
    feed: Figure  # g
    like: LikeFigures | None
    reagents: tuple[PlannedReagent, ...]
    supplies: tuple[PlannedSupply, ...]
    vessels: tuple[VesselLoad, ...]
    blanks: Mapping[int, tuple[Blank, ...]]  # by the start of the entry
    like_safety: LikeSafety | None = None  # None where it is like no run

    def blanks_of(self, entry: Entry) -> tuple[Blank, ...]:
        """The readings to write beside an entry."""
        return self.blanks.get(entry.span.start, ())


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One figure as it was planned and as it was done; `factor` is done over planned."""

    stage: str
    what: str
    planned: Figure
    done: Figure
    factor: Figure


@dataclass(frozen=True, slots=True)
class PlanCheck:
    """A plan beside the record that was made of it."""

    plan: str
    record: str
    feed: CheckRow
    reagents: tuple[CheckRow, ...]
    product: tuple[CheckRow, ...]  # what like runs would have given of it, against what it gave
    hours: tuple[CheckRow, ...]
