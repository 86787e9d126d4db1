"""Metal balances of single runs, held against hand calculation and published balance tables."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

import pytest
from build import book, entry, g, litres, page, part, per_litre, run, stage

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import MetalBalance
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.entry import Entry
from logbook.model.run import Run, Stage


def value(figure: Figure) -> float:
    """The value of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def doubt(figure: Figure) -> float:
    """The standard uncertainty of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.u


def balance_of(only: Run, metal: str = "silver") -> MetalBalance:
    """The balance of one metal in a book of one run."""
    figures = work_out(book(only)).runs[only.name]
    return next(one for one in figures.balances if one.metal == metal)


def contacts(*more: Entry, bar: float = 279.6) -> Run:
    """A run on relay contacts, 412.6 ± 0.03 g at 71 ± 3 %, that got a bar of 99.5 ± 0.3 %."""
    return run(
        "2026-03-14-contacts",
        stage(
            "Dissolve",
            entry("took", g(412.6, 0.03), "relay contacts", holds={"silver": part(0.71, 0.03)}),
            *more,
            entry("got", litres(1.4), "silver nitrate solution"),
        ),
        stage(
            "Melt",
            entry("lost", g(0.3, 0.0173), "silver"),
            entry("got", g(bar, 0.03), "silver bar", holds={"silver": part(0.995, 0.003)}),
        ),
    )


def test_a_closed_balance_by_hand() -> None:
    """In and out of a run, by hand.

    H = 412.6 × 0.71 = 292.946 g, u² = (0.71 × 0.03)² + (412.6 × 0.03)²; P = 279.6 × 0.995 =
    278.202 g, u² = (0.995 × 0.03)² + (279.6 × 0.003)²; L = 0.3 g; U = H − P − L.
    """
    balance = balance_of(contacts())
    u_head = sqrt((0.71 * 0.03) ** 2 + (412.6 * 0.03) ** 2)
    u_product = sqrt((0.995 * 0.03) ** 2 + (279.6 * 0.003) ** 2)
    assert balance.head_basis == "assayed"
    assert value(balance.head) == pytest.approx(292.946)
    assert doubt(balance.head) == pytest.approx(u_head)
    assert value(balance.product) == pytest.approx(278.202)
    assert value(balance.lost) == pytest.approx(0.3)
    assert value(balance.unaccounted) == pytest.approx(292.946 - 278.202 - 0.3)
    expected = sqrt(u_head**2 + u_product**2 + 0.0173**2)
    assert doubt(balance.unaccounted) == pytest.approx(expected)
    assert balance.closes == "yes"
    recovery = 278.202 / 292.946
    assert value(balance.recovery) == pytest.approx(recovery)
    relative = sqrt((u_product / 278.202) ** 2 + (u_head / 292.946) ** 2)
    assert doubt(balance.recovery) == pytest.approx(recovery * relative)


def test_a_gap_beyond_twice_its_doubt_does_not_close() -> None:
    """A bar 40 g too light leaves 54 g unaccounted, more than 2 × 12.4 g."""
    balance = balance_of(contacts(bar=240.0))
    assert value(balance.unaccounted) > 2.0 * doubt(balance.unaccounted)
    assert balance.closes == "no"


def test_a_filter_that_nobody_measured_leaves_the_balance_open() -> None:
    """An unmeasured side stream: U is not known, the reason names it, recovery stays.

    By hand: no more than 292.946 − 278.202 − 0.3 g and twice its doubt is in it or missing.
    """
    balance = balance_of(contacts(entry("kept", None, "filters", "F-21")))
    assert balance.closes == "unknown"
    assert not balance.unaccounted.known
    assert balance.why == "what is missing is in [F-21] or was lost: that was not measured"
    u_head = sqrt((0.71 * 0.03) ** 2 + (412.6 * 0.03) ** 2)
    u_product = sqrt((0.995 * 0.03) ** 2 + (279.6 * 0.003) ** 2)
    doubt_of_gap = sqrt(u_head**2 + u_product**2 + 0.0173**2)
    expected = 292.946 - 278.202 - 0.3 + 2.0 * doubt_of_gap
    assert balance.unaccounted.high == pytest.approx(expected)
    assert balance.unaccounted.low is None
    assert value(balance.recovery) == pytest.approx(278.202 / 292.946)


def test_no_recovery_without_a_head_or_a_full_set_of_outputs() -> None:
    """Product alone, however pure, is never divided by itself."""
    only = run(
        "2026-01-01-a",
        stage(
            "Melt",
            entry("took", g(300.0, 0.1), "contacts"),
            entry("got", g(200.0, 0.1), "silver bar", holds={"silver": part(0.999)}),
        ),
    )
    balance = balance_of(only)
    assert balance.head_basis == "unknown"
    assert not balance.recovery.known
    expected = "the silver in the contacts was not measured before it was used"
    assert balance.recovery.why == expected
    assert balance.head.high == pytest.approx(300.2)


def test_no_recovery_where_the_product_was_never_assayed() -> None:
    """A bar of unknown fineness gives a mass yield and nothing more."""
    only = run(
        "2026-01-01-a",
        stage(
            "Melt",
            entry("took", g(300.0, 0.1), "contacts", holds={"silver": part(0.7)}),
            entry("got", g(200.0, 0.1), "silver bar"),
        ),
    )
    figures = work_out(book(only)).runs["2026-01-01-a"]
    (balance,) = figures.balances
    assert not balance.recovery.known
    assert value(figures.mass_yield) == pytest.approx(200.0 / 300.0)


def concentrates(*assays: tuple[str, float, float, float], head: float | None = None) -> Run:
    """A separation of 100 g into two concentrates and a tail that is thrown away."""
    metal, first, second, tail = assays[0]
    weights = (3.78, 5.94, 90.28)
    sides = [
        entry("got", g(weights[0]), "concentrate", as_product=True, holds={metal: part(first)}),
        entry("kept", g(weights[1]), "other concentrate", "K", holds={metal: part(second)}),
        entry("discarded", g(weights[2]), "tail", holds={metal: part(tail)}),
    ]
    known = {metal: part(head)} if head is not None else None
    return run(
        "2026-01-01-a",
        stage("Screen", entry("took", g(100.0), "ore", holds=known), *sides),
        metals=(metal,),
    )


@pytest.mark.parametrize(
    ("metal", "assays", "head", "distribution"),
    [
        ("lead", (0.5325, 0.0097, 0.0020), 2.251028, 89.42),
        ("silver", (98.55e-4, 6.01e-4, 0.5e-4), 453.3584e-4, 82.17),
    ],
)
def test_a_built_up_head_gives_the_published_distribution(
    metal: str, assays: tuple[float, float, float], head: float, distribution: float
) -> None:
    """The calculated head and the share in the first product of a published balance table.

    Plant worksheet "Balance Metalurgico Huinac Madrugada SAC" (read, not reviewed): weights
    3.78, 5.94 and 90.28 %; Pb 53.25, 0.97 and 0.20 %, calculated head 2.25 %, 89.42 % of the
    lead in the first concentrate; Ag 98.55, 6.01 and 0.5 oz/t, 82.17 %. The unit of the
    silver assays drops out of the distribution.
    """
    balance = balance_of(concentrates((metal, *assays)), metal)
    assert balance.head_basis == "built-up"
    assert value(balance.head) == pytest.approx(head, rel=1e-6)
    assert 100.0 * value(balance.recovery) == pytest.approx(distribution, abs=0.005)


def test_an_assayed_head_and_a_built_up_head_are_told_apart() -> None:
    """A head assay that is too low gives more silver out than in, and the gap says so.

    Course worksheet "Balance de Flotacion Ejercicio" (read, not reviewed): feed 1000 t at Ag
    50 g/t; concentrate 43.3925 t at 1200 g/t, tail 956.6075 t at 8.7 g/t. On the assayed
    head the concentrate has 104.14 % and all outputs 120.79 %; the calculated head is
    60.393 g/t.
    """
    balance = balance_of(
        run(
            "2026-01-01-a",
            stage(
                "Screen",
                entry("took", g(1000.0e6), "ore", holds={"silver": part(50e-6)}),
                entry(
                    "got",
                    g(43.392505e6),
                    "concentrate",
                    as_product=True,
                    holds={"silver": part(1200e-6)},
                ),
                entry("discarded", g(956.607495e6), "tail", holds={"silver": part(8.7e-6)}),
            ),
        )
    )
    assert 100.0 * value(balance.recovery) == pytest.approx(104.14, abs=0.005)
    assert 100.0 * value(balance.accountability) == pytest.approx(120.79, abs=0.005)
    assert -value(balance.unaccounted) == pytest.approx((60.3934911 - 50.0) * 1000.0, rel=1e-6)
    assert balance.closes == "no"


def test_silver_that_a_palladium_product_holds_is_no_recovery_of_silver() -> None:
    """Palladium sponge with 0.2 % silver is no product of silver, and no silver recovery."""
    only = run(
        "2026-01-01-a",
        stage(
            "Drop",
            entry("took", g(10.0), "contacts", holds={"palladium": part(0.4), "silver": part(0.6)}),
            entry("kept", g(7.9), "silver chloride", "CL", holds={"silver": part(0.75)}),
            entry(
                "got",
                g(3.9),
                "palladium sponge",
                holds={"palladium": part(0.99), "silver": part(0.002)},
            ),
        ),
        metals=("palladium", "silver"),
    )
    assert not balance_of(only, "silver").recovery.known
    assert value(balance_of(only, "palladium").recovery) == pytest.approx(3.9 * 0.99 / 4.0)


def test_silver_added_to_inquart_counts_as_head() -> None:
    """10 g gold alloy with 2 g silver, 20 g silver added: 22 g silver went in."""
    balance = balance_of(
        run(
            "2026-01-01-a",
            stage(
                "Inquart",
                entry("took", g(10.0), "alloy", holds={"gold": part(0.75), "silver": part(0.2)}),
                entry("added", g(20.0), "silver shot", holds={"silver": part(1.0)}),
                entry("added", g(5.0), "borax", reagent="borax"),
                entry("got", g(30.0), "gold bead"),
            ),
            metals=("gold",),
        ),
        "silver",
    )
    assert value(balance.head) == pytest.approx(22.0)


def test_an_added_metal_of_unknown_fineness_leaves_the_head_open() -> None:
    """Silver shot added without a fineness is silver of unknown content, not nothing."""
    balance = balance_of(
        run(
            "2026-01-01-a",
            stage(
                "Inquart",
                entry("took", g(10.0), "alloy", holds={"silver": part(0.2)}),
                entry("added", g(20.0), "silver shot"),
                entry("got", g(20.0), "silver bead"),
            ),
        )
    )
    assert not balance.head.known
    assert balance.head.why == "the silver in the silver shot was never measured"


def test_content_of_a_solution_is_volume_times_concentration() -> None:
    """1.4 L at 0.8 g/L holds 1.12 g."""
    balance = balance_of(
        run(
            "2026-01-01-a",
            stage(
                "Rinse",
                entry("took", g(10.0), "powder", holds={"silver": part(0.9)}),
                entry(
                    "kept", litres(1.4, 0.01), "rinse", "R", holds={"silver": per_litre(0.8, 0.02)}
                ),
                kind="store",
            ),
        )
    )
    assert value(balance.shelf) == pytest.approx(1.12)
    assert doubt(balance.shelf) == pytest.approx(sqrt((0.8 * 0.01) ** 2 + (1.4 * 0.02) ** 2))


def test_a_reading_below_what_a_balance_shows_is_a_limit_and_not_nothing() -> None:
    """A bead read as 0.00 g, that is below 0.005 g, is between nothing and that."""
    below = Amount(g(0.0).span, Dimension.MASS, "g", None, None, low=0.0, high=0.005)
    balance = balance_of(
        run(
            "2026-01-01-a",
            stage(
                "Cupel",
                entry("took", g(10.0), "slag", holds={"silver": part(0.001)}),
                entry("kept", below, "silver bead", "B", holds={"silver": part(1.0)}),
            ),
        )
    )
    assert not balance.shelf.known
    assert (balance.shelf.low, balance.shelf.high) == (0.0, 0.005)
    assert balance.closes == "unknown"


def test_a_filter_of_march_is_settled_by_an_assay_of_september() -> None:
    """An assay noted by a later run closes the balance of the run that kept the thing."""
    first = run(
        "2026-03-01-a",
        stage(
            "Filter",
            entry("took", g(100.0), "powder", holds={"silver": part(0.5)}),
            entry("kept", g(10.0), "filters", "F"),
            entry("got", g(48.0), "silver bar", holds={"silver": part(1.0)}),
        ),
    )
    later = run(
        "2026-09-01-b",
        stage(
            "Assay", entry("assayed", None, "", "F", holds={"silver": part(0.2)}, method="cupel")
        ),
        metals=("silver",),
    )
    figures = work_out(book(first, later))
    (balance,) = figures.runs["2026-03-01-a"].balances
    assert value(balance.shelf) == pytest.approx(2.0)
    assert value(balance.unaccounted) == pytest.approx(0.0)
    assert balance.closes == "yes"


def test_a_sample_tells_the_fineness_of_what_it_was_taken_from() -> None:
    """A bar of 100 g whose 1 g sample assays 90 %: 89.1 g in the rest, 0.9 g in the sample."""
    only = run(
        "2026-03-01-a",
        stage("Melt", entry("took", g(120.0), "powder"), entry("got", g(100.0), "silver bar", "B")),
        stage("Assay", entry("sampled", g(1.0), "drillings", "S", source="B")),
        stage("Store", entry("assayed", None, "", "S", holds={"silver": part(0.9)})),
    )
    balance = balance_of(only)
    assert value(balance.product) == pytest.approx(89.1)
    assert value(balance.shelf) == pytest.approx(0.9)


def test_a_dry_weighing_is_preferred_to_a_damp_one_and_both_are_told() -> None:
    """The dry weight counts, the damp one stays mentioned."""
    only = run(
        "2026-03-01-a",
        stage(
            "Cement",
            entry("took", g(100.0), "powder", holds={"silver": part(0.5)}),
            entry(
                "got", g(61.0), "silver powder", "P", holds={"silver": part(1.0)}, moisture="damp"
            ),
        ),
        stage("Store", entry("weighed", g(49.5), "", "P", moisture="dry")),
    )
    balance = balance_of(only)
    assert value(balance.product) == pytest.approx(49.5)
    (note,) = balance.product.notes
    assert "61 g damp" in note
    assert "49.5 g dry" in note


def test_a_damp_weight_is_only_an_upper_limit() -> None:
    """What was only weighed damp holds at most 52 g; no product and no recovery are claimed."""
    only = run(
        "2026-03-01-a",
        stage(
            "Cement",
            entry("took", g(100.0), "scrap", holds={"silver": part(0.5)}),
            entry(
                "got", g(52.0), "silver powder", "P", holds={"silver": part(1.0)}, moisture="damp"
            ),
        ),
    )
    balance = balance_of(only)
    assert not balance.product.known
    assert balance.product.high == pytest.approx(52.0)
    assert not balance.recovery.known
    assert balance.recovery.why == "[P] was weighed damp: dry it and weigh it again"


# What must not change a balance


def scaled(factor: float, unit: str) -> Run:
    """The same run written in another unit of mass."""

    def mass(grams: float, u: float) -> Amount:
        words = f"{grams / factor:.9g} {unit}"
        return Amount(g(1.0).span, Dimension.MASS, unit, grams / factor, grams, u, note=words)

    return run(
        "2026-01-01-a",
        stage(
            "Melt",
            entry("took", mass(31.1034768, 0.01), "scrap", holds={"silver": part(0.8, 0.01)}),
            entry("got", mass(24.0, 0.01), "silver bar", holds={"silver": part(0.999)}),
        ),
    )


def test_grams_or_troy_ounces_give_the_same_balance() -> None:
    """Only the base value counts, whatever unit an amount was written in."""
    grams, ounces = balance_of(scaled(1.0, "g")), balance_of(scaled(31.1034768, "ozt"))
    assert value(grams.unaccounted) == value(ounces.unaccounted)
    assert doubt(grams.unaccounted) == doubt(ounces.unaccounted)


def test_the_order_of_entries_within_a_stage_does_not_matter() -> None:
    """Each stage read from its last entry to its first gives the same balance."""
    forward = contacts(entry("kept", g(3.0), "filters", "F", holds={"silver": part(0.1)}))
    backward = run(
        forward.name,
        *(
            Stage(one.span, one.title, one.kinds, one.when, one.trial, one.blocks[::-1])
            for one in forward.stages
        ),
    )
    one, other = balance_of(forward), balance_of(backward)
    for figure in ("head", "product", "shelf", "waste", "lost", "unaccounted", "recovery"):
        first, second = getattr(one, figure).value, getattr(other, figure).value
        assert isinstance(first, Uncertain)
        assert first.value == pytest.approx(second.value, rel=1e-14)
        assert first.u == pytest.approx(second.u, rel=1e-14)


def test_an_unrelated_run_changes_nothing() -> None:
    """A second run with things of its own leaves the first one's figures as they are."""
    other = run(
        "2026-03-15-other",
        stage("Melt", entry("took", g(9.0), "beads"), entry("got", g(8.0), "gold bead", "Z")),
        metals=("gold",),
    )
    alone = work_out(book(contacts())).runs["2026-03-14-contacts"]
    beside = work_out(book(contacts(), other)).runs["2026-03-14-contacts"]
    one, two = alone.balances[0], beside.balances[0]
    assert value(one.unaccounted) == value(two.unaccounted)
    assert doubt(one.unaccounted) == doubt(two.unaccounted)
    assert [thing.key for thing in alone.things_out] == [thing.key for thing in beside.things_out]


def test_a_bag_filled_twice_by_its_own_run_and_taken_there_is_inside_the_run() -> None:
    """What a run pours together and takes again itself crosses no bound."""
    only = run(
        "2026-01-01-a",
        stage(
            "Rinse",
            entry("took", g(10.0), "powder", holds={"silver": part(0.9)}),
            entry("kept", litres(0.2), "rinse", into="R"),
            entry("kept", litres(0.3), "rinse", into="R"),
            kind="store",
        ),
        stage(
            "Cement",
            entry("took", None, "", "R"),
            entry("got", g(8.9), "silver powder", holds={"silver": part(1.0)}),
        ),
    )
    balance = balance_of(only)
    assert value(balance.head) == pytest.approx(9.0)
    assert value(balance.unaccounted) == pytest.approx(0.1)


def test_a_pooled_bag_is_shelf_for_each_run_that_filled_it_and_head_for_its_user() -> None:
    """Filters of two runs with known contents, 1 g and 2 g: the run that pools them has 3 g."""
    fills = [
        run(
            f"2026-0{k}-01-r",
            stage(
                "Filter",
                entry("took", g(10.0), "powder", holds={"silver": part(0.5)}),
                entry("kept", g(10.0 * k), "filters", into="BAG", holds={"silver": part(0.1)}),
                kind="store",
            ),
        )
        for k in (1, 2)
    ]
    use = run(
        "2026-09-01-u",
        stage(
            "Incinerate",
            entry("took", None, "", "BAG"),
            entry("got", g(2.9), "silver bead", holds={"silver": part(1.0)}),
        ),
    )
    figures = work_out(book(*fills, use))
    assert value(figures.runs["2026-01-01-r"].balances[0].shelf) == pytest.approx(1.0)
    assert value(figures.runs["2026-02-01-r"].balances[0].shelf) == pytest.approx(2.0)
    assert value(figures.runs["2026-09-01-u"].balances[0].head) == pytest.approx(3.0)


def test_a_bought_lot_reaches_a_run_through_the_supplies_page() -> None:
    """100 g of a lot at 40 ± 1 %, alike throughout, bring 40 ± 1 g (by hand, weights exact)."""
    lot = page(
        "supplies",
        entry(
            "bought",
            g(500.0),
            "sweeps",
            "LOT",
            holds={"silver": part(0.4, 0.01)},
            on="2026-01-01",
            sampling=part(0.0),
        ),
    )
    only = run("2026-02-01-a", stage("Melt", entry("took", g(100.0), "", source="LOT")))
    (balance,) = work_out(book(only, supplies=lot)).runs["2026-02-01-a"].balances
    assert value(balance.head) == pytest.approx(40.0)
    assert doubt(balance.head) == pytest.approx(1.0)


def test_a_metal_that_was_not_measured_is_at_most_what_the_others_leave() -> None:
    """10 ± 0.01 g of parted alloy at 60 ± 1 % silver holds at most 4.22 g of gold.

    By hand: 10 + 2 × 0.01 g, less 6 g − 2 × √((0.6 × 0.01)² + (10 × 0.01)²) = 5.7996 g. Of
    pure silver nothing is left but the doubt, and a limit is never below nothing.
    """

    def most(silver: Amount) -> float | None:
        made = entry("got", g(10.0, 0.01), "alloy bar", "A", holds={"silver": silver})
        (thing,) = work_out(
            book(run("2026-01-01-a", stage("Melt", made), metals=("gold", "silver")))
        ).things
        return thing.contents["gold"].high

    assert most(part(0.6, 0.01)) == pytest.approx(10.02 - 5.79964, abs=1e-5)
    assert most(part(1.0)) == pytest.approx(10.02 - (10.0 - 0.02))
    assert most(part(1.1)) == 0.0
    assert most(part(None)) == pytest.approx(10.02)


def test_a_trace_that_a_later_log_states_is_no_row_of_the_run_that_made_it() -> None:
    """Gold found in a silver bar by the run that parts it is a row there, and not before."""
    trace = {"gold": part(0.0002)}

    def rows(first: Mapping[str, Amount], second: Mapping[str, Amount]) -> list[list[str]]:
        got = entry("got", g(90.0), "silver bar", "AG", holds={"silver": part(0.99), **first})
        took = [entry("took", None, "", "AG"), entry("assayed", None, "", "AG", holds=second)]
        bar = entry("got", g(89.0), "silver bar", "AG-2", holds={"silver": part(0.999)})
        figures = work_out(
            book(
                run("2026-01-01-a", stage("Melt", got)),
                run("2026-02-01-b", stage("Melt", *took, bar)),
            )
        )
        return [[row.metal for row in one.balances] for one in figures.runs.values()]

    assert rows({}, trace) == [["silver"], ["silver", "gold"]]
    assert rows(trace, {}) == [["silver", "gold"], ["silver", "gold"]]
    assert rows({}, {}) == [["silver"], ["silver"]]
