"""A plan → the view of its bench sheet: cautions first, what is needed, then steps to tick.

The sheet is for paper as much as for the screen. It never says that a plan may be carried out,
and it puts nothing into the places where readings are to be written.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.results import Caution, RunFigures
from logbook.calculation.results.plans import (
    Blank,
    PlanFigures,
    PlannedReagent,
    PlannedSupply,
)
from logbook.findings import Finding
from logbook.model.run import Run
from logbook.pages.addresses import Here, Link, run_path
from logbook.pages.balance_view import stage_link
from logbook.pages.block_view import Beside, BlockView
from logbook.pages.caution_view import CautionGroup, caution_group
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.frame import Frame, Site
from logbook.pages.gas_view import GasView, gas_view
from logbook.pages.like_safety_view import LikeSafetyView, like_safety_view
from logbook.pages.like_view import LikeView, SpreadView, like_view, spread_view
from logbook.pages.log_view import FactView, StageView, fact_views, shown_blocks, stage_views
from logbook.pages.margin import run_margin
from logbook.pages.verdict import PLANNED, verdict
from logbook.pages.vessel_view import VesselRow, vessel_row
from logbook.pages.wording import STATUS_WORDS, day_text, listed

MARKS = {"yes": "enough", "no": "not enough", "not known": "not known", "from the tap": "tap"}


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """One supply over the whole plan. `short` is what is missing, where that is known."""

    supply: str
    planned: FigureView
    in_hand: FigureView | None
    enough: str
    words: str
    short: FigureView | None


@dataclass(frozen=True, slots=True)
class PlannedRow:
    """One supply in one stage: as planned, as chemistry asks for it, as other runs used it."""

    stage: Link
    supply: str
    planned: FigureView
    needed: FigureView | None
    like: SpreadView | None


@dataclass(frozen=True, slots=True)
class SheetStage:
    """A stage with its cautions in short."""

    stage: StageView
    cautions: CautionGroup | None


@dataclass(frozen=True, slots=True)
class PlanView:
    """The bench sheet of one plan. `blanks` are by the anchor of an entry's first line.

    `safety` is what the runs that it is like say of danger; None where it is like none.
    """

    frame: Frame
    title: str
    days: str
    status: str
    metals: str
    file: str
    facts: tuple[FactView, ...]
    verdict: str
    beside: Beside
    cautions: CautionGroup | None
    safety: LikeSafetyView | None
    deferral: str
    feed: FigureView | None
    supplies: tuple[SupplyRow, ...]
    reagents: tuple[PlannedRow, ...]
    vessels: tuple[VesselRow, ...]
    like: LikeView | None
    gas: GasView | None
    opening: tuple[BlockView, ...]
    stages: tuple[SheetStage, ...]
    blanks: Mapping[str, tuple[Blank, ...]]
    records: tuple[Link, ...]
    before: Link | None
    after: Link | None


def plan_view(
    run: Run,
    figures: RunFigures | None,
    plan: PlanFigures | None,
    findings: Iterable[Finding],
    neighbours: tuple[str, str],
    records: Iterable[str],
    site: Site,
) -> PlanView:
    """The sheet of a plan; `records` are the runs that say they were done by it."""
    here = site.addresses.at(run_path(run.name))
    margin = run_margin(run, figures, findings, here)
    before, after = (here.run(name) if name else None for name in neighbours)
    cautions = figures.cautions if figures is not None else ()
    return PlanView(
        frame=site.frame(here, run.title, PLANNED),
        title=run.title,
        days=day_text(run.day),
        status=STATUS_WORDS[run.status],
        metals=listed(run.metals) or "no metal named",
        file=run.source.path,
        facts=fact_views(run, here),
        verdict=verdict(run, figures),
        beside=margin.elsewhere(),
        cautions=caution_group(cautions, here),
        safety=_safety(plan, here),
        deferral=DEFERRAL,
        feed=figure_view(plan.feed, here, levels=1) if plan is not None else None,
        supplies=tuple(_supply(row, here) for row in plan.supplies) if plan is not None else (),
        reagents=tuple(_row(row, run, here) for row in plan.reagents) if plan is not None else (),
        vessels=tuple(_vessels(run, plan, here)) if plan is not None else (),
        like=like_view(plan.like, here) if plan is not None and plan.like is not None else None,
        gas=gas_view(run, figures, here) if figures is not None else None,
        opening=shown_blocks(run.opening, site, margin),
        stages=tuple(
            SheetStage(stage, _of_stage(cautions, place, here))
            for place, stage in enumerate(stage_views(run, site, margin))
        ),
        blanks=_blanks(run, plan),
        records=tuple(here.run(name) for name in records),
        before=before,
        after=after,
    )


def _of_stage(cautions: Iterable[Caution], place: int, here: Here) -> CautionGroup | None:
    return caution_group((one for one in cautions if one.stage.index == place), here)


def _safety(plan: PlanFigures | None, here: Here) -> LikeSafetyView | None:
    if plan is None or plan.like_safety is None:
        return None
    return like_safety_view(plan.like_safety, here)


def _blanks(run: Run, plan: PlanFigures | None) -> Mapping[str, tuple[Blank, ...]]:
    if plan is None:
        return {}
    return {f"line-{entry.span.line}": plan.blanks_of(entry) for entry in run.entries}


def _supply(row: PlannedSupply, here: Here) -> SupplyRow:
    return SupplyRow(
        supply=f"{row.reagent} {row.strength}".strip(),
        planned=figure_view(row.planned, here),
        in_hand=figure_view(row.in_hand, here) if row.in_hand is not None else None,
        enough=row.enough.replace(" ", "-"),
        words=MARKS[row.enough],
        short=figure_view(row.short, here) if row.short is not None else None,
    )


def _row(row: PlannedReagent, run: Run, here: Here) -> PlannedRow:
    use = row.use
    return PlannedRow(
        stage=stage_link(run, use.stage.index),
        supply=f"{use.reagent} {use.strength}".strip(),
        planned=figure_view(use.used, here),
        needed=figure_view(use.needed, here) if use.needed is not None else None,
        like=spread_view(row.like, here) if row.like is not None else None,
    )


def _vessels(run: Run, plan: PlanFigures, here: Here) -> Iterable[VesselRow]:
    return (vessel_row(row, stage_link(run, row.stage.index), here) for row in plan.vessels)
