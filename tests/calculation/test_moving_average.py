"""The moving average of a supply: published examples through real entries, and random books.

Prices and quantities of the examples are read here from entries as a writer would write them;
the expected figures are those that were printed.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_any_book import any_book

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.money.exact import exact
from logbook.calculation.money.exchange import exchange
from logbook.calculation.money.markets import book_currency, every_step
from logbook.calculation.results import SupplyAccount
from logbook.calculation.schedule import distinct_runs
from logbook.calculation.supplies.accounts import supply_accounts
from logbook.calculation.supplies.known import supply_list
from logbook.calculation.supplies.moving_average import MovingAverage
from logbook.calculation.supplies.uses import supply_uses
from logbook.model.book import Book
from logbook.reading.read_book import read_book

Event = tuple[float, ...]  # (units, price of one) were bought, (units,) were used
FIRST = date(2025, 1, 1)


def account(*events: Event) -> SupplyAccount:
    """The account of a book in which borax was bought and used, an event a day.

    Weights are written to the milligram: what is short by less than their doubt is not missing.
    """
    bought, used = ["# Supplies", ""], ["# Lot", "", f"Date: {FIRST}", "", "## Melt", ""]
    for place, event in enumerate(events):
        day = FIRST + timedelta(days=place)
        if len(event) > 1:
            paid = Decimal(str(event[0])) * Decimal(str(event[1]))
            bought.append(f"- {day} bought {event[0]}.000 g borax for {paid:f} EUR")
        else:
            used.append(f"- {day} added {event[0]}.000 g borax")
    texts = {
        "runs/bench.md": "# Bench\n\nCurrency: EUR\n",
        "runs/supplies.md": "\n".join(bought) + "\n",
        f"runs/{FIRST}-lot.md": "\n".join(used) + "\n",
    }
    (found,) = work_out(read_book(texts)).supplies.accounts
    return found


def number(figure: Figure) -> float:
    """The value of a figure that is known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def costs(found: SupplyAccount) -> list[float]:
    """What each use cost."""
    return [number(move.cost) for move in found.moves if move.kind == "used"]


def averages(found: SupplyAccount) -> list[float]:
    """The average after each line."""
    return [number(move.average) for move in found.moves]


def test_item_127b() -> None:
    """Warren, Reeve, Duchac, Accounting, inventories, Exhibit 5 (book named from memory)."""
    found = account((1000, 20.0), (700,), (500, 22.4), (360,), (240,), (600, 23.3))
    assert costs(found) == pytest.approx([14000.0, 7740.0, 5160.0], abs=1e-9)
    assert averages(found) == pytest.approx([20.0, 20.0, 21.5, 21.5, 21.5, 22.85], abs=1e-9)
    assert number(found.consumed) == pytest.approx(26900.0, abs=1e-9)
    assert number(found.left) == pytest.approx(800.0, abs=1e-9)
    assert number(found.stock_cost) == pytest.approx(18280.0, abs=1e-9)


def test_opening_balance_and_two_purchases() -> None:
    """An exercise of intermediate accounting (Kieso series, from memory), to printed digits."""
    found = account((9200, 9.71), (6300, 10.23), (7400,), (8200, 10.69), (11100,))
    assert averages(found)[1] == pytest.approx(9.921, abs=0.0005)
    assert averages(found)[3] == pytest.approx(10.308, abs=0.0005)
    assert number(found.left) == pytest.approx(5200.0, abs=1e-9)
    assert number(found.stock_cost) == pytest.approx(53602.0, abs=0.5)


def test_five_purchases() -> None:
    """Hermanson, Edwards, Maher, Accounting Principles, inventories; the events from memory."""
    found = account(
        (10, 8.0), (10, 8.5), (10,), (20, 8.4), (20,), (10, 9.0), (10,), (20, 8.8), (20,),
        (10, 9.1),
    )  # fmt: skip
    assert number(found.paid) == pytest.approx(690.0, abs=1e-9)
    assert number(found.average) == pytest.approx(8.929, abs=0.0005)
    assert number(found.stock_cost) == pytest.approx(178.58, abs=0.005)
    assert number(found.consumed) == pytest.approx(511.42, abs=0.005)


def test_average_after_each_event() -> None:
    """An exercise of intermediate accounting, quoted at tutorsglobe.com 52814588."""
    found = account((8, 71.0), (6,), (3, 76.0), (3,), (5, 82.0), (3,))
    printed = [71.0, 71.0, 74.0, 74.0, 79.71, 79.71]
    assert averages(found) == pytest.approx(printed, abs=0.005)


def test_three_purchases_at_rising_prices() -> None:
    """Franklin, Graybeal, Cooper, Principles of Accounting 1, OpenStax 10.3 (from memory)."""
    found = account((150, 21), (120,), (225, 27), (180,), (210, 33))
    assert number(found.consumed) == pytest.approx(7253.0, abs=0.5)
    assert number(found.stock_cost) == pytest.approx(8902.0, abs=0.5)


def test_a_course_with_a_rounded_average() -> None:
    """Average cost under the perpetual system, instantcertcredit.com, course 5, lesson 318.

    The course rounds the average to 2.77 before it goes on: its 692.50 is 691.67 unrounded,
    and its 1338 is 1338.33 (250 and 50 at 830 / 300, by hand).
    """
    found = account((500, 2.4), (300,), (100, 3.5), (250,), (300, 4.0))
    assert costs(found)[0] == pytest.approx(720.0, abs=1e-9)
    assert averages(found)[2] == pytest.approx(2.77, abs=0.005)
    assert costs(found)[1] == pytest.approx(250 * 830 / 300, abs=1e-9)
    assert number(found.stock_cost) == pytest.approx(1338.0, abs=0.5)


def test_an_account_of_ten_seven_eight_four_two_and_ten() -> None:
    """A chapter "Inventories and the cost of goods sold", Exhibit 5, scribd.com 641775428.

    It rounds 228 / 11 to 20.7; its lines then differ by up to 7 of these roundings of 0.03.
    """
    found = account((10, 20), (7,), (8, 21), (4,), (2,), (10, 22))
    assert costs(found)[0] == pytest.approx(140.0, abs=1e-9)
    assert averages(found)[2] == pytest.approx(20.7, abs=0.05)
    assert costs(found)[1:] == pytest.approx([82.5, 41.4], abs=0.5)
    assert number(found.left) == pytest.approx(15.0, abs=1e-9)
    assert number(found.stock_cost) == pytest.approx(323.5, abs=0.21)


def test_two_purchases_at_exact_averages() -> None:
    """A perpetual moving average in an answer at wizedu.com, question 628894; all of it exact."""
    found = account((3000, 0.6), (4000, 0.74), (4400,), (2200, 0.8), (2100,))
    assert averages(found) == pytest.approx([0.6, 0.68, 0.68, 0.735, 0.735], abs=1e-9)
    assert costs(found) == pytest.approx([2992.0, 1543.5], abs=1e-9)
    assert number(found.consumed) == pytest.approx(4535.5, abs=1e-9)
    assert number(found.stock_cost) == pytest.approx(1984.5, abs=1e-9)


def test_one_purchase_between_two_sales() -> None:
    """An exercise WCS12 with its solution at homeworksource.com, 1123599."""
    found = account((300, 8.0), (175,), (375, 10.0), (280,))
    assert averages(found)[2] == pytest.approx(9.5, abs=1e-9)
    assert costs(found)[1] == pytest.approx(2660.0, abs=1e-9)
    assert number(found.stock_cost) == pytest.approx(2090.0, abs=1e-9)


def test_averages_that_were_rounded_to_the_cent() -> None:
    """Sunland Corporation, an exercise with its solution at justaaa.com, 734394.

    It rounds the averages to 4.73 and 4.95 first: by 0.005 of 370 + 680 and 1150 units.
    """
    found = account((360, 4.5), (1240, 4.8), (370,), (600, 5.4), (680,))
    assert averages(found)[1] == pytest.approx(4.73, abs=0.005)
    assert averages(found)[3] == pytest.approx(4.95, abs=0.005)
    assert number(found.consumed) == pytest.approx(5116.0, abs=0.005 * 1050)
    assert number(found.stock_cost) == pytest.approx(5696.0, abs=0.005 * 1150)


SIZES = st.decimals(Decimal("0.001"), Decimal("9999"), places=3)
PRICES = st.decimals(Decimal(0), Decimal("500"), places=2)
BUYS = st.tuples(st.just("buy"), SIZES, PRICES)
USES = st.tuples(st.just("use"), SIZES, st.just(Decimal(0)))


@given(st.lists(st.one_of(BUYS, USES), min_size=1, max_size=40))
def test_nothing_is_lost_or_made(events: list[tuple[str, Decimal, Decimal]]) -> None:
    """Paid = consumed + what is left, exactly, and the average between what was ever paid."""
    stock, takings = MovingAverage(), []
    paid = bought = used = Decimal(0)
    each: list[Decimal] = []
    for kind, size, price in events:
        if kind == "buy":
            stock.arrive(size, price)
            paid, bought = paid + price, bought + size
            each.append(price / size)
        else:
            takings.append(stock.take(size))
            used += size
        assert stock.quantity >= 0
        assert stock.cost >= 0
        if stock.average is not None:
            slack = Decimal("1e-6")
            assert min(each) - slack <= stock.average <= max(each) + slack
    owed = sum((one.owed for one in takings), Decimal(0))
    assert paid == sum((one.cost for one in takings), Decimal(0)) + stock.cost
    assert stock.there - owed == bought - used


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.one_of(st.tuples(st.integers(1, 900), st.integers(0, 90)),
                       st.tuples(st.integers(1, 900))), min_size=1, max_size=12)
)  # fmt: skip
def test_figures_of_a_random_book(events: list[Event]) -> None:
    """The same through entries: no stock is shown below nothing, and money stays whole."""
    found = account((1000, 7.5), *events)
    bought = sum(event[0] for event in events if len(event) > 1) + 1000
    used = sum(event[0] for event in events if len(event) == 1)
    assert number(found.paid) == pytest.approx(
        7500 + sum(event[0] * event[1] for event in events if len(event) > 1)
    )
    for move in found.moves:
        assert move.left.value is None or move.left.value.value >= 0
    if found.left.known:
        assert number(found.left) == pytest.approx(max(bought - used, 0), abs=1e-6)
        assert number(found.paid) == pytest.approx(
            number(found.consumed) + number(found.stock_cost), abs=1e-9
        )
    else:
        assert used > bought
        assert "missing" in found.left.why


def accounts_of(book: Book) -> tuple[SupplyAccount, ...]:
    """The accounts of a book, without its other figures."""
    supplies = supply_list(book)
    done = [run for run in distinct_runs(book) if not run.planned]
    uses = [use for run in done for use in supply_uses(run, supplies)]
    rates = exchange(every_step(book), book_currency(book))
    return supply_accounts(book, uses, rates, supplies).supplies.accounts


def known(figure: Figure) -> Decimal:
    """What is known of a sum of money, exactly."""
    return exact(figure.value.value if figure.value is not None else figure.low or 0.0)


@pytest.mark.parametrize("first", range(0, 300, 100))
def test_the_account_of_any_supply_in_any_book_adds_up(first: int) -> None:
    """Odd books: what is known of paid is what is known of consumed and of what is left."""
    for seed in range(first, first + 100):
        for one in accounts_of(any_book(seed)):
            assert known(one.paid) == known(one.consumed) + known(one.stock_cost)
            lefts = [one.left, *(move.left for move in one.moves)]
            assert all(left.value is None or left.value.value >= 0 for left in lefts)
            told = (one.used, one.left, one.average, one.paid, one.consumed, one.stock_cost)
            costs = (move.cost for move in one.moves)
            assert all(figure.known or figure.why for figure in (*told, *lefts, *costs))
