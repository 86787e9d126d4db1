"""One run → the view of its page: verdict, the log itself with its margin, then the sums.

A plan has a page of another kind, in `plan_page.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import ReagentUse, RunFigures, StageTime
from logbook.calculation.results.plans import PlanCheck
from logbook.findings import Finding
from logbook.model.run import Run
from logbook.pages.addresses import Here, Link, run_path
from logbook.pages.balance_view import BalanceView, RunMetal, balance_views, stage_link
from logbook.pages.block_view import Beside, BlockView
from logbook.pages.caution_view import CautionGroup, caution_group
from logbook.pages.claim_view import ClaimView, claim_view
from logbook.pages.cost_view import CostView, cost_view, earned_figures, hour_figures
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.frame import Frame, Site
from logbook.pages.gas_view import GasView, gas_view
from logbook.pages.log_view import FactView, StageView, fact_views, shown_blocks, stage_views
from logbook.pages.margin import run_margin
from logbook.pages.plan_check_view import PlanCheckView, plan_check_view
from logbook.pages.thing_view import ThingView, thing_view
from logbook.pages.verdict import verdict
from logbook.pages.wording import STATUS_WORDS, days_text, listed


@dataclass(frozen=True, slots=True)
class ReagentRow:
    """One reagent in one stage; `needed` and `excess` are None where nothing asks for it."""

    stage: Link
    reagent: str
    used: FigureView
    needed: FigureView | None
    excess: FigureView | None
    cost: FigureView


@dataclass(frozen=True, slots=True)
class TimeRow:
    """The hours of one stage."""

    stage: Link
    hands_on: FigureView
    elapsed: FigureView


@dataclass(frozen=True, slots=True)
class Sums:
    """What was worked out for a run, below its log."""

    key: tuple[FigureView, ...]
    balances: tuple[BalanceView, ...]
    drawn: bool  # whether a balance is drawn step by step
    products: tuple[FigureView, ...]
    left: tuple[ThingView, ...]
    reagents: tuple[ReagentRow, ...]
    times: tuple[TimeRow, ...]
    hours: tuple[FigureView, ...]
    cost: CostView | None  # none where the edition shows no money
    claims: tuple[ClaimView, ...]


@dataclass(frozen=True, slots=True)
class RunView:
    """The page of one run."""

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
    opening: tuple[BlockView, ...]
    stages: tuple[StageView, ...]
    sums: Sums | None
    check: PlanCheckView | None
    gas: GasView | None
    before: Link | None
    after: Link | None


def run_view(
    run: Run,
    figures: RunFigures | None,
    findings: Iterable[Finding],
    neighbours: tuple[str, str],
    whole: RunMetal,
    check: PlanCheck | None,
    site: Site,
) -> RunView:
    """The page of a run; `neighbours` are the runs before and after it, empty at the ends.

    `whole` is what the book as a whole knows of its metal, `check` the plan it was done by.
    """
    here = site.addresses.at(run_path(run.name))
    margin = run_margin(run, figures, findings, here)
    before, after = (here.run(name) if name else None for name in neighbours)
    said = verdict(run, figures, whole.gaps, money=here.money)
    return RunView(
        frame=site.frame(here, run.title, said),
        title=run.title,
        days=days_text(run.day, figures.end if figures is not None else None),
        status=STATUS_WORDS[run.status],
        metals=listed(run.metals) or "no metal named",
        file=run.source.path,
        facts=fact_views(run, here),
        verdict=said,
        beside=margin.elsewhere(),
        cautions=caution_group(figures.cautions, here) if figures is not None else None,
        opening=shown_blocks(run.opening, site, margin),
        stages=stage_views(run, site, margin),
        sums=_sums(run, figures, whole, site, here) if figures is not None else None,
        check=plan_check_view(check, here) if check is not None else None,
        gas=gas_view(run, figures, here) if figures is not None else None,
        before=before,
        after=after,
    )


def _sums(run: Run, figures: RunFigures, whole: RunMetal, site: Site, here: Here) -> Sums:
    checked = [one for one in figures.claims if site.privacy.shows(one.entry)]
    balances = balance_views(figures, whole, here)
    return Sums(
        key=tuple(_key_figures(figures, here)),
        balances=balances,
        drawn=any(one.steps is not None for one in balances),
        products=tuple(figure_view(one, here) for one in _finenesses(figures)),
        left=tuple(thing_view(thing, here) for thing in figures.things_out),
        reagents=tuple(_reagent(use, run, here) for use in figures.reagents),
        times=tuple(_time(time, run, here) for time in figures.stage_times),
        hours=tuple(hour_figures(figures, here)),
        cost=cost_view(figures, here) if here.money else None,
        claims=tuple(claim_view(one, here) for one in checked),
    )


def _finenesses(figures: RunFigures) -> Iterator[Figure]:
    """How fine each product is as it was written, then what weighings in water allow."""
    yield from figures.purities
    for check in figures.densities:
        yield check.density
        yield from check.fineness


def _key_figures(figures: RunFigures, here: Here) -> Iterable[FigureView]:
    """The few figures that stand beside the verdict. Their working is in the sums below."""
    for balance in figures.balances:
        if balance.metal in figures.run.metals:
            yield figure_view(balance.product, here, levels=1, name=f"fine {balance.metal}")
            yield figure_view(balance.recovery, here, levels=1, name=f"recovery of {balance.metal}")
    yield figure_view(figures.feed, here, levels=1, name="scrap taken, gross")
    yield figure_view(figures.mass_yield, here, levels=1, name="mass yield")
    yield figure_view(figures.hands_on, here, levels=1, name="hands-on")
    if here.money and figures.earnings is not None:
        yield from earned_figures(figures.earnings, here, levels=1)


def _reagent(use: ReagentUse, run: Run, here: Here) -> ReagentRow:
    return ReagentRow(
        stage=stage_link(run, use.stage.index),
        reagent=f"{use.reagent} {use.strength}".strip(),
        used=figure_view(use.used, here),
        needed=figure_view(use.needed, here) if use.needed is not None else None,
        excess=figure_view(use.excess, here, levels=1) if use.excess is not None else None,
        cost=figure_view(use.cost, here),
    )


def _time(time: StageTime, run: Run, here: Here) -> TimeRow:
    return TimeRow(
        stage=stage_link(run, time.stage.index),
        hands_on=figure_view(time.hands_on, here),
        elapsed=figure_view(time.elapsed, here),
    )
