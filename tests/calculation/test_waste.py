"""Waste containers of books written as logs, against calculation by hand and the network itself."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.results import BookFigures, Fate, Thing, WasteContainer
from logbook.chemistry.neutralising import base_for_acids
from logbook.chemistry.ranges import Range
from logbook.proof import read_from
from tests.calculation.test_acids import HEAD, book, steps
from tests.conftest import ROOT

TWO_POURS = (
    HEAD
    + """\
## Dissolve

- took 50.00 g silver wire [SW-1], silver 92.5 %
- added 100.0 g nitric acid 68 %
- got 0.2 L silver nitrate solution

## Cement

- added 60.0 g copper bar
- kept 38 g copper bar [CU-1]
- discarded 0.9 L blue solution into [W-1], silver 0.02 ± 0.02 g/L
- discarded 2.1 L rinse water into [W-1], silver 0.02 ± 0.02 g/L
- got 46 g cement silver, dry
"""
)


def container(figures: BookFigures, label: str, *, stands: bool = True) -> WasteContainer:
    """The state of a container that stands, or has gone."""
    (found,) = [one for one in figures.waste if one.label == label and one.stands is stands]
    return found


def names(one: WasteContainer) -> list[str]:
    """The steps that concern a container."""
    return [step.name for step in one.steps]


def test_volumes_and_metals_add_up() -> None:
    """0.9 L and 2.1 L are 3.0 L; at 0.02 g/L they hold 0.018 g and 0.042 g, 0.060 g together."""
    one = container(book(TWO_POURS), "W-1")
    assert one.volume.value is not None and one.volume.value.value == pytest.approx(3.0)
    silver = one.contents["silver"].best
    assert silver.value is not None and silver.value.value == pytest.approx(0.060)
    assert [thing.what for thing in one.received] == ["blue solution", "rinse water"]
    assert one.last_run == "run-0" and one.state == "liquid"


def test_copper_of_the_bar_is_named_and_not_known() -> None:
    """22 g of the bar went somewhere, and no line says that it is in the waste."""
    one = container(book(TWO_POURS), "W-1")
    assert "copper" in one.may_hold and "copper" not in one.contents
    (line,) = [line for line in one.limits if line.measure == "copper"]
    assert line.verdict == "not known" and not line.found.known


def test_base_by_hand() -> None:
    """68 g of HNO3 are 1.079 mol: 43.2 g of NaOH, 57.2 g of soda, 90.7 g of bicarbonate at most.

    It holds the metal that the acid dissolved: every mole of acid is paired with base once.
    """
    one = container(book(TWO_POURS), "W-1")
    by_hand = {"NaOH": 43.16, "Na2CO3": 57.19, "NaHCO3": 90.65, "Ca(OH)2": 39.98}
    assert [need.base for need in one.base] == list(by_hand)
    for need in one.base:
        assert not need.grams.known and need.grams.why
        assert need.grams.high == pytest.approx(by_hand[need.base], rel=0.02)
        assert need.grams.high >= by_hand[need.base]
    soda = one.base[1]
    assert soda.gas.high == pytest.approx(1.079 / 2 * 24.465, rel=0.02)  # L of CO2
    assert one.base[0].gas.high == 0.0
    # 57.62 kJ a mole with a dissolved base; 33.28 for thinning what is left, at most all of it;
    # 44.51 for dissolving solid lye (Parker 1965).
    parts = [1.079 * 57.62, 1.079 * 33.28, 1.079 * 44.51]
    taken, thinned, dissolved = (term.high for term in one.heat.terms)
    assert taken == pytest.approx(parts[0], rel=0.02)
    assert dissolved == pytest.approx(parts[2], rel=0.02)
    assert thinned is not None and 0.0 < thinned <= parts[1] * 1.02
    assert one.heat.high == pytest.approx(taken + thinned + dissolved)


def test_the_acid_left_is_told_by_its_name_and_line() -> None:
    """A limit, with the line of the acid it rests on."""
    (acid,) = container(book(TWO_POURS), "W-1").acids
    assert acid.name == "nitric acid" and not acid.known and acid.why
    assert acid.high is not None and acid.high <= 68.0 * 1.02
    assert [span.text for span in acid.rests_on] == ["100.0 g nitric acid 68 %"]


def read_in_stage(lines: str) -> WasteContainer:
    """A container filled from a stage of these lines."""
    return container(book(HEAD + "## Treat waste\n\n" + lines), "W-1")


def test_ph_read_before_it_was_poured() -> None:
    """A pH of 7-8 stays between 7 and 8; a pH read before more was added is none of it."""
    poured = "- discarded 0.5 L liquor into [W-1]\n"
    one = read_in_stage("- added 20 g nitric acid 68 %\n- read pH 7-8\n" + poured)
    assert (one.ph.low, one.ph.high, one.ph.value) == (7.0, 8.0, None)
    assert one.ph_day == date(2026, 3, 14)
    before = read_in_stage("- read pH 1\n- added 20 g sodium bicarbonate\n" + poured)
    assert not before.ph.known and before.ph.high is None and before.ph.why
    one_number = read_in_stage("- added 20 g nitric acid 68 %\n- read pH 2\n" + poured)
    assert one_number.ph.value is not None and one_number.ph.value.value == 2.0


def test_ph_that_names_the_container_holds_until_more_is_poured_in() -> None:
    """What is poured in afterwards makes it not known again."""
    first = TWO_POURS + "- read pH 1 in [W-1]\n"
    known = container(book(first), "W-1").ph
    assert known.value is not None and known.value.value == 1.0
    later = HEAD.replace("14 March", "20 March") + "## Cement\n\n"
    later += "- discarded 0.2 L blue solution into [W-1]\n"
    assert not container(book(first, later), "W-1").ph.known


def test_what_was_handed_over_has_gone() -> None:
    """`discarded [W-1]` empties it on its day; what comes after is a new state."""
    later = HEAD.replace("14 March", "20 March") + "## Treat waste\n\n"
    later += "- discarded [W-1], handed over to the collection point\n"
    gone = container(book(TWO_POURS, later), "W-1", stands=False)
    assert gone.gone == date(2026, 3, 20)
    assert "handed over" in gone.gone_entries[0].span.text
    again = HEAD.replace("14 March", "25 March") + "## Cement\n\n"
    again += "- discarded 0.2 L green solution into [W-1]\n"
    fresh = container(book(TWO_POURS, later, again), "W-1")
    assert fresh.volume.value is not None and fresh.volume.value.value == pytest.approx(0.2)


def test_what_was_treated_leaves_its_container() -> None:
    """Waste that a stage took stands in the container into which that stage discarded it."""
    later = HEAD.replace("14 March", "20 March") + "## Treat waste\n\n- took [W-1]\n"
    later += "- added 63.0 g sodium bicarbonate\n- discarded 3 L grey liquor into [W-2]\n"
    figures = book(TWO_POURS, later)
    treated = container(figures, "W-1", stands=False)
    assert treated.taken_by is not None and treated.taken_by.run == "run-1"
    now = container(figures, "W-2")
    # 43.16 g of NaOH less the worth of 63.0 g of bicarbonate, 0.7499 mol: 43.16 − 0.7499 × 39.997
    assert now.base[0].grams.high == pytest.approx(43.16 - 0.7499 * 39.997, rel=0.06)
    silver = now.contents["silver"].best
    assert silver.value is not None and silver.value.value == pytest.approx(0.060)


def test_waste_without_a_container() -> None:
    """What was thrown away without a label is shown, and said to be nowhere."""
    log = HEAD + "## Dissolve\n\n- added 20.0 g nitric acid 68 %\n- discarded 0.5 L liquor\n"
    (one,) = book(log).waste
    assert one.label == "" and one.notes and one.base


def test_stored_salts() -> None:
    """Dry salts have a weight, no volume and no pH; the order for dry waste concerns them."""
    log = HEAD + "## Evaporate\n\n- added 20.0 g nitric acid 68 %\n"
    log += "- heated at 95 C for 3 h\n- discarded 48.0 g blue salts into [W-3], dry\n"
    one = container(book(log), "W-3")
    assert one.state == "solid" and not one.volume.known
    assert one.gross.value is not None and one.gross.value.value == pytest.approx(48.0)
    assert "dry-salts" in names(one) and "neutralise-slowly" not in names(one)


def test_the_order_follows_what_may_be_in_it() -> None:
    """Acid waste is neutralised after its metals; caustic waste is not met with acid."""
    acid = names(container(book(TWO_POURS), "W-1"))
    assert acid[0] == "ask-first" and acid[-1] == "nothing-down-the-drain"
    assert acid.index("precious-first") < acid.index("copper-on-iron")
    assert acid.index("copper-on-iron") < acid.index("neutralise-slowly") < acid.index("hydroxides")
    log = HEAD + "## Convert\n\n- added 25.0 g sodium hydroxide\n- added 20 g sugar\n"
    caustic = container(book(log + "- discarded 0.3 L brown liquid into [W-2]\n"), "W-2")
    assert "base-is-no-acid-job" in names(caustic)
    assert "neutralise-slowly" not in names(caustic) and "hydroxides" not in names(caustic)
    assert caustic.caustic is not None and caustic.caustic.high == pytest.approx(25.0, rel=0.02)


@pytest.mark.parametrize(
    ("grams", "verdict"),
    # 5 mg/L is the line for silver (40 CFR 261.24); 1.00 L here, so that mg are mg/L.
    [("0.0100 g", "reached"), ("0.0020 g", "not reached"), ("0.0050 ± 0.0010 g", "may be reached")],
)
def test_silver_beside_its_line(grams: str, verdict: str) -> None:
    """Below, above, or on both sides within two standard uncertainties."""
    log = HEAD + "## Dissolve\n\n- took 5.00 g silver wire, silver 90 ± 1 %\n"
    log += f"- discarded 1.00 L ± 0.001 L liquor into [W-1], silver {grams}\n"
    (line,) = [one for one in container(book(log), "W-1").limits if one.measure == "silver"]
    assert line.verdict == verdict


def test_strong_ph_is_at_the_line() -> None:
    """A pH of 1 is below 2, pH 3 is not, pH 1 to 3 may be (40 CFR 261.22; CLP)."""
    for read, verdict in (("1", "reached"), ("3", "not reached"), ("1-3", "may be reached")):
        one = read_in_stage(
            f"- added 5 g nitric acid 68 %\n- read pH {read}\n- discarded 1 L liquor into [W-1]\n"
        )
        assert {line.verdict for line in one.limits if line.measure == "pH"} == {verdict}, read


def test_demo_waste_is_the_networks() -> None:
    """Of the demo: each container holds what the network says of it, its limits no narrower."""
    from logbook.calculation.book_figures import work_out

    figures = work_out(read_from(Path(ROOT)))
    things = {thing.key: thing for thing in figures.things}
    assert figures.waste
    for one in figures.waste:
        check_contents(one, things[one.key])
        assert one.volume == things[one.key].volume
        check_limits(one)
    labelled = {thing.label for thing in figures.things if thing.fate is Fate.WASTE}
    assert labelled <= {one.label for one in figures.waste}


def check_contents(one: WasteContainer, thing: Thing) -> None:
    """Values are those of the network; limits hold those of the network, which lack the doubt."""
    assert one.contents.keys() == thing.held.keys()
    for metal, content in one.contents.items():
        there = thing.held[metal].best
        if there.known:
            assert content == thing.held[metal]
            continue
        assert not content.best.known and (content.best.low or 0.0) <= (there.low or 0.0)
        if content.best.high is not None:
            assert there.high is not None and content.best.high >= there.high


def check_limits(one: WasteContainer) -> None:
    """Base is never below what the upper limit of each acid takes; low never above high."""
    formulas = {"nitric acid": "HNO3", "hydrochloric acid": "HCl", "sulfuric acid": "H2SO4"}
    for need in one.base:
        high = need.grams.high
        assert need.grams.value is None and need.grams.low is not None and need.grams.why
        for acid in one.acids:
            assert acid.low is not None and acid.low >= 0.0
            if acid.high is None or high is None:
                continue
            most = base_for_acids(need.base, {formulas[acid.name]: Range.exactly(acid.high)}).low
            assert high >= most * (1 - 1e-9) and need.grams.low <= high


@settings(max_examples=40, deadline=None)
@given(steps)
def test_of_any_book(lines: list[str]) -> None:
    """Whatever is written, limits stay limits and contents stay the network's."""
    figures = book(HEAD + "## Leach\n\n" + "".join(lines))
    things = {thing.key: thing for thing in figures.things}
    for one in figures.waste:
        check_limits(one)
        check_contents(one, things[one.key])
        assert one.steps[0].name == "ask-first"
        assert one.steps[-1].name == "nothing-down-the-drain"


@given(st.sampled_from(["a lump", "blue salts", "sludge", "filters"]))
def test_a_solid_has_no_concentration(what: str) -> None:
    """Without a volume, no concentration is made up."""
    log = HEAD + f"## Filter\n\n- took 5.00 g silver wire, silver 90 ± 1 %\n- discarded 20 g {what}"
    one = container(book(log + " into [W-1], silver 0.1 g\n"), "W-1")
    for line in one.limits:
        assert line.verdict == "not known"
