"""What was in stock at the end of each period, and its gaps, by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from build import book, entry, g, page, part, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.in_stock import last_day_of
from logbook.calculation.results import Fate, PeriodTotal
from logbook.calculation.trends import period_totals
from logbook.model.amount import Uncertain
from logbook.model.entry import Entry
from logbook.model.run import Run


def totals(*runs: Run, bought: tuple[Entry, ...] = ()) -> dict[str, PeriodTotal]:
    """The totals of silver by period."""
    supplies = page("supplies", *bought) if bought else None
    figures = work_out(book(*runs, supplies=supplies))
    now = [
        thing.contents["silver"].value
        for thing in figures.shelf
        if "silver" in thing.contents and thing.fate is Fate.SHELF
    ]
    found = {one.period: one for one in figures.totals if one.metal == "silver"}
    if None not in now:
        # Whatever the months were, what is there in the end is what stands on the shelf.
        shelf = sum(one.value for one in now if one is not None)
        assert stock(found, "all") == pytest.approx(shelf, abs=1e-9)
    return found


def value(figure: Figure | None) -> float:
    """The value of a figure that must be known."""
    assert figure is not None
    assert figure.value is not None, figure.why
    return figure.value.value


def stock(found: dict[str, PeriodTotal], period: str) -> float:
    """The stock of silver at the end of a period."""
    return value(found[period].stock)


def silver(action: str, grams: float, what: str, *names: str, **more: object) -> Entry:
    """Something of pure silver, weighed well."""
    return entry(action, g(grams, 0.001), what, *names, holds={"silver": part(1.0)}, **more)


LOT = silver("bought", 100.0, "silver shot", "LOT", on="2026-01-02")


def test_a_lot_is_in_stock_until_its_last_draw() -> None:
    """100 g in January; 40 g go in February for a bar of 39 g, the rest in April for 59 g."""

    def melted(name: str, took: Entry, grams: float) -> Run:
        lost = silver("lost", 1.0, "in the dish")
        return run(name, stage("Melt", took, lost, silver("got", grams, "bar")))

    first = melted("2026-02-05-a", entry("took", g(40.0), "", "LOT"), 39.0)
    second = melted("2026-04-05-b", entry("took", None, "", "LOT"), 59.0)
    other = run("2026-01-20-o", stage("Store", silver("took", 1.0, "wire", "W")))
    found = totals(other, first, second, bought=(LOT,))
    assert stock(found, "2026-01") == pytest.approx(101.0, rel=1e-3)  # with the wire
    assert stock(found, "2026-02") == pytest.approx(60.0 + 39.0 + 1.0, rel=1e-3)
    assert stock(found, "2026-04") == pytest.approx(39.0 + 59.0 + 1.0, rel=1e-3)
    assert stock(found, "2026") == pytest.approx(99.0, rel=1e-3)


def test_what_is_at_work_over_the_end_of_a_month_is_in_stock() -> None:
    """50 g taken on 30 January are a bar of 49 g on 2 February."""
    melt = stage("Melt", silver("took", 50.0, "scrap"), silver("got", 49.0, "bar", on="2026-02-02"))
    other = run(
        "2026-01-20-o", stage("Sort", silver("took", 1.0, "wire"), silver("kept", 1.0, "wire"))
    )
    found = totals(run("2026-01-30-a", melt), other)
    assert stock(found, "2026-01") == pytest.approx(51.0, rel=1e-3)
    assert stock(found, "2026-02") == pytest.approx(50.0, rel=1e-3)


def test_what_was_sold_lost_or_thrown_away_is_no_longer_in_stock() -> None:
    """Of 10, 20 and 30 g made in January one is sold in February, one thrown away in March."""
    made = run(
        "2026-01-05-a",
        stage(
            "Sort",
            silver("took", 60.0, "scrap"),
            silver("kept", 10.0, "wire", "A"),
            silver("kept", 20.0, "foil", "B"),
            silver("kept", 30.0, "sheet", "C"),
        ),
    )
    sold = run("2026-02-05-b", stage("Store", entry("sold", None, "", "A")))
    thrown = run("2026-03-05-c", stage("Store", entry("discarded", None, "", "B")))
    found = totals(made, sold, thrown)
    assert stock(found, "2026-01") == pytest.approx(60.0, rel=1e-3)
    assert stock(found, "2026-02") == pytest.approx(50.0, rel=1e-3)
    assert stock(found, "2026-03") == pytest.approx(30.0, rel=1e-3)


def test_a_jar_that_is_filled_twice_and_burnt_counts_once() -> None:
    """3 g in January, 1 g more in February, all burnt in March for 4 g."""

    def fills(name: str, grams: float) -> Run:
        kept = entry("kept", None, "filters", into="BAG", holds={"silver": g(grams, 0.001)})
        return run(name, stage("Melt", silver("took", grams, "scrap"), kept))

    took = entry("took", None, "", "BAG")
    burnt = run("2026-03-05-c", stage("Incinerate", took, silver("got", 4.0, "bead")))
    found = totals(fills("2026-01-05-a", 3.0), fills("2026-02-05-b", 1.0), burnt)
    assert stock(found, "2026-01") == pytest.approx(3.0, rel=1e-3)
    assert stock(found, "2026-02") == pytest.approx(4.0, rel=1e-3)
    assert stock(found, "2026-03") == pytest.approx(4.0, rel=1e-3)


def test_the_doubt_of_a_stock_is_that_of_what_is_there_alone() -> None:
    """When a bar of 10.0 ± 0.3 g has gone, what is left has the doubt of its own weighing."""
    made = run(
        "2026-01-05-a",
        stage(
            "Sort",
            entry("kept", g(10.0, 0.3), "wire", "A", holds={"silver": part(1.0)}),
            entry("kept", g(20.0, 0.4), "foil", "B", holds={"silver": part(1.0)}),
        ),
    )
    found = totals(made, run("2026-02-05-b", stage("Store", entry("sold", None, "", "A"))))
    january, february = found["2026-01"].stock, found["2026-02"].stock
    assert january is not None and january.value is not None
    assert february is not None and february.value is not None
    assert january.value.u == pytest.approx(0.5)  # 0.3 and 0.4 at right angles
    assert february.value.u == pytest.approx(0.4)


def test_a_stock_with_something_unmeasured_has_limits() -> None:
    """A bar of 10 g of silver, and dross of at most 3 g: between 10 and 13 g."""
    made = run(
        "2026-01-05-a",
        stage(
            "Melt",
            entry("took", g(20.0), "scrap"),
            entry("kept", g(3.0, 0.0), "dross"),
            silver("got", 10.0, "bar"),
        ),
    )
    held = totals(made)["2026-01"].stock
    assert held is not None
    assert not held.known
    assert held.low == pytest.approx(10.0, rel=1e-3)
    assert held.high == pytest.approx(13.0, rel=0.05)
    assert held.why.startswith("it is not known of 1 of 2 things")


def test_accountability_of_a_period() -> None:
    """100 g of silver went in, 98 g came out: 0.98; with a run that nobody measured, not known."""

    def melted(name: str, *more: Entry) -> Run:
        took = entry("took", g(100.0), "scrap", holds={"silver": part(1.0, 0.02)})
        return run(name, stage("Melt", took, *more, silver("got", 98.0, "bar")))

    found = totals(melted("2026-01-05-a"), melted("2026-02-05-b", entry("kept", None, "dross")))
    assert value(found["2026-01"].accountability) == pytest.approx(0.98)
    assert found["2026-02"].accountability is None
    whole = found["all"]
    assert whole.accountability is None
    assert whole.unaccounted is not None
    assert value(whole.unaccounted.terms[0]) == pytest.approx(2.0)  # where it is known


def test_a_gap_that_two_months_share_belongs_to_neither_alone() -> None:
    """One gap of 5 g that a run of January and one of March have between them is 5 g in all."""

    def melted(name: str) -> Run:
        took = entry("took", g(100.0), "scrap", holds={"silver": part(1.0, 0.02)})
        return run(name, stage("Melt", took, silver("got", 98.0, "bar")))

    idle = run("2026-03-09-w", stage("Store", entry("worked", None)))
    written = book(melted("2026-01-05-a"), melted("2026-03-05-b"), idle)
    figures = work_out(written)
    shared = Figure("unaccounted", "g", Uncertain.of(5.0, 1.0, "the one gap"))
    runs = {
        name: replace(
            one,
            balances=tuple(
                replace(balance, unaccounted=shared, gap_group="a + b") for balance in one.balances
            ),
        )
        if one.things_in
        else one
        for name, one in figures.runs.items()
    }
    found = {one.period: one for one in period_totals(runs, figures.things, written)}
    assert value(found["2026"].unaccounted) == 5.0
    for month, other in (("2026-01", "2026-03-05-b"), ("2026-03", "2026-01-05-a")):
        gap = found[month].unaccounted
        assert gap is not None
        assert not gap.known
        assert [term.why for term in gap.terms] == [f"its gap is one with that of {other}"]


def test_last_days() -> None:
    """As a calendar has them; 2024 was a leap year."""
    assert last_day_of("2024-02") == date(2024, 2, 29)
    assert last_day_of("2025-12") == date(2025, 12, 31)
    assert last_day_of("9999") == date(9999, 12, 31)
