"""Many draws of what an hour earned: against exact normal results and first-order propagation."""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from random import Random
from statistics import NormalDist, fmean, stdev

import pytest
from build import book, entry, euros, g, page, part, priced, run, stage, worked
from earned import doubt, made, metal, of, unknown, value

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.money.earnings import earnings_of
from logbook.calculation.money.inputs import Inputs
from logbook.calculation.money.spread import DRAWS, NOT_DRAWN, SEED, joint_draws, moves_of, quantile
from logbook.calculation.results import DayPrice, Spread
from logbook.model.amount import Uncertain

STILL = {"silver": 0.0}  # a price that does not move


def spread(inputs: Inputs, moved: dict[str, float]) -> Spread:
    """The spread, which there must be."""
    found = earnings_of(inputs, moved).spread
    assert found is not None
    return found


def test_the_additive_model_of_jcgm_101() -> None:
    """Four independent standard normal inputs: the sum has u = 2.0 and 95 % within ±3.92.

    Source: JCGM 101:2008, 9.2.2, table 2 (from memory; 1.96 x 2 by hand). 20,000 draws give a
    quantile at 2.5 % to about 0.04 (standard error √(p(1-p)/n)/f, f the density there).
    """
    inputs = [Uncertain.of(0.0, 1.0, name) for name in "abcd"]
    sums = sorted(sum(row) for row in joint_draws(inputs, 20_000, Random(1)))
    assert fmean(sums) == pytest.approx(0.0, abs=0.06)
    assert stdev(sums) == pytest.approx(2.0, abs=0.04)
    assert quantile(sums, 0.025) == pytest.approx(-3.92, abs=0.15)
    assert quantile(sums, 0.975) == pytest.approx(3.92, abs=0.15)


def test_errors_of_one_source_are_drawn_as_one() -> None:
    """A reading less itself is nothing in every draw; half of two shared errors stays shared."""
    one = Uncertain.of(10.0, 0.3, "bar")
    other = one.times(2.0) + Uncertain.of(0.0, 0.8, "acid")
    rows = list(joint_draws([one, one, other], 4_000, Random(2)))
    assert all(a == pytest.approx(b) for a, b, _ in rows)
    # cov = 2 x 0.09 and u² = 0.36 + 0.64 = 1: a correlation of 0.6 (0.18 / 0.3)
    mean = [fmean(row[at] for row in rows) for at in (0, 2)]
    shared = fmean((row[0] - mean[0]) * (row[2] - mean[1]) for row in rows)
    assert shared == pytest.approx(0.18, abs=0.02)
    assert stdev(row[2] for row in rows) == pytest.approx(1.0, abs=0.05)


def test_many_sources_that_are_packed_are_drawn_too() -> None:
    """A hundred errors of 0.1 each are kept as one row: together 1.0, shared by both values."""
    parts = [Uncertain.of(1.0, 0.1, ("bar", at)) for at in range(100)]
    whole = parts[0]
    for part_ in parts[1:]:
        whole = whole + part_
    rows = list(joint_draws([whole, whole.times(-1.0)], 2_000, Random(3)))
    assert stdev(row[0] for row in rows) == pytest.approx(1.0, abs=0.06)
    assert all(sum(row) == pytest.approx(0.0, abs=1e-9) for row in rows)


def normal_case() -> Inputs:
    """Worth 100 ± 6 less 40 ± 8 and 10, in 2 h exactly: 25 ± 5 an hour (6-8-10)."""
    silver = metal(of(100.0, "g", 6.0), 1.0)
    costs = {"reagent": of(40.0, "EUR", 8.0), "feed": of(10.0, "EUR")}
    return made({"silver": silver}, costs, of(2.0, "h"))


def test_a_linear_sum_is_spread_as_the_normal_distribution() -> None:
    """Quantiles of 25 ± 5 by the standard library's normal distribution, within their errors."""
    found, exact = spread(normal_case(), STILL), NormalDist(25.0, 5.0)
    assert (found.draws, found.seed) == (DRAWS, SEED)
    for at, quantile_ in found.quantiles.items():
        share = at / 100.0
        error = (share * (1 - share) / DRAWS) ** 0.5 / exact.pdf(exact.inv_cdf(share))
        assert abs(quantile_ - exact.inv_cdf(share)) < 4.0 * error
    assert found.loss == 0.0


def test_the_spread_is_that_of_first_order_propagation() -> None:
    """Small doubts, hours among them: the middle half is 1.349 standard uncertainties wide."""
    silver = metal(of(100.0, "g", 1.0, "bar"), 1.0)
    costs = {"reagent": of(20.0, "EUR", 1.0)}
    inputs = made({"silver": silver}, costs, of(4.0, "h", 0.08))
    found, hourly = spread(inputs, STILL), earnings_of(inputs).per_hour
    width = found.quantiles[75] - found.quantiles[25]
    assert width == pytest.approx(1.349 * doubt(hourly), rel=0.06)
    assert found.quantiles[50] == pytest.approx(value(hourly), abs=4 * doubt(hourly) / DRAWS**0.5)


def test_how_often_an_hour_cost_money() -> None:
    """5 ± 5 an hour is below nothing in 15.87 of 100 (one standard deviation below the mean)."""
    silver = metal(of(100.0, "g", 6.0), 1.0)
    inputs = made({"silver": silver}, {"reagent": of(90.0, "EUR", 8.0)}, of(2.0, "h"))
    assert spread(inputs, STILL).loss == pytest.approx(NormalDist().cdf(-1.0), abs=0.035)


def test_a_price_that_moves_widens_it() -> None:
    """100 g at 1.00 that moves by 10 %, in 1 h: 100 ± 10; charges of 20 do not move with it."""
    silver = metal(of(100.0, "g"), 1.0, treatment=of(20.0, "EUR"))
    found = spread(made({"silver": silver}, {}, of(1.0, "h")), {"silver": 0.1})
    exact = NormalDist(80.0, 10.0)
    assert found.quantiles[50] == pytest.approx(80.0, abs=1.2)
    assert found.quantiles[5] == pytest.approx(exact.inv_cdf(0.05), abs=2.0)
    assert found.quantiles[95] == pytest.approx(exact.inv_cdf(0.95), abs=2.0)


def test_what_was_drawn_is_told() -> None:
    """Each input with its spread, and a price with where its spread comes from."""
    metals = {"silver": metal(of(100.0, "g", 2.0), 1.0), "gold": metal(of(1.0, "g"), 90.0)}
    inputs = made(metals, {"reagent": of(20.0, "EUR", 1.0)}, of(4.0, "h"))
    assert spread(inputs, {"silver": 0.07}).varied == (
        "price of silver by 7 % (as it moved from note to note)",
        "price of gold by 10 % (a usual change)",
        "fine silver in the product by 2 % (its own standard uncertainty)",
        "cost of reagents by 5 % (its own standard uncertainty)",
    )


def test_costs_that_are_not_known_are_told_to_be_left_out() -> None:
    """The draws leave them out, so that all of it is at most: that stands beside what was drawn."""
    silver = {"silver": metal(of(100.0, "g", 2.0), 1.0)}
    inputs = made(silver, {"reagent": unknown("EUR", 5.0)}, of(4.0, "h"))
    assert spread(inputs, STILL).varied[-1] == NOT_DRAWN
    assert NOT_DRAWN not in spread(normal_case(), STILL).varied


@pytest.mark.parametrize(
    ("worth", "hours", "why"),
    [
        (unknown("g", 50.0), of(2.0, "h"), "it was not written"),
        (of(100.0, "g"), unknown("h", 2.0), "it was not written"),
        (of(100.0, "g"), of(0.0, "h"), "no hours went into it"),
    ],
)
def test_there_is_none_without_worth_or_hours(worth: Figure, hours: Figure, why: str) -> None:
    """What is not known is not drawn, and the reason stands in its place."""
    found = earnings_of(made({"silver": metal(worth, 1.0)}, {}, hours), STILL)
    assert found.spread is None and found.spread_why == why and not found.swings


def noted(*prices: float) -> list[DayPrice]:
    """Prices of silver, one a month."""
    said = entry("priced")
    return [
        DayPrice("silver", date(2026, 1 + at, 1), of(one, "EUR/g"), said)
        for at, one in enumerate(prices)
    ]


def test_prices_move_as_the_book_noted_them() -> None:
    """Twice up a tenth, twice down again: ln 1.1 = 0.0953. Four notes are too few to tell."""
    assert moves_of(noted(1.0, 1.1, 1.0, 1.1, 1.0)) == {"silver": pytest.approx(0.09531, abs=1e-5)}
    assert moves_of(noted(1.0, 1.1, 1.0, 1.1)) == {}


def test_a_price_noted_again_and_again_is_not_taken_to_stand_still() -> None:
    """Five notes of one figure show no movement: then a usual change is drawn, not none."""
    assert moves_of(noted(1.0, 1.0, 1.0, 1.0, 1.0)) == {}


SMALL = book(
    run(
        "2026-01-10-first",
        stage(
            "Melt",
            entry(
                "took", g(200.0), "contacts", "RC-1", holds={"silver": part(0.6)}, cost=euros(50.0)
            ),
            worked(2.0),
            entry("got", g(100.0, 1.0), "silver bar", "A-1", holds={"silver": part(1.0)}),
        ),
    ),
    prices=page("prices", priced("silver", 1.0, "2026-01-01")),
    hour=20.0,
)


def test_a_book_has_a_spread_and_it_is_the_same_each_time() -> None:
    """The same book gives the same draws: nothing comes from a clock or from elsewhere."""
    one, other = work_out(SMALL).earnings, work_out(SMALL).earnings
    assert one is not None and other is not None
    assert one.spread is not None and one.spread == other.spread
    # 100 ± 10 of price and ± 1 of weight, less 50, in 2 h: 25 ± 5.02
    assert one.spread.quantiles[50] == pytest.approx(25.0, abs=0.6)
    width = one.spread.quantiles[95] - one.spread.quantiles[5]
    assert width == pytest.approx(2 * 1.645 * 101**0.5 / 2, rel=0.08)


def test_a_number_of_the_generator_is_what_the_standard_library_gives_everywhere() -> None:
    """The first draw of a standard normal input is the first normal number of the stated seed."""
    (first,) = joint_draws([Uncertain.of(0.0, 1.0, "a")], 1, Random(SEED))
    assert first == [pytest.approx(Random(SEED).gauss(0.0, 1.0))]


def test_draws_load_no_heavy_library() -> None:
    """What `proof` loads stays light: the draws are made with the standard library alone."""
    code = (
        "import sys, logbook.calculation.money.earnings; "
        "print([one for one in ('numpy', 'pandas', 'scipy', 'plotly') if one in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
