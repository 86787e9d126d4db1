"""What the metal balance hands on: balances, gaps and their causes, totals of periods and lots."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results.things import StageKey
from logbook.source import Span


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
class MonthRecovery:
    """The recovery of one metal in one month ("2026-03"), over runs with an assayed head.

    `closing` is over the runs whose balance closes, `untested` over those of which that is not
    known; each is None where there is no such run. `left_out` are those whose balance does not
    close, or that set more of the metal aside for a later run than they made.
    """

    month: str
    metal: str
    closing: Figure | None
    untested: Figure | None
    closing_runs: tuple[str, ...] = ()
    untested_runs: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
