"""Limits of waste carry the doubt of the readings behind them: by hand, on small books."""

from __future__ import annotations

import pytest

from logbook.calculation.figure import Figure
from logbook.calculation.results import Standing, WasteContainer
from logbook.calculation.waste.doubted import widened
from logbook.model.amount import Uncertain
from tests.calculation.test_acids import HEAD, book

COPPER = HEAD.replace("Metal: silver", "Metal: copper")
LATER = COPPER.replace("14 March", "20 March")
SCRAP = "## Dissolve\n\n- took 500 g ± 0.1 g scrap [S-1], copper 30 ± 5 %\n"
SCRAP += "- added 2 L nitric acid 68 %\n"
TAKEN = "## Treat waste\n\n- took [W-1]\n- added 400 g iron\n- got 200 g sludge [CC-1]\n"


def container(*logs: str, stands: bool = True) -> WasteContainer:
    """The container W-1 after some logs."""
    found = [one for one in book(*logs).waste if one.label == "W-1" and one.stands is stands]
    (one,) = found
    return one


def bounded() -> WasteContainer:
    """All copper but what 1 g of residue may hold went into W-1: 149 to 150 g, as if exact."""
    log = COPPER + SCRAP + "- discarded 5.0 L ± 0.1 L green liquor into [W-1]\n"
    log += "- kept 1.0 g ± 0.1 g residue [R-1]\n"
    return container(log, LATER + TAKEN, stands=False)


def test_copper_of_rough_scrap() -> None:
    """30 ± 5 % of 500 g: 150 g with a doubt of 25 g, so 100 to 200 g, not 149 to 150 g."""
    copper = bounded().contents["copper"]
    assert copper.standing is Standing.BOUNDED
    low, high = copper.best.low, copper.best.high
    assert low is not None and high is not None
    assert 95.0 <= low <= 150.0 - 2 * 25.0 and 150.0 + 2 * 25.0 <= high <= 205.0
    assert "doubt" in copper.words and "without" not in copper.words


def test_the_lower_base_limit_takes_the_widened_content() -> None:
    """Of 98 g of copper at least, 123 g of NaOH: 2 × 39.997 / 63.546 g a gram (by hand)."""
    one = bounded()
    low = one.contents["copper"].best.low
    assert low is not None
    sure = one.base[0].grams.low
    assert sure is not None and sure <= 100.0 * 2 * 39.997 / 63.546 + 0.5


def test_the_lines_are_held_against_the_widened_content() -> None:
    """0.10 to 0.20 g of 500 g in 5 L is 20 to 40 mg/L, on both sides of 25 mg/L (STLC)."""
    scrap = SCRAP.replace("copper 30 ± 5 %", "copper 0.030 ± 0.005 %")
    log = COPPER + scrap + "- discarded 5.0 L ± 0.1 L green liquor into [W-1]\n"
    log += "- kept 0.001 g ± 0.0001 g residue [R-1]\n"
    one = container(log, LATER + TAKEN, stands=False)
    (line,) = [line for line in one.limits if line.measure == "copper"]
    assert line.verdict == "may be reached"
    assert line.found.low is not None and line.found.low <= 0.100 / 5.2
    assert line.found.high is not None and line.found.high >= 0.200 / 4.8


def test_without_a_doubt_that_can_be_told_there_is_no_limit() -> None:
    """Half of a liquid whose content only its other half tells: nothing is sure of it."""
    log = COPPER + SCRAP + "- got 5.0 L green liquor [F-1]\n- kept 1.0 g residue [R-1]\n"
    later = LATER + "## Treat waste\n\n- took 2 L green liquor [F-1]\n- added 400 g iron\n"
    later += "- discarded 2 L green liquor into [W-1]\n- got 200 g sludge [CC-1]\n"
    copper = container(log, later).contents["copper"]
    if not copper.best.known:
        assert not copper.best.low


def test_a_loss_that_is_counted_in_is_no_lower_limit() -> None:
    """What a balance leaves for the waste holds every loss: none of it is sure to be there."""
    log = COPPER + SCRAP + "- discarded 5.0 L ± 0.1 L green liquor into [W-1]\n"
    log += "- got 350 g ± 1 g residue [R-1], copper 0.2 ± 0.1 %\n"
    one = container(log)
    copper = one.contents["copper"]
    assert copper.side == "making" and copper.best.known
    assert one.base[0].grams.low == 0.0
    (line,) = [line for line in one.limits if line.measure == "copper"]
    assert line.verdict == "may be reached"


def test_pours_without_a_value_are_added_with_their_doubt() -> None:
    """One pour of 0.02 ± 0.02 g/L, one without a word: at least nothing, not 0.018 g."""
    log = HEAD + "## Dissolve\n\n- took 5.00 g silver wire, silver 90 ± 1 %\n"
    log += "- discarded 0.9 L blue liquor into [W-1], silver 0.02 ± 0.02 g/L\n"
    log += "- got 0.3 L silver nitrate solution [F-1]\n\n## Rinse\n\n- took [F-1]\n"
    log += "- discarded 0.5 L rinse water into [W-1]\n- kept 0.1 L liquor [F-2]\n"
    silver = container(log).contents["silver"].best
    assert not silver.known and silver.low == 0.0


def test_widening_by_hand() -> None:
    """2.0 ± 0.1 L and 10 ± 1 g/L: low less 30 %, high 1.1 × 1.2; a reading of nothing: no limit."""
    litres = Figure("V", "L", Uncertain.of(2.0, 0.1, "a"))
    each = Figure("c", "g/L", Uncertain.of(10.0, 1.0, "b"))
    found = widened(Figure("m", "g", terms=(litres, each), low=10.0, high=20.0))
    assert found.low == pytest.approx(7.0) and found.high == pytest.approx(26.4)
    none = Figure("c", "g/L", Uncertain.of(0.0, 1.0, "b"))
    nothing = widened(Figure("m", "g", terms=(litres, none), low=10.0, high=20.0))
    assert (nothing.low, nothing.high) == (0.0, None)
    less = widened(Figure("m", "g", formula="a − b", terms=(litres, each), low=10.0, high=20.0))
    assert (less.low, less.high) == (0.0, None)


def test_heat_of_strong_sulfuric_acid() -> None:
    """500 mL of 98 %, 9.17 mol: 874 kJ of thinning and 1057 of neutralising, 816 of solid lye.

    By hand: 500 mL × 1.836 g/mL × 0.98 / 98.08 g/mol = 9.17 mol; × 95.28, × 2 × 57.62,
    × 2 × 44.51 kJ. With a dissolved base at least 1740 kJ, whatever figures are taken. The
    volume was measured with nothing that is named, so that it may be a tenth more.
    """
    log = HEAD + "## Leach\n\n- added 500 mL sulfuric acid 98 %\n"
    one = container(log + "- discarded 1 L liquor into [W-1]\n")
    taken, thinned, dissolved = (term.high for term in one.heat.terms)
    assert taken is not None and thinned is not None and dissolved is not None
    assert taken >= 9.17 * 2 * 57.62 and thinned >= 9.17 * 95.28 and dissolved >= 9.17 * 2 * 44.51
    assert taken + thinned >= 1740.0
    assert one.heat.high == pytest.approx(9.17 * (95.28 + 2 * 57.62 + 2 * 44.51), rel=0.15)
    assert one.heat.high >= 2730.0
    for word in ("thinning", "solid lye"):
        assert word in one.heat.name


def test_heat_that_is_not_in_the_data_is_not_known() -> None:
    """Oxalic acid takes base, and no heat of it is written: no limit, and the reason."""
    log = HEAD + "## Leach\n\n- added 20 g nitric acid 68 %\n- added 20 g oxalic acid\n"
    one = container(log + "- discarded 1 L liquor into [W-1]\n")
    assert one.heat.high is None and "not in the data" in one.heat.why
