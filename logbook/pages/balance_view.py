"""One metal in one run: its drawing, its things with raw and reconciled figures, its terms.

Everything was worked out before; here it is only put side by side.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from logbook.calculation.balance import way_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import (
    Gap,
    MetalBalance,
    RunFigures,
    Standing,
    Thing,
)
from logbook.model.run import Run
from logbook.pages.addresses import Here, Link
from logbook.pages.charts.view import ChartView
from logbook.pages.charts.waterfall import waterfall
from logbook.pages.content_view import (
    adjustment_words,
    content_of,
    measured_view,
    notes_of,
    share_words,
    standing_words,
)
from logbook.pages.figure_view import FigureView, bare_figure, figure_view
from logbook.pages.gap_view import GapView, gap_view
from logbook.pages.metal_flow import FlowView, run_flow, run_flow_view
from logbook.pages.thing_view import thing_words

CLOSES_WORDS = {
    "yes": "The balance closes: the gap is within twice its doubt",
    "no": "The balance does not close: the gap is more than the readings can explain",
    "unknown": "Whether the balance closes is not known",
}
WAYS = {
    "product": "product",
    "shelf": "kept",
    "waste": "to waste",
    "lost": "lost",
}


@dataclass(frozen=True, slots=True)
class BalanceRow:
    """One thing of a balance. `best` is None where it is just what was measured."""

    what: str
    label: Link
    way: str
    stage: Link | None
    measured: FigureView
    best: FigureView | None
    adjustment: str
    standing: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BalanceGroup:
    """The things that came in, that went from stage to stage, or that came out."""

    name: str
    rows: tuple[BalanceRow, ...]


@dataclass(frozen=True, slots=True)
class BalanceView:
    """One metal in one run."""

    metal: str
    closes: str
    words: str
    why: str
    notes: tuple[str, ...]  # what qualifies head and recovery, to be read beside them
    flow: FlowView | None
    gaps: tuple[GapView, ...]
    groups: tuple[BalanceGroup, ...]
    steps: ChartView | None  # of the run's own metals
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class RunMetal:
    """What the balances of a run are shown from, beside its own figures."""

    inner: tuple[Thing, ...]  # what its stages handed on to each other
    gaps: tuple[Gap, ...]  # of all its metals

    def of(self, metal: str) -> tuple[Gap, ...]:
        """The gaps of one metal."""
        return tuple(gap for gap in self.gaps if gap.metal == metal)


def balance_views(figures: RunFigures, whole: RunMetal, here: Here) -> tuple[BalanceView, ...]:
    """The balances of a run, its own metals first."""
    own = figures.run.metals
    ordered = sorted(figures.balances, key=lambda one: one.metal not in own)
    return tuple(
        _balance(place, figures, balance, whole, here) for place, balance in enumerate(ordered, 1)
    )


def _balance(
    place: int, figures: RunFigures, balance: MetalBalance, whole: RunMetal, here: Here
) -> BalanceView:
    metal, gaps = balance.metal, whole.of(balance.metal)
    flow = run_flow(figures, balance, whole.inner, gaps, here)
    return BalanceView(
        metal=metal,
        closes=balance.closes,
        words=CLOSES_WORDS.get(balance.closes, CLOSES_WORDS["unknown"]),
        why="" if gaps else balance.why,  # a gap tells its causes itself
        notes=tuple(dict.fromkeys((*balance.head.notes, *balance.recovery.notes))),
        flow=run_flow_view(flow, metal, f"flow-{place}", here),
        gaps=tuple(gap_view(gap, here) for gap in gaps),
        groups=tuple(_groups(figures, metal, whole.inner, here)),
        steps=waterfall(balance, place) if metal in figures.run.metals else None,
        figures=tuple(_terms(balance, here)),
    )


def _groups(
    figures: RunFigures, metal: str, inner: Sequence[Thing], here: Here
) -> Iterator[BalanceGroup]:
    run = figures.run
    sides = (
        ("came in", figures.things_in),
        ("from stage to stage", inner),
        ("came out", figures.things_out),
    )
    for name, things in sides:
        rows = tuple(
            _row(thing, metal, run, here, reasons=things is not inner)
            for thing in things
            if metal in thing.contents
        )
        if rows:
            yield BalanceGroup(name, rows)


def _row(thing: Thing, metal: str, run: Run, here: Here, *, reasons: bool) -> BalanceRow:
    content = content_of(thing, metal)
    raw = content.standing is Standing.MEASURED
    reason = _unknown(content.best) if reasons else ""
    notes = (notes_of(content), share_words(content), reason)
    way, stage = _way(thing, run, here)
    return BalanceRow(
        what=thing_words(thing),
        label=here.label(thing.label) if thing.label else Link(""),
        way=way,
        stage=stage,
        measured=measured_view(content, here),
        best=None if raw else _best(content.best, here),
        adjustment=adjustment_words(content),
        standing=standing_words(content),
        notes=tuple(dict.fromkeys(note for note in notes if note)),
    )


def _best(figure: Figure, here: Here) -> FigureView:
    return figure_view(figure, here, levels=1) if figure.known else bare_figure(figure)


def _unknown(figure: Figure) -> str:
    return "" if figure.known or not figure.why else f"not known, because {figure.why}"


def _way(thing: Thing, run: Run, here: Here) -> tuple[str, Link | None]:
    """What a thing did at the bounds of a run, and at which stage."""
    if thing.used_by is not None and thing.used_by.run == run.name:
        made_here = thing.made_by is not None and thing.made_by.run == run.name
        return "handed on to" if made_here else "into", stage_link(run, thing.used_by.index)
    stage = None if thing.made_by is None else stage_link(run, thing.made_by.index)
    return f"{WAYS[way_out(thing)]}, from" if stage is not None else WAYS[way_out(thing)], stage


def stage_link(run: Run, place: int) -> Link:
    """A stage by its title, with a link on its own page; the untitled first stage has none."""
    stage = run.stages[place]
    if not stage.title:
        return Link("before the first heading")
    return Link(stage.title, f"#line-{stage.span.line}")


def _terms(balance: MetalBalance, here: Here) -> Iterator[FigureView]:
    """The terms of the trade, the heads first."""
    for figure, name in _parts(balance):
        yield figure_view(figure, here, name=name)
    for figure, name in _results(balance):  # of the parts above, which show their own working
        yield figure_view(figure, here, name=name, levels=1)


def _parts(balance: MetalBalance) -> Iterable[tuple[Figure, str]]:
    heads = ((balance.assayed_head, "assayed head"), (balance.built_up_head, "built-up head"))
    told = [(figure, name) for figure, name in heads if figure is not None]
    basis = f"head, {balance.head_basis}" if balance.head.known else "head"
    yield from told or [(balance.head, basis)]
    yield balance.product, "product"
    yield balance.shelf, "on the shelf"
    yield balance.waste, "in waste"
    yield balance.lost, "lost, as noted"


def _results(balance: MetalBalance) -> Iterable[tuple[Figure, str]]:
    yield balance.unaccounted, "not accounted for"
    of = f", of the {balance.head_basis} head" if balance.head.known else ""
    yield balance.recovery, f"recovery{of}"
    if balance.later is not None:
        yield balance.later, "made of it later"
    if balance.so_far is not None:
        yield balance.so_far, "recovery so far"
    yield balance.accountability, "accountability"
