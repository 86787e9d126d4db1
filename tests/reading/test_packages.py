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


@pytest.mark.parametrize(
    ("line", "base", "paid"),
    [
        ("bought two 500 g jars of borax for 9 EUR each", 1000, 18),  # 2 x 500 g, 2 x 9
        ("bought three 1 L bottles of nitric acid 68 % for 12 EUR apiece", 3, 36),
        ("bought 3 bottles of 1 L nitric acid 68 % for 12 EUR a bottle", 3, 36),
        ("bought 3 bottles of 1 L nitric acid 68 % at 12 EUR per bottle", 3, 36),
        ("bought 3 bottles of 1 L nitric acid 68 %, 12 EUR/bottle", 3, 36),
        ("bought a 2.5 L bottle of nitric acid 68 % for 20 EUR", 2.5, 20),
        ("bought ten 25 g sachets of borax for 15 EUR", 250, 15),
        ("bought 2 cases of 6 x 1 L nitric acid 68 % for 90 EUR", 12, 90),  # 2 x 6 x 1 L
        ("bought 2 boxes of 6 bottles of 500 mL nitric acid 68 % for 90 EUR", 6, 90),
    ],
)
def test_packages_however_they_are_said(line: str, base: float, paid: float) -> None:
    """What is bought, in grams or litres, and what was paid for it: worked by hand."""
    one = bought(line)
    (portion,) = one.portions
    assert portion.reagent in ("nitric acid", "borax")
    assert portion.amount is not None
    assert portion.amount.base_value == pytest.approx(base)
    assert one.price is not None
    assert one.price.amount.base_value == pytest.approx(paid)


@pytest.mark.parametrize(
    ("line", "code", "both", "paid"),
    [
        ("bought 2 cases of 6 x 1 L nitric acid 68 % for 60 EUR each", "each", "2 12", 120),
        ("bought a case of 6 x 1 L nitric acid 68 % for 10 EUR each", "each", "1 6", 60),
        ("bought 2 500 g jars of borax for 18 EUR", "packages", "2500 2", 18),
    ],
)
def test_two_readings_of_packages_are_both_told(
    line: str, code: str, both: str, paid: float
) -> None:
    """What `each` is, and where a space stands for thousands: never settled without a word."""
    book = read_book({"runs/supplies.md": f"# Supplies\n\n- 2026-01-02 {line}\n"})
    (told,) = [one for one in book.findings if one.code.startswith(code)]
    assert all(number in told.headline for number in both.split())
    assert book.supplies is not None
    price = book.supplies.entries[0].price
    assert price is not None
    assert price.amount.base_value == pytest.approx(paid)


def test_counted_packages_with_the_content_of_each() -> None:
    """3 bottles, 1 L each: 3 L, each bottle within 15 mL; 15/√3 each, filled alike."""
    second = (
        bought("bought 3 bottles nitric acid 68 %, 1 L each, for 12 EUR each").portions[0].second
    )
    assert second is not None
    assert second.base_value == pytest.approx(3.0)
    assert second.base_u == pytest.approx(3 * 0.015 / sqrt(3))


def test_an_empty_vessel_is_no_content() -> None:
    """`a 5 L jug` is a jug, and a jar in which something is kept need not be full."""
    assert bought("bought a 5 L jug for 8 EUR").portions[0].amount is None
