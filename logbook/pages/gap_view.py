"""A balance that does not close, as every page tells it: how much, where, and the likely cause.

The largest gaps are those that lie most standard deviations from nothing. Where two causes
explain a gap alike, both are named; nothing here picks one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from logbook.calculation.results import BookFigures, Cause, Gap, MetalBalance
from logbook.pages.addresses import Here, LineLink, Link
from logbook.pages.figure_view import FigureView, bare_figure, figure_view, known_text
from logbook.pages.rounding import tick
from logbook.pages.wording import listed, sentence

ALIKE = "Two or more explanations fit alike; which it was, the figures cannot tell"
ONE = "The likeliest explanation"
NO_CAUSE = "No single reading or loss explains it"
NOT_NAMED = "which reading is wrong is not worked out"


@dataclass(frozen=True, slots=True)
class CauseView:
    """One explanation of a gap, what to do about it, and the lines it speaks of."""

    words: str
    advice: str
    lines: tuple[LineLink, ...]


@dataclass(frozen=True, slots=True)
class GapView:
    """One open balance."""

    metal: str
    headline: str
    missing: FigureView
    runs: tuple[Link, ...]
    things: str
    lead: str
    causes: tuple[CauseView, ...]


def gaps_by_run(gaps: Iterable[Gap]) -> Mapping[str, tuple[Gap, ...]]:
    """The gaps by run, the largest first; one that lies between several stands under each."""
    found: dict[str, list[Gap]] = {}
    for gap in largest_first(gaps):
        for run in gap.runs:
            found.setdefault(run, []).append(gap)
    return {run: tuple(of_one) for run, of_one in found.items()}


def largest_first(gaps: Iterable[Gap]) -> list[Gap]:
    """Gaps in the order of how far they lie from nothing, in standard deviations."""
    return sorted(gaps, key=lambda gap: (-abs(gap.deviations), gap.metal, gap.group))


def gap_view(gap: Gap, here: Here) -> GapView:
    """A gap with its causes and the runs it lies in."""
    return GapView(
        metal=gap.metal,
        headline=sentence(_headline(gap)),
        missing=figure_view(gap.missing, here, levels=1, name=f"missing {gap.metal}"),
        runs=tuple(here.run(run) for run in gap.runs),
        things=listed(gap.things),
        lead=sentence(_lead(gap.causes)),
        causes=tuple(_cause(cause, here) for cause in gap.causes),
    )


def _headline(gap: Gap) -> str:
    if gap.missing.value is None:
        return f"how much {gap.metal} is missing is not known"
    amount = known_text(gap.missing).replace("−", "")
    many = f"{tick(abs(gap.deviations), 0.1)} standard deviations"
    if gap.missing.value.value < 0.0:
        return f"{amount} more {gap.metal} came out than went in, {many} from nothing"
    return f"{amount} of {gap.metal} went in and did not come out, {many} from nothing"


def _lead(causes: tuple[Cause, ...]) -> str:
    if not causes:
        return NO_CAUSE
    return ONE if len(causes) == 1 else ALIKE


def _cause(cause: Cause, here: Here) -> CauseView:
    lines = tuple(here.line(span) for span in dict.fromkeys(cause.spans))
    return CauseView(cause.words, sentence(cause.advice), lines)


def likeliest(gap: Gap) -> str:
    """The likeliest causes in the middle of a sentence; empty where none is named."""
    return listed([cause.words for cause in gap.causes], "or")


def untold(figures: BookFigures) -> Iterator[MetalBalance]:
    """Balances that do not close and of which no gap tells the cause."""
    told = {(run, gap.metal) for gap in figures.gaps for run in gap.runs}
    for one in figures.runs.values():
        for balance in one.balances:
            if balance.closes == "no" and (balance.run, balance.metal) not in told:
                yield balance


def bare_gap(balance: MetalBalance, here: Here) -> GapView:
    """An open balance of which the cause is not told."""
    figure = bare_figure(balance.unaccounted, name=f"missing {balance.metal}")
    amount = known_text(balance.unaccounted)
    return GapView(
        metal=balance.metal,
        headline=sentence(f"{amount} of {balance.metal} is not accounted for"),
        missing=figure,
        runs=(here.run(balance.run),),
        things="",
        lead=sentence(NOT_NAMED),
        causes=(),
    )


def open_balances(figures: BookFigures, here: Here) -> tuple[GapView, ...]:
    """Every open balance of a book, the largest first."""
    told = [gap_view(gap, here) for gap in largest_first(figures.gaps)]
    return (*told, *(bare_gap(balance, here) for balance in untold(figures)))
