"""What is held is worth: products as they are, the shelf and scrap as pure metal. By hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from time import perf_counter

import pytest
from build import book, entry, euros, g, litres, page, part, priced, rate, run, span, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.held import held_worth
from logbook.calculation.money.markets import market
from logbook.calculation.results import (
    BuyerTerms,
    DayPrice,
    Fate,
    HeldWorth,
    Holdings,
    Role,
    Thing,
)
from logbook.model.amount import Uncertain
from logbook.model.book import FixedPage
from logbook.model.entry import Entry, Terms
from logbook.model.run import Run

NEWEST = date(2026, 3, 1)
SILVER = priced("silver", 1.00, "2026-02-20")
AGREED = entry(
    "priced",
    metal="silver",
    on="2026-01-01",
    terms=Terms(
        span("payable 95 %, treatment charge 2 EUR/kg, refining charge 0.02 EUR/g"),
        payable=part(0.95),
        treatment=rate(0.002, "g"),
        refining=rate(0.02, "g"),
        lot=euros(12.0),
    ),
)


def value(figure: Figure | None) -> float:
    """The value of a figure that must be known."""
    assert figure is not None
    assert figure.value is not None, figure.why
    return figure.value.value


def exact(unit: str, value: float) -> Figure:
    """A figure without a doubt."""
    return Figure("figure", unit, Uncertain(value))


def thing(
    key: str,
    role: Role = Role.PRODUCT,
    fate: Fate = Fate.SHELF,
    mass: float = 100.0,
    **held: Figure,
) -> Thing:
    """A thing that holds some metals, and stands on the shelf unless it says otherwise."""
    volume = not_known("volume", "L", "never measured")
    return Thing(key, key, "piece", role, fate, None, None, exact("g", mass), volume, held, NEWEST)


def prices(**each: float) -> tuple[DayPrice, ...]:
    """Prices of some metals on 20 February 2026."""
    day, line = date(2026, 2, 20), entry("priced")
    return tuple(
        DayPrice(metal, day, Figure(f"price of {metal}", "EUR/g", Uncertain(price)), line)
        for metal, price in each.items()
    )


def terms(metal: str = "silver") -> BuyerTerms:
    """95 % of the metal, 2 EUR for a kilogram of material, 0.02 EUR for a gram of metal."""
    return BuyerTerms(
        metal,
        date(2026, 1, 1),
        exact("g/g", 0.95),
        None,
        exact("EUR/g", 0.002),
        exact("EUR/g", 0.02),
        exact("EUR", 12.0),
        entry("priced"),
    )


def holdings(*things: Thing, by: tuple[BuyerTerms, ...] = (), **each: float) -> Holdings:
    """What some things are worth at some prices and terms."""
    return held_worth(things, market(prices(**each), "EUR", by, NEWEST))


def one_of(found: Holdings, key: str) -> HeldWorth:
    """One thing of those that are held."""
    (held,) = [one for one in found.things if one.thing == key]
    return held


def test_a_product_is_worth_what_the_buyer_pays_for_it_as_it_is() -> None:
    """90 g in 100 g: 90 × 0.95 × 0.98 − 100 × 0.002 = 83.59; no lot charge, as none is sold."""
    found = holdings(thing("AG", silver=exact("g", 90.0)), by=(terms(),), silver=1.0)
    assert value(one_of(found, "AG").worth) == pytest.approx(83.59)
    assert one_of(found, "AG").kind == "product"


def test_a_filter_is_worth_its_metal_as_if_it_were_pure() -> None:
    """5 g of silver in 60 g of filters: 5 × (0.95 × 0.98 − 0.002) = 4.645, and it says so."""
    filters = thing("F", Role.SIDE, mass=60.0, silver=exact("g", 5.0))
    held = one_of(holdings(filters, by=(terms(),), silver=1.0), "F")
    assert value(held.worth) == pytest.approx(5 * (0.95 * 0.98 - 0.002))
    assert held.kind == "shelf"
    assert any("what it costs to win it" in note for note in held.worth.notes)


@pytest.mark.parametrize(
    ("role", "kind"),
    [
        (Role.PRODUCT, "product"),
        (Role.SIDE, "shelf"),
        (Role.CHARGE, "shelf"),
        (Role.LEFT, "shelf"),
        (Role.SAMPLE, "shelf"),
        (Role.FEED, "scrap"),
    ],
)
def test_every_kind_of_thing_is_counted_where_it_belongs(role: Role, kind: str) -> None:
    """10 g of silver at 1.00 are 10 EUR, in the sum of their kind and in no other."""
    found = holdings(thing("X", role, silver=exact("g", 10.0)), silver=1.0)
    assert found.sums is not None
    assert {name: value(one) for name, one in found.sums.items()} == {
        "product": 0.0,
        "shelf": 0.0,
        "scrap": 0.0,
        kind: 10.0,
    }


@pytest.mark.parametrize("fate", [Fate.USED, Fate.WASTE, Fate.LOST, Fate.SOLD])
def test_what_does_not_stand_on_the_shelf_is_worth_nothing_here(fate: Fate) -> None:
    """Used, wasted, lost or sold: none of it is held."""
    assert holdings(thing("X", fate=fate, silver=exact("g", 9.0)), silver=1.0).things == ()


@pytest.mark.parametrize("role", [Role.WASTE, Role.LOSS])
def test_waste_is_not_counted_wherever_it_stands(role: Role) -> None:
    """A waste container stands on the shelf and is nobody's treasure."""
    assert holdings(thing("W", role, silver=exact("g", 9.0)), silver=1.0).things == ()


def test_limits_of_a_content_are_limits_of_its_worth_and_of_the_sum() -> None:
    """0 to 4 g at 2.00 are 0 to 8 EUR; with 5 EUR beside it, 5 to 13."""
    open_part = Figure("silver", "g", why="it was not assayed", low=0.0, high=4.0)
    found = holdings(
        thing("F", Role.SIDE, silver=open_part),
        thing("G", Role.SIDE, silver=exact("g", 2.5)),
        silver=2.0,
    )
    held = one_of(found, "F").worth
    assert (held.value, held.low, held.high) == (None, 0.0, 8.0)
    assert held.why == "it was not assayed"
    assert found.sums is not None
    whole = found.sums["shelf"]
    assert (whole.value, whole.low, whole.high) == (None, 5.0, 13.0)


def test_an_unknown_upper_limit_stays_unknown_in_the_sum() -> None:
    """At least 5 EUR stand there; nobody knows how much more."""
    blind = Figure("silver", "g", why="it was never measured", low=0.0)
    found = holdings(
        thing("F", Role.SIDE, silver=blind),
        thing("G", Role.SIDE, silver=exact("g", 5.0)),
        silver=1.0,
    )
    assert found.sums is not None
    whole = found.sums["shelf"]
    assert (whole.value, whole.low, whole.high) == (None, 5.0, None)
    assert "never measured" in whole.why


def test_a_limit_with_terms_never_goes_below_nothing() -> None:
    """Treatment falls on the gram of metal here, so that no metal costs nothing: 0 to 3.716."""
    open_part = Figure("silver", "g", why="it was not assayed", low=0.0, high=4.0)
    held = one_of(holdings(thing("F", Role.SIDE, silver=open_part), by=(terms(),), silver=1.0), "F")
    assert (held.worth.low, held.worth.high) == pytest.approx((0.0, 4 * (0.95 * 0.98 - 0.002)))


def test_every_metal_with_a_price_counts_and_the_others_are_named() -> None:
    """Gold 1 g at 80 and silver 10 g at 1 are 90; palladium has no price."""
    piece = thing("X", gold=exact("g", 1.0), silver=exact("g", 10.0), palladium=exact("g", 2.0))
    held = one_of(holdings(piece, gold=80.0, silver=1.0), "X")
    assert value(held.worth) == pytest.approx(90.0)
    assert {metal: value(one) for metal, one in held.by_metal.items()} == {
        "gold": 80.0,
        "silver": 10.0,
    }
    assert "no price of palladium is noted: it is not counted" in held.worth.notes


def test_worths_of_its_metals_add_up_to_the_worth_of_a_product() -> None:
    """The treatment is taken from one of the metals, so that nothing is left over."""
    piece = thing("X", gold=exact("g", 1.0), silver=exact("g", 90.0))
    held = one_of(holdings(piece, by=(terms(),), gold=80.0, silver=1.0), "X")
    parts = sum(value(one) for one in held.by_metal.values())
    assert value(held.worth) == pytest.approx(parts)
    assert parts == pytest.approx(80 + 83.59)


def test_a_thing_without_a_price_is_not_known_and_the_sum_says_what_it_leaves_out() -> None:
    """A copper bar without a price of copper: it is listed, and the sum is without it."""
    found = holdings(
        thing("CU", Role.SIDE, copper=exact("g", 50.0)),
        thing("F", Role.SIDE, silver=exact("g", 5.0)),
        silver=1.0,
    )
    assert one_of(found, "CU").worth.why == "no price of copper is noted"
    assert found.sums is not None
    assert value(found.sums["shelf"]) == pytest.approx(5.0)
    assert "without 1 of whose metals no price is noted" in found.sums["shelf"].notes


def test_without_any_price_no_sum_is_known() -> None:
    """Nothing is worth nothing only because no price was written."""
    found = holdings(thing("AG", silver=exact("g", 5.0)))
    assert found.sums is not None
    assert not found.sums["product"].known


# Ages


def test_the_age_of_the_latest_price_counts_to_the_newest_day_of_the_book() -> None:
    """From 20 February to 1 March 2026 are nine days."""
    (age,) = holdings(silver=1.0).ages
    assert (age.metal, age.days, age.stale) == ("silver", 9, False)
    assert age.words == "9 days old on 1 March 2026"


def test_a_stale_price_says_so() -> None:
    """From 20 February to 1 April are forty days."""
    found = held_worth((), market(prices(silver=1.0), "EUR", (), date(2026, 4, 1)))
    (age,) = found.ages
    assert (age.days, age.stale) == (40, True)
    assert age.words.startswith("40 days old on 1 April 2026, older than 30 days")


@pytest.mark.parametrize("newest", [None, date(2026, 2, 1)])
def test_a_price_after_the_newest_day_has_no_age(newest: date | None) -> None:
    """A book without a dated log, or a price that was written after the last one."""
    (age,) = held_worth((), market(prices(silver=1.0), "EUR", (), newest)).ages
    assert (age.days, age.stale, age.words) == (0, False, "of 20 February 2026")


# A whole book


def bought() -> FixedPage:
    """Two lots of scrap that nobody has touched."""
    lot = entry("bought", g(200.0), "sweeps", "LOT", holds={"silver": part(0.1)}, on="2026-01-01")
    other = entry("bought", g(50.0), "contacts", "RC", holds={"silver": part(0.7)}, on="2026-01-02")
    return page("supplies", lot, other)


def worked() -> Run:
    """Half of the sweeps were worked on: a bar, a filter never assayed, and a solution to waste."""
    entries: tuple[Entry, ...] = (
        entry("took", None, "", "LOT", share=0.5),
        entry("kept", g(3.0), "filter", "F"),
        entry("discarded", litres(1.0), "solution", into="W"),
        entry("got", g(8.0), "silver bar", "AG", holds={"silver": part(0.99)}),
    )
    return run("2026-03-01-a", stage("Melt", *entries))


def test_a_book_holds_products_shelf_and_untouched_scrap_at_the_latest_price() -> None:
    """7.92 g in the bar, 35 g in the contacts; of the 20 g in the sweeps at most 12.08 are left.

    How much the half that was not taken holds is open, as parts of sweeps may differ, and so is
    what the filter holds.
    """
    figures = work_out(book(worked(), supplies=bought(), prices=page("prices", SILVER)))
    sums = figures.held_worth.sums
    assert sums is not None
    assert value(sums["product"]) == pytest.approx(7.92)
    scrap = sums["scrap"]
    assert (scrap.low, scrap.high) == pytest.approx((35.0, 35.0 + 20.0 - 7.92))
    assert not sums["shelf"].known
    assert {one.thing for one in figures.held_worth.things} == {
        thing.key for thing in figures.shelf
    }
    assert not any(one.thing == "W" for one in figures.held_worth.things)


def test_a_book_with_terms_keeps_them_for_the_page() -> None:
    """The terms that are noted, and the bar by them: 7.92 × 0.95 × 0.98 − 8 × 0.002."""
    figures = work_out(book(worked(), supplies=bought(), prices=page("prices", SILVER, AGREED)))
    assert [one.metal for one in figures.held_worth.terms] == ["silver"]
    sums = figures.held_worth.sums
    assert sums is not None
    assert value(sums["product"]) == pytest.approx(7.92 * 0.95 * 0.98 - 0.016)


def test_two_thousand_things_are_valued_in_no_time() -> None:
    """What a book of ten thousand entries may hold: well under two tenths of a second."""
    grams = Uncertain.of(5.0, 0.1, "weighing")
    many = [
        thing(f"F-{at}", Role.SIDE, silver=Figure("silver", "g", replace(grams, errors={at: 0.1})))
        for at in range(2000)
    ]
    begun = perf_counter()
    found = holdings(*many, by=(terms(),), silver=1.0)
    assert perf_counter() - begun < 0.5  # an idle machine needs a tenth of it
    assert found.sums is not None
    whole = found.sums["shelf"].value
    assert whole is not None
    assert whole.u == pytest.approx(0.1 * (0.95 * 0.98 - 0.002) * 2000**0.5)
