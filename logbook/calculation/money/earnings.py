"""What an hour of work earned, in a run and over the book.

Labour is what the hour is paid with, so it is no cost of the hour: it counts where it is asked
what a product must fetch to cover everything.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.break_even import break_even_grade, break_even_price
from logbook.calculation.money.inputs import (
    FEED,
    LABOUR,
    Inputs,
    inputs_of_book,
    inputs_of_run,
)
from logbook.calculation.money.markets import Market
from logbook.calculation.money.quotient import over
from logbook.calculation.money.sensitivity import levers_of, swings_of
from logbook.calculation.money.spread import moves_of, spread_of
from logbook.calculation.results import BookFigures, Earnings, RunFigures
from logbook.calculation.sums import difference
from logbook.model.amount import Amount

EARNED_WORDS = "worth − all costs but labour, which is what the hour is paid with"
BOOK_ONLY = "many draws are made for the book as a whole only"
LEFT_OUT = "costs that are not known are left out, so all of this is at most so much"
NO_HOURS = "no hours went into it"


def earnings_of(inputs: Inputs, moved: Mapping[str, float] | None = None) -> Earnings:
    """What an hour earned, at what price it would have earned nothing, and what moves it most.

    Equations: earned = W − Σ c_k over the kinds of cost but labour [currency]; an hour earned
    earned / t [currency/h]. Source: common practice, no source. `moved` is how much the price of
    each metal moved from note to note (one standard deviation, a fraction); the spread of many
    draws is worked out only where it is given.

    A product worth 100 whose scrap cost 40 and acid 10, made in 5 h, gave 10 an hour, or 18 if
    the scrap had cost nothing, by hand:

    >>> from logbook.calculation.sums import zero
    >>> from logbook.model.amount import Uncertain
    >>> def of(value, unit): return Figure("", unit, Uncertain(value))
    >>> costs = {"feed": of(40.0, "EUR"), "reagent": of(10.0, "EUR"), "labour": of(90.0, "EUR")}
    >>> worth, hours, feed = of(100.0, "EUR"), of(5.0, "h"), of(200.0, "g")
    >>> found = earnings_of(Inputs("a", "EUR", {}, zero("", "EUR"), worth, costs, hours, feed))
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
    levers = levers_of(inputs)
    drawn = moved is not None and bool(levers)
    why = BOOK_ONLY if moved is None else _why_not_drawn(inputs)
    return Earnings(
        run=inputs.run,
        hours=inputs.hours,
        earned=earned,
        per_hour=_hourly("an hour earned", earned, inputs),
        per_hour_without_feed=_hourly("an hour earned without the scrap", free, inputs),
        break_even_price={metal: break_even_price(inputs, metal) for metal in inputs.metals},
        break_even_grade={metal: break_even_grade(inputs, metal) for metal in inputs.metals}
        if inputs.run
        else {},
        swings=swings_of(inputs, levers),
        spread=spread_of(inputs, levers, moved or {}) if drawn else None,
        spread_why="" if drawn else why,
        basis=LEFT_OUT if levers and not inputs.cost_without(LABOUR).known else "",
    )


def with_earnings(
    runs: Mapping[str, RunFigures], market: Market, hour: Amount | None
) -> dict[str, RunFigures]:
    """The figures of every run that was done, with what an hour of it earned."""
    return {
        name: figures
        if figures.run.planned
        else replace(figures, earnings=earnings_of(inputs_of_run(figures, market, hour)))
        for name, figures in runs.items()
    }


def book_earnings(figures: BookFigures, market: Market, hour: Amount | None) -> Earnings:
    """What an hour earned over the book, with the spread of many draws."""
    return earnings_of(inputs_of_book(figures, market, hour), moves_of(figures.prices))


def _why_not_drawn(inputs: Inputs) -> str:
    return inputs.worth.why or inputs.hours.why or NO_HOURS


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
    return over(name, f"{inputs.currency}/h", earned, inputs.hours, "earned / hours")
