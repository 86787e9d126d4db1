"""The page of supplies: every account with its lines, what ran out, what belongs to nothing."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.results import Supplies
from logbook.pages.site_pages import PageOptions, site_pages
from logbook.pages.supplies_page import SuppliesView
from tests.pages.money_of_hand import RUN, money_figures, money_pages
from tests.pages.shown import rendered, small_pages


def shown() -> SuppliesView:
    """The page."""
    view = money_pages()["supplies.html"].view
    assert isinstance(view, SuppliesView)
    return view


def test_each_supply_has_an_account_with_its_money() -> None:
    """By hand: 2.5 L at 16.80 EUR/L, of which 0.65 L went for 10.92 EUR: 31.08 EUR are left."""
    acid = shown().rows[1]
    assert (acid.supply, acid.strength) == ("nitric acid", "68 %")
    figures = (acid.bought, acid.used, acid.left, acid.average, acid.money)
    assert [figure.text for figure in figures] == [
        "2.5 L",
        "650 ± 19 mL",
        "1.850 ± 0.019 L",
        "16.80 EUR/L",
        "31.08 ± 0.32 EUR",
    ]
    assert acid.until == "not yet: too few uses to tell"
    assert not acid.out


def test_a_supply_that_comes_in_pieces_costs_so_much_each() -> None:
    """20 filters for 3.50 EUR are 0.175 EUR each."""
    row = shown().rows[0]
    assert (row.supply, row.bought.text, row.left.text) == ("filters", "20", "0")
    assert row.average.text == "0.175 EUR each"


def test_the_lines_of_an_account_lead_to_the_logs() -> None:
    """A purchase leads to its line on this very page, a use to the line of the run."""
    bought, used = shown().rows[1].moves
    assert (bought.day, bought.kind, bought.cost.text) == ("8 January 2026", "bought", "42.00 EUR")
    assert bought.place.href.startswith("#line-")
    assert used.place.href.startswith(f"runs/{RUN}.html#line-")
    assert (used.kind, used.left.text) == ("used", "1.850 ± 0.019 L")


def test_what_is_paid_is_kept_apart_from_what_is_consumed() -> None:
    """Paid 42 + 3.50 = 45.50; consumed 10.92 + 3.50 = 14.42; left 31.08: 45.50 less 14.42."""
    assert [(figure.name, figure.text) for figure in shown().sums] == [
        ("paid for supplies", "45.50 EUR"),
        ("consumed", "14.42 ± 0.32 EUR"),
        ("still in supplies", "31.08 ± 0.32 EUR"),
    ]


def test_what_needs_attention_stands_first() -> None:
    """What ran out leads to its account, and findings of the accounts are told."""
    view = shown()
    assert view.summary == "2 supplies; 1 of them has run out."
    (out,) = view.out
    assert out.text == "filters ran out on 20 March 2026"
    assert out.href == f"supplies.html#{view.rows[0].anchor}"
    assert [one.headline for one in view.findings] == ["nitric acid was used before any was bought"]
    html = rendered(money_pages())["supplies.html"]
    assert html.index("was used before any") < html.index("Account by account")
    assert f'id="{view.rows[0].anchor}"' in html


def test_money_that_belongs_to_nothing_is_said_plainly() -> None:
    """The lump has its own place, and is in no account."""
    assert [one.text for one in shown().unallocated] == ["34.00 EUR"]
    html = rendered(money_pages())["supplies.html"]
    assert "Money that belongs to nothing" in html


def test_the_writers_own_lines_stay_below() -> None:
    """The lines of supplies.md keep their words and their anchors, behind the accounts."""
    html = rendered(money_pages())["supplies.html"]
    assert html.index("As it was written") > html.index("Account by account")
    assert 'id="line-3"' in html


def test_a_book_without_the_page_still_has_its_accounts() -> None:
    """What runs bought and used has a page, and a way to it, without supplies.md."""
    figures = money_figures()
    book = replace(figures.book, supplies=None)
    found = {p.path: p for p in site_pages(replace(figures, book=book), (), PageOptions())}
    view = found["supplies.html"].view
    assert (view.title, view.written) == ("Supplies", ())
    assert "supplies.html" in [page.href for way in view.frame.ways for page in way.pages]
    bare = replace(figures, book=book, supplies=Supplies())
    assert "supplies.html" not in {page.path for page in site_pages(bare, (), PageOptions())}


def test_a_phone_reads_rows_not_columns() -> None:
    """Every cell that becomes a row on a narrow page has its name with it."""
    html = rendered(money_pages())["supplies.html"]
    table = html[html.index('<table class="stack supplies">') : html.index("As it was written")]
    assert table.count("<td") == table.count("data-name=") + table.count("colspan=")


def test_the_small_book_has_no_account_that_is_not_there() -> None:
    """The page is made for every book that has supplies.md, accounts or none."""
    assert small_pages()["supplies.html"].template == "supplies.html"


def test_one_supply_measured_in_two_ways_is_told_apart() -> None:
    """Borax by the pinch and borax by the gram are two accounts, and say so."""
    figures = money_figures()
    acid, counted = figures.supplies.accounts
    borax = [
        replace(acid, supply="borax", strength="", unit="g"),
        replace(counted, supply="borax"),
    ]
    changed = replace(figures, supplies=Supplies((*borax, acid)))
    view = {p.path: p for p in site_pages(changed, (), PageOptions())}["supplies.html"].view
    assert [row.told_apart for row in view.rows] == ["counted", "weighed", ""]
    assert len({row.anchor for row in view.rows}) == 3
