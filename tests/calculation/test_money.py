"""Costs, prices, worth, sales and purity."""

from __future__ import annotations

from dataclasses import replace

import pytest
from build import (
    amount,
    book,
    entry,
    euros,
    g,
    hours,
    litres,
    page,
    part,
    priced,
    rate,
    run,
    stage,
    worked,
)

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import RunFigures
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run, Status

ACID = page(
    "supplies",
    entry(
        "bought",
        litres(10.0),
        "nitric acid",
        reagent="nitric acid",
        strength=part(0.68),
        cost=euros(80.0),
        on="2026-01-01",
    ),
    entry(
        "bought",
        litres(10.0),
        "nitric acid",
        reagent="nitric acid",
        strength=part(0.68),
        cost=euros(85.0),
        on="2026-02-01",
    ),
    entry(
        "bought",
        litres(20.0),
        "nitric acid",
        reagent="nitric acid",
        strength=part(0.68),
        cost=euros(168.0),
        on="2026-03-01",
    ),
)


def value(figure: Figure) -> float:
    """The value of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def line(figures: RunFigures, kind: str) -> Figure:
    """The cost of one kind."""
    (found,) = [one.amount for one in figures.costs if one.kind == kind]
    return found


def acid(volume: float | None, u: float = 0.0) -> Entry:
    """Nitric acid of 68 % that was added."""
    return entry(
        "added", litres(volume, u), "nitric acid", reagent="nitric acid", strength=part(0.68)
    )


def dissolved(name: str, *entries: Entry, status: Status = Status.FINISHED) -> Run:
    """A run of one stage."""
    return run(name, stage("Dissolve", *entries), status=status)


@pytest.mark.parametrize(
    ("day", "average"), [("2026-01-15", 8.0), ("2026-02-15", 8.25), ("2026-03-15", 8.325)]
)
def test_supplies_cost_the_average_of_what_was_bought_up_to_the_day(
    day: str, average: float
) -> None:
    """By hand: 80/10 = 8.00, (80 + 85)/20 = 8.25, (80 + 85 + 168)/40 = 8.325 per litre."""
    only = dissolved(f"{day}-a", acid(0.65))
    figures = work_out(book(only, supplies=ACID)).runs[only.name]
    assert value(line(figures, "reagent")) == pytest.approx(0.65 * average)


def test_a_reagent_of_another_strength_has_no_price() -> None:
    """Nothing is known of what 53 % costs where only 68 % was bought; the total is at least."""
    weak = entry("added", litres(1.0), "nitric acid", reagent="nitric acid", strength=part(0.53))
    only = dissolved("2026-03-15-a", acid(1.0), weak, worked(2.0))
    figures = work_out(book(only, supplies=ACID, hour=20.0)).runs[only.name]
    assert not figures.cost.known
    assert figures.cost.low == pytest.approx(8.325 + 40.0)
    assert "nitric acid" in figures.cost.why


def test_an_unknown_amount_used_costs_at_least_nothing() -> None:
    """Some acid is a cost that is not known, not a cost of zero."""
    only = dissolved("2026-03-15-a", acid(None))
    figures = work_out(book(only, supplies=ACID)).runs[only.name]
    assert not figures.cost.known
    assert figures.cost.why == "how much nitric acid 0.68 g/g was used is not written"


def test_the_doubt_of_a_volume_reaches_the_cost() -> None:
    """1 ± 0.03 L at 8.325 per litre cost 8.325 ± 0.25."""
    only = dissolved("2026-03-15-a", acid(1.0, 0.03))
    reagent = line(work_out(book(only, supplies=ACID)).runs[only.name], "reagent")
    assert reagent.value is not None
    assert reagent.value.u == pytest.approx(0.03 * 8.325)


def test_a_rinse_until_clear_uses_at_least_what_is_written() -> None:
    """A rinse with 200 mL until clear uses at least 200 mL, nobody knows how much more."""
    water = Portion(litres(0.2).span, litres(0.2), "distilled water", reagent="distilled water")
    until = replace(entry("rinsed"), supplies=(water,), repeats=None)
    figures = work_out(book(dissolved("2026-03-16-b", until))).runs
    used = figures["2026-03-16-b"].reagents[0].used
    assert (used.value, used.low) == (None, pytest.approx(0.2))


def test_tap_water_is_free_and_says_so() -> None:
    """Tap water that was never bought is counted as free; distilled water is not."""

    def of(name: str) -> Entry:
        return entry("added", litres(1.0), name, reagent=name)

    runs = (
        dissolved("2026-01-01-a", of("tap water")),
        dissolved("2026-01-02-b", of("distilled water")),
    )
    figures = work_out(book(*runs)).runs
    assert value(figures["2026-01-01-a"].cost) == 0.0
    assert "free" in line(figures["2026-01-01-a"], "reagent").notes[0]
    assert not figures["2026-01-02-b"].cost.known


def test_labour_is_hours_times_the_worth_of_an_hour() -> None:
    """3 h at 20 an hour are 60; without a worth of an hour the total says that none is in it."""
    only = dissolved("2026-01-01-a", worked(3.0))
    assert value(work_out(book(only, hour=20.0)).runs[only.name].cost) == pytest.approx(60.0)
    unpriced = work_out(book(only)).runs[only.name].cost
    assert any("hours are not priced" in note for note in unpriced.notes)


def test_hours_not_known_leave_the_cost_at_least_the_rest() -> None:
    """With a worth of an hour and no hours noted, the cost is not known."""
    only = dissolved("2026-03-15-a", acid(1.0))
    cost = work_out(book(only, supplies=ACID, hour=20.0)).runs[only.name].cost
    assert not cost.known
    assert cost.low == pytest.approx(8.325)
    assert cost.why == "no time was noted"


def test_energy_counts_only_where_a_power_is_written() -> None:
    """1.5 kW for 2 h at 0.30 per kWh are 0.90."""
    power = amount(Dimension.POWER, 1500.0)
    heated = entry("heated", conditions=(power,), duration=hours(2.0))
    only = dissolved("2026-01-01-a", heated)
    figures = work_out(book(only, tariff=0.30)).runs[only.name]
    assert value(line(figures, "energy")) == pytest.approx(0.90)
    plain = dissolved("2026-01-01-a", entry("heated", duration=hours(2.0)))
    kinds = [one.kind for one in work_out(book(plain, tariff=0.30)).runs[plain.name].costs]
    assert "energy" not in kinds


def test_breakage_and_other_money_are_added_and_in_all_is_left_aside() -> None:
    """A dish for 12 and 5 spent are 17; 40 spent in all is not counted again."""
    only = dissolved(
        "2026-01-01-a",
        entry("broke", None, "dish", cost=euros(12.0)),
        entry("spent", None, "post", cost=euros(5.0)),
        entry("spent", None, "", cost=euros(40.0), in_all=True),
    )
    figures = work_out(book(only)).runs[only.name]
    assert value(figures.cost) == pytest.approx(17.0)
    assert any("in all" in note for note in figures.cost.notes)


def test_a_dish_without_a_price_is_a_cost_not_known() -> None:
    """What broke and has no price makes the total at least the rest."""
    only = dissolved("2026-01-01-a", entry("broke", None, "dish"))
    assert not work_out(book(only)).runs[only.name].cost.known


def test_the_scrap_costs_its_price_a_gift_nothing_and_an_unpriced_one_is_not_known() -> None:
    """Feed counts in the cost with feed only."""
    paid = dissolved("2026-01-01-a", entry("took", g(10.0), "scrap", cost=euros(30.0)))
    gift = dissolved("2026-01-02-b", entry("took", g(10.0), "scrap", cost=euros(0.0)))
    would = dissolved(
        "2026-01-03-c", entry("took", g(10.0), "scrap", cost=euros(20.0), would_cost=True)
    )
    none = dissolved("2026-01-04-d", entry("took", g(10.0), "scrap"))
    figures = work_out(book(paid, gift, would, none)).runs
    assert value(figures["2026-01-01-a"].cost) == 0.0
    assert value(figures["2026-01-01-a"].cost_with_feed) == pytest.approx(30.0)
    assert value(figures["2026-01-02-b"].cost_with_feed) == 0.0
    assert value(figures["2026-01-03-c"].cost_with_feed) == pytest.approx(20.0)
    assert figures["2026-01-04-d"].cost_with_feed.why == "no price was noted for the scrap"


def test_a_draw_costs_its_share_of_the_lot() -> None:
    """A fifth of a lot of 300 costs 60."""
    lot = page(
        "supplies", entry("bought", g(500.0), "sweeps", "LOT", cost=euros(300.0), on="2026-01-01")
    )
    only = dissolved("2026-02-01-a", entry("took", g(100.0), "", source="LOT"))
    figures = work_out(book(only, supplies=lot)).runs[only.name]
    assert value(line(figures, "feed")) == pytest.approx(60.0)


def test_the_rest_of_a_lot_costs_its_share_too() -> None:
    """After a fifth of a lot of 300 was drawn, the rest costs 240."""
    lot = page(
        "supplies",
        entry("bought", g(500.0), "sweeps", "LOT", cost=euros(300.0), on="2026-01-01"),
    )
    first = dissolved("2026-02-01-a", entry("took", g(100.0), "", source="LOT"))
    rest = dissolved("2026-02-02-b", entry("took", None, "", "LOT"))
    figures = work_out(book(first, rest, supplies=lot)).runs["2026-02-02-b"]
    assert value(line(figures, "feed")) == pytest.approx(240.0)


def test_money_in_another_currency_is_not_added() -> None:
    """Dollars in a book of euros are named and not counted."""
    dollars = replace(euros(12.0), currency="USD")
    only = dissolved("2026-01-01-a", entry("spent", None, "post", cost=dollars))
    figures = work_out(book(only)).runs[only.name]
    assert not figures.cost.known
    assert "USD" in figures.cost.why


PRICES = page(
    "prices",
    priced("silver", 1.00, "2026-01-01"),
    priced("silver", 1.10, "2026-02-01"),
    priced("silver", 1.50, "2026-06-01"),
)


def bar(name: str, mass: float, *more: Entry) -> Run:
    """A run that got a bar of pure silver from scrap that was a gift."""
    return run(
        name,
        stage(
            "Melt",
            entry("took", g(200.0), "scrap", cost=euros(0.0)),
            *more,
            entry("got", g(mass), "silver bar", "AG", holds={"silver": part(1.0)}),
        ),
    )


def test_worth_is_counted_at_the_price_of_the_last_day_and_at_the_latest() -> None:
    """100 g on 11 February at 1.10 (10 days old) are 110, at the latest price 150."""
    only = bar("2026-02-11-a", 100.0, worked(2.0))
    figures = work_out(book(only, prices=PRICES, hour=20.0)).runs[only.name]
    assert value(figures.worth) == pytest.approx(110.0)
    assert any("10 days old" in note for note in figures.worth.notes)
    assert value(figures.worth_latest) == pytest.approx(150.0)
    assert value(figures.net) == pytest.approx(110.0 - 40.0)
    assert value(figures.net_per_hour) == pytest.approx(35.0)


def test_before_the_first_price_there_is_no_worth() -> None:
    """No price up to the run's day: the worth is not known, at the latest price it is."""
    only = bar("2025-12-01-a", 100.0)
    figures = work_out(book(only, prices=PRICES)).runs[only.name]
    assert not figures.worth.known
    assert value(figures.worth_latest) == pytest.approx(150.0)


def test_a_failed_run_made_nothing_and_an_open_one_nothing_yet() -> None:
    """A finished run without a product is worth nothing, an open one is not known."""
    failed = dissolved("2026-02-11-a", entry("took", g(1.0), "scrap"), status=Status.ABANDONED)
    still = dissolved("2026-02-12-b", entry("took", g(1.0), "scrap"), status=Status.OPEN)
    figures = work_out(book(failed, still, prices=PRICES)).runs
    assert value(figures["2026-02-11-a"].worth) == 0.0
    assert not figures["2026-02-12-b"].worth.known


def test_a_price_without_a_date_or_in_another_currency_is_an_error() -> None:
    """Prices that cannot be used are named, and cost only themselves."""
    wrong = page(
        "prices",
        entry("priced", metal="silver", per=rate(1.0, "g")),
        priced("silver", 1.0, "2026-01-01", currency="USD"),
        priced("silver", 1.2, "2026-01-02"),
    )
    figures = work_out(book(prices=wrong))
    assert [one.code for one in figures.findings] == ["price-unused", "price-unused"]
    assert [value(one.price) for one in figures.prices] == [1.2]


def test_a_sale_tells_fine_weight_money_and_what_was_expected() -> None:
    """A bar of 100 g fine sold for 105 when 110 was to be expected."""
    sale = run("2026-02-20-s", stage("Store", entry("sold", None, "", "AG", cost=euros(105.0))))
    figures = work_out(book(bar("2026-02-11-a", 100.0), sale, prices=PRICES))
    (sold,) = figures.sales
    assert (sold.label, sold.metal, sold.run) == ("AG", "silver", "2026-02-20-s")
    assert value(sold.gross) == pytest.approx(100.0)
    assert value(sold.fine) == pytest.approx(100.0)
    assert value(sold.received) == pytest.approx(105.0)
    assert value(sold.estimated) == pytest.approx(110.0)
    assert [thing.key for thing in figures.shelf] == []


@pytest.mark.parametrize(
    ("more", "evidence"),
    [
        ({"method": "density"}, "by density"),
        ({}, "as claimed: no method is written"),
    ],
)
def test_purity_names_its_evidence(more: dict[str, str], evidence: str) -> None:
    """A fineness stands with the method that gave it, or as the writer's claim."""
    only = run(
        "2026-01-01-a",
        stage("Melt", entry("got", g(10.0), "silver bar", holds={"silver": part(0.925)}, **more)),
    )
    (purity,) = work_out(book(only)).runs[only.name].purities
    assert value(purity) == pytest.approx(0.925)
    assert purity.notes == (evidence,)


def test_a_mark_is_a_mark() -> None:
    """Karat is evidence by mark."""
    karat = replace(part(14 / 24), unit="kt")
    only = run(
        "2026-01-01-a",
        stage("Melt", entry("got", g(10.0), "gold bar", holds={"gold": karat})),
        metals=("gold",),
    )
    (purity,) = work_out(book(only)).runs[only.name].purities
    assert purity.notes[0].startswith("by mark")


def test_a_bar_never_assayed_has_no_purity() -> None:
    """A product is not fine because it is called so."""
    only = run("2026-01-01-a", stage("Melt", entry("got", g(10.0), "fine silver bar")))
    (purity,) = work_out(book(only)).runs[only.name].purities
    assert not purity.known
    assert purity.why == "the fineness of the fine silver bar was never measured"


def test_opening_stock_counts_at_the_price_that_is_written_for_it() -> None:
    """What was there at first is a purchase: 3.20 and 4.80 for a litre each are 4.00 on average.

    A quarter of a litre costs 0.80 of the opening stock alone, and 1.00 after the purchase.
    """

    def acid(action: str, cost: float | None, on: str = "") -> Entry:
        paid = None if cost is None else euros(cost)
        return entry(action, litres(1.0), "acid", reagent="nitric acid", cost=paid, on=on)

    def spent(*entries: Entry) -> Figure:
        used = entry("added", litres(0.25), "acid", reagent="nitric acid")
        one = run("2026-02-01-a", stage("Leach", used))
        return work_out(book(one, supplies=page("supplies", *entries))).runs[one.name].cost

    assert value(spent(acid("had", 3.2))) == pytest.approx(0.80)
    assert value(spent(acid("had", 3.2), acid("bought", 4.8, "2026-01-05"))) == pytest.approx(1.00)
    assert not spent(acid("had", None)).known


def test_a_run_that_only_sells_made_nothing_and_lost_nothing() -> None:
    """Worth, net and yield of it are empty; the money is the sale's, the fare counts in sums.

    By hand: 100 g at 1.10 are 110 worth to the run that made the bar; 5 for the bus are
    spent by the run that sold it, so that the year keeps 105.
    """
    away = stage(
        "Assay",
        entry("sold", None, "", "AG", cost=euros(100.0)),
        entry("spent", cost=euros(5.0), words="on the bus"),
        worked(1.0),
    )
    made, selling = bar("2026-02-11-a", 100.0), run("2026-02-12-b", away)
    figures = work_out(book(made, selling, prices=PRICES))
    one = figures.runs[selling.name]
    for figure in (one.worth, one.worth_latest, one.net, one.net_per_hour):
        assert not figure.known and figure.why == "nothing was made here"
        assert figure.low is None and figure.high is None
    assert not one.mass_yield.known
    assert value(one.cost) == pytest.approx(5.0)
    assert value(figures.sales[0].received) == pytest.approx(100.0)
    (year,) = [total for total in figures.totals if total.period == "2026"]
    assert value(year.net) == pytest.approx(105.0)


def test_an_abandoned_run_has_no_product_and_lost_its_costs() -> None:
    """Worth nothing, and says that there is no product; net is what was spent, and per hour."""
    failed = run(
        "2026-02-11-a",
        stage(
            "Dissolve",
            entry("took", g(10.0), "scrap", cost=euros(20.0)),
            entry("spent", cost=euros(4.0), words="on gloves"),
            worked(2.0),
        ),
        status=Status.ABANDONED,
    )
    figures = work_out(book(failed, prices=PRICES)).runs[failed.name]
    assert value(figures.worth) == 0.0
    assert "the run made no product" in figures.worth.notes
    assert value(figures.net) == pytest.approx(-24.0)
    assert value(figures.net_per_hour) == pytest.approx(-12.0)
    assert figures.mass_yield.why == "no product weight was written"


@pytest.mark.parametrize(
    ("watts", "time", "tariff", "cost"),
    [
        # OpenStax, College Physics, "Calculating Energy Costs": a 0.200 kW computer, 6.00 h a
        # day for 30.0 days, at 0.120 per kWh: E = 36.0 kWh; 36.0 × 0.120 = 4.32 by hand.
        (200.0, 180.0, 0.120, 4.32),
        # U.S. DOE, estimating appliance energy use: a window fan of 200 W, 4 h a day for
        # 120 days: 96 kWh; at 8.5 cents 8.16.
        (200.0, 480.0, 0.085, 8.16),
    ],
)
def test_energy_costs_as_in_published_examples(
    watts: float, time: float, tariff: float, cost: float
) -> None:
    """Power times hours times what a kilowatt-hour costs."""
    power = amount(Dimension.POWER, watts)
    heated = entry("heated", conditions=(power,), duration=hours(time))
    only = dissolved("2026-01-01-a", heated)
    figures = work_out(book(only, tariff=tariff)).runs[only.name]
    assert value(line(figures, "energy")) == pytest.approx(cost)


def test_the_doubt_of_a_range_of_time_stays_in_the_money() -> None:
    """1 kW for 2 to 3 h at 0.30 is 0.75, and 0.5/√3 h × 0.30 = 0.0866 either way."""
    power = amount(Dimension.POWER, 1000.0)
    time = amount(Dimension.TIME, 2.5, 0.5 / 3**0.5)
    only = dissolved("2026-01-01-a", entry("heated", conditions=(power,), duration=time))
    energy = line(work_out(book(only, tariff=0.30)).runs[only.name], "energy")
    assert value(energy) == pytest.approx(0.75)
    assert energy.value is not None
    assert energy.value.u == pytest.approx(0.0866, abs=1e-4)
