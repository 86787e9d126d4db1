"""A run in one sentence: what it gave, how much of what went in, and what it earned.

The sentence never says more than the figures do: where one is not known it says so, with
the reason, and a plan is called a plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from logbook.calculation.figure import Figure
from logbook.calculation.money.worth import NOTHING_MADE
from logbook.calculation.results import (
    Earnings,
    Gap,
    MetalBalance,
    Role,
    RunFigures,
    Standing,
    Thing,
)
from logbook.model.run import Run, Status
from logbook.pages.figure_view import known_text
from logbook.pages.gap_view import headline, largest_first, likeliest
from logbook.pages.rounding import MINUS
from logbook.pages.wording import listed, sentence

PLANNED = "This is a plan: nothing in it has been done, and nothing in it is counted"
TOO_MUCH = "more than the readings can explain"
NOT_WORKED_OUT = "Nothing could be worked out for this run"


def verdict(
    run: Run, figures: RunFigures | None, gaps: Sequence[Gap] = (), *, money: bool = True
) -> str:
    """The sentence at the head of a run's page; `gaps` are those of its balances."""
    if run.planned:
        return sentence(PLANNED)
    if figures is None:
        return sentence(NOT_WORKED_OUT)
    parts = [_gave(figures), *_gaps(figures, gaps), _earned(figures) if money else ""]
    words = "; ".join(part for part in parts if part)
    return sentence(f"{_standing(run)}{words}")


def _standing(run: Run) -> str:
    return {Status.OPEN: "still open: ", Status.ABANDONED: "given up: "}.get(run.status, "")


def _gave(figures: RunFigures) -> str:
    """What came out of the run, metal by metal."""
    if not any(thing.role is Role.PRODUCT for thing in figures.things_out):
        return f"it gave no product{_on_the_shelf(figures.balances)}"
    gains = [gain for gain in figures.balances if gain.product.value is None or _weighs(gain)]
    if not gains:
        return "it gave a product of which no metal was stated"
    return "it gave " + listed([_gain(gain) for gain in gains])


def _gain(gain: MetalBalance) -> str:
    if gain.product.value is None:
        return f"an amount of {gain.metal} that is not known, because {_why(gain.product)}"
    fine = f"{known_text(gain.product)} of fine {gain.metal}"
    if gain.recovery.value is None:
        return f"{fine} (how much of all the {gain.metal} that is, is not known)"
    return f"{fine}, {known_text(gain.recovery)} of what went in"


def _weighs(gain: MetalBalance) -> bool:
    return gain.product.value is not None and gain.product.value.value > 0


def _on_the_shelf(balances: Iterable[MetalBalance]) -> str:
    held = [
        f"{known_text(balance.shelf)} of {balance.metal}"
        for balance in balances
        if balance.shelf.value is not None and balance.shelf.value.value > 0
    ]
    return f", and {listed(held)} stands on the shelf" if held else ""


def _gaps(figures: RunFigures, gaps: Sequence[Gap]) -> list[str]:
    """Whether the books close, for each metal of which that can be told."""
    told = [_gap(balance, figures, gaps) for balance in figures.balances]
    return [words for words in told if words]


def _gap(balance: MetalBalance, figures: RunFigures, gaps: Sequence[Gap]) -> str:
    """What is not accounted for of a metal, or where it must be; empty where nothing is."""
    metal = balance.metal
    if balance.closes == "unknown":
        return _somewhere(metal, figures.things_out)
    if balance.closes != "no":
        return ""
    own = [gap for gap in largest_first(gaps) if gap.metal == metal]
    if not own:
        return f"{known_text(balance.unaccounted)} of {metal} is not accounted for, {TOO_MUCH}"
    cause = likeliest(own[0])
    return f"{headline(own[0])}, {TOO_MUCH}" + (f" (likeliest cause: {cause})" if cause else "")


def _somewhere(metal: str, leaving: Iterable[Thing]) -> str:
    """A gap that cannot be told from the content of the one thing that takes it up."""
    for thing in leaving:
        held = thing.held.get(metal)
        if held is None or held.standing is not Standing.DEDUCED or held.side != "making":
            continue
        name = f"[{thing.label}]" if thing.label else f"the {thing.what}"
        return f"{known_text(held.best)} of {metal} is in {name} or lost"
    return ""


def _earned(figures: RunFigures) -> str:
    if figures.net.why == NOTHING_MADE:
        return ""  # a run that only sells has nothing to be judged by
    return _of_an_hour(figures.earnings) if figures.earnings is not None else ""


def _of_an_hour(earnings: Earnings) -> str:
    """What an hour earned, and what it would have, had the scrap cost nothing."""
    hourly, without = earnings.per_hour, earnings.per_hour_without_feed
    if hourly.value is None:
        known = "" if without.value is None else f" (without the scrap: {_money(without)})"
        return f"what an hour earned is not known, because {_why(hourly)}{known}"
    verb = "earned" if hourly.value.value >= 0 else "cost"
    words = f"an hour at the bench {verb} {_money(hourly).removeprefix(MINUS)}"
    if without.value is None or without.value.value == hourly.value.value:
        return words
    return f"{words} ({_money(without)}, had the scrap cost nothing)"


def _money(hourly: Figure) -> str:
    return known_text(hourly).removesuffix("/h")


def _why(figure: Figure) -> str:
    """The first reason why a figure is not known; the rest stand with the figure itself."""
    first, _, more = figure.why.partition("; ")
    return f"{first}, among other reasons" if more else first or "nothing in the logs gives it"
