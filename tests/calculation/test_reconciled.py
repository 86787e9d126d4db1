"""Contents put right within their doubts, and what nobody measured, by hand calculation."""

from __future__ import annotations

from math import sqrt

import pytest
from build import book, entry, g, page, part, run, stage
from test_balance import balance_of, contacts, doubt, value

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, MetalBalance, Standing, Thing
from logbook.model.amount import Amount
from logbook.model.entry import Entry
from logbook.model.run import Run

V_HEAD = (0.71 * 0.03) ** 2 + (412.6 * 0.03) ** 2
V_PRODUCT = (0.995 * 0.03) ** 2 + (279.6 * 0.003) ** 2
V_LOST = 0.0173**2
V_KEPT = (0.1 * 0.03) ** 2 + (30.0 * 0.01) ** 2
GAP = 292.946 - 278.202 - 0.3 - 3.0
WHOLE = V_HEAD + V_PRODUCT + V_LOST + V_KEPT


def with_residue() -> Run:
    """Contacts with 292.946 g, a bar of 278.202 g, a loss of 0.3 g and a residue of 3.0 g."""
    return contacts(entry("kept", g(30.0, 0.03), "residue", "R", holds={"silver": part(0.1, 0.01)}))


def labelled(figures: BookFigures, label: str) -> Thing:
    """The one thing of a label."""
    (found,) = [thing for thing in figures.things if thing.label == label]
    return found


def only_balance(figures: BookFigures, name: str) -> MetalBalance:
    """The only balance of a run."""
    (found,) = figures.runs[name].balances
    return found


def test_where_all_is_measured_each_content_moves_by_its_variance() -> None:
    """A gap within its doubt is spread over the readings, and the raw sums stay beside it.

    Weighted least squares with one constraint, by hand: gap G = H − P − L − K with variance
    S = Σ v; H becomes H − G v(H)/S, P becomes P + G v(P)/S, and so on.
    """
    balance = balance_of(with_residue())
    move = GAP / WHOLE
    assert value(balance.head) == pytest.approx(292.946 - V_HEAD * move)
    assert value(balance.product) == pytest.approx(278.202 + V_PRODUCT * move)
    assert value(balance.lost) == pytest.approx(0.3 + V_LOST * move)
    assert value(balance.shelf) == pytest.approx(3.0 + V_KEPT * move)
    assert balance.assayed_head is not None and balance.built_up_head is not None
    assert value(balance.assayed_head) == pytest.approx(292.946)
    assert value(balance.built_up_head) == pytest.approx(292.946 - GAP)
    assert value(balance.unaccounted) == pytest.approx(GAP)
    assert doubt(balance.unaccounted) == pytest.approx(sqrt(WHOLE))
    assert value(balance.accountability) == pytest.approx(1.0 - GAP / 292.946)
    assert balance.closes == "yes"


def test_adjusted_contents_conserve_the_metal_to_the_last_digit() -> None:
    """What is shown to go in is what is shown to come out."""
    balance = balance_of(with_residue())
    out = sum(value(one) for one in (balance.product, balance.shelf, balance.waste, balance.lost))
    assert value(balance.head) == pytest.approx(out, rel=1e-9)


def test_a_recovery_of_adjusted_figures_has_the_doubt_of_a_loss_nobody_could_see() -> None:
    """A loss within the doubt of the gap may have been: its variance is part of the head's.

    By hand, from the covariances of one constraint: v(H) − v(H)²/S, v(P) − v(P)²/S and, of H
    and P, v(H) v(P)/S; the unseen loss adds S, and is independent of both (R = P/H).
    """
    recovery = balance_of(with_residue()).recovery
    product, head = 278.202 + V_PRODUCT * GAP / WHOLE, 292.946 - V_HEAD * GAP / WHOLE
    relative = (
        (V_PRODUCT - V_PRODUCT**2 / WHOLE) / product**2
        + (V_HEAD - V_HEAD**2 / WHOLE + WHOLE) / head**2
        - 2.0 * V_HEAD * V_PRODUCT / WHOLE / (product * head)
    )
    assert value(recovery) == pytest.approx(product / head)
    assert doubt(recovery) == pytest.approx(product / head * sqrt(relative))


def test_what_was_adjusted_says_by_how_much() -> None:
    """The residue moves up by G v(K)/S, which is G u(K)/S of its own doubts (by hand)."""
    held = labelled(work_out(book(with_residue())), "R").held["silver"]
    assert held.standing is Standing.ADJUSTED
    assert value(held.measured) == pytest.approx(3.0)
    assert held.adjustment == pytest.approx(GAP * sqrt(V_KEPT) / WHOLE)


def test_a_single_product_is_not_adjusted_into_a_recovery_of_all() -> None:
    """With no side stream the head would become the product: both are shown as they were read."""
    balance = balance_of(contacts())
    assert value(balance.head) == pytest.approx(292.946)
    assert value(balance.recovery) == pytest.approx(278.202 / 292.946)


def test_what_the_balance_leaves_for_a_filter_is_no_part_of_what_was_found() -> None:
    """14.444 g are in the filters or were lost: a content with that said, in no built-up head."""
    figures = work_out(book(contacts(entry("kept", None, "filters", "F-21"))))
    held = labelled(figures, "F-21").held["silver"]
    spread = sqrt(V_HEAD + V_PRODUCT + V_LOST)
    assert (held.standing, held.side) == (Standing.DEDUCED, "making")
    assert value(held.best) == pytest.approx(14.444)
    assert doubt(held.best) == pytest.approx(spread)
    assert held.best.low == 0.0
    assert held.best.high == pytest.approx(14.444 + 2.0 * spread)
    assert "any loss included" in held.best.notes
    (balance,) = figures.runs["2026-03-14-contacts"].balances
    assert balance.built_up_head is not None and not balance.built_up_head.known
    assert not balance.accountability.known


# What nobody measured is claimed nowhere


def unmeasured(*, moisture: str = "", fineness: Amount | None = None) -> MetalBalance:
    """100 g of scrap with 50 ± 1 g of silver that gave 52 g of powder."""
    holds = {"silver": fineness} if fineness is not None else None
    got = entry("got", g(52.0, 0.1), "silver powder", "P", holds=holds, moisture=moisture)
    took = entry("took", g(100.0, 0.1), "scrap", holds={"silver": part(0.5, 0.01)})
    return balance_of(run("2026-03-01-a", stage("Cement", took, got)))


@pytest.mark.parametrize(
    "balance",
    [unmeasured(moisture="damp", fineness=part(1.0)), unmeasured()],
    ids=["damp", "without an assay"],
)
def test_a_product_that_only_the_head_tells_of_gives_no_recovery(balance: MetalBalance) -> None:
    """Head less nothing, over the head, is always one: no product and no recovery are claimed."""
    assert not balance.product.known
    assert not balance.recovery.known
    assert balance.recovery.why
    assert balance.closes == "unknown"
    assert not balance.unaccounted.known


def test_the_fine_metal_so_far_counts_no_product_that_only_the_head_tells_of() -> None:
    """A bar without an assay is in no running sum of fine metal."""
    took = entry("took", g(100.0, 0.1), "scrap", holds={"silver": part(0.5, 0.01)})
    got = entry("got", g(52.0, 0.1), "silver bar")
    assert work_out(book(run("2026-03-01-a", stage("Melt", took, got)))).points == ()


def test_where_nothing_was_written_to_go_in_nothing_is_missing() -> None:
    """A bar that comes from nowhere in the log is as it was read; what went in is not known."""
    got = entry("got", g(9.0, 0.1), "silver bar", "AG", holds={"silver": part(0.99, 0.01)})
    figures = work_out(book(run("2026-01-01-a", stage("Melt", got))))
    balance = only_balance(figures, "2026-01-01-a")
    assert value(balance.product) == pytest.approx(8.91)
    assert not balance.head.known
    assert not balance.unaccounted.known
    assert balance.closes == "unknown"
    assert figures.gaps == ()


def test_where_nothing_was_written_to_go_in_nothing_is_said_to_be_in_it() -> None:
    """A bar without an assay and without a feed holds between nothing and its weight."""
    got = entry("got", g(9.0, 0.1), "silver bar", "AG")
    figures = work_out(book(run("2026-01-01-a", stage("Melt", got))))
    best = labelled(figures, "AG").contents["silver"]
    assert not best.known
    assert best.low == 0.0
    assert best.high == pytest.approx(9.2)


# Lots and jars


def sweeps(sampling: Amount | None = None) -> tuple[Thing, ...]:
    """A fifth drawn from a lot of mixed sweeps with 200 ± 5 g of silver, and the rest of it."""
    holds = {"silver": part(0.4, 0.01)}
    lot = entry(
        "bought", g(500.0), "sweeps", "LOT", holds=holds, on="2026-01-01", sampling=sampling
    )
    only = run("2026-02-01-a", stage("Melt", entry("took", g(100.0), "", source="LOT")))
    figures = work_out(book(only, supplies=page("supplies", lot)))
    return tuple(thing for thing in figures.things if thing.part_of == "LOT")


def test_a_part_of_mixed_scrap_has_no_content_by_its_weight() -> None:
    """What is in a handful of sweeps nobody knows: between nothing and its weight, not 40 g."""
    piece, rest = (thing.contents["silver"] for thing in sweeps())
    assert not piece.known and not rest.known
    assert (piece.low, piece.high) == (0.0, pytest.approx(100.0))


def test_the_shares_of_mixed_scrap_are_told_by_its_mass() -> None:
    """For the costs to follow, a fifth of the weight has a fifth of the 200 g: 40 g."""
    piece, rest = (thing.held["silver"] for thing in sweeps())
    assert piece.allocated is not None and rest.allocated is not None
    assert value(piece.allocated) == pytest.approx(40.0)
    assert value(rest.allocated) == pytest.approx(160.0)
    assert piece.share_rule == rest.share_rule == "mass"


def test_a_part_of_mixed_scrap_has_the_doubt_of_its_sampling() -> None:
    """A stated sampling of ± 5 % makes a fifth of 200 ± 5 g of silver 40 ± 2.2 g.

    By hand, with v = (p s)²: v₁ = (0.2 × 0.05)² = 1e-4 and v₂ = (0.8 × 0.05)² = 16e-4, so
    S₁₁ = v₁ − v₁²/(v₁ + v₂) = 16e-4/17 of the lot's 200 g squared, and u² = (0.2 × 5)² +
    200² S₁₁. What one part has too much the other lacks: together they are 200 ± 5 g again.
    """
    piece, rest = (thing.contents["silver"] for thing in sweeps(part(0.05)))
    between = 200.0**2 * 16e-4 / 17.0
    assert value(piece) == pytest.approx(40.0)
    assert doubt(piece) == pytest.approx(sqrt(1.0 + between))
    assert value(rest) == pytest.approx(160.0)
    assert doubt(rest) == pytest.approx(sqrt(16.0 + between))
    assert piece.value is not None and rest.value is not None
    assert (piece.value + rest.value).u == pytest.approx(5.0)


def filled(number: int) -> Run:
    """A run whose filters, with 1.0 ± 0.1 g for each number, go into a bag."""
    return run(
        f"2026-0{number}-01-r",
        stage(
            "Melt",
            entry("took", g(60.0), "powder"),
            entry(
                "kept",
                g(10.0 * number),
                "filters",
                into="BAG",
                holds={"silver": part(0.1, 0.01)},
            ),
            entry("got", g(50.0), "silver bar", holds={"silver": part(0.99, 0.002)}),
        ),
    )


def burnt(bead: Entry) -> BookFigures:
    """Filters of two runs from one bag, made into a bead."""
    use = run("2026-09-01-u", stage("Incinerate", entry("took", None, "", "BAG"), bead))
    return work_out(book(filled(1), filled(2), use))


def test_a_bag_of_measured_filters_is_a_measured_head() -> None:
    """Filters with 1.0 ± 0.1 g and 2.0 ± 0.2 g bring 3.0 g into the run that burns them.

    By hand: nothing gets lost between the filters and their bag. A bead of 2.900 ± 0.029 g
    leaves 0.1 g, and each of the filters moves by that times its variance over
    0.01 + 0.04 + 0.000841.
    """
    figures = burnt(entry("got", g(2.9), "silver bead", holds={"silver": part(1.0, 0.01)}))
    whole = 0.01 + 0.04 + 0.000841
    one, two = only_balance(figures, "2026-01-01-r"), only_balance(figures, "2026-02-01-r")
    assert value(one.shelf) == pytest.approx(1.0 - 0.1 * 0.01 / whole)
    assert value(two.shelf) == pytest.approx(2.0 - 0.1 * 0.04 / whole)
    balance = only_balance(figures, "2026-09-01-u")
    assert balance.head_basis == "assayed"
    assert value(balance.head) == pytest.approx(3.0)
    assert value(balance.unaccounted) == pytest.approx(0.1)
    assert doubt(balance.unaccounted) == pytest.approx(sqrt(whole))
    assert value(balance.recovery) == pytest.approx(2.9 / 3.0)
    assert balance.closes == "yes"


def test_a_gap_after_a_bag_is_no_gap_of_the_runs_that_filled_it() -> None:
    """A bead of 1.9 g leaves 1.1 ± 0.22 g: open where the bag was burnt, and only there."""
    figures = burnt(entry("got", g(1.9), "silver bead", holds={"silver": part(1.0, 0.01)}))
    (gap,) = figures.gaps
    assert gap.runs == ("2026-09-01-u",)
    assert value(gap.missing) == pytest.approx(1.1)
    assert doubt(gap.missing) == pytest.approx(sqrt(0.01 + 0.04 + 0.019**2))
    balance = only_balance(figures, "2026-09-01-u")
    assert balance.closes == "no"
    assert value(balance.head) == pytest.approx(3.0)
    assert value(only_balance(figures, "2026-01-01-r").shelf) == pytest.approx(1.0)


# The same thing read again


def weighed_again(grams: float) -> BookFigures:
    """A bar of 10.00 ± 0.01 g, 99 ± 1 % silver, weighed dry once more by a later run."""
    got = entry(
        "got",
        g(10.0, 0.01),
        "silver bar",
        "B",
        holds={"silver": part(0.99, 0.01)},
        moisture="dry",
    )
    first = run("2026-01-01-a", stage("Melt", entry("took", g(20.0, 0.1), "scrap"), got))
    again = entry("weighed", g(grams, 0.01), "", "B", moisture="dry")
    return work_out(book(first, run("2026-02-01-b", stage("Store", again))))


def test_the_same_figure_written_twice_counts_once() -> None:
    """10 g and again 10 g: 9.9 g of silver, with the doubt of one weighing (by hand)."""
    figures = weighed_again(10.0)
    held = labelled(figures, "B").held["silver"]
    assert held.standing is Standing.MEASURED
    assert value(held.best) == pytest.approx(9.9)
    assert doubt(held.best) == pytest.approx(sqrt((10.0 * 0.01) ** 2 + (0.99 * 0.01) ** 2))
    assert figures.gaps == ()


def test_two_weighings_within_their_doubts_are_averaged() -> None:
    """10.00 and 10.01 g, equally good, are 10.005 g with 1/√2 of the doubt (by hand).

    The assay, 99 ± 1 %, is common to both.
    """
    figures = weighed_again(10.01)
    held = labelled(figures, "B").held["silver"]
    assert held.standing is Standing.ADJUSTED
    assert value(held.best) == pytest.approx(10.005 * 0.99)
    weighing = 0.99 * 0.01 / sqrt(2.0)
    assert doubt(held.best) == pytest.approx(sqrt((10.01 * 0.01) ** 2 + weighing**2))
    assert figures.gaps == ()


def test_two_weighings_that_differ_beyond_their_doubts_are_no_average() -> None:
    """10 g and 9 g of one bar: the last counts, and 0.99 g ± 0.99 × 0.01 √2 are told as open."""
    figures = weighed_again(9.0)
    held = labelled(figures, "B").held["silver"]
    assert held.standing is Standing.MEASURED
    assert value(held.best) == pytest.approx(8.91)
    (gap,) = figures.gaps
    assert gap.things == ("B",)
    assert abs(value(gap.missing)) == pytest.approx(0.99)
    assert doubt(gap.missing) == pytest.approx(0.99 * 0.01 * sqrt(2.0))


def test_a_lot_of_which_too_little_is_left_is_an_open_balance() -> None:
    """Of 500 g of shot at 40 ± 1 % 100 g were drawn and 390 g are left: 4 g are missing.

    By hand: 10 g at 0.40, with (0.4² (0.3² + 0.1² + 0.1²) + (10 × 0.01)²) for its variance.
    """
    lot = entry(
        "bought",
        g(500.0, 0.3),
        "silver shot",
        "LOT",
        holds={"silver": part(0.4, 0.01)},
        on="2026-01-01",
    )
    took = entry("took", g(100.0, 0.1), "", source="LOT")
    drawn = run("2026-02-01-a", stage("Melt", took, entry("got", g(99.0), "silver bar")))
    look = run("2026-03-01-b", stage("Store", entry("weighed", g(390.0, 0.1), "", "LOT")))
    figures = work_out(book(drawn, look, supplies=page("supplies", lot)))
    (gap,) = figures.gaps
    assert value(gap.missing) == pytest.approx(4.0)
    assert doubt(gap.missing) == pytest.approx(sqrt(0.16 * 0.11 + 0.01))
    (rest,) = [thing for thing in figures.shelf if thing.part_of == "LOT"]
    assert value(rest.contents["silver"]) == pytest.approx(156.0)
