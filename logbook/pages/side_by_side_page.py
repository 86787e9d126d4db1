"""All runs side by side: the same figures of each, complete without a script.

Percentages of runs are only compared where they mean the same: a recovery over an assayed
head is marked apart from one over a built-up head. The working of each figure is on the
page of its run.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import BookFigures, MetalBalance, RunFigures
from logbook.model.run import Run
from logbook.pages.addresses import SIDE_BY_SIDE, Here, Link
from logbook.pages.figure_view import FigureView, bare_figure
from logbook.pages.frame import Frame, Site
from logbook.pages.slugs import run_slug
from logbook.pages.wording import STATUS_WORDS, day_text

METAL_HEADINGS = ("head", "product", "recovery", "not accounted for")
RUN_HEADINGS = ("feed", "mass yield", "hands-on", "cost with scrap", "worth", "net", "net per hour")


@dataclass(frozen=True, slots=True)
class MetalRow:
    """One metal of a run. `basis` tells on which head its recovery stands."""

    metal: str
    basis: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class ComparedRun:
    """One run: its metals, each in a row of its own, and the figures of the run as a whole."""

    choice: str
    run: Link
    day: str
    status: str
    rows: tuple[MetalRow, ...]
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class SideBySideView:
    """The page of all runs side by side."""

    frame: Frame
    metal_headings: tuple[str, ...]
    run_headings: tuple[str, ...]
    runs: tuple[ComparedRun, ...]


def side_by_side_view(figures: BookFigures, site: Site) -> SideBySideView:
    """Every run that is more than a plan, in order of day."""
    here = site.addresses.at(SIDE_BY_SIDE)
    runs = tuple(
        _compared(run, figures.runs[run.name], here)
        for run in figures.book.runs
        if not run.planned and run.name in figures.runs
    )
    return SideBySideView(site.frame(here, "Side by side"), METAL_HEADINGS, RUN_HEADINGS, runs)


def _compared(run: Run, figures: RunFigures, here: Here) -> ComparedRun:
    whole = (
        figures.feed,
        figures.mass_yield,
        figures.hands_on,
        figures.cost_with_feed,
        figures.worth,
        figures.net,
        figures.net_per_hour,
    )
    rows = tuple(_metal_row(one) for one in figures.balances if one.metal in run.metals)
    return ComparedRun(
        choice=run_slug(run.name),
        run=here.run(run.name),
        day=day_text(run.day),
        status=STATUS_WORDS[run.status],
        rows=rows or (_no_metal(),),
        figures=tuple(bare_figure(figure) for figure in whole),
    )


def _metal_row(balance: MetalBalance) -> MetalRow:
    figures = (balance.head, balance.product, balance.recovery, balance.unaccounted)
    return MetalRow(
        balance.metal,
        balance.head_basis if balance.head.known else "",
        tuple(bare_figure(figure) for figure in figures),
    )


def _no_metal() -> MetalRow:
    why = "the run names no metal"
    figures: list[Figure] = [not_known(name, "g", why) for name in METAL_HEADINGS]
    return MetalRow("none named", "", tuple(bare_figure(figure) for figure in figures))
