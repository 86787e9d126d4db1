"""What the calculations hand on to the pages and the data files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import TYPE_CHECKING

from logbook.calculation.figure import Figure
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import Reaction
from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.entry import Entry
from logbook.model.run import Run
from logbook.source import Span

if TYPE_CHECKING:  # its records are made of these
    from logbook.calculation.answers.answer import Answer
    from logbook.calculation.plan_results import PlanCheck, PlanFigures


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
class Cause:
    """One explanation of a gap: a reading that may be wrong, or a loss at a stage.

    `words` names it ("the weighing of [P-4] on 24 May 2025, 189.6 g"), `advice` says what to do
    ("dry it and weigh it again"). `left` is the X² that remains when it is left out.
    """

    kind: str  # reading, loss
    words: str
    advice: str
    spans: tuple[Span, ...]
    left: float


@dataclass(frozen=True, slots=True)
class Gap:
    """One place where the balance of a metal does not close: nothing was adjusted there.

    `missing` is what went in less what came out [g], negative where more came out than went
    in; `deviations` is that over its standard uncertainty. `causes` are the likeliest first,
    all of those that explain it alike. `group` is a name for it, the same in every run of it.
    """

    metal: str
    group: str
    runs: tuple[str, ...]
    stages: tuple[StageKey, ...]
    things: tuple[str, ...]  # keys of the things at its bounds
    missing: Figure
    deviations: float
    causes: tuple[Cause, ...]


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


@dataclass(frozen=True, slots=True)
class MetalBalance:
    """One metal in one run. All masses in grams; see metal terms in the guide.

    `head_basis` is assayed, built-up or unknown; `closes` is yes, no or unknown. `gap_group`
    is a name shared by the runs that have one gap between them. `later` is what later runs
    made of this run's side streams, and `so_far` the recovery with that counted in.
    """

    run: str
    metal: str
    head: Figure
    head_basis: str
    product: Figure
    shelf: Figure
    waste: Figure
    lost: Figure
    unaccounted: Figure
    recovery: Figure
    accountability: Figure
    closes: str
    why: str = ""
    assayed_head: Figure | None = None
    built_up_head: Figure | None = None
    gap_group: str = ""
    later: Figure | None = None
    so_far: Figure | None = None


@dataclass(frozen=True, slots=True)
class CostLine:
    """One kind of cost of a run: feed, reagent, labour, energy, breakage, lump, fee, other."""

    kind: str
    amount: Figure


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


@dataclass(frozen=True, slots=True)
class RunFigures:
    """Everything worked out for one run."""

    run: Run
    end: date | None
    feed: Figure  # g, gross weight of the scrap taken
    mass_yield: Figure  # g/g, product weight over feed weight: neither recovery nor purity
    balances: tuple[MetalBalance, ...]
    purities: tuple[Figure, ...]  # of each product, with its evidence in `notes`
    hands_on: Figure
    elapsed: Figure
    stage_times: tuple[StageTime, ...]
    costs: tuple[CostLine, ...]
    cost: Figure  # without feed
    cost_with_feed: Figure
    worth: Figure  # of the product, at the price of the run's last day
    worth_latest: Figure
    net: Figure
    net_per_hour: Figure
    reagents: tuple[ReagentUse, ...]
    things_in: tuple[Thing, ...]
    things_out: tuple[Thing, ...]
    cautions: tuple[Caution, ...]
    chemistry: tuple[StageChemistry, ...] = ()
    gases: tuple[StageGas, ...] = ()
    cells: tuple[tuple[StageKey, Figure], ...] = ()  # g that a current can carry over, at most
    answers: Mapping[int, Answer] = field(default_factory=dict)  # by the start of the entry
    densities: tuple[DensityCheck, ...] = ()


@dataclass(frozen=True, slots=True)
class PeriodTotal:
    """Running figures of one metal over a month ("2026-03"), a year ("2026") or "all"."""

    period: str
    metal: str
    head: Figure
    product: Figure
    recovery: Figure
    cost: Figure  # of the runs of the period that made this metal their aim
    hours: Figure
    net: Figure
    unaccounted: Figure | None = None  # over its runs, a gap of several of them counted once
    stock: Figure | None = None  # at the end of the period
    accountability: Figure | None = None


@dataclass(frozen=True, slots=True)
class LotTotal:
    """One metal in one labelled lot from outside the book, over all runs that took of it.

    `product` is the lot's share of what those runs made, and of what was made later of the
    rest; `shelf` what is left of the lot as it came.
    """

    label: str
    metal: str
    head: Figure
    product: Figure
    shelf: Figure
    recovery: Figure
    runs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MetalPoint:
    """Fine metal made so far, after a run: one point of the front page's chart."""

    day: date
    run: str
    metal: str
    fine: Figure  # this run's product
    so_far: Figure  # g


@dataclass(frozen=True, slots=True)
class Sale:
    """A sale: what was received for a labelled thing."""

    run: str
    day: date | None
    label: str
    metal: str
    gross: Figure
    fine: Figure
    received: Figure
    estimated: Figure
    entry: Entry


@dataclass(frozen=True, slots=True)
class DayPrice:
    """The price of a metal on a day, per gram, in the book's currency."""

    metal: str
    day: date
    price: Figure
    entry: Entry


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


@dataclass(frozen=True, slots=True)
class BookFigures:
    """Everything worked out for a book. Findings here are those only a whole book can show."""

    book: Book
    runs: Mapping[str, RunFigures]
    things: tuple[Thing, ...]
    shelf: tuple[Thing, ...]
    totals: tuple[PeriodTotal, ...]
    points: tuple[MetalPoint, ...]
    prices: tuple[DayPrice, ...]
    sales: tuple[Sale, ...]
    findings: tuple[Finding, ...]
    gaps: tuple[Gap, ...] = ()
    lots: tuple[LotTotal, ...] = ()
    waste: tuple[WasteContainer, ...] = ()
    plans: Mapping[str, PlanFigures] = field(default_factory=dict)
    plan_checks: Mapping[str, PlanCheck] = field(default_factory=dict)  # by the record's name
