"""The inquarted links of the demo could have happened: against chemistry that is not ours.

Nothing here calls the program. Each figure is entered by hand beside the words of the log that
it was read from, and a test holds that the words stand there. What they are held against is
worked out from balanced reactions and the atomic weights of Prohaska et al. 2022, "Standard
atomic weights of the elements 2021" (Commission on Isotopic Abundances and Atomic Weights,
CIAAW), abridged to five figures. Nitric acid 68 % is 1.4048 g/mL (Perry's Handbook, secondhand).
That parting wants gold to be a quarter of the alloy is common practice of the trade
(quartation).
"""

from __future__ import annotations

from math import hypot
from pathlib import Path

import pytest

RUNS = Path(__file__).parents[2] / "runs"
LOG = "2026-02-21-links-parted.md"
SILVER_BAR_LOG = "2025-10-11-rest-of-lot-5.md"

SILVER, COPPER, NITRIC_ACID = 107.87, 63.546, 1.008 + 14.007 + 3 * 15.999  # g/mol
ACID_PER_ML = 1.4048 * 0.68  # g

# Log, words as they stand there, and the figures read from them by eye.
ROWS: dict[str, tuple[str, str, tuple[float, ...]]] = {
    "links": (LOG, "took 9.84 g odd gold links [GL-1], gold 14 kt, silver 20 ± 4 %", (9.84, 20, 4)),
    "reckoned": (LOG, "reckoned silver to add 13.12 g", (13.12,)),
    "corner": (LOG, "added 13.12 g of [AG-7]", (13.12,)),
    "bar": (SILVER_BAR_LOG, "got 88,70 g silver bar [AG-7], silver 99,4 ± 0,3 %", (88.70, 99.4)),
    "lost": (LOG, "lost about 0.05 g alloy in the dish, gold 25 ± 3 %", (0.05, 25)),
    "strip": (LOG, "got 22.88 g inquarted strip", (22.88,)),
    "first acid": (LOG, "added 35 mL nitric acid 68 %", (35,)),
    "second acid": (LOG, "added 25 mL nitric acid 68 %", (25,)),
    "sponge": (LOG, "got 5.68 g gold sponge [AU-9], gold 99.6 ± 0.2 %", (5.68, 99.6, 0.2)),
    "claim": (LOG, "reckoned recovery of gold 98 %", (98,)),
    "copper": (LOG, "added 24.30 g copper bar", (24.30,)),
    "copper back": (LOG, "kept 10.60 g copper bar [CU-9]", (10.60,)),
    "silver": (LOG, "got 14.43 g cement silver [P-6], silver 99 ± 0.5 %", (14.43, 99, 0.5)),
}


def figure(row: str, place: int = 0) -> float:
    """A figure of the table."""
    return ROWS[row][2][place]


GOLD_IN = figure("links") * 14 / 24
SILVER_IN_LINKS = figure("links") * figure("links", 1) / 100
SILVER_IN = SILVER_IN_LINKS + figure("corner") * figure("bar", 1) / 100
BASE = figure("links") - GOLD_IN - SILVER_IN_LINKS
GOLD_OUT = figure("sponge") * figure("sponge", 1) / 100
SILVER_OUT = figure("silver") * figure("silver", 1) / 100
ACID = (figure("first acid") + figure("second acid")) * ACID_PER_ML

# 3 Ag + 4 HNO3 -> 3 AgNO3 + NO + 2 H2O and 3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O.
ACID_NEEDED = (SILVER_IN / SILVER * 4 / 3 + BASE / COPPER * 8 / 3) * NITRIC_ACID
# Ag + 2 HNO3 and Cu + 4 HNO3, where all of it goes off as brown gas.
ACID_AT_MOST = (SILVER_IN / SILVER * 2 + BASE / COPPER * 4) * NITRIC_ACID


@pytest.mark.parametrize("row", ROWS)
def test_the_words_and_their_figures_stand_in_the_log(row: str) -> None:
    """A row is worth only what stands in its log."""
    log, words, figures = ROWS[row]
    assert f"- {words}" in (RUNS / log).read_text(encoding="utf-8")
    for number in figures:
        assert f"{number:g}" in words.replace(",", ".")


def test_gold_is_a_quarter_of_the_melt() -> None:
    """Which is what the log reckoned, and what the strip weighed."""
    whole = figure("links") + figure("corner")
    assert whole / GOLD_IN == pytest.approx(4.0, abs=0.01)
    assert figure("reckoned") == pytest.approx(4 * GOLD_IN - figure("links"), abs=0.005)
    # Base metal burns a little in the fire; nothing is made there.
    assert 0 <= whole - figure("lost") - figure("strip") <= 0.1


def test_there_was_acid_enough_and_not_a_flood_of_it() -> None:
    """Silver and base metal out of the strip; parting takes acid in plenty, but not thrice."""
    assert ACID_NEEDED <= ACID <= 3 * ACID_AT_MOST


def test_no_more_metal_came_out_than_went_in() -> None:
    """Each metal within two standard uncertainties, and little of it went astray."""
    # A whole karat of doubt about a stamp, rectangular: half a karat over the root of three.
    gold_doubt = hypot(figure("links") * 0.5 / 24 / 3**0.5, GOLD_OUT * 0.002)
    gold_made = GOLD_OUT - GOLD_IN
    assert gold_made <= 2 * gold_doubt
    assert 0.97 <= GOLD_OUT / GOLD_IN <= 0.995
    silver_doubt = hypot(figure("links") * figure("links", 2) / 100, SILVER_OUT * 0.005)
    silver_made = SILVER_OUT - SILVER_IN
    assert silver_made <= 2 * silver_doubt
    assert 0.93 <= SILVER_OUT / SILVER_IN <= 0.99


def test_the_claimed_recovery_is_right() -> None:
    """Within what the two figures allow: 98 or 99 per cent, the stamp does not say which."""
    recovery = 100 * GOLD_OUT / GOLD_IN
    assert recovery == pytest.approx(figure("claim"), abs=1.0)


def test_the_copper_that_went_is_what_silver_and_free_acid_take() -> None:
    """Cu + 2 AgNO3 -> Cu(NO3)2 + 2 Ag, and what acid is left dissolves copper besides."""
    gone = figure("copper") - figure("copper back")
    for_silver = SILVER_OUT / SILVER / 2 * COPPER
    free = (ACID - ACID_NEEDED) / NITRIC_ACID * 3 / 8 * COPPER
    assert for_silver <= gone <= for_silver + free


def test_the_corner_came_off_a_bar_that_was_big_enough() -> None:
    """The bar of October stood on the shelf."""
    assert figure("corner") < figure("bar")
