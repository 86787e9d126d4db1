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

ALIKE = "Several explanations fit alike; the figures cannot tell which it was:"
ONE = "The likeliest explanation:"
NO_CAUSE = "No single reading or loss explains it."
NOT_NAMED = "Which reading is wrong is not worked out."


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
        headline=sentence(f"{headline(gap)}, {_times(gap)} standard deviations"),
        missing=figure_view(gap.missing, here, levels=1, name=f"missing {gap.metal}"),
        runs=tuple(here.run(run) for run in gap.runs),
        lead=_lead(gap.causes),
        causes=tuple(_cause(cause, here) for cause in gap.causes),
    )


def headline(gap: Gap) -> str:
    """How much is missing and where, in the middle of a sentence."""
    if gap.missing.value is None:
        return f"how much {gap.metal} is missing is not known"
    amount = known_text(gap.missing).replace("−", "")
    thing = twice_read(gap)
    if thing:
        return f"two readings of {thing} lie {amount} of {gap.metal} apart"
    if is_surplus(gap):
        return f"{amount} more {gap.metal} came out than went in"
    return f"{amount} of {gap.metal} went in and did not come out"


def gap_words(gap: Gap) -> tuple[str, str]:
    """The two lines that stand beside a gap in a drawing."""
    thing, missing = twice_read(gap), known_text(gap.missing).replace("−", "")
    where = f"between two readings of {thing}" if thing else missing_words(_grams(gap))
    return f"gap: {missing} ({_times(gap)} sd)", where


def missing_words(missing: float) -> str:
    """Which way a gap goes, in words."""
    return "went in and did not come out" if missing >= 0.0 else "more came out than went in"


def twice_read(gap: Gap) -> str:
    """The one thing of which two readings disagree; empty where metal is missing at a stage."""
    if gap.stages or len(gap.things) != 1:
        return ""
    return thing_name(gap.things[0])


def thing_name(key: str) -> str:
    """A thing by its key: a label in brackets, or what it was.

    >>> thing_name("P-4"), thing_name("2025-06-07-sweeps: ash (2)")
    ('[P-4]', 'ash (2)')
    """
    _, colon, what = key.partition(": ")
    return what if colon else f"[{key}]"


def is_surplus(gap: Gap) -> bool:
    """Whether more came out than went in."""
    return _grams(gap) < 0.0


def _grams(gap: Gap) -> float:
    return 0.0 if gap.missing.value is None else gap.missing.value.value


def _times(gap: Gap) -> str:
    size = abs(gap.deviations)
    return tick(size, 0.1 if size < 10.0 else 1.0)


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
        lead=NOT_NAMED,
        causes=(),
    )


def open_balances(figures: BookFigures, here: Here) -> tuple[GapView, ...]:
    """Every open balance of a book, the largest first."""
    told = [gap_view(gap, here) for gap in largest_first(figures.gaps)]
    return (*told, *(bare_gap(balance, here) for balance in untold(figures)))
