"""What an hour earned, in runs and over a book, against sums on paper and a second method."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from build import (
    book,
    entry,
    euros,
    g,
    page,
    part,
    priced,
    run,
    stage,
    worked,
)
from earned import doubt, made, metal, of, unknown, value
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.money.earnings import BOOK_ONLY, LEFT_OUT, earnings_of
from logbook.calculation.money.inputs import NO_PRODUCT, NO_RATE, OPEN, UNDONE, UNMADE
from logbook.calculation.money.quotient import over
from logbook.calculation.money.worth import NOTHING_MADE
from logbook.calculation.results import BookFigures, Earnings, Swing
from logbook.model.entry import Entry
from logbook.model.run import Run, Status
from logbook.reading.read_book import read_book

DEMO = Path(__file__).parents[2] / "runs"
PRICES = page("prices", priced("silver", 1.0, "2026-01-01"), priced("silver", 1.1, "2026-03-01"))


def scrap(grams: float, share: float, label: str, cost: float | None) -> Entry:
    """Contacts that were taken, for money or for nobody knows how much."""
    paid = euros(cost) if cost is not None else None
    return entry("took", g(grams), "contacts", label, holds={"silver": part(share)}, cost=paid)


def bar(grams: float, label: str) -> Entry:
    """A bar of pure silver."""
    return entry("got", g(grams), "silver bar", label, holds={"silver": part(1.0)})


def spent(amount: float) -> Entry:
    """Money spent on gas."""
    return entry("spent", cost=euros(amount))


def melted(name: str, *entries: Entry, status: Status = Status.FINISHED) -> Run:
    """A run of one stage."""
    return run(name, stage("Melt", *entries), status=status)


# 200 g with 120 g of silver in them for 50; 10 of gas and 2 h; 100 g came out
FIRST = melted(
    "2026-01-10-first", scrap(200.0, 0.6, "RC-1", 50.0), spent(10.0), worked(2.0), bar(100.0, "A-1")
)
# 100 g with 50 g in them for 20; 1 h; 40 g came out
SECOND = melted("2026-02-10-second", scrap(100.0, 0.5, "RC-2", 20.0), worked(1.0), bar(40.0, "A-2"))
# the first bar goes for 95; half an hour
SALE = melted("2026-03-05-sold", entry("sold", None, "", "A-1", cost=euros(95.0)), worked(0.5))


def of_book(*runs: Run, hour: float | None = 20.0) -> BookFigures:
    """Some runs worked out."""
    return work_out(book(*runs, prices=PRICES, hour=hour))


def earned(figures: BookFigures, name: str) -> Earnings:
    """What a run earned."""
    found = figures.runs[name].earnings
    assert found is not None
    return found


def test_a_run_by_hand() -> None:
    """100 - 50 - 10 = 40 in 2 h; 90 without the scrap; with 40 of labour it broke even.

    So the break-even price is the price, 1.00, and the break-even grade what there was, 60 %.
    """
    one = earned(of_book(FIRST), FIRST.name)
    assert value(one.earned) == pytest.approx(40.0)
    assert value(one.hours) == pytest.approx(2.0)
    assert value(one.per_hour) == pytest.approx(20.0)
    assert value(one.per_hour_without_feed) == pytest.approx(45.0)
    assert value(one.break_even_price["silver"]) == pytest.approx(1.0)
    assert value(one.break_even_grade["silver"]) == pytest.approx(0.6)
    assert one.per_hour.unit == "EUR/h" and one.spread is None and one.spread_why == BOOK_ONLY


def test_labour_is_no_cost_of_the_hour() -> None:
    """An hour earned the same whatever it is put at; what would cover it does not."""
    for hour in (10.0, 30.0):
        one = earned(of_book(FIRST, hour=hour), FIRST.name)
        assert value(one.per_hour) == pytest.approx(20.0)
        assert value(one.break_even_price["silver"]) == pytest.approx((60.0 + 2 * hour) / 100.0)
        assert "labour" in one.earned.formula


def test_without_a_rate_the_break_even_price_is_at_least() -> None:
    """60 of other costs over 100 g: at least 0.60, as nobody says what an hour is worth."""
    one = earned(of_book(FIRST, hour=None), FIRST.name)
    assert value(one.per_hour) == pytest.approx(20.0)
    price = one.break_even_price["silver"]
    assert not price.known and price.low == pytest.approx(0.6) and price.why == NO_RATE


def test_a_book_by_hand() -> None:
    """The bar that was sold counts with its 95, the one that is held with 40 x 1.10 = 44.

    139 - 20 - 50 - 10 = 59 in 3.5 h. The 40 g held have to bring 80 + 70 - 95 = 55: 1.375 a gram.
    """
    found = of_book(FIRST, SECOND, SALE).earnings
    assert found is not None
    assert value(found.earned) == pytest.approx(59.0)
    assert value(found.hours) == pytest.approx(3.5)
    assert value(found.per_hour) == pytest.approx(59.0 / 3.5)
    assert value(found.per_hour_without_feed) == pytest.approx(129.0 / 3.5)
    assert value(found.break_even_price["silver"]) == pytest.approx(1.375)
    assert found.break_even_grade == {}


def test_a_bar_that_is_melted_again_counts_once() -> None:
    """Two bars of 100 g and 40 g melted into one of 138 g in half an hour.

    Over the book: 138 x 1.10 = 151.80, less 80 of costs, in 3.5 h. The run that melted them bears
    all of that: 138 x 1.00 at the price of its day, less 80, in 3.5 h.
    """
    again = melted(
        "2026-02-20-again",
        entry("took", None, "", "A-1"),
        entry("took", None, "", "A-2"),
        worked(0.5),
        bar(138.0, "A-3"),
    )
    figures = of_book(FIRST, SECOND, again)
    assert figures.earnings is not None
    assert value(figures.earnings.earned) == pytest.approx(151.8 - 80.0)
    assert value(figures.earnings.hours) == pytest.approx(3.5)
    one = earned(figures, again.name)
    assert value(one.earned) == pytest.approx(138.0 - 80.0)
    assert value(one.hours) == pytest.approx(3.5)
    # the gain in refining is a break-even price of (80 + 70) / 138
    assert value(one.break_even_price["silver"]) == pytest.approx(150.0 / 138.0)


def test_a_run_without_a_product_earned_nothing_and_says_why() -> None:
    """Made nothing, still open, only sold: each with its own reason, and never a number."""
    nothing = melted("2026-01-11-a", scrap(50.0, 0.5, "RC-3", 5.0), worked(1.0))
    still = replace(nothing, name="2026-01-12-b", status=Status.OPEN)
    figures = of_book(FIRST, nothing, still, SALE)
    for name, why in (
        (nothing.name, NO_PRODUCT),
        (still.name, OPEN),
        (SALE.name, NOTHING_MADE),
    ):
        one = earned(figures, name)
        assert one.earned.why == one.per_hour.why == one.spread_why == why
        assert not one.swings and not one.break_even_price


def test_a_plan_has_earned_nothing_at_all() -> None:
    """A plan is no run that was done."""
    figures = of_book(replace(FIRST, status=Status.PLANNED))
    assert figures.runs[FIRST.name].earnings is None
    assert figures.earnings is not None and figures.earnings.per_hour.why == UNDONE


def test_a_book_without_a_product_has_earned_nothing_yet() -> None:
    """Work that made nothing so far: the reason stands in the place of a number."""
    nothing = melted("2026-01-11-a", scrap(50.0, 0.5, "RC-3", 5.0), worked(1.0))
    found = of_book(nothing).earnings
    assert found is not None and found.per_hour.why == found.spread_why == UNMADE


def test_an_unknown_cost_leaves_an_upper_limit() -> None:
    """Scrap of which nobody knows the price: at most 100 - 10 = 90 in 2 h, 45 an hour."""
    free = melted(
        "2026-01-10-x",
        scrap(200.0, 0.6, "RC-1", None),
        spent(10.0),
        worked(2.0),
        bar(100.0, "A-1"),
    )
    one = earned(of_book(free), free.name)
    assert not one.per_hour.known and "no price was noted" in one.per_hour.why
    assert (one.per_hour.low, one.per_hour.high) == (None, pytest.approx(45.0))
    assert value(one.per_hour_without_feed) == pytest.approx(45.0)
    assert one.basis == LEFT_OUT
    for swing in one.swings:
        assert not swing.low.known and swing.low.high is not None and swing.low.why


def test_unknown_hours_are_neither_none_nor_eight() -> None:
    """Without any time noted what an hour earned is not known, but what was earned is."""
    quick = melted("2026-01-10-x", scrap(200.0, 0.6, "RC-1", 50.0), bar(100.0, "A-1"))
    one = earned(of_book(quick), quick.name)
    assert value(one.earned) == pytest.approx(50.0)
    assert not one.per_hour.known and "time" in one.per_hour.why
    assert not one.swings


def test_some_hours_known_leave_an_upper_limit() -> None:
    """40 earned in 2 h and some more is at most 20 an hour, and at least nothing."""
    longer = melted(
        "2026-01-10-x",
        scrap(200.0, 0.6, "RC-1", 50.0),
        spent(10.0),
        worked(2.0),
        worked(None),
        bar(100.0, "A-1"),
    )
    one = earned(of_book(longer), longer.name)
    assert (one.per_hour.low, one.per_hour.high) == (0.0, pytest.approx(20.0))


def test_metal_added_beside_the_scrap_gives_no_grade() -> None:
    """Silver that was put in comes out again: nothing follows for the scrap alone."""
    silver = entry("added", g(30.0), "fine silver", holds={"silver": part(1.0)})
    one = melted(
        "2026-01-10-x", scrap(100.0, 0.5, "RC-1", 9.0), silver, worked(1.0), bar(75.0, "A-1")
    )
    grade = earned(of_book(one), one.name).break_even_grade["silver"]
    assert not grade.known and "added beside the scrap" in grade.why


def test_several_lots_are_taken_as_one() -> None:
    """Two lots of 100 g: the grade is that of both together, and says so."""
    one = melted(
        "2026-01-10-x",
        scrap(100.0, 0.5, "RC-1", 10.0),
        scrap(100.0, 0.7, "RC-2", 10.0),
        worked(1.0),
        bar(108.0, "A-1"),
    )
    grade = earned(of_book(one), one.name).break_even_grade["silver"]
    # 40 in all, of 200 g of which nine tenths are won at 1.00 a gram
    assert value(grade) == pytest.approx(40.0 / (0.9 * 200.0))
    assert any("2 lots" in note for note in grade.notes)


def test_doubts_against_uncertainties() -> None:
    """Weight in worth and in a charge, volume in a cost, hours: as the package propagates them."""
    weight, acid, time = ufloat(100.0, 2.0), ufloat(10.0, 0.5), ufloat(2.5, 0.2)
    expected = (weight * (1.2 - 0.1) - weight * 0.05 - acid) / time
    fine = of(100.0, "g", 2.0, "bar")
    charge = Figure("treatment", "EUR", fine.value.times(0.05) if fine.value else None)
    silver = metal(fine, 1.2, payable=fine, refining=0.1, treatment=charge)
    inputs = made({"silver": silver}, {"reagent": of(10.0, "EUR", 0.5)}, of(2.5, "h", 0.2))
    found = earnings_of(inputs).per_hour
    assert value(found) == pytest.approx(expected.n)
    assert doubt(found) == pytest.approx(expected.s)


# One input at a time


def swing(found: Earnings, what: str) -> Swing:
    """The swing of one input."""
    return next(one for one in found.swings if one.what == what)


def test_swings_by_hand() -> None:
    """The first run: worth 100, scrap 50, gas 10, 2 h. Each a tenth down and up, the widest first.

    Price 30 and 50 over 2 h; scrap 45 and 35; hours 40 / 1.8 and 40 / 2.2; gas 41 and 39. The
    recovery was 100 / 120: 5 points are 6 g or 6 EUR, 3 an hour.
    """
    found = earned(of_book(FIRST), FIRST.name)
    by_hand = [
        ("price of silver", "0.90 EUR/g", "1.10 EUR/g", 15.0, 25.0),
        ("recovery of silver", "78.3 %", "88.3 %", 17.0, 23.0),
        ("cost of the scrap", "45.0 EUR", "55.0 EUR", 22.5, 17.5),
        ("hours of work", "1.80 h", "2.20 h", 40 / 1.8, 40 / 2.2),
        ("other costs", "9.0 EUR", "11.0 EUR", 20.5, 19.5),
    ]
    shown = [(one.what, one.low_at, one.high_at) for one in found.swings]
    assert shown == [row[:3] for row in by_hand]
    for one, (*_, low, high) in zip(found.swings, by_hand, strict=True):
        assert (value(one.low), value(one.high)) == (pytest.approx(low), pytest.approx(high))


def test_a_recovery_goes_no_higher_than_all_of_it() -> None:
    """97 % goes up to 100 %, not to 102 %: 3 points of 97 are 3.093 of 100 EUR."""
    silver = metal(of(97.0, "g"), 1.0, recovery=of(0.97, "g/g"))
    found = earnings_of(made({"silver": silver}, {}, of(1.0, "h")))
    one = swing(found, "recovery of silver")
    assert (one.low_at, one.high_at) == ("92.0 %", "100.0 %")
    assert (value(one.low), value(one.high)) == (pytest.approx(92.0), pytest.approx(100.0))
    assert "no more than all of it" in one.by


def test_the_share_that_is_paid_for() -> None:
    """96 of 100 g are paid for at 2 less 0.50 of refining: a point is 1.50."""
    silver = metal(of(100.0, "g"), 2.0, payable=of(96.0, "g"), refining=0.5)
    found = earnings_of(made({"silver": silver}, {}, of(1.0, "h")))
    one = swing(found, "share of silver that is paid for")
    assert (one.low_at, one.high_at) == ("95.0 %", "97.0 %")
    assert (value(one.low), value(one.high)) == (pytest.approx(142.5), pytest.approx(145.5))
    # a tenth of the price is 9.6 x 2, the charges stay as they are
    dear = swing(found, "price of silver")
    assert value(dear.high) - value(dear.low) == pytest.approx(2 * 19.2)


@given(st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.floats(50.0, 500.0))
def test_swings_by_own_doubt_add_up_to_the_doubt(
    fine: float, acid: float, scrap_u: float, worth: float
) -> None:
    """Of independent inputs of a linear sum, quarter swings are the parts of u² (JCGM 100, 5.1.2).

    A swing goes two standard uncertainties down and up, so its width is four of them.
    """
    costs = {
        "feed": of(40.0, "EUR", 40.0 * scrap_u),
        "reagent": of(10.0, "EUR", 10.0 * acid),
    }
    silver = metal(of(worth, "g", worth * fine), 1.0)
    found = earnings_of(made({"silver": silver}, costs, of(2.0, "h")))
    own = [one for one in found.swings if one.by == "twice its own standard uncertainty"]
    assert len(own) == 3
    parts = [(value(one.high) - value(one.low)) / 4.0 for one in own]
    assert sum(one * one for one in parts) == pytest.approx(doubt(found.per_hour) ** 2)


def test_an_input_at_a_given_value_has_no_doubt_of_its_own() -> None:
    """With the weight given, what is left in doubt is the cost: 3 over 2 h."""
    silver = metal(of(100.0, "g", 5.0), 1.0)
    found = earnings_of(made({"silver": silver}, {"reagent": of(50.0, "EUR", 3.0)}, of(2.0, "h")))
    assert doubt(swing(found, "fine silver in the product").low) == pytest.approx(1.5)
    # at another price the weight is as doubtful as it was, for more money: 5.5 and 3, over 2
    assert doubt(swing(found, "price of silver").high) == pytest.approx(
        (5.5**2 + 3.0**2) ** 0.5 / 2
    )


def test_no_swing_without_a_width_and_at_most_eight() -> None:
    """A cost of nothing moves nothing and is left out; of twelve inputs eight are told."""
    costs = {"feed": of(0.0, "EUR")} | {f"cost {at}": of(1.0 + at, "EUR") for at in range(12)}
    found = earnings_of(made({"silver": metal(of(100.0, "g"), 1.0)}, costs, of(1.0, "h")))
    widths = [abs(value(one.high) - value(one.low)) for one in found.swings]
    assert len(widths) == 8 and min(widths) > 0.0 and widths == sorted(widths, reverse=True)
    assert "cost of the scrap" not in [one.what for one in found.swings]


# Limits, whatever the truth is


@given(
    st.floats(-100.0, 100.0),
    st.floats(0.0, 50.0),
    st.floats(0.1, 20.0),
    st.floats(0.0, 20.0),
    st.floats(0.0, 1.0),
    st.floats(0.0, 1.0),
)
def test_what_is_true_lies_within_the_limits(
    bottom: float, more: float, least: float, longer: float, at: float, when: float
) -> None:
    """Any gain and any hours within their limits give an hour within the limits told."""
    above = Figure("earned", "EUR", why="?", low=bottom, high=bottom + more)
    below = Figure("hours", "h", why="?", low=least, high=least + longer)
    found = over("an hour", "EUR/h", above, below, "")
    true = (bottom + at * more) / (least + when * longer)
    assert found.low is not None and found.high is not None
    assert found.low - 1e-9 <= true <= found.high + 1e-9


@given(st.floats(0.0, 300.0), st.floats(0.5, 9.0))
def test_an_unknown_cost_never_earns_more_than_the_limit(beyond: float, hours: float) -> None:
    """Whatever the acid cost beyond what is known of it, no hour earned more than it was said."""
    silver = {"silver": metal(of(100.0, "g"), 1.0)}
    told = earnings_of(made(silver, {"reagent": unknown("EUR", 5.0)}, of(hours, "h")))
    true = earnings_of(made(silver, {"reagent": of(5.0 + beyond, "EUR")}, of(hours, "h")))
    assert told.per_hour.high is not None
    assert value(true.per_hour) <= told.per_hour.high + 1e-9
    assert told.break_even_price["silver"].low is not None
    assert value(true.break_even_price["silver"]) >= told.break_even_price["silver"].low - 1e-9


def test_in_the_demo_net_is_what_was_earned_less_the_hours() -> None:
    """Two ways to one figure: net as the costing gives it, and earned less labour, in every run.

    Where a cost is not known both are so, and the limit of what was earned less the known labour
    is that of the net.
    """
    paths = sorted(DEMO.glob("*.md"))
    texts = {f"runs/{one.name}": one.read_text(encoding="utf-8") for one in paths}
    figures = work_out(read_book(texts))
    compared = 0
    for one in figures.runs.values():
        if one.earnings is None or not one.earnings.swings or one.costing is None:
            continue
        labour = one.costing.made_kinds["labour"]
        if not labour.known:
            continue
        if one.net.known:
            assert value(one.earnings.earned) - value(labour) == pytest.approx(value(one.net))
        else:
            assert one.earnings.earned.high is not None and one.net.high is not None
            assert one.earnings.earned.high - value(labour) == pytest.approx(one.net.high)
        compared += 1
    assert compared > 10


def test_a_price_in_a_range_is_moved_by_its_own_doubt() -> None:
    """0.9 to 1.1 has a standard uncertainty of 0.1 / sqrt 3 (JCGM 100, 4.3.7): twice is 0.115."""
    price = of(1.0, "EUR/g", 0.1 / 3**0.5, "range")
    found = earnings_of(made({"silver": metal(of(100.0, "g"), price)}, {}, of(1.0, "h")))
    one = swing(found, "price of silver")
    assert value(one.high) == pytest.approx(100.0 * (1 + 0.2 / 3**0.5))
    assert doubt(one.high) == pytest.approx(0.0)
