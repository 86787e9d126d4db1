"""Plans before the work, held against hand calculation: stock, enough or not, vessels, readings."""

from __future__ import annotations

from math import sqrt

import pytest

from logbook.calculation.book_figures import whole_book_findings, work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results.plans import CheckRow, PlanFigures, PlannedSupply, VesselLoad
from logbook.reading.read_book import read_book
from logbook.reference import load, reagents, stage_kinds

PLAN = "2026-06-01-next"
SUPPLIES = """\
# Supplies

- 2026-01-01 had 650.0 mL nitric acid 68 % in the cylinder
- 2026-02-01 bought 2.5 L nitric acid 68 % for 40 EUR
- 2026-02-01 bought 1 L hydrochloric acid 32 % for 7 EUR
- 2026-02-01 bought 1 L hydrochloric acid 10 % for 4 EUR
- 2026-02-01 bought 20 filters for 3 EUR
- 2026-02-01 bought 500.0 g salt for 1 EUR
"""
SCALES = "# Scales\n\n- measure cylinder: reads 1 mL, repeats 1 mL, up to 1000 mL\n"
DONE = """\
# Done

Date: 2026-03-01
Metal: silver

## Dissolve

- took 100.0 g relay contacts
- added 300.0 mL nitric acid 68 % in the cylinder
- added 100.0 mL nitric acid
- added 250 mL hydrochloric acid 32 %
- filtered with 3 filters
- added 20.0 g salt
"""


def plan_of(
    steps: str, *, done: str = DONE, facts: str = "", supplies: str = SUPPLIES
) -> PlanFigures:
    """A plan of some steps in a book with one run that was done."""
    texts = {
        "runs/supplies.md": supplies,
        "runs/scales.md": SCALES,
        f"runs/{PLAN}.md": f"# Next\n\nStatus: planned\nMetal: silver\n{facts}\n{steps}\n",
    }
    if done:
        texts["runs/2026-03-01-done.md"] = done
    return work_out(read_book(texts)).plans[PLAN]


def dissolve(*steps: str, done: str = DONE) -> PlanFigures:
    """A plan with one stage that dissolves."""
    lines = "\n".join(f"- {step}" for step in steps)
    return plan_of(f"## Dissolve\n\n{lines}", done=done)


def supply(plan: PlanFigures, name: str, strength: str = "") -> PlannedSupply:
    """One supply of a plan."""
    return next(one for one in plan.supplies if (one.reagent, one.strength) == (name, strength))


def value(figure: Figure | None) -> float:
    """The value of a figure that is known."""
    assert figure is not None and figure.value is not None
    return figure.value.value


def test_in_stock_is_what_came_less_what_went() -> None:
    """0.650 + 2.5 − 0.300 − 0.100 = 2.75 L; the acid without a strength is of the one there is."""
    acid = supply(dissolve("add 750 mL nitric acid 68 %"), "nitric acid", "68 %")
    assert value(acid.in_hand) == pytest.approx(2.75)
    assert (acid.enough, acid.short) == ("yes", None)


def test_a_plan_uses_up_nothing() -> None:
    """Two plans see the same stock, however much the first asks for."""
    one = dissolve("add 2 L nitric acid 68 %", "add 3 filters")
    assert value(supply(one, "nitric acid", "68 %").in_hand) == pytest.approx(2.75)
    assert value(supply(one, "filter paper").in_hand) == 17


def test_not_enough_says_what_is_missing() -> None:
    """4.0 L are planned and 2.75 L there: 1.25 L short of it, far beyond the doubt."""
    acid = supply(dissolve("add 4.0 L nitric acid 68 %"), "nitric acid", "68 %")
    assert acid.enough == "no"
    assert value(acid.short) == pytest.approx(1.25)


def test_within_the_doubt_of_the_readings_it_is_not_known() -> None:
    """2.7 L of 2.75 L: the volumes alone leave more than 50 mL in doubt."""
    acid = supply(dissolve("add 2.7 L nitric acid 68 %"), "nitric acid", "68 %")
    assert acid.enough == "not known"


def test_what_several_steps_take_is_added_up() -> None:
    """1.5 L and 1.5 L are 3 L, and more than there is."""
    acid = supply(
        dissolve("add 1.5 L nitric acid 68 %", "add 1.5 L nitric acid 68 %"), "nitric acid", "68 %"
    )
    assert value(acid.planned) == pytest.approx(3.0)
    assert acid.enough == "no"


def test_strengths_are_kept_apart() -> None:
    """Of the 32 % acid a quarter is gone, of the 10 % acid nothing."""
    plan = dissolve("add 100 mL hydrochloric acid 32 %", "add 100 mL hydrochloric acid 10 %")
    assert value(supply(plan, "hydrochloric acid", "32 %").in_hand) == pytest.approx(0.75)
    assert value(supply(plan, "hydrochloric acid", "10 %").in_hand) == pytest.approx(1.0)


def test_a_use_of_no_known_amount_leaves_only_a_limit() -> None:
    """20 filters were bought, some were used: at most 20 are left, and 3 may not be there."""
    done = DONE.replace("filtered with 3 filters", "filtered with some filters")
    filters = supply(dissolve("add 3 filters", done=done), "filter paper")
    assert filters.in_hand is not None
    assert not filters.in_hand.known
    assert filters.in_hand.high == 20
    assert filters.enough == "not known"
    assert supply(dissolve("add 21 filters", done=done), "filter paper").enough == "no"


def test_a_use_of_unknown_strength_may_be_of_any() -> None:
    """With two strengths in stock a use that names none leaves only limits of both."""
    done = DONE.replace("250 mL hydrochloric acid 32 %", "250 mL hydrochloric acid")
    acid = supply(
        dissolve("add 900 mL hydrochloric acid 32 %", done=done), "hydrochloric acid", "32 %"
    )
    assert acid.in_hand is not None
    assert acid.in_hand.high == pytest.approx(1.0)
    assert acid.enough == "not known"


def test_more_used_than_bought_is_a_missing_purchase() -> None:
    """600 g of the 500 g of salt were used: what is left is not known."""
    done = DONE.replace("20.0 g salt", "600.0 g salt")
    salt = supply(dissolve("add 5 g salt", done=done), "sodium chloride")
    assert salt.in_hand is not None
    assert "a purchase of sodium chloride is missing" in salt.in_hand.why
    assert salt.enough == "not known"


def test_what_was_never_bought_is_not_in_stock() -> None:
    """Sulfamic acid was never bought; tap water needs no bottle."""
    plan = dissolve("add 5 g sulfamic acid", "add 1 L tap water")
    sulfamic, water = supply(plan, "sulfamic acid"), supply(plan, "tap water")
    assert sulfamic.in_hand is not None and not sulfamic.in_hand.known
    assert sulfamic.enough == "not known"
    assert (water.in_hand, water.enough) == (None, "from the tap")


def test_no_amount_in_the_plan_is_not_known() -> None:
    """Nobody knows whether some acid is enough."""
    acid = next(one for one in dissolve("add some nitric acid 68 %").supplies)
    assert acid.enough == "not known"


def test_the_feed_is_what_the_plan_takes_else_what_it_is_for() -> None:
    """Two takes are added up; `For` counts where nothing is taken; a take goes first."""
    two = plan_of("## Dissolve\n\n- take 200 g relay contacts\n- take 160 g silver wire")
    assert value(two.feed) == 360
    assert value(plan_of("## Dissolve\n\n- add 1 L water", facts="For: 1.2 kg\n").feed) == 1200
    both = plan_of("## Dissolve\n\n- take 200 g relay contacts", facts="For: 1.2 kg\n")
    assert value(both.feed) == 200


def vessels(*stages: str) -> tuple[VesselLoad, ...]:
    """The vessels of a plan of some stages."""
    return plan_of("\n\n".join(stages)).vessels


DOUBT = 2 * 0.05 / sqrt(3)  # of a volume that is read by no named measure, within 5 %: two u
UP = 1 + DOUBT
LITRE_LEAST = 1 - 2 * sqrt(1 / 12 + 1) / 1000  # 1.000 L by the cylinder of scales.md, less two u


def test_a_vessel_holds_all_that_is_poured_and_headroom() -> None:
    """600 mL of nitric work, and their doubt, stand in at least twice that: a beaker of 2 L."""
    (load_,) = vessels(
        "## Dissolve\n\n- add 300.0 mL distilled water\n- add 300.0 mL nitric acid 68 %"
    )
    assert value(load_.liquid) == pytest.approx(0.6 * UP)
    assert (load_.share, load_.vessels) == (0.5, 1)
    assert value(load_.least) == pytest.approx(1.2 * UP)
    assert value(load_.beaker) == 2.0


def test_liquid_at_most_counts_the_doubt_of_every_reading() -> None:
    """Zeros at the end of a whole number are no digits read: 300 mL are 300 ± 100/√12 mL.

    By hand 2 × (300 + 2 × 28.87) = 715.5 mL, and 1431 mL of vessel half full.
    """
    (load_,) = vessels("## Dissolve\n\n- add 300 mL distilled water\n- add 300 mL nitric acid 68 %")
    assert value(load_.liquid) == pytest.approx(2 * (0.3 + 2 * 0.1 / sqrt(12)))
    assert value(load_.least) == pytest.approx(1.431, abs=0.001)


def test_a_range_stands_at_its_upper_end() -> None:
    """1-3 L: 3 L at most, and a vessel of 3 / 0.67 = 4.48 L; nothing that holds 2 L will do."""
    (load_,) = vessels("## Settle\n\n- add 1-3 L water")
    assert value(load_.liquid) == pytest.approx(3.0)
    assert value(load_.least) == pytest.approx(4.478, abs=0.001)
    assert value(load_.beaker) == 5.0
    (twice,) = vessels("## Settle\n\n- rinse 2 times with 1-2 L water")
    assert value(twice.liquid) == pytest.approx(4.0)


def test_what_stays_is_the_most_that_was_there_less_the_least_that_went() -> None:
    """By hand 3 + 0.2 − 1 + 2 = 4.2 L, 8.4 L of vessel half full; 3 − 1 + 2 = 4 L; and doubts."""
    (load_,) = vessels(
        "## Dissolve\n\n- add 1-3 L water\n- add 200.0 mL nitric acid 68 %\n"
        "- discard 1.000 L liquid into [W-1]\n- add 2.000 L water"
    )
    assert value(load_.liquid) == pytest.approx(3 + 0.2 * UP - LITRE_LEAST + 2 * UP)
    assert value(load_.least) == pytest.approx(2 * (3 + 0.2 * UP - LITRE_LEAST + 2 * UP))
    (range_,) = vessels(
        "## Settle\n\n- add 3.000 L water\n- discard 1-2 L liquid into [W-1]\n- add 2.000 L water"
    )
    assert value(range_.liquid) == pytest.approx(3 * UP - 1 + 2 * UP)


def test_what_is_taken_out_of_an_unknown_liquid_leaves_it_unknown() -> None:
    """Some water less 1 L is no known amount, and no size of vessel."""
    (load_,) = vessels(
        "## Settle\n\n- add some water\n- discard 1 L liquid into [W-1]\n- add 200 mL water"
    )
    assert not load_.liquid.known and not load_.least.known
    assert load_.beaker is None


def test_several_vessels_share_the_liquid() -> None:
    """3 × 250.0 mL and 3 × 250.0 mL are 500.0 mL in each of three, so 1 L each at half full."""
    (load_,) = vessels(
        "## Dissolve\n\n- add 250.0 mL distilled water in 3 beakers\n"
        "- add 250.0 mL nitric acid 68 % in 3 beakers"
    )
    assert load_.vessels == 3
    assert value(load_.liquid) == pytest.approx(0.5 * UP)
    assert value(load_.least) == pytest.approx(1.0 * UP)


def test_what_stands_is_carried_into_the_next_stage() -> None:
    """600.0 mL come over and 100.0 mL are added: 700.0 mL at the cementing, not 100 mL."""
    first = "## Dissolve\n\n- add 300.0 mL distilled water\n- add 300.0 mL nitric acid 68 %"
    _, cement = vessels(first, "## Cement\n\n- add 30 g copper bar\n- add 100.0 mL distilled water")
    assert value(cement.liquid) == pytest.approx(0.7 * UP)


def test_what_is_got_goes_on_instead_of_what_was_poured() -> None:
    """Of 600.0 mL a solution of 400.0 mL is got, and goes on."""
    first = (
        "## Dissolve\n\n- add 300.0 mL distilled water\n- add 300.0 mL nitric acid 68 %\n"
        "- get 400.0 mL silver nitrate solution"
    )
    dissolving, cement = vessels(first, "## Cement\n\n- add 100.0 mL distilled water")
    assert value(dissolving.liquid) == pytest.approx(0.6 * UP)
    assert value(cement.liquid) == pytest.approx(0.5 * UP)


def test_a_solid_leaves_its_liquid_behind() -> None:
    """Powder goes into the melt, no liquid with it."""
    found = vessels(
        "## Cement\n\n- add 500.0 mL distilled water\n- get silver powder, damp",
        "## Convert\n\n- add 100.0 mL distilled water",
        "## Melt\n\n- add 3 g borax",
    )
    assert [value(one.liquid) for one in found] == pytest.approx([0.5 * UP, 0.1 * UP])


def test_what_is_thrown_away_makes_room_and_shows_what_was_there() -> None:
    """2 L go away before 800 mL of rinses: 2 L is the most, not 2.8 L, and not the 1.5 L poured."""
    (load_,) = vessels(
        "## Cement\n\n- add 1.500 L distilled water\n- discard 2.000 L blue solution into [W-1]\n"
        "- rinse 4 times with 200.0 mL distilled water"
    )
    assert value(load_.liquid) == pytest.approx(2.0 * UP)


def test_what_is_not_written_leaves_the_vessel_unknown() -> None:
    """Some water beside 300 mL: no limit, and the known part is shown for no size."""
    (load_,) = vessels("## Dissolve\n\n- add 300 mL nitric acid 68 %\n- add some distilled water")
    assert (load_.liquid.value, load_.liquid.low, load_.liquid.high) == (None, None, None)
    assert (load_.least.value, load_.least.low, load_.least.high) == (None, None, None)
    assert "not written" in load_.least.why
    assert load_.beaker is None
    (often,) = vessels("## Settle\n\n- rinse with 200 mL distilled water until clear")
    assert not often.least.known and "how often" in often.least.why


def test_a_liquid_that_is_weighed_or_unmeasured_still_stands_in_the_vessel() -> None:
    """Acid by weight, a splash, a jar from the shelf: none of them is taken for nothing."""
    for step in (
        "add 300 g nitric acid 68 %",
        "add a splash of nitric acid",
        "add some rinse water",
    ):
        (load_,) = vessels(f"## Dissolve\n\n- add 200.0 mL distilled water\n- {step}")
        assert not load_.liquid.known, step
        assert load_.liquid.low is None
        assert not load_.least.known


def test_jars_that_the_plan_filled_are_poured_together() -> None:
    """Two jars of 400 and 300.0 mL are taken into one bucket, with 100.0 mL of water: 800 mL."""
    _, cement = vessels(
        "## Dissolve\n\n- add 700.0 mL nitric acid 68 %\n"
        "- get 400.0 mL silver nitrate solution [B-1]\n"
        "- get 300.0 mL silver nitrate solution [B-2]",
        "## Cement\n\n- take [B-1] and [B-2]\n- add 100.0 mL distilled water",
    )
    assert value(cement.liquid) == pytest.approx(0.8 * UP)


def test_what_foams_most_sets_the_headroom() -> None:
    """A carbonate leaves a vessel a third full at most, whatever the stage is called."""
    (load_,) = vessels("## Settle\n\n- add 300.0 mL water\n- add 20 g sodium bicarbonate")
    assert load_.share == pytest.approx(0.33)
    assert "carbonate" in load_.reason


def test_the_data_of_vessels_is_of_known_stages_and_classes() -> None:
    """Every rule can be met, no vessel may be more than two thirds full, sizes grow."""
    data = load("vessels.toml")
    assert {row["name"] for row in data["stage"]} <= set(stage_kinds())
    classes = {name for reagent in reagents().values() for name in reagent.classes}
    assert {row["name"] for row in data["class"]} <= classes
    for row in (*data["usual"], *data["stage"], *data["class"]):
        assert 0 < row["share"] <= 0.67
        assert row["reason"]
    sizes = [row["litres"] for row in data["beaker"]]
    assert sizes == sorted(sizes)


def test_places_to_write_follow_what_is_done() -> None:
    """Each entry leaves room for what will be read, and a step alone for nothing."""
    steps = (
        "take 20 g wire",
        "add 30 mL nitric acid 68 %",
        "heat at 60 C for 2 h",
        "read pH 7",
        "weigh [X-1]",
        "keep 2 filters [F-1]",
        "get silver bar",
        "wait overnight",
        "stir",
        "discard 1 L blue solution into [W-1]",
    )
    texts = "\n".join(f"- {step}" for step in steps)
    book = read_book({f"runs/{PLAN}.md": f"# Next\n\nStatus: planned\n\n## Dissolve\n\n{texts}\n"})
    plan = work_out(book).plans[PLAN]
    found = {
        entry.span.text.strip(): [blank.name for blank in plan.blanks_of(entry)]
        for entry in book.runs[0].entries
    }
    assert list(found.values()) == [
        ["weight"],
        ["volume"],
        ["temperature", "from", "to"],
        ["pH"],
        ["weight"],
        ["number"],
        ["weight"],
        ["from", "to"],
        [],
        ["volume"],
    ]


PLANNED = """\
# Lot 5, planned

Date: 2026-04-01
Status: planned
Metal: silver
Like: 2026-03-01-lot-4

## Dissolve

- take 200.0 g relay contacts
- add 500.0 mL nitric acid 68 % in the cylinder
- add 500 mL distilled water
- work 1 h 30 min
"""
LOT_4 = """\
# Lot 4

Date: 2026-03-01
Metal: silver

## Dissolve

- took 100.0 g relay contacts
- added 200 mL nitric acid 68 %

## Melt

- got 60.0 g silver bar, silver 99 %
"""
LOT_5 = """\
# Lot 5

Date: 2026-04-05
Metal: silver
Plan: 2026-04-01-lot-5-planned

## Dissolve

- took 210.0 g relay contacts
- added 400.0 mL nitric acid 68 % in the cylinder
- added 10 g salt
- worked 2 h

## Melt

- got 118.0 g silver bar, silver 99 %
"""
BOOK = {
    "runs/scales.md": SCALES,
    "runs/2026-03-01-lot-4.md": LOT_4,
    "runs/2026-04-01-lot-5-planned.md": PLANNED,
    "runs/2026-04-05-lot-5.md": LOT_5,
}


def row(rows: tuple[CheckRow, ...], what: str) -> CheckRow:
    """The row of one thing."""
    return next(one for one in rows if one.what == what)


def test_planned_and_done_stand_side_by_side() -> None:
    """By hand: 210 / 200 g, 400 / 500 mL, 118 g of the 0.6 × 200 = 120 g expected, 2 h / 1.5 h."""
    (check,) = work_out(read_book(BOOK)).plan_checks.values()
    assert (check.plan, check.record) == ("2026-04-01-lot-5-planned", "2026-04-05-lot-5")
    assert value(check.feed.factor) == pytest.approx(1.05)
    assert value(row(check.reagents, "nitric acid 68 %").factor) == pytest.approx(0.8)
    bar = row(check.product, "product, gross")
    assert value(bar.planned) == pytest.approx(120)
    assert value(bar.factor) == pytest.approx(118 / 120)
    assert value(row(check.hours, "hands-on").factor) == pytest.approx(2 / 1.5)


def test_what_only_one_of_the_two_names_has_no_factor() -> None:
    """Water was planned and not noted, salt was used and not planned: neither is nought."""
    (check,) = work_out(read_book(BOOK)).plan_checks.values()
    water, salt = row(check.reagents, "distilled water"), row(check.reagents, "sodium chloride")
    assert (water.done.why, water.factor.known) == ("the record does not name it", False)
    assert (salt.planned.why, salt.factor.known) == ("the plan does not name it", False)


def test_a_plan_that_is_not_there_is_said_with_the_nearest() -> None:
    """A slip in the name, and a run that is no plan."""

    def said(name: str) -> list[tuple[str, str]]:
        log = LOT_5.replace("2026-04-01-lot-5-planned", name)
        book = read_book({**BOOK, "runs/2026-04-05-lot-5.md": log})
        return [(one.headline, one.hint) for one in whole_book_findings(book)]

    assert said("2026-04-01-lot-5-planned") == []
    assert said("2026-04-01-lot-5-planed") == [
        ('there is no plan "2026-04-01-lot-5-planed"', 'did you mean "2026-04-01-lot-5-planned"?')
    ]
    ((headline, _),) = said("2026-03-01-lot-4")
    assert headline == '"2026-03-01-lot-4" is no plan: its log does not say Status: planned'
