"""What an hour of work earned, and what would change that most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure


@dataclass(frozen=True, slots=True)
class Swing:
    """What an hour would have earned with one input lower or higher, all others as they are.

    `what` names the input ("price of silver"), `low_at` and `high_at` the values it was given,
    in words; `by` says why those: its own doubt, or a usual change.
    """

    what: str
    low_at: str
    high_at: str
    low: Figure  # currency/h with the input at its lower value
    high: Figure
    by: str


@dataclass(frozen=True, slots=True)
class Spread:
    """What an hour earned in many draws of all inputs together, by a stated seed.

    Quantiles in currency per hour; `loss` is the share of draws in which an hour cost money.
    """

    draws: int
    seed: int
    quantiles: Mapping[int, float]  # 5, 25, 50, 75, 95 per cent
    loss: float
    varied: tuple[str, ...]  # the inputs that were drawn, with their spread in words


@dataclass(frozen=True, slots=True)
class Earnings:
    """What an hour earned in one run, or over the book where `run` is empty.

    `earned` is worth less every cost but labour, over `hours` (those carried in counted, those
    carried out not). `per_hour` is with what the scrap cost, `per_hour_without_feed` as if it
    had cost nothing. `break_even_price` is the price of each metal, and `break_even_grade` the
    head grade, at which worth just covers all costs, the keeper's own hours at the book's rate
    among them.
    """

    run: str
    hours: Figure
    earned: Figure
    per_hour: Figure
    per_hour_without_feed: Figure
    break_even_price: Mapping[str, Figure]
    break_even_grade: Mapping[str, Figure]
    swings: tuple[Swing, ...] = ()
    spread: Spread | None = None
    spread_why: str = ""  # why there is none
    basis: str = ""  # what swings and spread leave out, where something is not known
