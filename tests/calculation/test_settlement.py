"""Settlements as course sheets and traders publish them, worked out again step by step.

Prices and weights stand in the units of each sheet: the arithmetic does not care.
"""

from __future__ import annotations

from datetime import date

import pytest
from build import entry

from logbook.calculation.figure import Figure
from logbook.calculation.money.settlement import (
    after_treatment,
    bears_treatment,
    lot_charge,
    paid_for,
    payable_metal,
    price_as_metal,
    settled,
)
from logbook.calculation.results import BuyerTerms
from logbook.model.amount import Uncertain

POUNDS = 22.046223  # cents per pound to dollars per tonne, as sheet A has it
SHORT_TON = 1.10231  # short tons in a tonne, as sheet A has it
TROY_OUNCE = 31.1035  # g, as the sheets have it


def exact(unit: str, value: float) -> Figure:
    """A figure without a doubt."""
    return Figure("figure", unit, Uncertain(value))


def about(unit: str, value: float, u: float) -> Figure:
    """A figure with a doubt of its own."""
    return Figure("figure", unit, Uncertain.of(value, u, object()))


def agreed(
    metal: str = "silver",
    payable: float = 1.0,
    deduction: float | None = None,
    treatment: float | None = None,
    refining: float | None = None,
    lot: float | None = None,
) -> BuyerTerms:
    """A buyer's terms, with no charge but those that are given."""

    def one(unit: str, value: float | None) -> Figure | None:
        return None if value is None else exact(unit, value)

    return BuyerTerms(
        metal,
        date(2026, 1, 1),
        exact("g/g", payable),
        one("g/g", deduction),
        one("EUR/g", treatment),
        one("EUR/g", refining),
        one("EUR", lot),
        entry("priced", metal=metal),
    )


def value(figure: Figure | None) -> float:
    """The value of a figure that must be known."""
    assert figure is not None and figure.value is not None
    return figure.value.value


def pay(metal: str, assay: float, price: float, terms: BuyerTerms) -> Figure:
    """What is paid for one metal in one unit of weight of material."""
    return paid_for(metal, exact("g", assay), exact("g", 1.0), exact("EUR/g", price), terms)


# Sheet A: copper concentrate with silver and gold, course sheet "Condicion general de
# valorizacion" of 8 June 2007 (scribd 342095509): metal payments, treatment, penalties, to the
# net value of the lot. The penalties are steps of impurities, and are done here by hand.
COPPER = agreed("copper", deduction=0.011, refining=10.5 * POUNDS)
SILVER = agreed("silver", payable=0.95, refining=0.34)
GOLD = agreed("gold", payable=0.96, refining=8.5)
TREATED = agreed("copper", treatment=160.0 * SHORT_TON)


def sheet_a() -> list[Figure]:
    """What sheet A pays for each metal in a dry tonne."""
    return [
        pay("copper", 0.55, 330.44 * POUNDS, COPPER),
        pay("silver", 80.0 * SHORT_TON, 13.2, SILVER),
        pay("gold", 1.8, 655.25, GOLD),
    ]


@pytest.mark.parametrize(("at", "printed"), [(0, 3801.82), (1, 1077.35), (2, 1117.58)])
def test_a_copper_concentrate_pays_for_each_metal_as_printed(at: int, printed: float) -> None:
    """Unit deduction, refining charge by the pound, and shares of silver and gold: sheet A."""
    assert value(sheet_a()[at]) == pytest.approx(printed, abs=0.005)


def test_a_copper_concentrate_settles_to_the_printed_net_value() -> None:
    """Metals 5996.76, after treatment 5820.39, less 28.25 of penalties 5792.14, times the net
    dry weight 548.3374 t: 3,176,045.71, all printed on sheet A.
    """
    copper, *precious = sheet_a()
    treated = after_treatment("copper", copper, exact("g", 1.0), TREATED)
    metals = settled("worth", "EUR", sheet_a(), None)
    net = settled("worth", "EUR", [treated, *precious], None)
    assert value(metals) == pytest.approx(5996.76, abs=0.005)
    assert value(net) == pytest.approx(5820.39, abs=0.005)
    arsenic = (4.5 - 3.0) * 1.5 + (6.5 - 4.5) * 2.0
    bismuth, mercury = (0.7 - 0.1) / 0.1 * 2.0, (150 - 50) / 50 * 5.0
    assert (arsenic, bismuth, mercury) == pytest.approx((6.25, 12.0, 10.0))
    dry = 600.15 * (1 - 0.0785)
    lost_on_the_way = dry * 0.0085
    per_tonne = value(net) - arsenic - bismuth - mercury
    assert dry == pytest.approx(553.04, abs=0.005)
    assert dry - lost_on_the_way == pytest.approx(548.3374, abs=0.00005)
    assert per_tonne == pytest.approx(5792.14, abs=0.005)
    assert per_tonne * (dry - lost_on_the_way) == pytest.approx(3176045.71, abs=0.005)


# Sheet B: lead and zinc concentrates with silver, course and plant sheet at prices of 10 July
# 2009 (scribd 382646299): a share or a least deduction, whichever pays less. 2204.59 lb to the
# tonne. Units are per cent of a tonne, or ounces in it.
SHEET_B = [
    # assay, pay, least deduction, price of a unit; payable and value as printed
    ("lead", 53.25, 0.92, 4.0, 0.723 * 22.0459, 48.99, 780.861),
    ("silver", 98.55, 0.90, 70 / TROY_OUNCE, 12.47, 88.7, 1106.027),
    ("zinc", 51.3, 0.85, 8.0, 0.6681 * 22.0459, 43.3, 637.76),
    ("silver", 6.01, 0.60, 4.0, 12.47, 2.01, 25.065),
]


@pytest.mark.parametrize(("metal", "assay", "share", "least", "price", "printed", "worth"), SHEET_B)
def test_a_share_or_a_least_deduction_whichever_pays_less(
    metal: str,
    assay: float,
    share: float,
    least: float,
    price: float,
    printed: float,
    worth: float,
) -> None:
    """Two are paid by share and two by deduction; payable metal and value as sheet B prints."""
    terms = agreed(metal, payable=share, deduction=least)
    payable = payable_metal(metal, exact("g", assay), exact("g", 1.0), terms)
    assert value(payable) == pytest.approx(printed, abs=0.006)
    assert value(pay(metal, assay, price, terms)) == pytest.approx(worth, abs=0.001)


def test_a_lead_concentrate_with_silver_and_gold_settles_as_printed() -> None:
    """Exercise sheet "valorizacion" (scribd 389808662), first example: 1000 t wet, 2 % moisture.

    One unit of lead is deducted and 95 % of the rest paid for. Printed in dollars per tonne:
    778.6239, 362.9543 and 1231.5943, together 2373.1725; less 195 for treatment and 10 of
    penalties, times 980 t of which 2 % are lost: 2,082,312.869.
    """
    ton = 1.1023
    paid = [
        pay("lead", 0.48 - 0.01, 82.60 * 20 * ton, agreed("lead", 0.95, refining=3.5 * 20 * ton)),
        pay("silver", 20 * ton, 17.68, agreed("silver", 0.95, refining=0.35)),
        pay("gold", 1 * ton, 1186.10, agreed("gold", 0.95, refining=10.0)),
    ]
    assert [value(one) for one in paid] == pytest.approx([778.6239, 362.9543, 1231.5943], abs=5e-5)
    terms = agreed("lead", treatment=195.0)
    lead = after_treatment("lead", paid[0], exact("g", 1.0), terms)
    tonne = settled("worth", "EUR", [lead, *paid[1:]], None)
    assert value(settled("worth", "EUR", paid, None)) == pytest.approx(2373.1725, abs=5e-5)
    penalties, net_weight = 4 + 6, 980 * 0.98
    assert (value(tonne) - penalties) * net_weight == pytest.approx(2082312.869, abs=0.05)


def test_a_zinc_concentrate_settles_as_printed() -> None:
    """Sheet "Calculo de valor de concentrado" (scribd 515649007): 200 t wet, 10 % moisture, half
    a per cent lost: 179.1 t. 85 % of the zinc is paid for, 76.12 t at 1000; silver above five
    ounces at 90 % and two dollars less: 7092; treatment 25,074. With escalator 1791 and penalty
    806 the value is 55,541.
    """
    weight = 200 * 0.9 * 0.995
    assert weight == pytest.approx(179.10)
    terms = agreed("zinc", 0.85, treatment=140.0)
    zinc = paid_for(
        "zinc", exact("g", 0.5 * weight), exact("g", weight), exact("EUR/g", 1000.0), terms
    )
    ounces = exact("g", (9 - 5) * weight)
    more = agreed("silver", 0.90, refining=2.0)
    silver = paid_for("silver", ounces, exact("g", weight), exact("EUR/g", 13.0), more)
    treated = after_treatment("zinc", zinc, exact("g", weight), terms)
    assert value(payable_metal("zinc", exact("g", 89.55), exact("g", weight), terms)) == (
        pytest.approx(76.12, abs=0.005)
    )
    assert value(silver) == pytest.approx(7092, abs=0.5)
    assert value(zinc) - value(treated) == pytest.approx(25074, abs=0.5)
    net = value(settled("worth", "EUR", [treated, silver], None))
    escalator, penalty = 0.10 * (1000 - 900) * weight, 1.5 * 3 * weight
    assert (escalator, penalty) == pytest.approx((1791, 806), abs=0.5)
    assert net - escalator - penalty == pytest.approx(55541, abs=4)  # it rounds 76.12 t first


def test_a_bar_of_gold_pays_for_as_many_ounces_as_printed() -> None:
    """A gold trader's worked settlement: 24.96 kg at 91.3 % hold 22.79 kg or 732.7 ozt; at 99 %
    payable 22.56 kg or 725.4 ozt (kaizengold.com, "The gold refinery settlement process").
    """
    fine = 24960 * 0.913
    payable = payable_metal("gold", exact("g", fine), exact("g", 24960.0), agreed("gold", 0.99))
    assert fine / TROY_OUNCE == pytest.approx(732.7, abs=0.05)
    assert value(payable) / 1000 == pytest.approx(22.56, abs=0.005)
    assert value(payable) / TROY_OUNCE == pytest.approx(725.4, abs=0.07)  # of the rounded 732.7


# A bar of 100 g of silver 92.5 ± 0.3 %, 1 EUR/g, by hand.


def test_doubt_of_the_assay_reaches_what_is_paid_and_charges_add_none() -> None:
    """92.5 g × 0.96 × (1 − 0.02) less 100 g × 0.002 and 12: 74.824 ± 0.3 × 0.96 × 0.98."""
    terms = agreed(payable=0.96, treatment=0.002, refining=0.02, lot=12.0)
    weight, fine = exact("g", 100.0), about("g", 92.5, 0.3)
    paid = paid_for("silver", fine, weight, exact("EUR/g", 1.0), terms)
    treated = after_treatment("silver", paid, weight, terms)
    worth = settled("worth", "EUR", [treated], lot_charge({"silver": terms}))
    assert worth.value is not None
    assert worth.value.value == pytest.approx(92.5 * 0.96 * 0.98 - 0.2 - 12.0)
    assert worth.value.u == pytest.approx(0.3 * 0.96 * 0.98)


def test_one_weighing_counts_once_in_fine_weight_and_deduction() -> None:
    """Fine weight w a less d w: with w = 100 ± 1 g, a = 0.925 and d = 0.05, u is 1 × 0.875 g."""
    weighing = Uncertain.of(100.0, 1.0, "the weighing")
    fine, weight = Figure("fine", "g", weighing.times(0.925)), Figure("weight", "g", weighing)
    payable = payable_metal("silver", fine, weight, agreed(payable=0.98, deduction=0.05))
    assert payable.value is not None
    assert (payable.value.value, payable.value.u) == pytest.approx((87.5, 0.875))


def test_less_than_the_deduction_is_not_paid_for() -> None:
    """0.05 % of silver less a deduction of 0.1 % is nothing, and no debt."""
    payable = payable_metal("silver", exact("g", 0.05), exact("g", 100.0), agreed(deduction=0.001))
    assert value(payable) == 0.0
    assert "deduction" in payable.notes[0]


def test_limits_of_a_content_are_limits_of_what_is_paid() -> None:
    """Between 2 and 10 g in 100 g, 90 % or less 1 g, whichever is less: 1 to 9 g, so 2 to 18."""
    fine = Figure("fine", "g", why="it was not assayed", low=2.0, high=10.0)
    terms = agreed(payable=0.90, deduction=0.01)
    paid = paid_for("silver", fine, exact("g", 100.0), exact("EUR/g", 2.0), terms)
    assert not paid.known
    assert (paid.low, paid.high) == pytest.approx((2.0, 18.0))
    assert paid.why == "it was not assayed"


def test_an_unknown_upper_limit_stays_unknown() -> None:
    """Nothing bounds what a filter holds that nobody assayed."""
    fine = Figure("fine", "g", why="it was not assayed", low=0.0)
    paid = paid_for("silver", fine, exact("g", 100.0), exact("EUR/g", 2.0), agreed(payable=0.9))
    assert (paid.value, paid.low, paid.high) == (None, 0.0, None)


def test_a_weight_that_is_not_known_leaves_a_deduction_open() -> None:
    """9 g of 10 g are paid for at most: how much more is deducted hangs on the weight."""
    weight = Figure("weight", "g", why="it was not weighed", low=10.0)
    terms = agreed(payable=0.9, deduction=0.01)
    payable = payable_metal("silver", exact("g", 10.0), weight, terms)
    assert payable.why == "it was not weighed"
    assert payable.high == pytest.approx(9.0)


def test_a_charge_that_falls_on_the_whole_is_taken_once() -> None:
    """Gold and silver of one lot with 12 and 9 a lot, 2 and 3 per kg: 12 and 3 are charged."""
    both = {
        "gold": agreed("gold", lot=12.0, treatment=0.002),
        "silver": agreed("silver", lot=9.0, treatment=0.003),
    }
    none = {"silver": agreed()}
    assert value(lot_charge(both)) == 12.0
    assert bears_treatment(both) == "silver"
    assert lot_charge(none) is None
    assert bears_treatment(none) == ""


def test_as_pure_metal_a_gram_pays_share_less_refining_and_treatment() -> None:
    """min(0.98, 1 − 0.05) × (1.00 − 0.02) − 0.002 = 0.929 for a gram, by hand."""
    terms = agreed(payable=0.98, deduction=0.05, treatment=0.002, refining=0.02)
    assert value(price_as_metal("silver", exact("EUR/g", 1.0), terms)) == pytest.approx(0.929)
    assert value(price_as_metal("silver", exact("EUR/g", 1.0), None)) == 1.0
    dear = agreed(treatment=5.0)
    assert value(price_as_metal("silver", exact("EUR/g", 1.0), dear)) == 0.0


def test_a_lot_may_cost_more_than_it_brings() -> None:
    """1 g of silver at 1 EUR with 12 EUR a lot: a loss of 11, as it would be settled."""
    paid = pay("silver", 1.0, 1.0, agreed())
    assert value(settled("worth", "EUR", [paid], exact("EUR", 12.0))) == pytest.approx(-11.0)
