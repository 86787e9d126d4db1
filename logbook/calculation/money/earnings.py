"""What an hour of work earned, in a run and over the book.

Labour is what the hour is paid with, so it is no cost of the hour: it counts where it is asked
what a product must fetch to cover everything.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.break_even import break_even_grade, break_even_price
from logbook.calculation.money.inputs import Charges, Inputs, inputs_of_book, inputs_of_run
from logbook.calculation.money.sensitivity import levers_of, swings_of
from logbook.calculation.money.spread import moved_by, spread_of
from logbook.calculation.results import BookFigures, Earnings, RunFigures
from logbook.calculation.sums import difference, lowest, ratio

LABOUR, FEED = "labour", "feed"
EARNED_WORDS = "worth − all costs but labour, which is what the hour is paid with"
BOOK_ONLY = "many draws are made for the book as a whole only"
LEFT_OUT = "costs that are not known are left out, so all of this is at most"


def earnings_of(inputs: Inputs, moved: Mapping[str, float] | None = None) -> Earnings:
    """What an hour earned, at what price it would have earned nothing, and what moves it most.

    Equations: earned = W − Σ c_k over the kinds of cost but labour [currency]; an hour earned
    earned / t [currency/h]. Source: common practice, no source. `moved` is how much the price of
    each metal moved from note to note (one standard deviation, a fraction); the spread of many
    draws is worked out only where it is given.

    A product worth 100 whose scrap cost 40 and acid 10, made in 5 h, gave 10 an hour, or 18 if
    the scrap had cost nothing, by hand:

    >>> from logbook.model.amount import Uncertain
    >>> from logbook.calculation.sums import zero
    >>> def euros(value): return Figure("", "EUR", Uncertain(value))
    >>> costs = {"feed": euros(40.0), "reagent": euros(10.0), "labour": euros(90.0)}
    >>> hours = Figure("hours", "h", Uncertain(5.0))
    >>> found = earnings_of(Inputs("a", "EUR", {}, zero("", "EUR"), euros(100.0), costs, hours))
    >>> found.per_hour.value.value, found.per_hour_without_feed.value.value
    (10.0, 18.0)
    """
    if inputs.nothing:
        return _nothing(inputs)
    earned = difference(
        "earned", inputs.currency, inputs.worth, inputs.cost_without(LABOUR), EARNED_WORDS
    )
    free = difference(
        "earned if the scrap had cost nothing",
        inputs.currency,
        inputs.worth,
        inputs.cost_without(LABOUR, FEED),
        f"{EARNED_WORDS}, and the scrap",
    )
    levers, basis = levers_of(inputs), _basis(inputs)
    spread, why = None, BOOK_ONLY
    if moved is not None and levers is not None:
        spread, why = spread_of(inputs, levers, moved), ""
    elif moved is not None:
        why = _why_no_levers(inputs)
    return Earnings(
        run=inputs.run,
        hours=inputs.hours,
        earned=earned,
        per_hour=_hourly("an hour earned", earned, inputs),
        per_hour_without_feed=_hourly("an hour earned without the scrap", free, inputs),
        break_even_price={metal: break_even_price(inputs, metal) for metal in inputs.metals},
        break_even_grade={metal: break_even_grade(inputs, metal) for metal in inputs.metals},
        swings=swings_of(inputs, levers) if levers is not None else (),
        spread=spread,
        spread_why=why,
        basis=basis if levers is not None else "",
    )


def with_earnings(runs: Mapping[str, RunFigures], charges: Charges) -> dict[str, RunFigures]:
    """The figures of every run that was done, with what an hour of it earned."""
    return {
        name: figures
        if figures.run.planned
        else replace(figures, earnings=earnings_of(inputs_of_run(figures, charges)))
        for name, figures in runs.items()
    }


def book_earnings(figures: BookFigures, currency: str, charges: Charges) -> Earnings:
    """What an hour earned over the book, with the spread of many draws."""
    by_metal: dict[str, list[float]] = {}
    for one in figures.prices:
        if one.price.value is not None:
            by_metal.setdefault(one.metal, []).append(one.price.value.value)
    moved = {metal: by for metal, found in by_metal.items() if (by := moved_by(found)) is not None}
    return earnings_of(inputs_of_book(figures, currency, charges), moved)


def _basis(inputs: Inputs) -> str:
    return "" if inputs.cost_without(LABOUR).known else LEFT_OUT


def _why_no_levers(inputs: Inputs) -> str:
    return inputs.worth.why or inputs.hours.why or "no hours were noted"


def _nothing(inputs: Inputs) -> Earnings:
    why, hourly = inputs.nothing, f"{inputs.currency}/h"
    return Earnings(
        inputs.run,
        inputs.hours,
        not_known("earned", inputs.currency, why),
        not_known("an hour earned", hourly, why),
        not_known("an hour earned without the scrap", hourly, why),
        {},
        {},
        spread_why=why,
    )


def _hourly(name: str, earned: Figure, inputs: Inputs) -> Figure:
    """What was earned over the hours; at most that, where some cost is not known."""
    unit, words = f"{inputs.currency}/h", "earned / hours"
    found = ratio(name, unit, earned, inputs.hours, words)
    if found.known or earned.high is None or earned.known:
        return found
    hours = lowest(inputs.hours)
    if not inputs.hours.known or not hours:
        return found
    return replace(found, high=earned.high / hours)
