"""What later runs made of a run's side streams, by hand."""

from __future__ import annotations

import pytest
from build import book, entry, g, part, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import MetalBalance
from logbook.model.run import Run


def keeps(name: str, filters: float) -> Run:
    """A run that makes 90 g of silver of 100 g and keeps filters of which the content is known."""
    return run(
        name,
        stage(
            "Cement",
            entry("took", g(100.0), "scrap", holds={"silver": part(0.93, 0.05)}),
            entry("kept", None, "filters", into="BAG", holds={"silver": g(filters, 0.1)}),
            entry("got", g(90.0), "silver bar", holds={"silver": part(1.0, 0.01)}),
        ),
    )


def balances(*more: Run) -> dict[str, MetalBalance]:
    """The silver of two runs whose filters go into one bag, and of what follows."""
    figures = work_out(book(keeps("2026-01-01-a", 3.0), keeps("2026-01-02-b", 1.0), *more))
    return {name: one.balances[0] for name, one in figures.runs.items()}


def burnt() -> Run:
    """The bag is burnt and gives 3.9 g."""
    took = entry("took", None, "", "BAG")
    got = entry("got", g(3.9), "silver bead", holds={"silver": part(1.0, 0.05)})
    return run("2026-09-01-c", stage("Incinerate", took, got))


def test_a_bag_burnt_later_counts_for_those_who_filled_it() -> None:
    """Of the bead about three quarters are of the first run, and all of it is shared."""
    found = balances(burnt())
    first, second = found["2026-01-01-a"], found["2026-01-02-b"]
    assert first.later is not None and first.later.value is not None
    assert second.later is not None and second.later.value is not None
    shared = first.later.value.value + second.later.value.value
    assert shared == pytest.approx(3.9)
    assert first.later.value.value / second.later.value.value == pytest.approx(3.0, rel=0.02)
    assert first.so_far is not None and first.so_far.value is not None
    assert first.head.value is not None and first.product.value is not None
    expected = (first.product.value.value + first.later.value.value) / first.head.value.value
    assert first.so_far.value.value == pytest.approx(expected)
    assert first.recovery.value is not None
    assert first.so_far.value.value > first.recovery.value.value


def test_nothing_is_told_before_anything_was_made() -> None:
    """While the bag stands on the shelf there is no later product and no recovery so far."""
    first = balances()["2026-01-01-a"]
    assert first.later is None
    assert first.so_far is None


def test_a_run_that_comes_back_to_itself_is_cut() -> None:
    """Two runs that take from each other end in figures, not in a ring."""
    one = run(
        "2026-01-01-a",
        stage("Melt", entry("kept", g(1.0), "dross", "D", holds={"silver": part(0.5)})),
        stage("Again", entry("took", None, "", "E"), entry("got", g(0.1), "silver bead")),
    )
    other = run(
        "2026-01-02-b",
        stage(
            "Melt",
            entry("took", None, "", "D"),
            entry("kept", g(1.0), "dross", "E", holds={"silver": part(0.4)}),
        ),
    )
    assert set(work_out(book(one, other)).runs) == {"2026-01-01-a", "2026-01-02-b"}
