"""What is bought at a price for a litre or a kilogram, from the words of a log to the money."""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures
from logbook.reading.read_book import read_book

BENCH = "# Bench\n\nCurrency: EUR\n"


def figures(supplies: str, run: str = "") -> BookFigures:
    """The figures of a book of one purchase and at most one run."""
    texts = {"runs/bench.md": BENCH, "runs/supplies.md": f"# Supplies\n\n- 2026-01-02 {supplies}\n"}
    if run:
        texts["runs/2026-01-03-a.md"] = f"# A\n\nMetal: silver\n\n## Dissolve\n\n- {run}\n"
    return work_out(read_book(texts))


@pytest.mark.parametrize(
    "price", ["for 12 EUR per litre", "for 12 EUR a litre", "at 12 EUR/L", "for 12 EUR/L"]
)
def test_a_price_for_a_litre_is_paid_for_every_litre(price: str) -> None:
    """By hand: 3 L at 12 EUR are 36 EUR on the shelf."""
    (account,) = figures(f"bought 3 L nitric acid 68 % {price}").supplies.accounts
    assert account.stock_cost.value is not None
    assert account.stock_cost.value.value == pytest.approx(36.0)


@pytest.mark.parametrize("price", ["at 5 EUR/kg", "for 5 EUR per kg", "for 5 EUR a kilo"])
def test_a_lot_that_is_bought_by_weight_costs_its_weight_times_the_price(price: str) -> None:
    """By hand: 400 g of 2 kg at 5 EUR/kg, 0.4 x 5 = 2 EUR, go into the run."""
    found = figures(f"bought 2 kg contacts [RC-1], silver 70 %, {price}", "took 400 g of [RC-1]")
    (run,) = found.runs.values()
    (feed,) = [one for one in run.costs if one.kind == "feed"]
    assert feed.amount.value is not None
    assert feed.amount.value.value == pytest.approx(2.0)
