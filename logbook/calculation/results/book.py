"""Everything worked out for a run and for a book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results.across import Across
from logbook.calculation.results.answers import Answer
from logbook.calculation.results.bench import (
    Caution,
    DensityCheck,
    ReagentUse,
    StageChemistry,
    StageGas,
    StageTime,
)
from logbook.calculation.results.claims import ClaimCheck
from logbook.calculation.results.earnings import Earnings
from logbook.calculation.results.metal import (
    Gap,
    LotTotal,
    MetalBalance,
    MetalPoint,
    MonthRecovery,
    PeriodTotal,
)
from logbook.calculation.results.money import (
    Costing,
    CostLine,
    DayPrice,
    RunCosting,
    Sale,
    StageCost,
    Supplies,
)
from logbook.calculation.results.plans import PlanCheck, PlanFigures
from logbook.calculation.results.things import StageKey, Thing
from logbook.calculation.results.waste import WasteContainer
from logbook.calculation.results.worth import Holdings
from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.run import Run


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
    heated: Figure | None = None  # h that something was heated; parallel vessels count once
    stage_costs: tuple[StageCost, ...] = ()
    cost_unallocated: Figure | None = None  # of a total spent in all, what no line accounts for
    hours_unallocated: Figure | None = None
    costing: RunCosting | None = None
    earnings: Earnings | None = None
    claims: tuple[ClaimCheck, ...] = ()


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
    supplies: Supplies = field(default_factory=Supplies)
    costing: Costing = field(default_factory=Costing)
    held_worth: Holdings = field(default_factory=Holdings)
    earnings: Earnings | None = None  # over all runs that were done
    across: Across = field(default_factory=Across)
    months: tuple[MonthRecovery, ...] = ()
