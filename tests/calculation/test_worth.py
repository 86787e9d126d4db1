"""Buyers' terms, prices in other currencies, the worth of a run, and sales. All sums by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from build import (
    amount,
    book,
    entry,
    euros,
    g,
    litres,
    page,
    part,
    priced,
    rate,
    run,
    span,
    stage,
)

from logbook.calculation.book_figures import whole_book_findings, work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, Sale
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Entry, Terms
from logbook.model.run import Run


def value(figure: Figure | None) -> float:
    """The value of a figure that must be known."""
    assert figure is not None
    assert figure.value is not None, figure.why
    return figure.value.value


def dollars(value: float) -> Amount:
    """A sum of dollars."""
    return replace(euros(value), currency="USD", span=span(f"{value:g} USD"))


def of_dollar(value: float, on: str) -> Entry:
    """The rate of the dollar."""
    per = replace(euros(value), dimension=Dimension.PRICE, per="1")
    return entry("priced", money="USD", per=per, on=on)


def agreed(on: str = "2026-01-01", metal: str = "silver", **charges: Amount) -> Entry:
    """A buyer's terms of a metal."""
    terms = Terms(span(f"payable terms of {metal}"), **charges)
    return entry("priced", metal=metal, terms=terms, on=on)


def melt(name: str, mass: Amount, metals: tuple[str, ...] = ("silver",), **holds: Amount) -> Run:
    """A run that got a bar [BAR] from scrap."""
    bar = entry("got", mass, "bar", "BAR", holds=holds, as_product=True)
    took = entry("took", g(500.0), "scrap", cost=euros(0.0))
    return run(name, stage("Melt", took, bar), metals=metals)


def silver_bar(mass: float = 100.0, u: float = 0.0, fine: float = 0.90) -> Run:
    """A run of 11 February that got 90 g of silver in 100 g."""
    return melt("2026-02-11-a", g(mass, u), silver=part(fine))


SILVER = priced("silver", 1.00, "2026-01-01")
USUAL = agreed(
    payable=part(0.96), treatment=rate(0.002, "g"), refining=rate(0.02, "g"), lot=euros(12.0)
)


def prices(*entries: Entry) -> Any:
    """The page of prices."""
    return page("prices", *entries)


# Worth of a run


def test_a_run_is_worth_payable_metal_less_refining_and_treatment() -> None:
    """90 g × 0.96 × (1.00 − 0.02) = 84.672; less 100 g at 0.002 for treatment: 84.472 EUR."""
    only = silver_bar()
    figures = work_out(book(only, prices=prices(SILVER, USUAL))).runs[only.name]
    assert value(figures.worth) == pytest.approx(84.472)
    assert value(figures.worth_latest) == pytest.approx(84.472)
    assert any("falls on it when it is sold" in note for note in figures.worth.notes)


def test_every_step_of_a_worth_can_be_unfolded() -> None:
    """The working leads from the worth to share, charges, price and the words they came from."""
    only = silver_bar()
    worth = work_out(book(only, prices=prices(SILVER, USUAL))).runs[only.name].worth
    (silver,) = worth.terms
    names, stack = set(), [worth]
    while stack:
        one = stack.pop()
        names.add(one.name)
        stack.extend(one.terms)
    assert silver.name == "worth of silver"
    assert {
        "payable silver",
        "payable share",
        "refining charge per gram",
        "treatment charge per gram",
        "price of silver",
        "product weight",
    } <= names
    assert {place.text for place in worth.leaves()} >= {"0.96 g/g", "0.02 EUR/g", "1 EUR/g"}


def test_without_terms_all_of_the_metal_counts_and_that_is_said_to_be_no_offer() -> None:
    """90 g at 1.00 are 90 EUR: the price of the metal, which nobody has offered."""
    only = silver_bar()
    worth = work_out(book(only, prices=prices(SILVER))).runs[only.name].worth
    assert value(worth) == pytest.approx(90.0)
    assert any("no offer" in note for note in worth.notes)


def test_terms_hold_from_their_day_until_the_next() -> None:
    """On 11 February no terms held; at the latest the second ones do: 90 × 0.80 = 72."""
    only = silver_bar()
    terms = (
        agreed("2026-03-01", payable=part(0.90)),
        agreed("2026-04-01", payable=part(0.80)),
    )
    figures = work_out(book(only, prices=prices(SILVER, *terms))).runs[only.name]
    assert value(figures.worth) == pytest.approx(90.0)
    assert any("for that day" in note for note in figures.worth.notes)
    assert value(figures.worth_latest) == pytest.approx(72.0)


def test_terms_that_name_no_share_pay_for_all_of_it() -> None:
    """Only a refining charge: 90 g × (1.00 − 0.05) = 85.50."""
    only = silver_bar()
    terms = agreed(refining=rate(0.05, "g"))
    assert value(work_out(book(only, prices=prices(SILVER, terms))).runs[only.name].worth) == (
        pytest.approx(85.50)
    )


def test_a_bar_that_was_not_weighed_is_worth_at_most_what_is_paid_before_treatment() -> None:
    """90 g of silver in a bar of unknown weight: 86.40 at most, and nothing says how much less."""
    bar = entry("got", None, "bar", "BAR", holds={"silver": g(90.0)}, as_product=True)
    only = run("2026-02-11-a", stage("Melt", entry("took", g(500.0), "scrap"), bar))
    terms = agreed(payable=part(0.96), treatment=rate(0.002, "g"))
    worth = work_out(book(only, prices=prices(SILVER, terms))).runs[only.name].worth
    assert not worth.known
    assert worth.high == pytest.approx(86.40)
    assert worth.why == "[BAR] was never weighed"


def test_the_doubt_of_the_assay_and_none_of_the_terms_is_in_the_worth() -> None:
    """90 ± 0.5 g: the worth is known to 0.5 × 0.96 × 0.98 EUR."""
    only = melt("2026-02-11-a", g(100.0), silver=part(0.90, 0.005))
    worth = work_out(book(only, prices=prices(SILVER, USUAL))).runs[only.name].worth
    assert worth.value is not None
    assert worth.value.u == pytest.approx(0.5 * 0.96 * 0.98)


def test_treatment_falls_once_on_a_bar_of_two_metals() -> None:
    """Gold 10 g at 80 and silver 85 g at 1, both 95 %; 100 g treated once, at the dearer 0.05."""
    only = melt("2026-02-11-a", g(100.0), ("gold", "silver"), gold=part(0.10), silver=part(0.85))
    both = (
        agreed(metal="gold", payable=part(0.95), treatment=rate(0.05, "g")),
        agreed(metal="silver", payable=part(0.95), treatment=rate(0.01, "g")),
    )
    gold = priced("gold", 80.0, "2026-01-01")
    worth = work_out(book(only, prices=prices(SILVER, gold, *both))).runs[only.name].worth
    assert value(worth) == pytest.approx(0.95 * (10 * 80 + 85) - 100 * 0.05)
    assert [one.name for one in worth.terms] == ["worth of gold", "worth of silver"]


def test_terms_of_one_metal_say_nothing_of_another() -> None:
    """Gold by its terms, silver at its price: 10 × 80 × 0.95 + 85 = 845."""
    only = melt("2026-02-11-a", g(100.0), ("gold", "silver"), gold=part(0.10), silver=part(0.85))
    lines = (SILVER, priced("gold", 80.0, "2026-01-01"), agreed(metal="gold", payable=part(0.95)))
    worth = work_out(book(only, prices=prices(*lines))).runs[only.name].worth
    assert value(worth) == pytest.approx(845.0)
    assert any("terms for silver" in note for note in worth.notes)


# Prices and terms that can be used or not


def test_a_price_in_another_currency_counts_at_the_rate_of_its_day() -> None:
    """31.1034768 USD for a troy ounce is 1 USD for a gram, at 0.92 EUR; later rates are later."""
    only = silver_bar()
    dollar = priced("silver", 1.0, "2026-01-10", currency="USD")
    rates = (of_dollar(0.92, "2026-01-01"), of_dollar(0.50, "2026-01-11"))
    figures = work_out(book(only, prices=prices(dollar, *rates)))
    assert figures.findings == ()
    (price,) = figures.prices
    assert value(price.price) == pytest.approx(0.92)
    assert price.price.unit == "EUR/g"
    assert [one.unit for one in price.price.terms] == ["USD/g", "EUR/USD"]
    assert value(figures.runs[only.name].worth) == pytest.approx(90 * 0.92)


def test_a_price_without_a_rate_says_which_rate_to_write() -> None:
    """The rate came a day too late; the finding names currency, day and what to write."""
    dollar = priced("silver", 1.0, "2026-01-10", currency="USD")
    figures = work_out(book(prices=prices(dollar, of_dollar(0.92, "2026-01-11"))))
    (problem,) = figures.findings
    assert problem.code == "price-unused"
    assert "2026-01-10 priced USD at ... EUR" in problem.hint
    assert figures.prices == ()


def test_rates_and_terms_are_no_prices_and_no_problems() -> None:
    """The rate of a currency has no metal, and terms alone have no price."""
    figures = work_out(book(prices=prices(of_dollar(0.92, "2026-01-01"), USUAL)))
    assert (figures.findings, figures.prices) == ((), ())
    assert [one.metal for one in figures.held_worth.terms] == ["silver"]


def test_a_price_that_was_written_as_a_range_has_the_doubt_of_a_range() -> None:
    """Between 0.9 and 1.1 a gram: 1.0 ± 0.1/√3, and 90 g are worth 90 ± 5.2."""
    only = silver_bar()
    between = replace(rate(1.0, "g"), base_u=0.1 / 3**0.5, low=0.9, high=1.1, u_basis="range")
    line = entry("priced", metal="silver", per=between, on="2026-01-01")
    worth = work_out(book(only, prices=prices(line))).runs[only.name].worth
    assert worth.value is not None
    assert worth.value.u == pytest.approx(90 * 0.1 / 3**0.5)


@pytest.mark.parametrize(
    ("terms", "says"),
    [
        (agreed("", payable=part(0.96)), "no date"),
        (agreed(payable=part(1.04)), "more than all of the metal"),
    ],
)
def test_terms_that_cannot_be_used_are_named_and_take_nothing_off(terms: Entry, says: str) -> None:
    """Undated terms, and those that would pay for more than there is."""
    only = silver_bar()
    kept = book(only, prices=prices(SILVER, terms))
    (problem,) = whole_book_findings(kept)
    assert (problem.code, says in problem.headline) == ("terms-unused", True)
    assert value(work_out(kept).runs[only.name].worth) == pytest.approx(90.0)


def test_a_charge_in_another_currency_counts_at_its_rate() -> None:
    """0.02 USD a gram at 0.50 is 0.01 EUR: 90 × 0.99 = 89.10."""
    only = silver_bar()
    terms = agreed(refining=rate(0.02, "g", "USD"))
    lines = prices(SILVER, terms, of_dollar(0.5, "2026-01-01"))
    assert value(work_out(book(only, prices=lines)).runs[only.name].worth) == pytest.approx(89.10)


def test_a_charge_without_a_rate_leaves_at_most_what_is_paid_before_it() -> None:
    """90 × 0.96 at most; the finding says which rate to write."""
    only = silver_bar()
    terms = agreed(payable=part(0.96), refining=rate(0.02, "g", "USD"))
    figures = work_out(book(only, prices=prices(SILVER, terms)))
    worth = figures.runs[only.name].worth
    assert not worth.known
    assert worth.high == pytest.approx(86.40)
    assert "USD" in worth.why
    (problem,) = figures.findings
    assert problem.code == "terms-no-rate"
    assert "priced USD at ... EUR" in problem.hint


def test_two_buyers_of_one_day_are_asked_about() -> None:
    """Only one can be reckoned with: the later written, and it says so."""
    only = silver_bar()
    lines = prices(SILVER, agreed(payable=part(0.9)), agreed(payable=part(0.8)))
    figures = work_out(book(only, prices=lines))
    assert [one.code for one in figures.findings] == ["terms-same-day"]
    assert value(figures.runs[only.name].worth) == pytest.approx(72.0)


# Sales


def sold(name: str = "2026-02-20-s", *labels: str, **more: Any) -> Run:
    """A run that only sells."""
    what = {"how_much": None, "what": "", **more}
    how_much, words = what.pop("how_much"), what.pop("what")
    return run(name, stage("Store", entry("sold", how_much, words, *labels, **what)))


def sale_of(*runs: Run, lines: tuple[Entry, ...] = (SILVER, USUAL)) -> Sale:
    """The one sale of a book."""
    figures: BookFigures = work_out(book(*runs, prices=prices(*lines)))
    (found,) = figures.sales
    return found


def test_a_sale_is_held_against_price_and_terms_with_the_lot_charge_once() -> None:
    """90 × 0.96 × 0.98 − 0.20 − 12 = 72.472; 70 came in: 2.472 less."""
    one = sale_of(silver_bar(), sold("2026-02-20-s", "BAR", cost=euros(70.0)))
    assert value(one.estimated) == pytest.approx(72.472)
    assert value(one.received) == pytest.approx(70.0)
    assert value(one.difference) == pytest.approx(-2.472)
    assert one.fee is None
    assert one.things == ("BAR",)
    assert one.difference is not None
    assert "the buyer paid less than price and terms of the day give" in one.difference.notes
    assert [term.name for term in one.estimated.terms] == ["worth of silver", "lot charge"]


def test_a_difference_within_the_doubt_says_nothing_of_the_buyer() -> None:
    """90 ± 2 g at 1.00: 3 EUR less than 90 is no more than twice 2 EUR."""
    made = melt("2026-02-11-a", g(100.0), silver=part(0.90, 0.02))
    one = sale_of(made, sold("2026-02-20-s", "BAR", cost=euros(87.0)), lines=(SILVER,))
    assert one.difference is not None
    assert one.difference.value is not None
    assert (one.difference.value.value, one.difference.value.u) == pytest.approx((-3.0, 2.0))
    assert "says nothing of the buyer" in one.difference.notes[0]
    assert any("no offer" in note for note in one.difference.notes)


def test_terms_of_a_sale_are_those_of_its_day() -> None:
    """Sold at 90 %; that the buyer paid 50 % a month later does not matter."""
    later = agreed("2026-03-20", payable=part(0.5))
    first = agreed("2026-01-01", payable=part(0.9))
    one = sale_of(
        silver_bar(), sold("2026-02-20-s", "BAR", cost=euros(81.0)), lines=(SILVER, first, later)
    )
    assert value(one.estimated) == pytest.approx(81.0)


def test_a_fee_is_kept_apart_from_what_was_received() -> None:
    """70 came in and 4 went for the sale: the difference is of the 70, and says so."""
    one = sale_of(silver_bar(), sold("2026-02-20-s", "BAR", cost=euros(70.0), fee=euros(4.0)))
    assert value(one.fee) == pytest.approx(4.0)
    assert value(one.difference) == pytest.approx(-2.472)
    assert one.difference is not None
    assert any("not in it" in note for note in one.difference.notes)


def test_a_fee_that_nobody_knows_is_not_known() -> None:
    """A fee of three per cent: there was one, and no figure of it."""
    some = replace(euros(0.0), value=None, base_value=None, note='a fee of "3 %" is no money')
    one = sale_of(silver_bar(), sold("2026-02-20-s", "BAR", cost=euros(70.0), fee=some))
    assert one.fee is not None
    assert (one.fee.value, one.fee.why) == (None, 'a fee of "3 %" is no money')


def test_a_sale_in_another_currency_counts_at_the_rate_of_its_day() -> None:
    """100 USD at 0.90 are 90 EUR; without a rate it is not known, and says why."""
    gone = sold("2026-02-20-s", "BAR", cost=dollars(100.0))
    paid = sale_of(silver_bar(), gone, lines=(SILVER, of_dollar(0.9, "2026-02-01")))
    assert value(paid.received) == pytest.approx(90.0)
    unknown = sale_of(silver_bar(), gone, lines=(SILVER,))
    assert not unknown.received.known
    assert "no rate" in unknown.received.why
    assert unknown.difference is not None
    assert not unknown.difference.known
    assert "no rate" in unknown.difference.why


def test_a_sale_by_the_gram_brings_weight_times_price() -> None:
    """100 ± 0.5 g at 0.80 EUR/g are 80 ± 0.4 EUR."""
    one = sale_of(silver_bar(100.0, 0.5), sold("2026-02-20-s", "BAR", per=rate(0.8, "g")))
    assert one.received.value is not None
    assert (one.received.value.value, one.received.value.u) == pytest.approx((80.0, 0.4))


def test_every_priced_metal_of_a_sold_piece_counts_and_the_dearest_names_it() -> None:
    """Silver 85 g at 1 and gold 10 g at 80 make 885; copper has no price and is not counted."""
    made = melt(
        "2026-02-11-a",
        g(100.0),
        ("silver", "gold"),
        silver=part(0.85),
        gold=part(0.10),
        copper=part(0.05),
    )
    lines = (SILVER, priced("gold", 80.0, "2026-01-01"))
    one = sale_of(made, sold("2026-02-20-s", "BAR", cost=euros(885.0)), lines=lines)
    assert value(one.estimated) == pytest.approx(885.0)
    assert (one.metal, value(one.fine)) == ("gold", pytest.approx(10.0))
    assert any("copper" in note for note in one.estimated.notes)


def test_a_sale_without_a_label_counts_what_its_line_says() -> None:
    """40 g of 90 % silver, at 1.00: 36 EUR."""
    made = {"how_much": g(40.0), "what": "silver shot", "holds": {"silver": part(0.9)}}
    one = sale_of(sold("2026-02-20-s", cost=euros(30.0), **made), lines=(SILVER,))
    assert (one.label, one.things, one.metal) == ("", (), "silver")
    assert (value(one.gross), value(one.fine)) == pytest.approx((40.0, 36.0))
    assert value(one.estimated) == pytest.approx(36.0)


def test_half_of_a_label_sells_half_of_its_metal() -> None:
    """Half of 90 g of silver: 45 g, 45 EUR at 1.00; the other half stays on the shelf."""
    half = run(
        "2026-02-20-s", stage("Store", entry("sold", None, "", "BAR", share=0.5, cost=euros(40.0)))
    )
    figures = work_out(book(silver_bar(), half, prices=prices(SILVER)))
    (one,) = figures.sales
    assert (value(one.gross), value(one.fine)) == pytest.approx((50.0, 45.0))
    assert value(one.estimated) == pytest.approx(45.0)
    (rest,) = figures.held_worth.things
    assert value(rest.worth) == pytest.approx(45.0)


def test_a_sale_without_a_price_is_estimated_and_not_received() -> None:
    """What was paid is not written: that is not nothing."""
    one = sale_of(silver_bar(), sold("2026-02-20-s", "BAR"), lines=(SILVER,))
    assert not one.received.known
    assert "not written" in one.received.why
    assert value(one.estimated) == pytest.approx(90.0)
    assert one.difference is not None
    assert not one.difference.known


def test_a_sale_before_any_price_has_no_estimate() -> None:
    """Money came in, and nothing tells what it should have been."""
    one = sale_of(
        silver_bar(),
        sold("2026-02-20-s", "BAR", cost=euros(70.0)),
        lines=(priced("silver", 1.0, "2026-03-01"),),
    )
    assert value(one.received) == pytest.approx(70.0)
    assert one.estimated.why == "no price of silver is noted up to that day"


def test_a_liquid_that_was_sold_has_no_weight_and_counts_its_metal() -> None:
    """2 L at 10 g/L hold 20 g of silver, whatever they weigh: 20 EUR without terms."""
    strong = amount(Dimension.CONCENTRATION, 10.0)
    made = entry("kept", litres(2.0), "silver solution", "LQ", holds={"silver": strong})
    first = run("2026-02-11-a", stage("Dissolve", entry("took", g(50.0), "scrap"), made))
    one = sale_of(first, sold("2026-02-20-s", "LQ", cost=euros(15.0)), lines=(SILVER,))
    assert not one.gross.known
    assert value(one.estimated) == pytest.approx(20.0)
    by_weight = sale_of(first, sold("2026-02-20-s", "LQ", cost=euros(15.0)))
    assert not by_weight.estimated.known


# Ages


def test_a_latest_price_says_its_age_only_where_it_is_stale() -> None:
    """41 days old on 11 February is stale; ten days are not."""
    only = silver_bar()

    def latest(on: str) -> Figure:
        line = priced("silver", 1.0, on)
        return work_out(book(only, prices=prices(line))).runs[only.name].worth_latest

    assert any("41 days old on 11 February 2026" in note for note in latest("2026-01-01").notes)
    assert not any("old" in note for note in latest("2026-02-01").notes)


def test_a_stale_limit_is_a_number_of_days() -> None:
    """Thirty days are not stale, thirty-one are."""
    from logbook.calculation.money.markets import is_stale

    assert not is_stale(date(2026, 1, 1), date(2026, 1, 31))
    assert is_stale(date(2026, 1, 1), date(2026, 2, 1))
    assert not is_stale(date(2026, 1, 1), None)
