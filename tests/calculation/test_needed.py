"""What a stage needs against what was used, in logs as a writer would write them.

Where a handbook or a worksheet of the trade gives a figure it is named. Strengths come from
density tables; by hand, 68 % nitric acid holds 0.68 × 1405 = 955 g of HNO3 a litre (Perry, 6th
ed., second hand), which the tables here give within three per mille.
"""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, ReagentUse, StageChemistry
from logbook.calculation.sums import highest, lowest
from logbook.reading.read_book import read_book

HEAD = "# A run\n\nDate: 2026-03-14\nMetal: {metal}\n\n"
TABLES = 0.004  # two density tables, and doubts of weighing that are taken in on both sides


def figures_of(*stages: str, metal: str = "silver", supplies: str = "") -> BookFigures:
    """The figures of a book of one run."""
    texts = {"runs/2026-03-14-a.md": HEAD.format(metal=metal) + "\n".join(stages)}
    if supplies:
        texts["runs/supplies.md"] = f"# Supplies\n\n{supplies}"
    return work_out(read_book(texts))


def use(figures: BookFigures, reagent: str, at: int = 0) -> ReagentUse:
    """A use of a reagent in the run."""
    (run,) = figures.runs.values()
    return [one for one in run.reagents if one.reagent == reagent][at]


def needed(figures: BookFigures, reagent: str, at: int = 0) -> Figure:
    """What is needed of a reagent in the run."""
    found = use(figures, reagent, at).needed
    assert found is not None
    return found


def limits(figure: Figure) -> tuple[float, float | None]:
    """The limits of a figure; both alike where it has a value."""
    return lowest(figure), highest(figure)


def dissolving(what: str, holds: str, acid: str = "500 mL nitric acid 68 %") -> str:
    """A stage that dissolves a weighed thing."""
    return f"## Dissolve\n\n- took {what}, {holds}\n- added {acid}\n- got 900 mL solution\n"


@pytest.mark.parametrize(
    ("holds", "most"),
    [
        # "67-70 % HNO3: 1.2 mL/g Ag, 1.45 mL/g sterling, 1.53 mL/g coin, 4.15 mL/g Cu": Acid
        # worksheet of the trade, scribd.com/document/377459981; 68 % acid, dioxide route.
        ("silver 100.00 ± 0 %", 122.3),
        ("silver 92.50 ± 0 %, copper 7.50 ± 0 %", 144.3),
        ("silver 90.00 ± 0 %, copper 10.00 ± 0 %", 151.6),
        ("copper 100.00 ± 0 %", 415.2),
    ],
)
def test_the_upper_limit_of_nitric_acid_is_that_of_the_worksheet(holds: str, most: float) -> None:
    """A hundred grams of metal; the lower limit is 2/3 of the upper, as 8/3 is of 4 moles."""
    low, high = limits(needed(figures_of(dissolving("100.000 ± 0 g metal", holds)), "nitric acid"))
    assert high == pytest.approx(most / 1000, rel=TABLES)
    assert low == pytest.approx(most / 1500, rel=TABLES)


def test_aqua_regia_as_the_handbook_has_it_lies_between_the_limits() -> None:
    """Four fluid ounces of hydrochloric and one of nitric acid to a troy ounce of gold.

    Source: C. M. Hoke (1940), second hand; the nitric acid is within some per cent of the
    dioxide limit, the hydrochloric acid 2.25 times its least.
    """
    stage = (
        "## Dissolve\n\n- took 31.1035 ± 0 g gold powder, gold 100.00 ± 0 %\n"
        "- added 118.294 mL hydrochloric acid 37 %\n- added 29.5735 mL nitric acid 70 %\n"
    )
    figures = figures_of(stage, metal="gold")
    low, high = limits(needed(figures, "nitric acid"))
    assert low < 0.0295735 < high * 1.03 if high else False
    excess = use(figures, "hydrochloric acid").excess
    assert excess is not None
    least, most = limits(excess)
    assert most is not None
    assert least < 2.25 < most < 2.25 * 1.07  # the doubt of a volume with no measure named


DROP = (
    "## Dissolve\n\n- took 12.000 ± 0 g gold powder, gold 100.00 ± 0 %\n"
    "- added 60 mL hydrochloric acid 32 %\n- added 12 mL nitric acid 68 %\n"
    "- got 300 mL gold solution\n\n## Drop\n\n- added {}\n- got 11.9 g gold powder\n"
)


@pytest.mark.parametrize(
    ("reagent", "least", "most"),
    [
        # g a gram of gold, worked out from the equations with the library chemicals/molmass;
        # sodium sulfite is sold without water or with seven of it (M 126.04 and 252.15 g/mol)
        ("sodium metabisulfite", 0.72382, 0.72382),
        ("sodium sulfite", 0.95982, 0.95982 * 252.15 / 126.04),
    ],
)
def test_a_precipitant_is_asked_for_by_the_gold_in_solution(
    reagent: str, least: float, most: float
) -> None:
    """The gold that was dissolved is what is dropped, whatever was added to drop it."""
    low, high = limits(needed(figures_of(DROP.format(f"14 g {reagent}"), metal="gold"), reagent))
    assert low == pytest.approx(12 * least, rel=TABLES)
    assert high == pytest.approx(12 * most, rel=TABLES)


def test_crystals_are_counted_with_their_water() -> None:
    """Ferrous sulfate is sold with seven waters: 4.2345 g a gram of gold (by the equation)."""
    _, high = limits(
        needed(figures_of(DROP.format("60 g ferrous sulfate"), metal="gold"), "ferrous sulfate")
    )
    assert high == pytest.approx(4.2345 * 12, rel=TABLES)


def test_copper_to_cement_silver() -> None:
    """One gram of copper brings down 3.4 g of silver (worksheet of the trade; 3.3951 computed)."""
    stages = (
        dissolving("100.000 ± 0 g wire", "silver 100.00 ± 0 %"),
        "## Cement\n\n- added 60.0 g copper bar\n- got 99 g cement silver\n",
    )
    low, high = limits(needed(figures_of(*stages), "copper bar"))
    assert low == pytest.approx(100 / 3.3951, rel=TABLES)
    assert high == pytest.approx(100 / 3.3951, rel=TABLES)


def test_what_is_not_told_of_the_charge_widens_the_range_and_says_so() -> None:
    """71 g of silver in 100 g: the other 29 g may ask for nothing, or for as much as aluminium."""
    whole = needed(
        figures_of(dissolving("100.000 ± 0 g relay contacts", "silver 71.00 ± 0 %")), "nitric acid"
    )
    low, high = limits(whole)
    assert low == pytest.approx(71 * 0.77886 / 955.3, rel=TABLES)
    most = 71 * 1.1683 + 29 * 6 * 63.012 / 26.982  # aluminium, by hand: six moles of acid each
    assert high == pytest.approx(most / 955.3, rel=TABLES)
    assert "what else the charge is made of is not written" in whole.why
    assert any("aluminium" in note for note in whole.notes)


def test_a_charge_of_which_nothing_is_known_needs_what_is_not_known() -> None:
    """No figure is made up for a feed without a composition, nor for one without a weight."""
    nothing = needed(
        figures_of("## Dissolve\n\n- took 100 g boards\n- added 500 mL nitric acid 68 %\n"),
        "nitric acid",
    )
    assert not nothing.known
    assert nothing.high is None
    assert nothing.why


def test_a_strength_that_is_not_written_makes_a_range() -> None:
    """Wider than with a strength, and nitric acid of 68 % lies within it."""
    known = needed(figures_of(dissolving("100.0 g wire", "silver 99.9 %")), "nitric acid")
    open_ = needed(
        figures_of(dissolving("100.0 g wire", "silver 99.9 %", "500 mL nitric acid")), "nitric acid"
    )
    assert lowest(open_) < lowest(known)
    assert (highest(open_) or 0) > (highest(known) or 0)


def test_the_one_strength_that_was_bought_is_taken_and_said_to_be() -> None:
    """A bottle in supplies.md tells how strong the acid is, if it is the only one."""
    stage = dissolving("100.0 g wire", "silver 99.9 %", "500 mL nitric acid")
    one = needed(
        figures_of(stage, supplies="- 2026-01-02 bought 1 L nitric acid 53 % for 9 EUR\n"),
        "nitric acid",
    )
    told = needed(
        figures_of(dissolving("100.0 g wire", "silver 99.9 %", "500 mL nitric acid 53 %")),
        "nitric acid",
    )
    assert limits(one) == pytest.approx(limits(told))
    assert any("one strength that was bought" in note for note in one.notes)


def test_eight_times_the_usual_is_pointed_out_and_the_usual_is_not() -> None:
    """Common practice, no source: about the upper limit; eight times of it is a slip."""
    slip = figures_of(dissolving("100.0 g wire", "silver 99.9 %", "980 mL nitric acid 68 %"))
    usual = figures_of(dissolving("100.0 g wire", "silver 99.9 %", "130 mL nitric acid 68 %"))
    assert [one.code for one in slip.findings if "needed" in one.code] == ["far-more-than-needed"]
    assert not [one for one in usual.findings if "needed" in one.code]


def test_a_copper_bar_that_is_taken_out_again_is_no_excess_to_ask_about() -> None:
    """What is left of a bar goes back on the shelf."""
    stages = (
        dissolving("100.0 g wire", "silver 99.9 %", "130 mL nitric acid 68 %"),
        "## Cement\n\n- added 600 g copper bar\n- kept 570 g copper bar\n"
        "- got 99 g cement silver\n",
    )
    assert not [one for one in figures_of(*stages).findings if "needed" in one.code]


def test_urea_is_not_asked_for_by_nitric_acid() -> None:
    """Well-known wrong advice: urea takes nitrous acid, of which nobody knows how much there is.

    Source: Ind. Eng. Chem. Res. 31(3), osti.gov/biblio/5316558.
    """
    stages = (
        dissolving("10 g wire", "silver 99.9 %"),
        "## Denox\n\n- added 20 g urea\n- got 900 mL solution\n",
    )
    assert use(figures_of(*stages), "urea").needed is None


def chemistry(figures: BookFigures) -> tuple[StageChemistry, ...]:
    """The chemistry of the stages of the run."""
    (run,) = figures.runs.values()
    return run.chemistry


def left(stage: StageChemistry) -> dict[str, tuple[float, float | None]]:
    """The limits of what a stage leaves of each substance."""
    return {one.formula: (one.grams.low, one.grams.high) for one in stage.left}


def test_acid_is_used_up_only_as_far_as_a_product_shows() -> None:
    """Nothing is measured of the solution: all of the acid may still be there.

    505 mL of 68 % hold 955.3 × 0.505 = 482 g of HNO3; the doubt of a beaker, 5 % either way
    (rectangular, u = 2.9 %), is taken in twice.
    """
    stage = dissolving("100 g boards", "silver 1 %", "505 mL nitric acid 68 %")
    (dissolve,) = chemistry(figures_of(stage))
    low, high = left(dissolve)["HNO3"]
    assert low == 0
    assert high == pytest.approx(482 * (1 + 2 * 0.029), rel=0.01)


def test_a_solid_that_was_weighed_takes_no_acid_along() -> None:
    """Cement silver, weighed, goes into the melt; the acid stays with the liquor."""
    stages = (
        dissolving("100.0 g wire", "silver 99.9 %"),
        "## Cement\n\n- added 60 g copper bar\n- got 99 g cement silver\n",
        "## Melt\n\n- got 98 g silver bar\n",
    )
    _, cement, melt = chemistry(figures_of(*stages))
    assert any(one.formula == "HNO3" for one in cement.substances)
    assert melt.substances == ()


def test_a_plan_is_told_what_it_needs() -> None:
    """The same figures stand before the work: the amounts planned in place of those used."""
    text = (
        "# Next\n\nDate: 2026-05-01\nMetal: silver\nStatus: planned\n\n## Dissolve\n\n"
        "- take 100.000 ± 0 g wire, silver 100.00 ± 0 %\n- add 130 mL nitric acid 68 %\n"
    )
    figures = work_out(read_book({"runs/2026-05-01-next.md": text}))
    (run,) = figures.runs.values()
    assert run.reagents[0].needed is not None
    assert highest(run.reagents[0].needed) == pytest.approx(0.1223, rel=TABLES)
    assert not run.cost.known


def test_what_waits_in_a_jar_counts_whole_for_the_one_who_opens_it() -> None:
    """Acid of two runs in one jar is all there, at most, but what their silver used up."""
    run = (
        "# Run {n}\n\nDate: 2026-0{n}-01\nMetal: silver\n\n## Dissolve\n\n"
        "- took 10.00 g wire, silver 99.9 %\n- added 101 mL nitric acid 68 %\n"
        "- got 150 mL solution\n\n"
        "## Cement\n\n- added 20 g copper bar\n- discarded 140 mL liquor into [W-1]\n"
        "- got 9.9 g cement silver\n"
    )
    treat = (
        "# Treated\n\nDate: 2026-09-01\nMetal: silver\n\n## Treat waste\n\n- took [W-1]\n"
        "- added 200 g sodium bicarbonate\n"
    )
    texts = {f"runs/2026-0{n}-01-r.md": run.format(n=n) for n in (1, 2)}
    figures = work_out(read_book({**texts, "runs/2026-09-01-t.md": treat}))
    (treated,) = (one for name, one in figures.runs.items() if name.endswith("-t"))
    found = treated.reagents[0].needed
    assert found is not None
    poured = 0.101 * 955.3 * (1 + 2 * 0.029)  # g, with the doubt of the beaker taken in twice
    used_up = 9.99 * 0.77886  # g, at least, by the silver that came back out of the solution
    assert highest(found) == pytest.approx(2 * (poured - used_up) * 1.3332, rel=0.01)


def test_a_word_of_the_trade_narrows_a_strength_that_is_not_written() -> None:
    """Battery acid is thin, sulfuric acid without more may be anything that is sold."""
    stage = "## Dissolve\n\n- took 10.00 g zinc scrap, zinc 99.9 %\n- added 200 mL {}\n"
    battery = needed(figures_of(stage.format("battery acid"), metal="zinc"), "sulfuric acid")
    any_of_it = needed(figures_of(stage.format("sulfuric acid"), metal="zinc"), "sulfuric acid")
    assert lowest(battery) > 3 * lowest(any_of_it)
    # 35 % at 1.26 g/mL is 441 g/L (battery acid, CRC Handbook by interpolation): 1.5 g of acid
    # a gram of zinc are 34 mL for 10 g
    assert lowest(battery) < 10 * 1.5 / 441 < (highest(battery) or 0)


def test_what_is_measured_by_volume_may_hold_what_nobody_wrote() -> None:
    """Foils in acid are no solution: no upper limit follows from their gold alone."""
    stages = (
        "## Strip\n\n- took 350 g fingers [G-1], gold 0.40 ± 0.01 %\n"
        "- added 505 mL hydrochloric acid 32 %\n- kept 205 mL foils in acid [FO-1]\n",
        "## Dissolve\n\n- took [FO-1]\n- added 35 mL hydrochloric acid 32 %\n"
        "- added 205 mL nitric acid 68 %\n- got 255 mL gold solution\n",
    )
    figures = figures_of(*stages, metal="gold")
    assert highest(needed(figures, "nitric acid")) is None
    assert not [one for one in figures.findings if "needed" in one.code]


def test_metal_that_came_in_solution_uses_no_acid_a_second_time() -> None:
    """A liquid is warmed with more acid in a second stage: its silver was dissolved before.

    By hand: of the acid of both stages no more than 9.99 g × 0.7789 is surely used up.
    """
    stages = (
        "## Dissolve\n\n- took 10.00 g wire, silver 99.9 %\n- added 101 mL nitric acid 68 %\n"
        "- got 151 mL silver solution\n",
        "## Dissolve more\n\n- added 101 mL nitric acid 68 %\n- got 252 mL silver solution\n",
        "## Cement\n\n- added 20.0 g copper bar\n- got 9.99 g cement silver, silver 99.9 %\n",
    )
    _, second, _ = chemistry(figures_of(*stages))
    poured = 2 * 0.101 * 955.3 * (1 + 2 * 0.029)
    high = left(second)["HNO3"][1]
    assert high is not None
    assert high >= (poured - 9.99 * 0.77886) * 0.995


BOTTLES = "- 2026-01-01 had 2 L nitric acid 70 % [N-1]\n"


@pytest.mark.parametrize(
    "words",
    [
        "- added 0.50 L nitric acid 70 % from [N-1]",
        "- added 0.50 L nitric acid from [N-1]",
        "- added 0.50 L from [N-1]",
        "- added 0.50 L nitric acid [N-1]",
        "- added 0.50 L nitric acid 70 % [X-9]",  # a label that no list of supplies knows
        "- took 0.50 L nitric acid from [N-1]",
    ],
)
def test_what_came_from_a_bottle_is_that_reagent(words: str) -> None:
    """A supply is one whatever bottle it is poured from; nothing of it is lost to the chemistry."""
    stage = (
        f"## Dissolve\n\n- took 100.0 g wire [S-1], silver 99.9 %\n{words}\n- got 0.9 L solution\n"
    )
    figures = figures_of(stage, supplies=BOTTLES)
    assert needed(figures, "nitric acid").low
    (dissolve,) = chemistry(figures)
    assert [one.formula for one in dissolve.added] == ["HNO3"]
    assert not [one for one in figures.findings if one.code == "label-unknown"]


def test_a_bottle_that_a_run_filled_is_no_supply_bought() -> None:
    """What a run kept is a thing of the book; it is not paid for twice."""
    stages = (
        "## Dissolve\n\n- took 10.0 g wire, silver 99.9 %\n- added 0.11 L nitric acid 70 %\n"
        "- kept 0.05 L nitric acid [SA-1]\n- got 0.2 L solution\n",
        "## Dissolve more\n\n- added 0.05 L nitric acid from [SA-1]\n- got 0.25 L solution\n",
    )
    (run,) = figures_of(*stages).runs.values()
    assert [use.stage.index for use in run.reagents if use.reagent == "nitric acid"] == [0]


@pytest.mark.parametrize("what", ["copper", "copper pipe", "old copper wire", "copper bar"])
def test_a_metal_by_its_plain_name_is_that_metal(what: str) -> None:
    """Three grams of silver to a gram of copper, whatever the copper was before."""
    stages = (
        dissolving("100.000 ± 0 g wire", "silver 100.00 ± 0 %"),
        f"## Cement\n\n- added 60.0 g {what}\n- got 99 g cement silver\n",
    )
    (run,) = figures_of(*stages).runs.values()
    (row,) = [use for use in run.reagents if "copper" in use.reagent]
    assert row.needed is not None
    assert highest(row.needed) == pytest.approx(100 / 3.3951, rel=TABLES)


def test_base_metal_under_gold_filled_asks_for_acid() -> None:
    """97.5 % of the charge is not gold, and may be what nitric acid takes most of."""
    stage = dissolving("192.80 g gold filled cases", "gold 1/20 12 kt", "400 mL nitric acid 67 %")
    whole = needed(figures_of(stage, metal="gold"), "nitric acid")
    assert whole.low in (0.0, None)
    assert (highest(whole) or 0) > 192.8 * 0.97 * 3.96 / 955  # copper to dioxide, by hand


def test_a_precipitant_for_gold_that_nobody_assayed_is_not_known() -> None:
    """That gold cannot weigh more than its boards limits nothing that is worth a figure."""
    stages = (
        "## Dissolve\n\n- took 2.30 kg fingers\n- added 505 mL hydrochloric acid 32 %\n"
        "- added 105 mL nitric acid 68 %\n- got 600 mL gold solution\n",
        "## Drop\n\n- added 30.0 g sodium metabisulfite\n- got gold powder\n",
    )
    found = needed(figures_of(*stages, metal="gold"), "sodium metabisulfite")
    assert not found.known
    assert found.high is None


def test_a_liquid_from_outside_the_book_may_hold_any_acid() -> None:
    """Old acid of unknown make under bleach: no limit for its acid, so none for the chlorine."""
    (stage,) = chemistry(
        figures_of("## Treat waste\n\n- took 2.0 L old acid [W-9]\n- added 1.0 L bleach\n")
    )
    acids = {one.formula: one.grams for one in stage.substances}
    assert {"HNO3", "HCl", "H2SO4"} <= set(acids)
    assert acids["HCl"].high is None
    assert acids["HCl"].low == 0
    assert any(one.name == "naclo_hcl" for one in stage.reactions)


def test_what_is_kept_and_thrown_away_holds_no_more_than_went_in() -> None:
    """Three jars that may each hold all of the gold do not hold it three times."""
    stage = (
        "## Strip\n\n- took 539.0 g fingers, gold 0.40 ± 0.01 %\n"
        "- kept 200 mL foils [F-1]\n- kept 300 mL liquid [F-2]\n- kept 100 mL sludge [F-3]\n"
    )
    (run,) = figures_of(stage, metal="gold").runs.values()
    (gold,) = run.balances
    assert gold.shelf.high is not None
    assert gold.shelf.high <= 539.0 * 0.0042 + 0.01
