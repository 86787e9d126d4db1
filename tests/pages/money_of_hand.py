"""Money for the small book, made by hand: accounts, costs, earnings and claims, for these tests.

The sums are worked out beside each record, on paper; nothing here was worked out by a program.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import (
    BookFigures,
    ClaimCheck,
    Costing,
    CostLine,
    Earnings,
    HeldWorth,
    Holdings,
    PriceAge,
    RunCosting,
    Supplies,
    SupplyAccount,
    SupplyMove,
    Swing,
    ThingCost,
)
from logbook.findings import Finding, Weight
from logbook.model.amount import Uncertain
from logbook.model.entry import Entry
from logbook.pages.site_pages import Page, PageOptions, site_pages
from tests.pages.small_book import contacts, small_book

RUN = contacts().name
BAR = "AG-7"


def exact(unit: str, value: float, name: str = "figure") -> Figure:
    """A figure without a doubt."""
    return Figure(name, unit, Uncertain(value))


def about(unit: str, value: float, u: float) -> Figure:
    """A figure with a doubt."""
    return Figure("figure", unit, Uncertain.of(value, u, "as the test says"))


def entry_of(book_run: str, action: str, figures: BookFigures) -> Entry:
    """The first entry of an action in a run."""
    stages = figures.runs[book_run].run.stages
    return next(entry for stage in stages for entry in stage.entries if entry.action == action)


def nitric(figures: BookFigures) -> SupplyAccount:
    """2.5 L for 42 EUR is 16.80 EUR/L; 0.65 L of it are 10.92 EUR; 1.85 L for 31.08 are left."""
    page = figures.book.supplies
    assert page is not None
    bought, used = page.entries[0], entry_of(RUN, "added", figures)
    average = exact("EUR/L", 16.80)
    moves = (
        SupplyMove(
            date(2026, 1, 8),
            "bought",
            exact("L", 2.5),
            exact("EUR", 42.0),
            exact("L", 2.5),
            average,
            bought,
        ),
        SupplyMove(
            date(2026, 3, 14),
            "used",
            about("L", 0.65, 0.019),
            about("EUR", 10.92, 0.32),
            about("L", 1.85, 0.019),
            average,
            used,
        ),
    )
    return SupplyAccount(
        "nitric acid",
        "68 %",
        "L",
        exact("L", 2.5),
        about("L", 0.65, 0.019),
        about("L", 1.85, 0.019),
        average,
        exact("EUR", 42.0),
        about("EUR", 10.92, 0.32),
        about("EUR", 31.08, 0.32),
        None,
        "not yet: too few uses to tell",
        moves,
    )


def filters(figures: BookFigures) -> SupplyAccount:
    """20 filters for 3.50 EUR are 0.175 EUR each; all of them were used by 20 March."""
    none = exact("1", 0.0)
    return SupplyAccount(
        "filters",
        "",
        "1",
        exact("1", 20.0),
        exact("1", 20.0),
        none,
        exact("EUR/1", 0.175),
        exact("EUR", 3.50),
        exact("EUR", 3.50),
        exact("EUR", 0.0),
        date(2026, 3, 20),
        "ran out on 20 March 2026",
        (),
    )


def too_early(figures: BookFigures) -> Finding:
    """A finding that only the accounts can give."""
    span = entry_of(RUN, "added", figures).span
    headline = "nitric acid was used before any was bought"
    return Finding("supply-early", Weight.DOUBT, headline, span, "as it is", "note what there was")


def things_cost() -> tuple[ThingCost, ThingCost]:
    """The bar has nine tenths of 50 EUR and 2 h, the filters one tenth."""
    bar = ThingCost(
        BAR,
        exact("EUR", 45.0),
        exact("EUR", 36.0),
        exact("h", 1.8),
        {"feed": exact("EUR", 9.0), "reagent": exact("EUR", 36.0)},
        exact("g/g", 0.9),
        "content of silver",
    )
    rest = "nothing: no line tells what it holds"
    return bar, replace(bar, thing="F-21", cost=exact("EUR", 5.0), hours=exact("h", 0.2), rule=rest)


def costing() -> RunCosting:
    """40 EUR spent here and 10 carried in: 45 in the bar, 5 went on with the filters."""
    bar, side = things_cost()
    return RunCosting(
        run=RUN,
        carried_in=exact("EUR", 10.0),
        carried_in_without_feed=exact("EUR", 8.0),
        carried_out=exact("EUR", 5.0),
        in_products=exact("EUR", 45.0),
        in_products_without_feed=exact("EUR", 36.0),
        written_off=exact("EUR", 0.0),
        in_work=exact("EUR", 0.0),
        hours_carried_in=exact("h", 0.5),
        hours_carried_out=exact("h", 0.2),
        hours_in_products=exact("h", 1.8),
        brought=(replace(bar, thing="RC-3", cost=exact("EUR", 10.0), hours=exact("h", 0.5)),),
        passed_on=(bar, side),
    )


def earnings() -> Earnings:
    """A small swing, a wide one, and one of which nothing is known."""
    narrow = Swing("hours", "1.8 h", "2.2 h", exact("EUR/h", 11.0), exact("EUR/h", 13.0), "doubt")
    wide = Swing(
        "price of silver",
        "0.97 EUR/g",
        "1.19 EUR/g",
        exact("EUR/h", -2.0),
        exact("EUR/h", 26.0),
        "a tenth",
    )
    blind = Swing("tariff", "", "", not_known("low", "EUR/h", "no tariff"), exact("EUR/h", 1.0), "")
    return Earnings(
        run=RUN,
        hours=exact("h", 2.0),
        earned=exact("EUR", 24.0),
        per_hour=about("EUR/h", 12.0, 0.8),
        per_hour_without_feed=exact("EUR/h", 16.5),
        break_even_price={"silver": exact("EUR/g", 0.91)},
        break_even_grade={"silver": exact("g/g", 0.55)},
        swings=(narrow, blind, wide),
    )


def claim(figures: BookFigures) -> ClaimCheck:
    """Reckoned recovery 95 %, where 93.5 % would be right: 1.5 points of a hundred too much."""
    return ClaimCheck(
        run=RUN,
        entry=entry_of(RUN, "reckoned", figures),
        what="recovery",
        claimed=exact("g/g", 0.95),
        computed=about("g/g", 0.935, 0.004),
        difference=about("g/g", 0.015, 0.004),
        agrees="no",
        why="product over head",
        slip="the head without the filters",
        premises=("silver 71 % of [RC-3]",),
    )


def holdings() -> Holdings:
    """The bar: 278.2 g at 1.08 EUR/g are 300.46 EUR. Of the filters only limits are known."""
    filters_worth = Figure("worth", "EUR", why="they were not assayed", low=0.0, high=12.5)
    price = exact("EUR/g", 1.08)
    words = "19 days old on 20 March 2026"
    return Holdings(
        things=(
            HeldWorth(BAR, "product", exact("EUR", 300.46), {"silver": exact("EUR", 300.46)}),
            HeldWorth("F-21", "shelf", filters_worth, {"silver": filters_worth}),
        ),
        sums={"product": exact("EUR", 300.46), "shelf": filters_worth},
        ages=(PriceAge("silver", price, date(2026, 3, 1), 19, True, words),),
    )


@cache
def money_figures() -> BookFigures:
    """The small book with all of that money in it."""
    figures = work_out(small_book())
    bar, side = things_cost()
    run = replace(
        figures.runs[RUN],
        costs=(
            CostLine("feed", exact("EUR", 9.0)),
            CostLine("reagent", exact("EUR", 31.0)),
            CostLine("energy", exact("EUR", 0.0)),
        ),
        cost=exact("EUR", 31.0),
        cost_with_feed=exact("EUR", 40.0),
        costing=costing(),
        earnings=earnings(),
        claims=(claim(figures),),
        heated=exact("h", 2.5),
        cost_unallocated=exact("EUR", 3.40),
    )
    return replace(
        figures,
        runs={**figures.runs, RUN: run},
        supplies=Supplies(
            (nitric(figures), filters(figures)),
            (exact("EUR", 34.0, "34 EUR of chemicals"),),
            (too_early(figures),),
        ),
        costing=Costing({bar.thing: bar, side.thing: side}, {RUN: costing()}),
        held_worth=holdings(),
        earnings=replace(earnings(), run=""),
    )


@cache
def money_pages() -> dict[str, Page]:
    """The pages of the small book with its money, by path."""
    found = site_pages(money_figures(), (), PageOptions())
    return {page.path: page for page in found}
