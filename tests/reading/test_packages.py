"""What is bought in packages: their tolerated error, and what a price for each comes to."""

from __future__ import annotations

from math import sqrt

import pytest

from logbook.model.entry import Entry
from logbook.reading.packages import tolerated
from logbook.reading.read_book import read_book


def bought(line: str) -> Entry:
    """The one entry of a page of supplies."""
    book = read_book({"runs/supplies.md": f"# Supplies\n\n- 2026-01-02 {line}\n"})
    assert book.supplies is not None
    (entry,) = book.supplies.entries
    return entry


@pytest.mark.parametrize(
    ("content", "error"),
    [(40, 3.6), (75, 4.5), (150, 6.75), (250, 9), (400, 12), (750, 15), (1000, 15), (2500, 37.5)],
)
def test_the_tolerated_error_is_that_of_the_directive(content: float, error: float) -> None:
    """76/211/EEC, Annex I, 2.4: 9 % up to 50, 4.5, 4.5 %, 9, 3 %, 15 up to 1000, then 1.5 %.

    The rows below 1000 as legislation.gov.uk prints them, the last as FPackV § 9 (3) does.
    """
    assert tolerated(content) == pytest.approx(error)


@pytest.mark.parametrize(
    ("line", "litres", "u"),
    [
        ("bought 1 L nitric acid 68 %", 1.0, 0.015 / sqrt(3)),
        ("bought 3 bottles of 1 L nitric acid 68 %", 3.0, 3 * 0.015 / sqrt(3)),
        ("bought 2.5 L nitric acid 68 %", 2.5, 0.0375 / sqrt(3)),
        ("bought 2.5 ± 0.1 L nitric acid 68 %", 2.5, 0.1),
        ("bought about 1 L nitric acid 68 %", 1.0, 0.1 / sqrt(3)),
    ],
)
def test_a_bottle_that_is_bought_is_as_full_as_the_maker_fills_it(
    line: str, litres: float, u: float
) -> None:
    """A doubt that was written stays: by hand, T/√3 for each bottle."""
    amount = bought(line).portions[0].amount
    assert amount is not None
    assert amount.base_value == pytest.approx(litres)
    assert amount.base_u == pytest.approx(u)


def test_what_is_no_package_keeps_its_own_doubt() -> None:
    """Scrap is weighed, and what is left in an opened bottle was not filled by its maker."""
    lot = bought("bought 500 g contacts [RC-1], silver 70 %, for 60 EUR").portions[0].amount
    opened = bought("had 1 L nitric acid 68 %").portions[0].amount
    assert lot is not None
    assert opened is not None
    assert not lot.u_basis.startswith("as the maker")
    assert not opened.u_basis.startswith("as the maker")


@pytest.mark.parametrize(
    ("line", "paid"),
    [
        ("bought 3 bottles of 1 L nitric acid 68 % for 12 EUR each", 36),
        ("bought two jars of 500 g borax for 9.50 EUR each", 19),
        ("bought 3 bottles of 1 L nitric acid 68 % for 36 EUR", 36),
    ],
)
def test_a_price_for_each_is_paid_for_all(line: str, paid: float) -> None:
    """3 x 12 and 2 x 9.50; a price without `each` is that of all."""
    price = bought(line).price
    assert price is not None
    assert price.amount.base_value == pytest.approx(paid)
