"""The ledger of acid, in books written as logs, against calculation by hand.

By hand: a gram of silver uses 0.7789 g of HNO3 where monoxide forms and 1.1683 g where dioxide
does (4 × 63.012 / (3 × 107.87) and 2 × 63.012 / 107.87), so that what is truly left of an acid
lies between two figures. The ledger must never be narrower than these.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, StageKey
from logbook.calculation.supplies.known import supply_list
from logbook.calculation.supplies.uses import supply_uses
from logbook.calculation.waste.acid_supplies import uncounted
from logbook.calculation.waste.acids import AcidHeld, acids_of
from logbook.chemistry.formulas import molar_mass
from logbook.reading.read_book import read_book

HEAD = "# A run\n\nDate: 14 March 2026\nMetal: silver\n\n"
LEAST, MOST = 0.7789, 1.1683  # g of HNO3 a gram of silver


def book(*logs: str) -> BookFigures:
    """A book of some logs."""
    return work_out(read_book({f"runs/run-{place}.md": log for place, log in enumerate(logs)}))


def ledger(figures: BookFigures) -> Mapping[str, AcidHeld]:
    """The ledger of a whole book."""
    runs = {run.name: run for run in figures.book.runs if not run.planned}
    chemistry = {one.stage: one for run in figures.runs.values() for one in run.chemistry}
    supplies = supply_list(figures.book)
    uses = [use for run in runs.values() for use in supply_uses(run, supplies)]
    return acids_of(figures.things, chemistry, runs, uncounted(uses, chemistry))


def put_in(figures: BookFigures, formula: str) -> float:
    """The most of a substance that the whole book put in anywhere [g]."""
    return sum(
        one.grams.high or 0.0
        for run in figures.runs.values()
        for stage in run.chemistry
        for one in stage.added
        if one.formula == formula
    )


def only(figures: BookFigures, what: str) -> AcidHeld:
    """What the one thing of these words may hold."""
    (thing,) = [one for one in figures.things if one.what == what]
    return ledger(figures)[thing.key]


DISSOLVED = (
    HEAD
    + """\
## Dissolve

- took 50.00 g silver wire [SW-1], silver 92.5 %
- added 100.0 g nitric acid 68 %
- got 0.2 L silver nitrate solution, silver 231 g/L
"""
)


def test_acid_left_holds_both_ways_the_reaction_can_go() -> None:
    """68 g of HNO3 on 46.25 g of silver: 14.0 g are left, or 32.0 g, and neither is chosen."""
    acid = only(book(DISSOLVED), "silver nitrate solution").acids["HNO3"]
    assert acid.low <= 68.0 - MOST * 46.25
    assert acid.high is not None and 68.0 - LEAST * 46.25 <= acid.high <= 1.02 * 68.0


def test_metal_in_solution_is_not_dissolved_twice() -> None:
    """A second 68 g of HNO3 on the same solution: nothing more is used, at least 82 g are left."""
    twice = DISSOLVED + "\n## Dissolve, once more\n\n- added 100.0 g nitric acid 68 %\n"
    twice += "- got 0.3 L strong solution, silver 154 g/L\n"
    acid = only(book(twice), "strong solution").acids["HNO3"]
    assert acid.high is not None and acid.high >= 2 * 68.0 - LEAST * 46.25 - 0.5
    assert acid.low <= 2 * 68.0 - MOST * 46.25


def test_what_acid_dissolved_takes_base_too() -> None:
    """Base is taken by all acid that was put in: 68 g of HNO3 are 1.079 mol, metal or not."""
    held = only(book(DISSOLVED), "silver nitrate solution")
    assert held.takes == pytest.approx(68.0 / molar_mass("HNO3"), rel=0.02)
    assert held.takes is not None and held.takes >= 68.0 / molar_mass("HNO3")


def test_heat_and_boiling_lower_the_lower_limit_alone() -> None:
    """Acid may have gone with the steam; it may also all be there."""
    cold, hot = (
        only(
            book(
                HEAD + "## Denox\n\n- took 3.00 g silver wire, silver 100 %\n"
                f"- added 100.0 g nitric acid 68 %\n{step}- got 60 mL rest of solution\n"
            ),
            "rest of solution",
        ).acids["HNO3"]
        for step in ("", "- heated at 95 C for 2 h\n")
    )
    assert hot.low == 0.0 and hot.high == cold.high


def test_two_pours_of_one_stage_hold_anything_up_to_all() -> None:
    """Which of two liquids has the acid is not known; together they have no more than one."""
    log = DISSOLVED.replace("- got 0.2 L", "- discarded 0.1 L first liquor into [W-1]\n- got 0.2 L")
    figures = book(log + "\n## Settle\n\n- discarded 0.2 L second liquor into [W-1]\n")
    held = ledger(figures)
    first, jar = (
        held[
            next(
                one.key for one in figures.things if one.what == what and bool(one.pooled_from) is p
            )
        ]
        for what, p in (("first liquor", False), ("first liquor", True))
    )
    assert first.acids["HNO3"].low == 0.0
    most = put_in(figures, "HNO3")
    assert jar.acids["HNO3"].high is not None
    assert (first.acids["HNO3"].high or 0.0) <= jar.acids["HNO3"].high <= most
    assert jar.takes is not None and jar.takes <= most / molar_mass("HNO3") * (1 + 1e-12)


def test_a_drawn_part_has_its_share_by_volume() -> None:
    """A quarter of a jar has a quarter of its acid: 0.05 of 0.2 L."""
    log = DISSOLVED.replace("silver nitrate solution,", "silver nitrate solution [J-1],")
    figures = book(log + "\n## Store\n\n- kept 0.05 L from [J-1] into [J-2]\n")
    held = ledger(figures)
    (part,) = [one for one in figures.things if one.part_of == "J-1" and "rest" not in one.key]
    whole = held["J-1"].acids["HNO3"].high
    assert whole is not None and part.share is not None and part.share.value is not None
    share = part.share.value
    most = held[part.key].acids["HNO3"].high
    assert most == pytest.approx(whole * (share.value + 2 * share.u))
    assert share.value == pytest.approx(0.25)


def test_base_counts_against_acid() -> None:
    """68 g of HNO3 (1.079 mol) and 42.0 g of bicarbonate (0.500 mol) take 0.579 mol more."""
    log = HEAD + "## Treat waste\n\n- added 100.0 g nitric acid 68 %\n"
    log += "- added 42.00 g sodium bicarbonate\n- discarded 0.5 L spent liquor into [W-1]\n"
    figures = book(log)
    held = ledger(figures)["W-1"]
    by_hand = 68.0 / 63.012 - 42.0 / 84.006
    assert held.takes == pytest.approx(by_hand, rel=0.03) and held.takes >= by_hand
    acid = held.acids["HNO3"]
    assert acid.low <= by_hand * 63.012 <= (acid.high or 0.0)


def test_too_much_base_leaves_no_acid_and_is_not_forgotten() -> None:
    """No less than nothing is left of an acid; the caustic that went in is told."""
    log = HEAD + "## Treat waste\n\n- added 10.0 g nitric acid 68 %\n"
    log += "- added 100.0 g sodium hydroxide\n- discarded 0.5 L caustic liquor into [W-1]\n"
    held = ledger(book(log))["W-1"]
    assert held.takes == 0.0
    assert held.base == pytest.approx(100.0 / 39.997, rel=0.01)


@pytest.mark.parametrize(
    "added",
    ["30 mL acid", "30 mL of a blue mixture", "5.0 g secret powder", "some drain cleaner"],
)
def test_what_nobody_knows_leaves_no_upper_limit(added: str) -> None:
    """A supply that the data cannot count may be any acid: no figure stands for it."""
    log = HEAD + f"## Leach\n\n- added 20.0 g nitric acid 68 %\n- added {added}\n"
    held = ledger(book(log + "- discarded 0.5 L liquor into [W-1]\n"))["W-1"]
    assert held.takes is None and held.doubts


@pytest.mark.parametrize("added", ["2 filters", "200 mL distilled water", "3.0 g borax"])
def test_what_is_no_acid_leaves_the_limit(added: str) -> None:
    """Water, paper and flux bring no acid."""
    log = HEAD + f"## Leach\n\n- added 20.0 g nitric acid 68 %\n- added {added}\n"
    held = ledger(book(log + "- discarded 0.5 L liquor into [W-1]\n"))["W-1"]
    expected = 20.0 * 0.68 / 63.012  # mol
    assert held.takes == pytest.approx(expected, rel=0.05)


def test_a_liquid_from_outside_may_hold_anything() -> None:
    """Nobody wrote what a jar of old acid held when it came."""
    log = HEAD + "## Treat waste\n\n- took 1.0 L old spent acid [X-1]\n"
    held = ledger(book(log + "- discarded 1.0 L grey liquor into [W-1]\n"))["W-1"]
    assert held.takes is None and held.doubts


def test_acid_goes_along_from_run_to_run() -> None:
    """A jar kept in one run brings its acid into the next, and into that one's waste."""
    first = DISSOLVED.replace("solution,", "solution [J-1],")
    second = HEAD.replace("14 March", "20 March") + "## Cement\n\n- took [J-1]\n"
    second += "- added 60.0 g copper bar\n- discarded 0.3 L blue solution into [W-1]\n"
    figures = book(first, second)
    jar, waste = ledger(figures)["J-1"], ledger(figures)["W-1"]
    assert waste.acids["HNO3"].high == pytest.approx(jar.acids["HNO3"].high or 0.0)
    assert StageKey("run-0", 0) in waste.reach


grams = st.floats(1.0, 500.0).map(lambda value: round(value, 1))
steps = st.lists(
    st.one_of(
        grams.map(lambda value: f"- added {value} g nitric acid 68 %\n"),
        grams.map(lambda value: f"- added {value} g hydrochloric acid 32 %\n"),
        grams.map(lambda value: f"- added {value} g sulfuric acid 96 %\n"),
        grams.map(lambda value: f"- added {value} g sodium bicarbonate\n"),
        grams.map(lambda value: f"- took {value} g silver wire, silver 90 ± 2 %\n"),
        st.just("- added some nitric acid 68 %\n"),
        st.just("- heated at 60 C for 1 h\n"),
        grams.map(lambda value: f"- discarded {value} mL liquor into [W-1]\n"),
        grams.map(lambda value: f"- discarded {value} mL other liquor into [W-2]\n"),
        grams.map(lambda value: f"- kept {value} mL solution into [J-1]\n"),
        st.just("- took [J-1]\n"),
        st.just("- took [W-1]\n"),
        st.just("- got 0.4 L solution\n"),
        st.just("## Dissolve\n\n"),
        st.just("## Drop\n\n"),
        st.just("## Treat waste\n\n"),
    ),
    min_size=3,
    max_size=14,
)


@settings(max_examples=60, deadline=None)
@given(steps)
def test_no_more_is_left_than_was_put_in(lines: list[str]) -> None:
    """Of any book: never below nothing, never above all that was put in, low never above high."""
    figures = book(HEAD + "## Leach\n\n" + "".join(lines))
    for held in ledger(figures).values():
        assert held.takes is None or held.takes >= 0.0
        for name, acid in held.acids.items():
            assert acid.low >= 0.0
            if acid.high is not None:
                assert acid.low <= acid.high
                if not held.doubts and "some" not in "".join(lines):
                    assert acid.high <= put_in(figures, name) * (1 + 1e-9)
