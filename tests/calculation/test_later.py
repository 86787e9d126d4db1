"""What later runs made of a run's side streams, by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from build import book, entry, g, part, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
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


def grams(figure: Figure | None) -> float:
    """The value of a figure that must be known."""
    assert figure is not None and figure.value is not None
    return figure.value.value


def test_half_of_a_bag_brings_half_to_each() -> None:
    """Half of a bag of 3.0 and 1.0 g gives 1.8 g: 1.35 g and 0.45 g, by hand."""
    took = entry("took", None, "", "BAG", share=0.5)
    got = entry("got", g(1.8), "silver bead", holds={"silver": part(1.0, 0.05)})
    found = balances(run("2026-09-01-c", stage("Incinerate", took, got)))
    assert grams(found["2026-01-01-a"].later) == pytest.approx(1.35, rel=0.02)
    assert grams(found["2026-01-02-b"].later) == pytest.approx(0.45, rel=0.02)


def test_what_was_taken_beside_it_has_its_share_too() -> None:
    """The bag, 4.0 g, and scrap of 16.0 g give 19.0 g: 19 x 3 / 20 = 2.85 g are of the first."""
    scrap = entry("took", g(16.0), "scrap", holds={"silver": part(1.0, 0.01)})
    got = entry("got", g(19.0), "silver bar", holds={"silver": part(1.0, 0.05)})
    melt = stage("Melt", entry("took", None, "", "BAG"), scrap, got)
    found = balances(run("2026-09-01-c", melt))
    assert grams(found["2026-01-01-a"].later) == pytest.approx(2.85, rel=0.03)


def test_beside_what_nobody_measured_nothing_gets_more_than_it_held() -> None:
    """The bag holds 4.0 g; of 40 g of silver that was made with it, the rest is of the scrap."""
    scrap = entry("took", g(60.0), "scrap")
    got = entry("got", g(40.0), "silver bar", holds={"silver": part(1.0, 0.05)})
    dross = entry("kept", None, "dross", "X")
    melt = stage("Melt", entry("took", None, "", "BAG"), scrap, dross, got)
    found = balances(run("2026-09-01-c", melt))
    first = found["2026-01-01-a"].later
    assert grams(first) == pytest.approx(3.0, rel=0.05)
    assert first is not None
    assert "the scrap has no share: nothing tells how much silver it held" in first.notes


def test_a_product_that_is_not_known_leaves_it_unknown_with_the_reason() -> None:
    """Nobody assayed what the bag gave: it is not known, and there is no recovery so far."""
    got = entry("got", g(3.9), "silver bead")
    melt = stage("Melt", entry("took", None, "", "BAG"), got)
    first = balances(run("2026-09-01-c", melt))["2026-01-01-a"]
    assert first.later is not None
    assert not first.later.known
    assert first.later.why
    assert first.so_far is None


def handed_on(number: int, day: str, bead: float, rest: float) -> Run:
    """A run that takes the dross of the one before and leaves some of it."""
    took = entry("took", None, "", f"D-{number - 1}")
    kept = entry("kept", None, "dross", f"D-{number}", holds={"silver": g(rest, 0.001)})
    got = entry("got", g(bead), "silver bead", holds={"silver": part(1.0, 0.001)})
    return run(f"{day}-{number}", stage("Melt", took, kept, got))


def test_a_charge_that_goes_on_is_followed_to_its_end() -> None:
    """Nothing but dross of 5.0 g went on: 2.0 g and then 1.5 g, 3.5 g later; 1.5 g after that."""
    scrap = entry("took", g(10.0), "scrap", holds={"silver": part(0.5, 0.001)})
    kept = entry("kept", None, "dross", "D-0", holds={"silver": g(5.0, 0.001)})
    first = run("2026-01-01-0", stage("Sort", scrap, kept))
    runs = first, handed_on(1, "2026-02-01", 2.0, 3.0), handed_on(2, "2026-03-01", 1.5, 1.5)
    found = work_out(book(*runs)).runs
    balance = found["2026-01-01-0"].balances[0]
    assert grams(balance.later) == pytest.approx(3.5, rel=1e-3)
    assert grams(balance.so_far) == pytest.approx(3.5 / 5.0, rel=1e-3)  # of a head of 5.0 g
    assert grams(found["2026-02-01-1"].balances[0].later) == pytest.approx(1.5, rel=1e-3)


def test_a_long_line_of_runs_is_followed_to_its_end() -> None:
    """Of 500 runs one after the other each makes 0.01 g: 5.0 g in all, 4.99 g after the first."""
    start = date(2020, 1, 1)
    runs = [
        handed_on(number, str(start + timedelta(days=number)), 0.01, 10.0 - 0.01 * number)
        for number in range(1, 501)
    ]
    found = work_out(book(*runs)).runs[f"{start + timedelta(days=1)}-1"].balances[0]
    assert grams(found.later) == pytest.approx(4.99, rel=0.01)


def test_metal_that_comes_round_counts_once() -> None:
    """In a ring of two runs nothing is counted twice.

    The first makes 10.0 g, the second 0.5 g of its dross. The dross of that, 0.4 g, goes back
    with scrap of 9.9 g, so that 0.4 / (11.0 + 9.9 + 0.4) of the 10.0 g are later for the second.
    The first already has them in its product: later there are only the 0.5 g.
    """
    one = run(
        "2026-01-01-a",
        stage(
            "Sort",
            entry("took", g(11.0), "scrap", holds={"silver": part(1.0, 0.0001)}),
            entry("kept", None, "dross", "D", holds={"silver": g(1.0, 0.0001)}),
            entry("kept", g(10.0), "sorted scrap", "S", holds={"silver": part(1.0, 0.0001)}),
        ),
        stage(
            "Melt",
            entry("took", None, "", "E"),
            entry("took", g(9.9), "other scrap", holds={"silver": part(1.0, 0.0001)}),
            entry("got", g(10.0), "silver bar", holds={"silver": part(1.0, 0.0001)}),
            on="2026-03-01",
        ),
    )
    other = run(
        "2026-02-01-b",
        stage(
            "Melt",
            entry("took", None, "", "D"),
            entry("kept", None, "dross", "E", holds={"silver": g(0.4, 0.0001)}),
            entry("got", g(0.5), "silver bead", holds={"silver": part(1.0, 0.0001)}),
        ),
    )
    found = work_out(book(one, other)).runs
    assert grams(found["2026-01-01-a"].balances[0].later) == pytest.approx(0.5, rel=1e-3)
    of_the_ring = found["2026-02-01-b"].balances[0].later
    assert grams(of_the_ring) == pytest.approx(10.0 * 0.4 / 21.3, rel=1e-3)
