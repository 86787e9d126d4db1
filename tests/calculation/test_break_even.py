"""The price and the head grade at which worth just covers all costs, against published sums."""

from __future__ import annotations

from dataclasses import replace

import pytest
from earned import doubt, made, metal, of, unknown, value
from uncertainties import ufloat

from logbook.calculation.figure import Figure
from logbook.calculation.money.break_even import COVERED, break_even_grade, break_even_price
from logbook.calculation.money.earnings import earnings_of
from logbook.calculation.money.inputs import Inputs

HOURS = of(1.0, "h")


def one_metal(grams: float, *costs: float, price: float = 1.0) -> Inputs:
    """So many grams of silver, and what they cost."""
    spent = {f"kind {at}": of(cost, "EUR") for at, cost in enumerate(costs)}
    return made({"silver": metal(of(grams, "g"), price)}, spent, HOURS)


@pytest.mark.parametrize(
    ("fixed", "each", "units", "price"),
    [(33_000.0, 9.25, 2_400.0, 23.0), (15_000.0, 11.0, 1_250.0, 23.0)],
)
def test_price_at_the_published_break_even_point(
    fixed: float, each: float, units: float, price: float
) -> None:
    """At the units where a price breaks even, all costs over the units are that price.

    Published, read: Small Business Management in the 21st Century (Saylor, open textbook), table
    10.1: 33,000 fixed and 9.25 a unit at 23.00 break even at 2,400 units, 15,000 and 11.00 at
    1,250 units.
    """
    inputs = one_metal(units, fixed, each * units, price=20.0)
    assert value(break_even_price(inputs, "silver")) == pytest.approx(price, abs=1e-9)


def test_the_price_does_not_rest_on_todays_price() -> None:
    """100 g that cost 80 need 0.80 a gram, whatever is paid for one now, or if nobody knows."""
    for price in (of(0.5, "EUR/g"), of(3.0, "EUR/g"), unknown("EUR/g")):
        inputs = made({"silver": metal(of(100.0, "g"), price)}, {"feed": of(80.0, "EUR")}, HOURS)
        assert value(break_even_price(inputs, "silver")) == pytest.approx(0.8)


# A settlement of copper concentrate with silver and gold, a tonne of it. Published, read: course
# worksheet "Condicion gral. de valorizacion", 8 June 2007 (copper 3801.82, silver 1077.35, gold
# 1117.58; metals 5996.76, after treatment 5820.39).
POUND = 1e4 / 22.046223  # g: a hundredth of a tonne has 22.046223 lb, as the sheet reckons
OUNCE = 31.1035  # g; it cancels out
SHORT = 1.10231  # short tons in a tonne, as the sheet has it
SHEET = {
    "copper": (330.44 / 100 / POUND, 10.5 / 100 / POUND, 0.55e6, 0.539e6),
    "silver": (13.2 / OUNCE, 0.34 / OUNCE, 80.0 * SHORT * OUNCE, 0.95 * 80.0 * SHORT * OUNCE),
    "gold": (655.25 / OUNCE, 8.5 / OUNCE, 1.8 * OUNCE, 0.96 * 1.8 * OUNCE),
}


def settlement(cost: float) -> Inputs:
    """The lot of the sheet, at some cost."""
    metals = {
        name: metal(of(fine, "g"), price, payable=of(payable, "g"), refining=refining)
        for name, (price, refining, fine, payable) in SHEET.items()
    }
    charge = of(160.0 * SHORT, "EUR")
    worth = of(value(metals["copper"].worth) - value(charge), "EUR")
    metals["copper"] = replace(metals["copper"], worth=worth, treatment=charge)
    return made(metals, {"feed": of(cost, "EUR")}, HOURS)


@pytest.mark.parametrize("name", list(SHEET))
def test_by_a_buyers_terms_the_price_of_the_sheet_covers_what_the_sheet_pays(name: str) -> None:
    """Costs of just what is paid break even at the price of the sheet, for each of its metals."""
    found = break_even_price(settlement(5820.39), name)
    assert value(found) == pytest.approx(SHEET[name][0], rel=2e-5)  # 5820.39 is rounded


def test_lead_by_a_least_deduction() -> None:
    """53.25 % of lead, 92 % or less 4 units paid at 0.723 a pound: 780.861 a tonne.

    Published, read: worksheet of lead and zinc concentrates, prices of 10 July 2009, with
    2204.59 lb in a tonne.
    """
    payable = of(0.4899e6, "g")
    lead = metal(of(0.5325e6, "g"), 1.0, payable=payable)
    inputs = made({"lead": lead}, {"feed": of(780.861, "EUR")}, HOURS)
    pound = 1e6 / 2204.59
    assert value(break_even_price(inputs, "lead")) * pound == pytest.approx(0.723, abs=1e-6)


def of_ore(
    cost: tuple[float, ...], recovery: float, price: float, grade: float, tonne: float
) -> Inputs:
    """A tonne of ore of some grade, its metal won in part and sold."""
    fine = of(tonne * grade * recovery, "g")
    spent = {f"kind {at}": of(one, "EUR") for at, one in enumerate(cost)}
    found = metal(fine, price, recovery=of(recovery, "g/g"))
    return made({"copper": found}, spent, HOURS, feed=of(tonne, "g"))


@pytest.mark.parametrize("grade", [0.001, 0.003968, 0.02])
def test_published_cut_off_grade_of_copper(grade: float) -> None:
    """Mining 500 and processing 2000 a tonne, recovery 70 %, 900 a kilogram: 0.40 %.

    Published, read: a question of the GATE examination in mining engineering with its solution
    (2500 / 630000 = 0.003968). It is the same whatever grade there was.
    """
    inputs = of_ore((500.0, 2000.0), 0.7, 0.9, grade, 1e6)
    assert value(break_even_grade(inputs, "copper")) == pytest.approx(0.003968, abs=5e-7)


def test_published_cut_off_grade_of_gold() -> None:
    """50 a tonne, 95 % of it won, 32 a gram: 1.65 g/t.

    Published, read: glossary of the course MINE 2504, "cut-off grade" (50 / 30.4 = 1.645).
    """
    inputs = of_ore((50.0,), 0.95, 32.0, 4e-6, 1e6)
    assert value(break_even_grade(inputs, "copper")) * 1e6 == pytest.approx(1.65, abs=0.0055)


def test_grade_by_terms() -> None:
    """By hand: 200 g are half paid at 2 less 0.5 of refining, so 0.75 a gram of fine metal.

    Of 1000 g of scrap, four fifths are won: 120 + 30 of treatment need 150 / (0.8 x 0.75 x 1000)
    = 0.25 of metal.
    """
    silver = metal(
        of(200.0, "g"),
        2.0,
        payable=of(100.0, "g"),
        refining=0.5,
        treatment=of(30.0, "EUR"),
        recovery=of(0.8, "g/g"),
    )
    inputs = made({"silver": silver}, {"feed": of(120.0, "EUR")}, HOURS, feed=of(1000.0, "g"))
    assert value(break_even_grade(inputs, "silver")) == pytest.approx(0.25)
    # and the price: (120 + 30) / 100 + 0.5
    assert value(break_even_price(inputs, "silver")) == pytest.approx(2.0)


def test_doubts_that_are_shared_count_once() -> None:
    """The product's weighing stands in its recovery too: it leaves the grade, as in uncertainties.

    g* = C H / (m p F) with recovery m / H: what is left is the doubt of H and of the cost.
    """
    m, h, c, f = ufloat(90.0, 2.0), ufloat(120.0, 3.0), ufloat(40.0, 4.0), ufloat(400.0, 1.0)
    expected = c / ((m / h) * 1.25 * f)
    fine, head = of(90.0, "g", 2.0, "bar"), of(120.0, "g", 3.0, "head")
    assert fine.value is not None and head.value is not None
    recovery = Figure("recovery", "g/g", fine.value / head.value)
    inputs = made(
        {"silver": metal(fine, 1.25, recovery=recovery)},
        {"reagent": of(40.0, "EUR", 4.0)},
        HOURS,
        feed=of(400.0, "g", 1.0),
    )
    found = break_even_grade(inputs, "silver")
    assert value(found) == pytest.approx(expected.n)
    assert doubt(found) == pytest.approx(expected.s)
    price = break_even_price(inputs, "silver")
    assert doubt(price) == pytest.approx((c / m).s)


def test_a_cost_that_is_not_known_makes_it_at_least() -> None:
    """80 and something more over 100 g: at least 0.80, and the reason is told."""
    costs = {"feed": of(80.0, "EUR"), "reagent": unknown("EUR")}
    found = break_even_price(made({"silver": metal(of(100.0, "g"), 1.0)}, costs, HOURS), "silver")
    assert (found.value, found.low, found.high) == (None, pytest.approx(0.8), None)
    assert found.why == "it was not written"


def test_a_weight_with_limits_gives_limits() -> None:
    """Cost 80 over 50 g to 100 g: between 0.80 and 1.60."""
    silver = metal(unknown("g", 50.0, 100.0), 1.0)
    found = break_even_price(made({"silver": silver}, {"feed": of(80.0, "EUR")}, HOURS), "silver")
    assert (found.low, found.high) == (pytest.approx(0.8), pytest.approx(1.6))


def test_where_all_else_pays_there_is_no_price() -> None:
    """Gold of 200 covers costs of 150: silver needs to bring nothing, and that is said."""
    metals = {"silver": metal(of(10.0, "g"), 1.0), "gold": metal(of(2.0, "g"), 100.0)}
    inputs = made(metals, {"feed": of(150.0, "EUR")}, HOURS)
    found = break_even_price(inputs, "silver")
    assert not found.known and found.why == COVERED and found.low is None
    # gold: (150 - 10) / 2
    assert value(break_even_price(inputs, "gold")) == pytest.approx(70.0)


def test_a_grade_needs_a_recovery_and_a_weight_of_scrap() -> None:
    """Without either it is not known, and says which is missing."""
    with_feed = made(
        {"silver": metal(of(9.0, "g"), 1.0)}, {"feed": of(5.0, "EUR")}, HOURS, feed=of(20.0, "g")
    )
    assert break_even_grade(with_feed, "silver").why == "no head is known"
    silver = metal(of(9.0, "g"), 1.0, recovery=of(0.9, "g/g"))
    without = made({"silver": silver}, {"feed": of(5.0, "EUR")}, HOURS)
    assert break_even_grade(without, "silver").why == "no feed was written"


def test_at_the_break_even_price_an_hour_earns_its_own_rate() -> None:
    """Sold at the price found, worth is cost: what is left for the hours is what they cost."""
    costs = {"feed": of(30.0, "EUR"), "labour": of(60.0, "EUR")}
    inputs = made({"silver": metal(of(120.0, "g"), 1.0)}, costs, of(3.0, "h"))
    price = value(break_even_price(inputs, "silver"))
    again = made({"silver": metal(of(120.0, "g"), price)}, costs, of(3.0, "h"))
    assert value(earnings_of(again).per_hour) == pytest.approx(20.0)
