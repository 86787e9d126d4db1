"""All runs side by side: the same figures of each, complete without a script.

Percentages of runs are only compared where they mean the same: a recovery over an assayed
head is marked apart from one over a built-up head. The working of each figure is on the
page of its run. What a script needs to set chosen runs against each other is `compared_runs.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from logbook.calculation.across.kinds import Kinds
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import BookFigures, MetalBalance, RunFigures
from logbook.model.run import Run
from logbook.pages.addresses import SIDE_BY_SIDE, Here, Link
from logbook.pages.compared_runs import compared_runs
from logbook.pages.cost_view import hour_earned
from logbook.pages.figure_view import FigureView, bare_figure
from logbook.pages.frame import Frame, Site
from logbook.pages.slugs import run_slug
from logbook.pages.wording import STATUS_WORDS, day_text, listed

METAL_HEADINGS = ("head", "product", "recovery", "not accounted for")
RUN_HEADINGS = ("feed", "mass yield", "hands-on")
MONEY_HEADINGS = ("cost with scrap", "worth", "net", "an hour earned")


@dataclass(frozen=True, slots=True)
class MetalRow:
    """One metal of a run. `basis` tells on which head its recovery stands."""

    metal: str
    basis: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class ComparedRun:
    """One run: its metals, each in a row of its own, and the figures of the run as a whole.

    `kinds` of scrap, `words` of its title, labels and stages, and `order` are for finding and
    sorting it. A run that is only `planned` has no figures.
    """

    choice: str
    run: Link
    day: str
    order: str
    status: str
    kinds: tuple[str, ...]
    metals: tuple[str, ...]
    words: str
    planned: bool
    rows: tuple[MetalRow, ...]
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class SideBySideView:
    """The page of all runs side by side. `kinds`, `metals` and `statuses` are to choose from."""

    frame: Frame
    metal_headings: tuple[str, ...]
    run_headings: tuple[str, ...]
    runs: tuple[ComparedRun, ...]
    kinds: tuple[str, ...]
    metals: tuple[str, ...]
    statuses: tuple[str, ...]
    compared: dict[str, Any]


def side_by_side_view(figures: BookFigures, site: Site) -> SideBySideView:
    """Every run, in order of day."""
    here = site.addresses.at(SIDE_BY_SIDE)
    kinds = Kinds(figures.book.scrap)
    known = [(run, figures.runs[run.name]) for run in figures.book.runs if run.name in figures.runs]
    runs = tuple(_compared(run, of_run, kinds, here) for run, of_run in known)
    return SideBySideView(
        frame=site.frame(here, "Side by side"),
        metal_headings=METAL_HEADINGS,
        run_headings=RUN_HEADINGS + (MONEY_HEADINGS if here.money else ()),
        runs=runs,
        kinds=tuple(sorted({kind for one in runs for kind in one.kinds})),
        metals=tuple(sorted({metal for run, _ in known for metal in run.metals})),
        statuses=tuple(dict.fromkeys(one.status for one in runs)),
        compared=compared_runs(
            [of_run for run, of_run in known if not run.planned], money=here.money
        ),
    )


def _compared(run: Run, figures: RunFigures, kinds: Kinds, here: Here) -> ComparedRun:
    whole = (
        figures.feed,
        figures.mass_yield,
        figures.hands_on,
    )
    money = (figures.cost_with_feed, figures.worth, figures.net, hour_earned(figures))
    rows = tuple(_metal_row(one) for one in figures.balances if one.metal in run.metals)
    if run.planned:
        rows = (MetalRow(listed(run.metals), "", ()),)
    return ComparedRun(
        choice=run_slug(run.name),
        run=here.run(run.name),
        day=day_text(run.day),
        order=run.day.isoformat() if run.day is not None else "",
        status=STATUS_WORDS[run.status],
        kinds=kinds.of_run(figures),
        words=_words(run, figures, kinds.of_run(figures)),
        planned=run.planned,
        metals=run.metals,
        rows=rows or (_no_metal(),),
        figures=()
        if run.planned
        else tuple(bare_figure(figure) for figure in (*whole, *(money if here.money else ()))),
    )


def _words(run: Run, figures: RunFigures, kinds: Sequence[str]) -> str:
    """By what a run may be looked for: its title, its scrap, its stages and its labels."""
    labels = (one.label for one in (*figures.things_in, *figures.things_out))
    stages = (stage.title for stage in run.stages)
    parts = (run.title, *run.metals, *kinds, *stages, *labels)
    return " ".join(dict.fromkeys(part for part in parts if part))


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
