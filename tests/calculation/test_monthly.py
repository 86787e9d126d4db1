"""Recovery by month: what is summed, what is kept apart, and what is in neither."""

from __future__ import annotations

import pytest
from build import book, entry, g, part, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import MonthRecovery
from logbook.model.entry import Entry
from logbook.model.run import Run


def melted(name: str, feed: float, u: float, bar: float, *more: Entry) -> Run:
    """A run that melts scrap of half silver, assayed to u, to a bar of pure silver."""
    took = entry("took", g(feed), "scrap", holds={"silver": part(0.5, u)})
    got = entry("got", g(bar), "silver bar", holds={"silver": part(1.0)})
    return run(name, stage("Melt", took, *more, got))


def months(*runs: Run) -> dict[str, MonthRecovery]:
    """The recoveries of silver by month."""
    return {one.month: one for one in work_out(book(*runs)).months}


def known(figure: Figure | None) -> tuple[float, float]:
    """Value and standard uncertainty of a figure that must be known."""
    assert figure is not None
    assert figure.value is not None, figure.why
    return figure.value.value, figure.value.u


def test_a_month_is_its_products_over_its_heads() -> None:
    """By hand: (48 + 27) / (50 + 30) = 0.9375.

    u(head) = √((100 × 0.02)² + (60 × 0.03)²) = 2.6907 g; u(R) = 75 / 80² × 2.6907 = 0.03153.
    The mean of the two recoveries, 0.93, would be wrong.
    """
    found = months(
        melted("2026-01-05-a", 100.0, 0.02, 48.0), melted("2026-01-20-b", 60.0, 0.03, 27.0)
    )
    january = found["2026-01"]
    value, u = known(january.closing)
    assert value == pytest.approx(0.9375)
    assert u == pytest.approx(0.03153, abs=1e-5)
    assert january.closing_runs == ("2026-01-05-a", "2026-01-20-b")
    assert january.untested is None


def test_a_month_without_a_run_is_not_there() -> None:
    """January and March have runs; February is a gap, and no nothing."""
    runs = melted("2026-01-05-a", 100.0, 0.02, 48.0), melted("2026-03-05-b", 100.0, 0.02, 47.0)
    assert list(months(*runs)) == ["2026-01", "2026-03"]


def test_what_cannot_be_tested_is_kept_apart() -> None:
    """Filters that nobody assayed may hold what is missing: whether it closes is not known."""
    kept = entry("kept", g(3.0), "filters", "F-1")
    found = months(
        melted("2026-01-05-a", 100.0, 0.02, 48.0), melted("2026-01-20-b", 60.0, 0.01, 27.0, kept)
    )
    january = found["2026-01"]
    assert known(january.closing)[0] == pytest.approx(48.0 / 50.0)
    assert january.untested_runs == ("2026-01-20-b",)


def test_a_balance_that_does_not_close_is_left_out() -> None:
    """20 g of 50 g are missing, with a doubt of 1 g: no recovery is made of that."""
    found = months(melted("2026-01-05-a", 100.0, 0.01, 30.0))
    january = found["2026-01"]
    assert january.closing is None
    assert january.untested is None
    assert january.left_out == ("2026-01-05-a",)


def test_a_run_that_sets_aside_more_than_it_makes_is_left_out() -> None:
    """10 g of bar and 39 g of powder for a later run: 10 / 50 is no recovery of this work."""
    more = entry("kept", g(39.0), "silver powder", "P-1", holds={"silver": part(1.0, 0.01)})
    less = entry("kept", g(9.0), "silver powder", "P-2", holds={"silver": part(1.0, 0.01)})
    found = months(
        melted("2026-01-05-a", 100.0, 0.02, 10.0, more),
        melted("2026-02-05-b", 100.0, 0.02, 40.0, less),
    )
    assert found["2026-01"].closing is None
    assert found["2026-01"].left_out == ("2026-01-05-a",)
    assert found["2026-02"].closing_runs == ("2026-02-05-b",)


def test_metal_set_aside_before_there_is_a_product_is_left_out() -> None:
    """Silver that stands as powder on the shelf is not a recovery of nothing."""
    took = entry("took", g(100.0), "scrap", holds={"silver": part(0.5, 0.02)})
    kept = entry("kept", g(49.0), "silver powder", "P-1", holds={"silver": part(1.0, 0.01)})
    january = months(run("2026-01-05-a", stage("Cement", took, kept)))["2026-01"]
    assert january.closing is None
    assert january.left_out == ("2026-01-05-a",)


def test_a_bar_that_is_melted_again_in_the_month_counts_once() -> None:
    """50 g of head become a bar of 48 g, and that one of 47 g: 47 / 50, by hand."""
    first = run(
        "2026-01-05-a",
        stage(
            "Melt",
            entry("took", g(100.0), "scrap", holds={"silver": part(0.5, 0.02)}),
            entry("got", g(48.0, 0.5), "silver bar", "BAR", holds={"silver": part(1.0)}),
        ),
    )
    second = run(
        "2026-01-20-b",
        stage(
            "Melt",
            entry("took", None, "", "BAR"),
            entry("got", g(47.0, 0.5), "silver bar", holds={"silver": part(1.0)}),
        ),
    )
    january = months(first, second)["2026-01"]
    assert january.closing_runs == ("2026-01-05-a", "2026-01-20-b")
    assert known(january.closing)[0] == pytest.approx(47.0 / 50.0, abs=0.02)


def test_a_plan_and_a_head_that_nobody_assayed_give_nothing() -> None:
    """A head built up from what came out would make its own recovery."""
    took = entry("took", g(100.0), "scrap")
    got = entry("got", g(48.0), "silver bar", holds={"silver": part(1.0)})
    assert months(run("2026-01-05-a", stage("Melt", took, got))) == {}
