"""The cost part of a run: what matters first, what came in and went on, what would change it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from logbook.pages.carried_view import rule_words
from logbook.pages.site_pages import PageOptions, site_pages
from tests.pages.money_of_hand import (
    BAR,
    RUN,
    claim,
    entry_of,
    exact,
    money_figures,
    money_pages,
    nitric,
)
from tests.pages.shown import rendered, texts

PAGE = f"runs/{RUN}.html"


def cost() -> Any:
    """The cost part of the run's page."""
    return money_pages()[PAGE].view.sums.cost


def texts_of(figures: Any) -> dict[str, str]:
    """Figures by name."""
    return {figure.name: figure.text for figure in figures}


def test_what_an_hour_earned_stands_first() -> None:
    """With its doubt, and beside it what it would have been without the scrap's cost."""
    first, second = cost().key[:2]
    assert (first.name, first.text) == ("an hour earned", "12.00 ± 0.80 EUR/h")
    assert second.text == "16.50 EUR/h"
    beside = texts_of(money_pages()[PAGE].view.sums.key)
    assert beside["an hour earned"] == "12.00 ± 0.80 EUR/h"


def test_costs_add_up_by_kind_with_what_came_in() -> None:
    """9 + 31 = 40 spent here, and 10 carried in: 50 in all. What is nothing has no line."""
    assert texts_of(cost().kinds) == {
        "the scrap itself": "9.00 EUR",
        "reagents and supplies": "31.00 EUR",
        "spent here, without the scrap": "31.00 EUR",
        "spent here, with the scrap": "40.00 EUR",
        "came in with things from earlier runs": "10.00 EUR",
        "in all": "50.00 EUR",
    }


def test_where_the_money_lies_is_all_of_it() -> None:
    """45 in the bar and 5 gone on with the filters are the 50; nothing was written off."""
    assert texts_of(cost().lies) == {
        "in the products": "45.00 EUR",
        "went on with things kept or taken on": "5.00 EUR",
    }


def test_each_thing_has_its_money_its_hours_and_the_rule() -> None:
    """What came in and what went on lead to the pages of their labels."""
    (brought,) = cost().brought
    assert brought.thing.text == "relay contacts [RC-3]"
    assert brought.thing.href == "../labels/rc-3.html"
    assert (brought.cost.text, brought.hours.text) == ("10.00 EUR", "30 min")
    bar, side = cost().passed_on
    assert (bar.cost.text, bar.rule, bar.share.text) == ("45.00 EUR", "content of silver", "90 %")
    assert (side.hours.text, side.rule) == ("12 min", "nothing: no line tells what it holds")


def test_a_rest_that_no_line_accounts_for_is_told() -> None:
    """3.40 EUR of a total stand apart, and are spread over nothing."""
    assert texts_of(cost().unallocated) == {"rest of a total in all": "3.40 EUR"}


def test_what_would_change_it_most_comes_first() -> None:
    """The price swings an hour by 28 EUR, the hours by 2; what is not known has no row."""
    rows = cost().swings
    assert [row.what for row in rows] == ["price of silver", "hours"]
    assert (rows[0].low_at, rows[0].low.text, rows[0].high.text) == (
        "0.97 EUR/g",
        "−2.00 EUR/h",
        "26.00 EUR/h",
    )
    assert [one.text for one in cost().break_even] == ["0.91 EUR/g", "55 %"]


def test_hours_tell_what_was_heated_and_what_things_brought() -> None:
    """2 h 30 min heated; half an hour came in; 12 minutes went on, 1 h 48 min are in the bar."""
    hours = texts_of(money_pages()[PAGE].view.sums.hours)
    assert hours["heated"] == "2 h 30 min"
    assert hours["came in with things from earlier runs"] == "30 min"
    assert hours["went on with things kept or taken on"] == "12 min"
    assert hours["in the products"] == "1 h 48 min"


def test_the_verdict_tells_what_an_hour_earned() -> None:
    """With its doubt, without saying more digits than are known; a loss is called a cost."""
    words = money_pages()[PAGE].view.verdict.replace("\u00a0", " ")
    earned = "an hour at the bench earned 12.00 ± 0.80 EUR (16.50 EUR, had the scrap cost nothing)"
    assert earned in words
    figures = money_figures()
    run = figures.runs[RUN]
    assert run.earnings is not None
    loss = replace(run, earnings=replace(run.earnings, per_hour=exact("EUR/h", -5.0)))
    changed = replace(figures, runs={**figures.runs, RUN: loss})
    pages = {page.path: page for page in site_pages(changed, (), PageOptions())}
    assert "an hour at the bench cost 5.00\u00a0EUR (" in pages[PAGE].view.verdict


def test_a_reckoned_figure_stands_beside_its_line_and_in_the_sums() -> None:
    """0.95 less 0.935 is 1.5 points of a hundred too much; the slip and the premise are named."""
    view = money_pages()[PAGE].view
    (one,) = view.sums.claims
    assert (one.verdict, one.claimed) == ("disagrees", "95 %")
    assert one.off_by == "1.50 ± 0.40 points of a hundred more than the book gives"
    assert one.computed.text == "93.50 ± 0.40 %"
    blocks = [block for block in view.stages[0].blocks if block.kind == "entries"]
    beside = [entry.beside for block in blocks for entry in block.entries if entry.beside.claim]
    assert [found.claim.slip for found in beside] == ["the head without the filters"]
    html = rendered(money_pages())[PAGE]
    assert html.count("silver 71 % of [RC-3]") == 2


def test_attention_counts_claims_supplies_and_prices() -> None:
    """One claim is wrong, one supply ran out, one price is old: each by name, each counted."""
    view = money_pages()["attention.html"].view
    assert view.summary.endswith(
        "1 reckoned figure that disagrees, 1 supply that ran out and 1 price that is old"
    )
    assert [one.slip for one in view.wrong] == ["the head without the filters"]
    assert [link.href for link in view.old] == ["prices.html"]
    front = money_pages()["index.html"].view
    assert [link.text for link in front.waits] == [
        "filters ran out on 20 March 2026",
        "price of silver: 19 days old on 20 March 2026",
    ]


def test_a_figure_that_agrees_or_cannot_be_checked_is_not_called_wrong() -> None:
    """What agrees is only counted; what cannot be checked says why."""
    figures = money_figures()
    run = figures.runs[RUN]
    good = replace(claim(figures), agrees="yes", slip="", difference=None)
    blind = replace(good, agrees="unknown", computed=None, why="the head is not known")
    changed = replace(figures, runs={**figures.runs, RUN: replace(run, claims=(good, blind))})
    pages = {page.path: page for page in site_pages(changed, (), PageOptions())}
    view = pages["attention.html"].view
    assert (view.wrong, view.agreeing) == ((), "1 reckoned figure agrees with the book.")
    assert [one.why for one in view.unchecked] == ["the head is not known"]
    assert "disagree" not in view.summary


def test_what_stands_in_a_private_note_is_not_told() -> None:
    """A claim and a use of a supply in a private note are on no page, unless they are asked for."""
    figures = money_figures()
    run, note = figures.runs[RUN], entry_of(RUN, "private", figures)
    hidden = replace(claim(figures), entry=note, slip="SECRETWORD")
    acid = nitric(figures)
    bought, used = acid.moves
    account = replace(acid, moves=(bought, replace(used, entry=note)))
    changed = replace(
        figures,
        runs={**figures.runs, RUN: replace(run, claims=(hidden,))},
        supplies=replace(figures.supplies, accounts=(account,)),
    )
    found = {page.path: page for page in site_pages(changed, (), PageOptions())}
    for path, page in found.items():
        assert not [text for text in texts(page.view) if "SECRETWORD" in text], path
    (row,) = found["supplies.html"].view.rows
    assert [move.kind for move in row.moves] == ["bought"]
    asked = {page.path: page for page in site_pages(changed, (), PageOptions(with_private=True))}
    assert [one.slip for one in asked[PAGE].view.sums.claims] == ["SECRETWORD"]


def test_a_label_tells_what_it_carries_and_is_worth() -> None:
    """The bar: 45 EUR, 36 of it without the scrap, 1 h 48 min; worth 278.2 g x 1.08 EUR/g."""
    state = money_pages()[f"labels/{BAR.lower()}.html"].view.states[0]
    assert texts_of(state.carried.figures) == {
        "worth at the latest price": "300.46 EUR",
        "carries in money": "45.00 EUR",
        "of it without the scrap": "36.00 EUR",
        "carries in hours": "1 h 48 min",
    }
    assert state.carried.rule == "money and hours shared by content of silver"
    assert rule_words("nothing: no line tells what it holds").startswith("carries nothing: ")


def test_the_shelf_has_limits_where_only_limits_are_known() -> None:
    """The filters are worth at most 12.50 EUR; what the bar is worth is known."""
    view = money_pages()["shelf.html"].view
    row = next(row for row in view.rows if row.thing.label.text == "F-21")
    worth = row.money.worth
    assert row.money.carries == "carries nothing: no line tells what it holds"
    bar = next(row for row in view.rows if row.thing.label.text == BAR)
    carries = bar.money.carries.replace("\u00a0", " ")
    assert carries == "carries 45.00 EUR and 1 h 48 min, shared by content of silver"
    assert (worth.known, worth.limits) == (False, "at most 12.5\u00a0EUR")
    totals = {figure.name: figure for figure in view.totals}
    assert totals["products held, at the latest prices"].text == "300.46 EUR"
    assert totals["side streams and charges, at the latest prices"].why == "they were not assayed"


def test_the_front_page_tells_what_an_hour_earned_over_the_book() -> None:
    """An hour, an hour without the scrap, and what is held."""
    front = money_pages()["index.html"].view
    assert [figure.text for figure in front.money[:3]] == [
        "12.00 ± 0.80 EUR/h",
        "16.50 EUR/h",
        "300.46 EUR",
    ]
    assert not front.money[3].known
