"""The page of money: one sentence first, sums that add up on paper, and what is missing named.

The records are made by hand here and in `money_of_hand.py`; every sum was worked out on paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import (
    BookAccount,
    BookFigures,
    BookLine,
    BuyerTerms,
    ClaimCheck,
    Costing,
    Earnings,
    PriceAge,
    Sale,
    Spread,
    Swing,
)
from logbook.calculation.results.metal import PeriodTotal
from logbook.pages.money_change import widest_first
from logbook.pages.money_drawing import (
    SIZE,
    WIDTH,
    SwingBar,
    draw_spread,
    draw_swings,
)
from logbook.pages.money_page import MoneyView, earned_sentence
from logbook.pages.site_pages import PageOptions, site_pages
from logbook.pages.text_width import text_width
from logbook.reading.read_book import read_book
from tests.pages.money_of_hand import RUN, about, claim, earnings, entry_of, exact, money_figures
from tests.pages.shown import pages, rendered

PAGE = "money.html"
QUANTILES = {5: -1.2, 25: 8.1, 50: 12.3, 75: 15.9, 95: 23.8}


def account() -> BookAccount:
    """20 + 45.50 + 15 = 80.50 EUR came in; 36.42 + 5 + 31.08 + 8 = 80.50 EUR stand somewhere."""
    return BookAccount(
        came_in=(
            BookLine("feed", 2000, exact("EUR", 20.0)),
            BookLine("reagent", 4550, exact("EUR", 45.5)),
            BookLine("labour", 1500, exact("EUR", 15.0)),
            BookLine("energy", 0, exact("EUR", 0.0)),
        ),
        stands=(
            BookLine("products held", 3642, exact("EUR", 36.42)),
            BookLine("on the shelf", 500, Figure("shelf", "EUR", why="no price of [X]", low=5.0)),
            BookLine("in supplies", 3108, about("EUR", 31.08, 0.32)),
            BookLine("written-off", 800, exact("EUR", 8.0)),
        ),
        total_cents=8050,
        not_counted=("what the watch cases cost",),
    )


def spread() -> Spread:
    """Half the width from 5 to 95 is 12.5, two digits of which leave whole euros."""
    return Spread(2000, 7, QUANTILES, 0.06, ("price of silver, a tenth", "hours, their doubt"))


def sale(figures: BookFigures) -> Sale:
    """Put at 300.46 EUR, received 295 EUR: 5.46 EUR less, with the doubt of what it was put at."""
    return Sale(
        run=RUN,
        day=date(2026, 3, 18),
        label="AG-7",
        metal="silver",
        gross=exact("g", 279.6),
        fine=about("g", 278.2, 0.84),
        received=exact("EUR", 295.0),
        estimated=about("EUR", 300.46, 0.91),
        entry=entry_of(RUN, "got", figures),
        fee=exact("EUR", 12.0),
        difference=about("EUR", -5.46, 0.91),
        things=("AG-7",),
    )


def terms(figures: BookFigures) -> BuyerTerms:
    """96 % are paid for, 1 g/kg is kept back, 2 EUR/kg for treating, 12 EUR for a lot."""
    page = figures.book.prices
    assert page is not None
    return BuyerTerms(
        metal="silver",
        day=date(2026, 3, 1),
        payable=exact("g/g", 0.96),
        deduction=exact("g/g", 0.001),
        treatment=exact("EUR/g", 0.002),
        refining=None,
        lot=exact("EUR", 12.0),
        entry=page.entries[0],
    )


@cache
def figures() -> BookFigures:
    """The small book with its account, a spread, a sale, terms and sums."""
    made = money_figures()
    old = PriceAge("gold", exact("EUR/g", 70.0), date(2025, 3, 1), 384, True, "384 days old: stale")
    total = PeriodTotal(
        "all",
        "silver",
        exact("g", 293.0),
        exact("g", 278.2),
        exact("g/g", 0.95),
        exact("EUR", 40.0),
        exact("h", 2.0),
        exact("EUR", 250.46),
    )
    held = made.held_worth
    return replace(
        made,
        costing=replace(made.costing, account=account()),
        earnings=replace(earnings(), run="", spread=spread()),
        sales=(sale(made),),
        held_worth=replace(
            held, ages=(replace(held.ages[0], stale=False), old), terms=(terms(made),)
        ),
        totals=(total, replace(total, period="2026"), replace(total, period="2026-03")),
    )


def view_of(some: BookFigures) -> MoneyView:
    """The page of money of some figures."""
    found = next(page.view for page in site_pages(some, (), PageOptions()) if page.path == PAGE)
    assert isinstance(found, MoneyView)
    return found


@cache
def view() -> MoneyView:
    """The page of money of the small book."""
    return view_of(figures())


def plain(text: str) -> str:
    """A text with ordinary spaces."""
    return text.replace("\u00a0", " ").replace("\u202f", " ")


@cache
def html() -> str:
    """The page as it is written."""
    found = {page.path: page for page in site_pages(figures(), (), PageOptions())}
    return rendered({PAGE: found[PAGE]})[PAGE]


# What an hour earned


def test_it_begins_with_what_an_hour_earned() -> None:
    """With the scrap and without, in one line, to the digits that are known."""
    words = "Over the whole book an hour at the bench earned 12.00 ± 0.80 EUR."
    assert (
        plain(view().sentence)
        == f"{words} Had the scrap cost nothing, it would have earned 16.50 EUR."
    )
    assert [plain(one.text) for one in view().key] == [
        "12.00 ± 0.80 EUR/h",
        "16.50 EUR/h",
        "24.00 EUR",
        "2 h",
    ]
    body = html()[html().index("<main") :]
    assert body.index("<h1>Money</h1>") < body.index("12.00\u00a0±\u00a00.80\u00a0EUR.") < 2500


def hourly(value: float | None, without: float | None, **more: Any) -> Earnings:
    """What an hour earned, with and without."""

    def of(amount: float | None) -> Figure:
        if amount is None:
            return replace(not_known("per hour", "EUR/h", "one; two; three"), **more)
        return exact("EUR/h", amount)

    return replace(earnings(), per_hour=of(value), per_hour_without_feed=of(without))


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (hourly(-3.0, 2.0), "cost 3.00 EUR. Had the scrap cost nothing, it would have earned 2.00"),
        (hourly(4.0, 4.0), "earned 4.00 EUR, with what the scrap cost or without."),
        (hourly(4.0, None), "Without what the scrap cost it is not known, because one, among"),
        (hourly(None, 2.0), "not known, because one, among other reasons. Had the scrap"),
        (hourly(None, None, high=20.0), "earned at most 20 EUR/h. More is not known, because one"),
    ],
)
def test_the_sentence_in_every_case(found: Earnings, words: str) -> None:
    """A loss is called a cost; what is not known has its reason and what is known of it."""
    assert words in plain(earned_sentence(found, ""))


# The account


def test_both_sides_of_the_account_are_shown_in_cents_and_add_up() -> None:
    """What is read off the page, added on both sides, is the sum below each: 80.50 EUR."""
    shown = view().account
    assert shown is not None
    for side in shown.sides:
        cents = [round(100 * float(line.amount.value)) for line in side.lines]
        assert sum(cents) == 8050
        assert plain(side.total) == "80.50 EUR"
    came_in, stands = shown.sides
    assert [plain(line.amount.text) for line in came_in.lines] == [
        "20.00 EUR",
        "45.50 EUR",
        "15.00 EUR",
    ]
    assert came_in.lines[0].amount.name == "the scrap itself"
    assert stands.lines[-1].amount.name == "written off"


def test_a_line_says_how_well_it_is_known() -> None:
    """Cents are for the sum's sake: 31.08 EUR are known to 0.32, of the shelf only a part."""
    shown = view().account
    assert shown is not None and shown.doubtful
    doubts = [plain(line.doubt) for line in shown.sides[1].lines]
    assert doubts == ["", "at least 5 EUR", "± 0.32 EUR", ""]
    assert shown.not_counted == ("What the watch cases cost.",)
    assert "What the watch cases cost." in html()


def test_the_chart_of_the_account_has_its_figures() -> None:
    """Every line with its amount, none of those that are nothing; the longest bar is the most."""
    chart = view().charts.account
    assert chart is not None
    words = [plain(one.text) for one in chart.drawing.words]
    assert words.count("Where it came in") == words.count("Where it stands") == 1
    for amount in ("20.00 EUR", "45.50 EUR", "15.00 EUR", "36.42 EUR", "31.08 EUR", "8.00 EUR"):
        assert amount in words or f"at least {amount}" in words
    assert "energy" not in words
    lengths = [length for trace in chart.figure["data"] for length in trace.get("base", ())]
    assert set(lengths) == {0.0}
    bars = {trace["name"]: trace["x"] for trace in chart.figure["data"] if trace["type"] == "bar"}
    assert max(max(found) for found in bars.values()) == 45.5
    assert [len(found) for found in bars.values()] == [3, 4]
    assert "the scrap itself 20.00 EUR" in plain(chart.sentence)


# The runs


def test_a_run_stands_with_what_it_took_over() -> None:
    """40 EUR spent and 10 carried in are 50; 2 h; worth 300.46; an hour earned 12 EUR."""
    cases, contacts = view().runs
    texts = [plain(one.text) for one in contacts.figures]
    assert texts[:3] == ["2 h", "50.00 EUR", "300.46 ± 0.91 EUR"]
    assert texts[4:] == ["12.00 ± 0.80 EUR/h", "16.50 EUR/h"]
    assert contacts.run.href.endswith("#cost")
    assert cases.figures[0].text == "not known"
    assert cases.figures[0].why == "no time was noted"


def test_earlier_runs_unfold() -> None:
    """Of twelve runs the ten newest stand open, the two oldest below them."""
    files = book(
        **{f"runs/2026-02-{day:02}-x.md": LOG.replace("# A", f"# {day}") for day in range(1, 12)}
    )
    shown = pages(read_book(files))[PAGE].view
    assert [row.run.text for row in shown.runs][:2] == ["A", "11"]
    assert [row.run.text for row in shown.earlier_runs] == ["2", "1"]
    assert shown.earlier_count == "2 earlier runs"


def test_a_run_that_made_nothing_says_so() -> None:
    """Its hours and cost stand, and in place of all the rest the reason, once."""
    some = figures()
    run = replace(some.runs[RUN], net=not_known("net", "EUR", "nothing was made here"))
    row = view_of(replace(some, runs={**some.runs, RUN: run})).runs[1]
    assert row.nothing == "nothing was made here"
    assert len(row.figures) == 2


def test_sums_of_periods_are_those_of_the_totals() -> None:
    """All of the book, then years; months unfold below."""
    assert [one.name for one in view().years] == ["all of the book", "2026"]
    assert [one.name for one in view().months] == ["March 2026"]
    (row,) = view().years[0].rows
    assert [plain(one.text) for one in row.figures] == ["2 h", "40.00 EUR", "250.46 EUR"]


# What would change it


def test_the_widest_swing_comes_first_and_the_unknown_last() -> None:
    """28 EUR/h apart by the price, 2 by the hours; the tariff is not known and not drawn."""
    shown = view().change
    assert shown is not None and shown.drawing is not None
    assert [row.what for row in shown.rows] == ["price of silver", "hours", "tariff"]
    words = [plain(one.text) for one in shown.drawing.words]
    assert "as it is: 12.00 ± 0.80 EUR/h" in words
    for text in ("−2.00", "26.00", "11.00", "13.00", "0.97 EUR/g to 1.19 EUR/g"):
        assert text in words
    assert "tariff" not in words
    assert "With the price of silver at 0.97 EUR/g" in plain(shown.desc)


def test_swings_are_drawn_to_scale_around_what_there_is() -> None:
    """On 60 to 300 for −2 to 26 EUR/h, 12 lies in the middle, at 180; nothing at 77.1 (by hand)."""
    bars = [
        SwingBar("price", "", -2.0, 26.0, "−2", "26"),
        SwingBar("hours", "", 11.0, 13.0, "", ""),
    ]
    drawn = draw_swings(12.0, "as it is", bars)
    assert drawn is not None
    looks = {one.look: one.path for one in drawn.outlines}
    assert looks["present"].startswith("M180,")
    assert looks["nothing"].startswith("M77.1,")
    price = [one.path for one in drawn.outlines if one.look in ("hollow", "solid")][:2]
    assert price[0].startswith("M60,") and "H180V" in price[0]
    assert price[1].startswith("M180,") and "H300V" in price[1]


def test_long_amounts_stay_inside_the_drawing() -> None:
    """The words at the ends of bars have room on both sides, however many digits they have."""
    low, high = "−1234567.89", "1234567.89"
    drawn = draw_swings(0.0, "as it is", [SwingBar("price", "", -1.0, 1.0, low, high)])
    assert drawn is not None
    left = next(one for one in drawn.words if one.text == low)
    right = next(one for one in drawn.words if one.text == high)
    assert float(left.x) - text_width(low, SIZE) >= 0.0
    assert float(right.x) + text_width(high, SIZE) <= WIDTH


def test_equal_ends_or_no_bars_draw_nothing_that_misleads() -> None:
    """Nothing to draw is no drawing; a single value divides by no width."""
    assert draw_swings(12.0, "", []) is None
    same = dict.fromkeys(QUANTILES, 3.0)
    assert draw_spread(same, dict.fromkeys(QUANTILES, "3")) is None
    one = draw_swings(5.0, "", [SwingBar("a", "", 5.0, 5.0, "5", "5")])
    assert one is not None and "nan" not in repr(one)


def test_the_spread_says_its_draws_its_seed_and_no_more_digits_than_it_has() -> None:
    """Half of 23.8 + 1.2 is 12.5, two digits of which are whole euros: −1, 8, 12, 16, 24."""
    shown = view().change
    assert shown is not None and shown.spread_drawing is not None
    assert plain(shown.spread) == (
        "In 2000 draws of all inputs at once (seed 7), half gave between 8 EUR/h and 16 EUR/h, "
        "and 90 of 100 between −1 EUR/h and 24 EUR/h; the middle one gave 12 EUR/h. "
        "In 6 of 100 an hour cost money."
    )
    words = {one.text for one in shown.spread_drawing.words}
    assert {"−1", "8", "12 EUR/h", "16", "24"} <= words


def test_without_a_spread_the_reason_stands() -> None:
    """No drawing and no digits; why."""
    some = replace(figures(), earnings=replace(earnings(), run="", spread_why="too little varies"))
    shown = view_of(some).change
    assert shown is not None and shown.spread_drawing is None and not shown.spread
    assert shown.spread_why == "too little varies"


def test_order_of_swings_does_not_depend_on_their_direction() -> None:
    """A swing downwards is as wide as one upwards."""
    up = Swing("up", "", "", exact("EUR/h", 1.0), exact("EUR/h", 2.0), "")
    down = Swing("down", "", "", exact("EUR/h", 9.0), exact("EUR/h", 2.0), "")
    assert [one.what for one in widest_first([up, down])] == ["down", "up"]


# Break-even, sales, what is held


def test_break_even_stands_beside_what_there_is() -> None:
    """0.91 against 1.08 EUR/g covers it; 55 % against 71 ± 3 % in the scrap."""
    (row,) = view().even.book
    assert row.price is not None and row.latest is not None
    assert (plain(row.price.text), plain(row.latest.text)) == ("0.91 EUR/g", "1.08 EUR/g")
    assert (row.so, row.head_grade) == ("covers it", None)
    (run,) = view().even.runs
    assert run.grade is not None and run.head_grade is not None
    assert (plain(run.grade.text), plain(run.head_grade.text)) == ("55 %", "71.0 ± 3.0 %")


@pytest.mark.parametrize(
    ("price", "so"),
    [
        (exact("EUR/g", 1.20), "falls short"),
        (about("EUR/g", 1.05, 0.05), "comes out even, within the doubt"),
        (not_known("price", "EUR/g", "no hours"), ""),
    ],
)
def test_whether_the_price_covers_it(price: Figure, so: str) -> None:
    """1.08 is below 1.20; 0.03 apart is within 0.05; what is not known is not judged."""
    changed = replace(earnings(), run="", break_even_price={"silver": price})
    (row,) = view_of(replace(figures(), earnings=changed)).even.book
    assert row.so == so


def test_a_sale_stands_against_what_it_was_put_at() -> None:
    """295 received, 300.46 ± 0.91 put at: 5.46 ± 0.91 less; the fee beside it, with the line."""
    (row,) = view().sales
    assert plain(row.received.text) == "295.00 EUR"
    assert row.fee is not None and plain(row.fee.text) == "12.00 EUR"
    assert plain(row.estimated.text) == "300.46 ± 0.91 EUR"
    assert row.difference is not None and plain(row.difference.text) == "−5.46 ± 0.91 EUR"
    assert row.what.href == "labels/ag-7.html"
    assert row.line.href == f"runs/{RUN}.html#line-17"


def test_two_sales_are_added_up() -> None:
    """295 and 295 are 590 EUR, the fees 24 EUR."""
    some = replace(figures(), sales=(sale(figures()), sale(figures())))
    sums = {one.name: plain(one.text) for one in view_of(some).sale_sums}
    assert sums == {"received in all": "590.00 EUR", "fees in all": "24.00 EUR"}


def test_what_is_held_has_limits_and_prices_have_an_age() -> None:
    """The dearest first; the filters are at most 12.50 EUR; the old price of gold says so."""
    bar, side = view().held_things
    assert (bar.thing.text, plain(bar.worth.text)) == ("silver bar [AG-7]", "300.46 EUR")
    assert (side.kind, side.worth.known) == ("on the shelf", False)
    assert plain(side.worth.limits) == "at most 12.5 EUR"
    silver, gold = view().ages
    assert (silver.stale, gold.stale) == (False, True)
    assert "384 days old: stale" in html()


def test_terms_of_a_buyer_stand_with_their_line() -> None:
    """96 %, 0.1 % kept back, 0.002 EUR/g for treating; no charge for refining is none."""
    (row,) = view().terms
    assert plain(row.payable.text) == "96 %"
    deduction, treatment, refining, lot = row.charges
    assert deduction is not None and plain(deduction.text) == "0.1 %"
    assert treatment is not None and plain(treatment.text) == "0.002 EUR/g"
    assert refining is None
    assert lot is not None and plain(lot.text) == "12.00 EUR"
    assert row.line.href == "prices.html#line-3"


# The shelf, and claims


def test_the_shelf_carries_its_money_by_a_rule() -> None:
    """The dearest first: 45 EUR and 1 h 48 min, then 5 EUR and 12 min, each with its rule."""
    bar, side = view().carried
    assert (plain(bar.cost.text), bar.hours.text) == ("45.00 EUR", "1 h 48 min")
    assert bar.rule == "content of silver"
    assert (plain(side.cost.text), side.thing.href) == ("5.00 EUR", "labels/f-21.html")


def test_claims_that_disagree_or_cannot_be_checked_lead_to_their_lines() -> None:
    """Those that agree are only counted."""
    some = figures()
    wrong = claim(some)
    run = replace(some.runs[RUN], claims=(wrong, replace(wrong, agrees="yes"), _unchecked(wrong)))
    shown = view_of(replace(some, runs={**some.runs, RUN: run})).reckoned
    assert shown.agreeing == "1 reckoned figure agrees with the book."
    (first,), (second,) = shown.wrong, shown.unchecked
    assert first.line.href == f"runs/{RUN}.html#line-19"
    assert (second.verdict, second.why) == ("cannot be checked", "nothing was weighed")


def _unchecked(check: ClaimCheck) -> ClaimCheck:
    return replace(
        check, agrees="unknown", computed=None, difference=None, why="nothing was weighed"
    )


# What is missing


def missing(logs: Mapping[str, str]) -> tuple[MoneyView, str]:
    """The page of a book of some logs, and its words on what is missing."""
    shown = pages(read_book(dict(logs)))[PAGE].view
    return shown, " | ".join(f"{one.words} {one.write} {one.where}" for one in shown.missing)


BENCH = "# The bench\n\nCurrency: EUR\nHour: 18 EUR\n"
PRICES = "# Prices\n\n- 2026-03-01 priced silver at 1.00 EUR/g\n"
LOG = "# A\n\nMetal: silver\n\n## Melt\n\n- took 100 g scrap, silver 90 %, a gift\n"
MADE = "- got 89.0 g silver bar, silver 99.9 %\n"


def book(**more: str) -> dict[str, str]:
    """A whole book of one run, with files put in or taken out."""
    files = {
        "runs/bench.md": BENCH,
        "runs/prices.md": PRICES,
        "runs/2026-03-02-a.md": LOG + MADE + "- worked 2 h\n",
    }
    return {**files, **more}


def test_an_empty_book_says_what_would_begin_it() -> None:
    """No run: one sentence, and a line to write, in the book's own currency where it has one."""
    shown, words = missing({"runs/bench.md": BENCH})
    assert shown.sentence == (
        "What an hour at the bench earned is not known, because no run is done yet."
    )
    assert "No run is done yet." in words
    assert "priced silver at 1.08 EUR/g runs/prices.md" in words
    assert not shown.runs and shown.account is None


def test_a_whole_book_misses_nothing() -> None:
    """Currency, hour, price, hours and scrap are all told."""
    assert missing(book())[1] == ""


def test_a_book_without_prices() -> None:
    """It says so, and where a price is written."""
    files = book()
    del files["runs/prices.md"]
    assert "No price of a metal is noted, so nothing has a worth." in missing(files)[1]


def test_a_book_without_hours() -> None:
    """The run is named and leads to its page."""
    shown, words = missing(book(**{"runs/2026-03-02-a.md": LOG + MADE}))
    assert "1 run does not tell all its hours: - worked 50 min the log" in words
    assert [link.href for one in shown.missing for link in one.runs] == ["runs/2026-03-02-a.html"]


def test_a_book_without_a_currency() -> None:
    """The first that was written is taken, and that is said; without any, that is said."""
    words = missing(book(**{"runs/bench.md": "# The bench\n\nHour: 18 EUR\n"}))[1]
    assert "the first that was written is taken, EUR" in words
    files = book(**{"runs/bench.md": "# The bench\n"})
    del files["runs/prices.md"]
    words = missing(files)[1]
    assert "No currency is named, and none was written. Currency: EUR runs/bench.md" in words
    assert "What an hour is worth is not said" in words


def test_scrap_of_which_the_price_is_missing() -> None:
    """Two runs that do not tell what their scrap cost are both named."""
    log = (LOG + MADE + "- worked 2 h\n").replace(", a gift", "")
    files = book(**{"runs/2026-03-02-a.md": log, "runs/2026-03-03-b.md": log.replace("# A", "# B")})
    shown, words = missing(files)
    assert "2 runs do not tell what all their scrap cost: for 20 EUR, or a gift each log" in words
    assert [link.text for one in shown.missing for link in one.runs] == ["B", "A"]


def test_without_any_figures_the_page_still_stands() -> None:
    """No account, no earnings, no costing: each part is left out, and nothing pretends."""
    bare = replace(figures(), costing=Costing(), earnings=None, sales=(), totals=())
    found = {page.path: page for page in site_pages(bare, (), PageOptions())}
    text = rendered({PAGE: found[PAGE]})[PAGE]
    assert "not known, because no run of the book gives enough to work it out" in text
    assert 'id="account"' not in text and 'id="change"' not in text


def test_a_private_line_is_told_nowhere() -> None:
    """A sale that a private note shares a line with is left out, and not added up."""
    hidden = entry_of(RUN, "private", figures())
    some = replace(figures(), sales=(replace(sale(figures()), entry=hidden), sale(figures())))
    shown = view_of(some)
    assert len(shown.sales) == 1 and shown.sale_sums == ()


def test_the_order_of_the_page_is_that_of_the_questions() -> None:
    """Earned, account, runs, what would change it, break-even, worth, shelf, claims."""
    ids = ["account", "runs", "change", "even", "worth", "carried", "claims"]
    places = [html().index(f'<h2 id="{one}"') for one in ids]
    assert places == sorted(places)
    main = html()[html().index("<main") :]
    assert main.count("<script") == main.count('<script type="application/json"')  # plain data


def test_a_supply_without_a_price_is_named_with_its_line_to_mend() -> None:
    """Only what was used: the line is given whole, with a price to put in its place."""
    supplies = "# Supplies\n\n- 2026-01-01 had 1 kg borax\n- 2026-01-01 had 1 L acetone\n"
    used = LOG + MADE + "- worked 2 h\n- added 5 g borax\n"
    shown, words = missing(book(**{"runs/supplies.md": supplies, "runs/2026-03-02-a.md": used}))
    assert "What the borax cost is not said, of which 1 line used some:" in words
    assert "- 2026-01-01 had 1 kg borax for 20 EUR its line" in words
    assert "acetone" not in words
    assert [link.href for one in shown.missing for link in one.runs] == ["supplies.html#line-3"]
