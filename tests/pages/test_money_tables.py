"""Money in the tables of the data folder: signs, accounts, what things carry, claims."""

from __future__ import annotations

from typing import Any

import pytest

from logbook.pages.tables import tables
from tests.pages.money_of_hand import BAR, RUN, money_figures


def rows(name: str) -> list[dict[str, Any]]:
    """The rows of a table as records."""
    table = next(one for one in tables(money_figures(), with_private=False) if one.name == name)
    names = [column.name for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in table.rows]


def test_the_costs_of_a_run_add_up_to_what_lies_in_its_products() -> None:
    """9 + 31 + 0 spent here, 10 carried in, 5 carried out: 45 lie in the bar. Signs as told."""
    found = {row["kind"]: row["amount"] for row in rows("costs") if row["run"] == RUN}
    assert found == {
        "feed": 9.0,
        "reagent": 31.0,
        "energy": 0.0,
        "carried-in": 10.0,
        "carried-out": -5.0,
    }
    assert sum(found.values()) == pytest.approx(45.0)


def test_a_run_tells_what_it_took_over_and_what_is_left_over() -> None:
    """10 EUR and half an hour came in; 3.40 EUR are of no line; an hour earned 12 EUR."""
    (row,) = [row for row in rows("runs") if row["run"] == RUN]
    assert (row["cost_carried_in"], row["hours_carried_in"]) == (10.0, 0.5)
    assert row["cost_unallocated"] == 3.40
    assert (row["earned_per_hour"], row["earned_per_hour_u"]) == (12.0, 0.8)
    assert row["earned_per_hour_without_feed"] == 16.5


def test_nothing_is_unallocated_where_no_total_is_noted_but_a_plan_has_no_cost() -> None:
    """A run without a total in all has nothing left over; a plan has spent nothing yet."""
    found = {row["status"]: row["cost_unallocated"] for row in rows("runs")}
    assert found["abandoned"] == 0.0
    assert found["planned"] is None


def test_supplies_keep_bought_and_used_apart() -> None:
    """2.5 L less 0.65 L are 1.85 L; 42 EUR less 10.92 EUR are 31.08 EUR."""
    filters, acid = rows("supplies")
    assert (acid["bought"], acid["used"], acid["left"], acid["unit"]) == (2.5, 0.65, 1.85, "L")
    assert (acid["paid"], acid["consumed"], acid["left_cost"]) == (42.0, 10.92, 31.08)
    assert (acid["unit_cost"], acid["runs_out"]) == (16.80, None)
    assert (filters["runs_out"], filters["strength"]) == ("2026-03-20", None)


def test_a_thing_carries_its_money_and_has_limits_of_worth() -> None:
    """The bar carries 45 EUR by its content; the filters are worth at most 12.50 EUR."""
    found = {row["label"]: row for row in rows("things")}
    assert (found[BAR]["cost_carried"], found[BAR]["hours_carried"]) == (45.0, 1.8)
    assert (found[BAR]["cost_rule"], found[BAR]["worth"]) == ("content of silver", 300.46)
    side = found["F-21"]
    assert (side["worth"], side["worth_low"], side["worth_high"]) == (None, 0.0, 12.5)


def test_a_claim_stands_with_what_the_book_gives() -> None:
    """0.95 less 0.935 is 0.015 too much."""
    (row,) = rows("claims")
    assert (row["claim"], row["computed"]) == ("recovery", 0.935)
    assert row["claimed"] == pytest.approx(0.95)
    assert (row["agrees"], row["difference"], row["unit"]) == ("no", 0.015, "g/g")
    assert row["slip"] == "the head without the filters"
    assert row["premises"] == "silver 71 % of [RC-3]"
