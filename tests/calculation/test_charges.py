"""Where the charge of a run stays and goes, from logs as they are written."""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, Fate, Role, Thing
from logbook.reading.read_book import read_book

HEAD = "# Relay points\n\nDate: 14 March 2026\nMetal: silver\n"
DISSOLVED = """
## Dissolve

- took 100 g relay points [RC-1], silver 70 ± 1 %
- got 1 L silver nitrate solution
"""
MELT = """
## Melt

- got 68.0 g silver bar [AG-8], silver 99.5 ± 0.3 %
"""


def of_log(*stages: str, later: str = "") -> BookFigures:
    """The figures of one log, and of a later one."""
    texts = {"runs/2026-03-14-points.md": HEAD + "".join(stages)}
    if later:
        texts["runs/2026-03-20-later.md"] = (
            "# Later\n\nDate: 20 March 2026\nMetal: silver\n" + later
        )
    return work_out(read_book(texts))


def labelled(figures: BookFigures, label: str) -> Thing:
    """The only thing of a label."""
    (found,) = [thing for thing in figures.things if thing.label == label]
    return found


ASIDE = {
    "waste": "\n## Treat waste\n\n- added 40 g sodium carbonate\n- kept 30 g sludge [S-1]\n",
    "waste got": "\n## Treat waste\n\n- added 40 g sodium carbonate\n- got 30 g sludge [S-1]\n",
    "store": "\n## Store\n\n- kept 3 filters [F-1]\n",
    "test": "\n## Test\n\n- added 2 mL nitric acid 68 %\n- tested with salt: none\n",
    "assay": "\n## Assay\n\n- added 2 mL nitric acid 68 %\n",
}


@pytest.mark.parametrize("aside", ASIDE.values(), ids=ASIDE)
def test_a_bar_stays_where_it_was_poured(aside: str) -> None:
    """What is stored, tested or treated as waste after a bar leaves the bar the product."""
    figures = of_log(DISSOLVED, MELT, aside)
    bar = labelled(figures, "AG-8")
    assert (bar.role, bar.fate, bar.used_by) == (Role.PRODUCT, Fate.SHELF, None)
    recovery = figures.runs["2026-03-14-points"].balances[0].recovery.value
    assert recovery is not None
    assert recovery.value == pytest.approx(68.0 * 0.995 / 70.0)  # by hand
    assert figures.findings == ()


@pytest.mark.parametrize("aside", ASIDE.values(), ids=ASIDE)
def test_a_later_run_takes_the_bar(aside: str) -> None:
    """`took [AG-8]` works after it, and finds all of the bar."""
    later = "\n## Melt\n\n- took [AG-8]\n- got 67.9 g silver bar [AG-9], silver 99.5 %\n"
    figures = of_log(DISSOLVED, MELT, aside, later=later)
    bar = labelled(figures, "AG-8")
    assert bar.used_by is not None and bar.used_by.run == "2026-03-20-later"
    assert figures.findings == ()


def test_a_charge_without_a_label_waits_while_waste_is_treated() -> None:
    """Cement silver goes into the melt, however the blue solution was made harmless between."""
    cement = (
        "\n## Cement\n\n- got 80 g cement silver, damp\n- discarded 2 L blue solution into [W-1]\n"
    )
    waste = "\n## Treat waste\n\n- added 40 g sodium carbonate\n- got 90 g sludge\n"
    more = "\n## Treat waste, next day\n\n- got 70 g sludge, dry\n"
    figures = of_log(DISSOLVED, cement, waste, more, MELT)
    (cement_silver,) = [thing for thing in figures.things if thing.what == "cement silver"]
    assert cement_silver.used_by is not None and cement_silver.used_by.index == 4
    first, second = [thing for thing in figures.things if thing.what == "sludge"]
    assert first.used_by is not None and first.used_by.index == 3
    assert second.fate is Fate.SHELF


def test_what_is_stored_or_thrown_away_by_name_is_the_charge() -> None:
    """Powder kept in a jar by a stage that stores is that powder, not more of it."""
    powder = "\n## Dry\n\n- got 68.3 g silver powder\n"
    store = "\n## Store\n\n- kept 68.2 g silver powder [P-1], silver 99 %\n"
    figures = of_log(DISSOLVED, powder, store)
    (before, after) = [thing for thing in figures.things if thing.what == "silver powder"]
    assert (before.fate, after.fate) == (Fate.USED, Fate.SHELF)
    spent = "\n## Dissolve\n\n- took 10 g wire [X-1]\n- got 1 L blue solution\n"
    away = "\n## Treat waste\n\n- added 40 g sodium carbonate\n- discarded 1 L blue solution\n"
    figures = of_log(spent, away)
    assert [thing.fate for thing in figures.things if thing.what == "blue solution"] == [
        Fate.USED,
        Fate.WASTE,
    ]


TAKE = "\n## Dissolve\n\n- took 30 g other points [RC-2], silver 70 %\n- got 1 L solution\n"
LEFT = ("charge-left",)


def codes(*stages: str) -> tuple[str, ...]:
    """What is found in a log that takes something else after some stages."""
    return tuple(one.code for one in of_log(*stages, TAKE).findings)


def test_a_labelled_solution_that_was_cemented_leaves_nothing_behind() -> None:
    """All of [S-1] went in, the powder was kept and the blue liquid thrown away: finished.

    The assumption stands with what was kept. Without the discard the pot stands.
    """
    labelled_solution = DISSOLVED.replace("solution", "solution [S-1]")
    cement = "\n## Cement\n\n- took [S-1]\n- kept 66 g silver powder [P-1], silver 99 %\n"
    away = "- discarded 1.8 L blue solution into [W-1]\n"
    assert codes(labelled_solution, cement, away) == ()
    assert codes(labelled_solution, cement) == LEFT
    figures = of_log(labelled_solution, cement, away)
    assert [thing.what for thing in figures.shelf] == ["silver powder"]
    note = "taken to be all that Cement left: nothing was got from it"
    assert note in labelled(figures, "P-1").gross.notes
    jar = "\n## Store\n\n- kept 2 L old rinse [W-0]\n"
    figures = of_log(jar, labelled_solution, cement, away, "- discarded [W-0]\n")
    assert note in labelled(figures, "P-1").gross.notes
    assert note not in labelled(figures, "W-0").volume.notes


def test_a_residue_that_was_leached_leaves_nothing_behind() -> None:
    """What was leached is kept, what leached it is thrown away; a rinse alone is not."""
    leach = "\n## Leach\n\n- took 40 g grey residue [R-1], silver 5 %\n- kept 31 g residue [R-2]\n"
    assert codes(leach, "- discarded 300 mL solution into [W-1]\n") == ()
    assert codes(leach, "- discarded 300 mL rinse into [W-1]\n") == LEFT


def test_filters_and_a_rinse_leave_the_solution_standing() -> None:
    """Points that were dissolved stand as a solution, though filters and a rinse are gone."""
    dissolve = "\n## Dissolve\n\n- took 100 g points [RC-1], silver 70 %\n- kept 3 filters [F-1]\n"
    assert codes(dissolve, "- discarded 200 mL rinse water into [W-1]\n") == LEFT


def test_a_liquid_that_was_filtered_and_thrown_away_is_gone() -> None:
    """A labelled liquid needs no weighed solid: only filters were kept of it."""
    filtered = "\n## Filter\n\n- took 2 L washings and liquor [L-1]\n- kept 2 filters [F-1]\n"
    liquor = "\n## Filter\n\n- took 2 L spent liquor [L-1]\n- kept 2 filters [F-1]\n"
    away = "- discarded 1.9 L liquor into [W-1]\n"
    assert codes(liquor, away) == ()
    assert codes(filtered, away) == LEFT  # not wholly a liquid that may be thrown away


def test_a_feed_without_a_label_may_still_stand() -> None:
    """Only labelled things are known to have gone in whole."""
    cement = "\n## Cement\n\n- kept 66 g silver powder [P-1]\n- discarded 1.8 L blue solution\n"
    assert codes(DISSOLVED, cement) == LEFT


def test_a_dry_stage_that_kept_something_is_finished() -> None:
    """A melt that kept its slag holds nothing more."""
    melt = "\n## Melt\n\n- took 60 g silver powder [P-1], silver 99 %\n- kept 3 g slag [SL-1]\n"
    assert codes(melt) == ()
