"""Figures from logs as a writer would write them, held against hand calculation."""

from __future__ import annotations

from math import sqrt

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, MetalBalance, Role, Thing
from logbook.reading.read_book import read_book

CONTACTS = """\
# Relay contacts, lot 3

Date: 14 March 2026
Metal: silver

## Dissolve, 14 March 09:20

- took 412.6 g relay contacts [RC-3], silver 71 ± 3 %, for 100 EUR
- added 650 mL nitric acid 68 %, in small portions
- added 650 mL tap water
- heated at 70 C for 2 h 30 min on the hotplate
- worked 50 min
- filtered, rinsed with 150 mL tap water
- kept 3 filters [F-21]
- got 1.4 L silver nitrate solution

## Cement, 15 March 10:00

- added 214 g copper bar
- waited overnight
- 16 March 08:30 tested salt: no cloud
- kept 128 g copper bar [CU-4]
- discarded 1.8 L blue solution into [W-2]
- rinsed 3 times with 200 mL tap water, until clear
- got 288.4 g cement silver, damp

## Melt

- lost about 0.3 g in the dish
- got 279.6 g silver bar [AG-7], silver 99.5 ± 0.3 % by density
"""
BENCH = "# Bench\n\nCurrency: EUR\nHour: 20 EUR\n"
SUPPLIES = """\
# Supplies

- 2026-01-08 bought 2.5 L nitric acid 68 % for 42 EUR
- 2026-01-08 bought 1 kg copper bar for 14 EUR
"""
PRICES = "# Prices\n\n- 2026-03-01 priced silver at 1.08 EUR/g\n"


def worked_out(**logs: str) -> BookFigures:
    """The figures of a book of some logs, by their names without "runs/"."""
    texts = {f"runs/{name.replace('_', '-')}.md": text for name, text in logs.items()}
    return work_out(read_book(texts))


def bench_of(**logs: str) -> BookFigures:
    """The same with a bench, supplies and prices."""
    return worked_out(bench=BENCH, supplies=SUPPLIES, prices=PRICES, **logs)


def value(figure: Figure) -> float:
    """The value of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def balance_of(figures: BookFigures, run: str) -> MetalBalance:
    """The first balance of a run."""
    return figures.runs[run].balances[0]


def labelled(figures: BookFigures, label: str) -> Thing:
    """The thing on the shelf under a label."""
    (found,) = [thing for thing in figures.shelf if thing.label == label]
    return found


CONTACTS_RUN = "2026-03-14-contacts"


def test_the_log_of_relay_contacts_by_hand() -> None:
    """Head, product, recovery, hours and money of one log, by hand.

    412.6 × 0.71 = 292.946 g in, 279.6 × 0.995 = 278.202 g out: 94.967 %. Elapsed: from 14
    March 09:20 to 16 March 08:30 are 47 h 10 min. Acid: 0.65 L × 42/2.5 = 10.92; copper:
    214 g × 0.014 = 2.996; labour: 50 min × 20 = 16.667. Worth: 278.202 × 1.08 = 300.458.
    """
    figures = bench_of(**{CONTACTS_RUN: CONTACTS})
    one = figures.runs[CONTACTS_RUN]
    balance = balance_of(figures, CONTACTS_RUN)
    assert value(balance.head) == pytest.approx(292.946)
    assert value(balance.recovery) == pytest.approx(278.202 / 292.946)
    assert balance.recovery.value is not None
    u_head = sqrt((0.71 * 0.1 / sqrt(12.0)) ** 2 + (412.6 * 0.03) ** 2)
    u_product = sqrt((0.995 * 0.1 / sqrt(12.0)) ** 2 + (279.6 * 0.003) ** 2)
    relative = sqrt((u_head / 292.946) ** 2 + (u_product / 278.202) ** 2)
    assert balance.recovery.value.u == pytest.approx(278.202 / 292.946 * relative, rel=1e-6)
    assert value(balance.lost) == pytest.approx(0.3 * 0.995)
    assert value(one.mass_yield) == pytest.approx(279.6 / 412.6)
    assert [value(purity) for purity in one.purities] == [pytest.approx(0.995)]
    assert one.purities[0].notes == ("by density",)
    assert value(one.hands_on) == pytest.approx(50 / 60)
    assert value(one.elapsed) == pytest.approx(47 + 10 / 60)
    assert value(one.cost) == pytest.approx(10.92 + 2.996 + 50 / 60 * 20)
    # The bar of copper that was kept takes 128 g × 0.014 = 1.792 along, the filters their part of
    # scrap, acid and labour: (292.946 − 278.5) / 292.946 × 127.587 = 6.29.
    assert value(one.net) == pytest.approx(300.45816 - 130.582667 + 1.792 + 6.29, abs=0.05)
    assert value(one.worth) == pytest.approx(300.45816)
    kinds = {line.kind: line.amount for line in one.costs}
    assert value(kinds["labour"]) == pytest.approx(50 / 60 * 20)
    assert value(kinds["feed"]) == pytest.approx(100.0)
    acid, copper = one.reagents[0], one.reagents[2]
    assert value(acid.cost) == pytest.approx(10.92)
    assert value(copper.cost) == pytest.approx(2.996)
    assert figures.findings == ()


def test_the_overnight_of_that_log_is_counted_from_the_dates() -> None:
    """Cementing began at 10:00 on the 15th and was looked at 08:30 on the 16th: 22.5 h."""
    one = bench_of(**{CONTACTS_RUN: CONTACTS}).runs[CONTACTS_RUN]
    assert value(one.stage_times[1].elapsed) == pytest.approx(22.5)


def test_filters_kept_in_spring_are_settled_in_autumn() -> None:
    """Filters assayed at 0.23 g months later count in the run that kept them."""
    later = """\
# Filters

Date: 2026-09-02
Metal: silver

## Assay

- assayed [F-21], silver 0.23 g by cupellation
- assayed [CU-4], silver 0.1 g by cupellation
"""
    figures = bench_of(**{CONTACTS_RUN: CONTACTS, "2026-09-02-filters": later})
    balance = balance_of(figures, CONTACTS_RUN)
    assert value(balance.shelf) == pytest.approx(0.33)
    assert balance.why == "what is missing is in [W-2] or was lost: that was not measured"


LOT = """\
# Supplies

- 2026-01-05 bought 500.0 g sweeps [LOT-2], gold 8 ± 0.4 g/kg by assay, sampling ± 2 %, for 300 EUR
"""


def sweeps(day: str, entry: str) -> str:
    """A run that draws on the lot."""
    return f"""\
# Sweeps

Date: {day}
Metal: gold

## Dissolve

- {entry}
- got 0.7 g gold powder, gold 99 %
"""


def test_a_lot_is_drawn_by_weight_by_half_and_to_its_end() -> None:
    """100 g, half of the 400 g left, and the last 200 g: 0.8, 1.6 and 1.6 g of gold."""
    figures = worked_out(
        bench=BENCH,
        supplies=LOT,
        a2026=sweeps("2026-02-01", "took 100 g from [LOT-2]"),
        b2026=sweeps("2026-02-02", "took half of [LOT-2]"),
        c2026=sweeps("2026-02-03", "took [LOT-2]"),
    )
    heads = [value(balance_of(figures, run).head) for run in ("a2026", "b2026", "c2026")]
    assert heads == [pytest.approx(0.8), pytest.approx(1.6), pytest.approx(1.6)]
    money = [figures.runs[run].costs[0].amount for run in ("a2026", "b2026", "c2026")]
    assert [value(one) for one in money] == [
        pytest.approx(60.0),
        pytest.approx(120.0),
        pytest.approx(120.0),
    ]
    assert not [thing for thing in figures.shelf if thing.label == "LOT-2"]
    assert figures.findings == ()


def test_a_draw_beside_a_label_with_of_and_without() -> None:
    """`took 100 g [X]`, `took 100 g of [X]` and `took 100 g from [X]` are one draw."""
    for words in ("took 100 g [LOT-2]", "took 100 g of [LOT-2]", "took 100 g from [LOT-2]"):
        figures = worked_out(supplies=LOT, a2026=sweeps("2026-02-01", words))
        assert value(balance_of(figures, "a2026").head) == pytest.approx(0.8), words
        assert value(labelled(figures, "LOT-2").gross) == pytest.approx(400.0), words


@pytest.mark.parametrize("feed", ["31.1034768 g", "1 ozt", "20 dwt", "480 gr", "1 ozt (31.10 g)"])
def test_grams_ounces_pennyweights_and_grains_give_the_same_balance(feed: str) -> None:
    """A troy ounce is 20 dwt, 480 grains, 31.1034768 g: U = 31.1034768 × 0.8 − 24 g."""
    log = f"""\
# Scrap

Metal: silver

## Melt

- took {feed} silver scrap, silver 80 ± 1 %
- got 24.0 g silver bar, silver 100 ± 0.1 %
"""
    balance = balance_of(worked_out(scrap=log), "scrap")
    tolerance = 0.8 * 0.004 if "(" in feed else 1e-9
    assert value(balance.unaccounted) == pytest.approx(31.1034768 * 0.8 - 24.0, abs=tolerance)


def test_a_plain_list_of_several_labels_is_taken_one_by_one() -> None:
    """`took [B-1], [B-2] and [B-4]` takes three, and leaves the one not named."""
    kept = """\
# Beakers

Metal: silver
Date: 2026-01-01

## Filter

- took 100 g scrap, silver 50 %
- kept 10.0 g residue [B-1], silver 10 %
- kept 10.0 g residue [B-2], silver 20 %
- kept 10.0 g residue [B-3], silver 30 %
- kept 10.0 g residue [B-4], silver 40 %
"""
    use = """\
# Together

Metal: silver
Date: 2026-02-01

## Melt

- took [B-1], [B-2] and [B-4]
- got 6.9 g silver bar, silver 100 %
"""
    figures = worked_out(a=kept, b=use)
    assert value(balance_of(figures, "b").head) == pytest.approx(7.0)
    assert value(labelled(figures, "B-3").gross) == pytest.approx(10.0)


def test_a_plan_is_a_plan() -> None:
    """`Status: planned` takes nothing from the shelf and counts for nothing."""
    plan = CONTACTS.replace("Metal: silver", "Metal: silver\nStatus: planned")
    figures = bench_of(**{CONTACTS_RUN: plan})
    assert figures.things == ()
    assert figures.totals == ()
    assert figures.runs[CONTACTS_RUN].worth.why == "planned, nothing done yet"


def test_a_slip_in_one_entry_costs_only_that_entry() -> None:
    """A label that is nowhere leaves the head open and everything else as it was."""
    wrong = CONTACTS.replace("- worked 50 min", "- took [RC-30]\n- worked 50 min")
    figures = bench_of(**{CONTACTS_RUN: wrong})
    balance = balance_of(figures, CONTACTS_RUN)
    assert [finding.code for finding in figures.findings] == ["label-unknown"]
    assert not balance.head.known
    assert value(balance.product) == pytest.approx(278.202)
    assert value(figures.runs[CONTACTS_RUN].hands_on) == pytest.approx(50 / 60)


SHORT_OF_ACID = """\
# Relay contacts, lot 5

Date: 13 September 2025
Metal: silver

## Dissolve

- took 420.5 g relay contacts [RC-5], silver 70 %
- added 460 mL nitric acid 68 %
- kept 128.9 g relay contacts [RC-6], silver 70 %
- added 190 g copper bar [CU-4]
- kept 126 g copper bar [CU-5]
- got 1.1 L silver nitrate solution

## Melt

- got 199.6 g silver bar [AG-6], silver 99.5 %
"""


@pytest.mark.parametrize(
    ("kept", "note"),
    [
        ("128.9 g relay contacts [RC-6], silver 70 %", ": 97 % of what was worked on"),
        ("128.9 g undissolved relay contacts [RC-6]", "; how much silver it holds is not known"),
    ],
)
def test_feed_that_went_back_to_the_shelf_is_told_beside_the_recovery(kept: str, note: str) -> None:
    """198.602 g of 294.35 g are 67.5 %, but of the 204.12 g that were worked on 97.3 %.

    By hand: 420.5 × 0.7 = 294.35; 128.9 × 0.7 = 90.23; 199.6 × 0.995 = 198.602.
    """
    log = SHORT_OF_ACID.replace("128.9 g relay contacts [RC-6], silver 70 %", kept)
    recovery = balance_of(worked_out(**{"2025_09_13_lot": log}), "2025-09-13-lot").recovery
    assert value(recovery) == pytest.approx(198.602 / 294.35)
    assert f"128.9 g of the feed went back to the shelf unworked{note}" in recovery.notes


def test_a_residue_is_no_feed_that_went_back() -> None:
    """What is kept under another name was worked on."""
    log = SHORT_OF_ACID.replace("128.9 g relay contacts", "128.9 g grey residue")
    recovery = balance_of(worked_out(**{"2025_09_13_lot": log}), "2025-09-13-lot").recovery
    assert not any("went back" in note for note in recovery.notes)


def test_silver_added_from_an_earlier_bar_is_no_scrap_taken() -> None:
    """What is added to inquart counts in the head of silver, and not in the weight of the feed."""
    earlier = "# A bar\n\nMetal: silver\n\n## Melt\n\n- got 50.0 g silver bar [AG-1], silver 99 %\n"
    later = (
        "# Links\n\nMetal: gold, silver\n\n## Inquart\n\n"
        "- took 9.84 g links [GL-1], gold 14 kt, silver 20 %\n"
        "- added 13.12 g of [AG-1]\n- got 22.90 g strip\n"
    )
    book = read_book({"runs/2026-01-10-bar.md": earlier, "runs/2026-02-10-links.md": later})
    run = work_out(book).runs["2026-02-10-links"]
    assert run.feed.value is not None
    assert run.feed.value.value == 9.84
    silver = next(one for one in run.balances if one.metal == "silver")
    assert silver.head.value is not None
    assert silver.head.value.value == pytest.approx(9.84 * 0.20 + 13.12 * 0.99, abs=1e-9)


POWDER = """\
# Forks

Date: 2026-02-22
Metal: silver

## Dissolve

- took 620 g forks, silver 92.5 ± 0.2 %
- added 900 mL nitric acid 68 %

## Cement

- got 590 g {what} [CS], wet

## {heading}

- took 300 g [CS]
- got 268 g silver bar [SB-1], silver 99.5 ± 0.3 % by density
"""


@pytest.mark.parametrize(
    ("what", "heading", "rest_is_product"),
    [("cement silver", "Melt", False), ("cement silver", "Trial melt", True)],
)
def test_the_rest_of_a_powder_that_a_run_went_on_with_is_no_product(
    what: str, heading: str, rest_is_product: bool
) -> None:
    """The bar is what the run was for: 268 g x 0.995 = 266.66 g, whatever the wet rest holds."""
    figures = worked_out(forks=POWDER.format(what=what, heading=heading))
    (rest,) = [thing for thing in figures.things if thing.key == "CS, rest"]
    assert (rest.role is Role.PRODUCT) is rest_is_product
    product = figures.runs["forks"].balances[0].product
    if not rest_is_product:
        assert product.value is not None
        assert product.value.value == pytest.approx(268 * 0.995)


def test_a_product_that_was_drawn_from_has_one_purity() -> None:
    """A bar of 99.4 %, of which 13 g went into a later run, is not of unknown fineness as well."""
    later = "# Later\n\nDate: 2026-05-01\nMetal: gold\n\n## Inquart\n\n- added 13.12 g of [SB-1]\n"
    first = POWDER.format(what="cement silver", heading="Melt")
    figures = worked_out(**{"2026_02_22_forks": first, "2026_05_01_later": later})
    names = [figure.name for figure in figures.runs["2026-02-22-forks"].purities]
    assert names == ["silver in [SB-1], purity"]
    (figure,) = figures.runs["2026-02-22-forks"].purities
    assert figure.value is not None
    assert figure.value.value == pytest.approx(0.995)
