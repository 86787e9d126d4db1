"""The contact dust, the beakers and the papers of the demo could have happened.

Nothing here calls the program. Each figure is entered by hand beside the words of the log that
it was read from, and a test holds that the words stand there. Atomic weights are those of
Prohaska et al. 2022, "Standard atomic weights of the elements 2021" (Commission on Isotopic
Abundances and Atomic Weights, CIAAW), abridged; nitric acid 68 % is 1.4048 g/mL (Perry's
Handbook, secondhand). Two standard uncertainties are the most that readings may differ by.
"""

from __future__ import annotations

from math import hypot, sqrt
from pathlib import Path

import pytest

RUNS = Path(__file__).parents[2] / "runs"
DUST, BEAKERS = "2026-01-31-contact-dust.md", "2025-02-15-relay-contacts-lot-2.md"
PAPERS = "2026-03-07-papers-from-the-sweeps.md"
SWEEPS = ("2025-08-02-sweeps-second-draw.md", "2025-11-01-sweeps-third-draw.md")
SWEEPS += ("2025-11-29-sweeps-fourth-draw.md", "2026-02-07-sweeps-rest.md")

SILVER, COPPER = 107.87, 63.546  # g/mol
NITRIC_ACID, SALT = 1.008 + 14.007 + 3 * 15.999, 22.990 + 35.45
LYE, DEXTROSE = 22.990 + 15.999 + 1.008, 6 * 12.011 + 12 * 1.008 + 6 * 15.999
ACID_PER_ML = 1.4048 * 0.68  # g

# Log, words as they stand there, and the figures read from them by eye.
ROWS: dict[str, tuple[str, str, tuple[float, ...]]] = {
    "dust": (DUST, "took 96.4 g contact dust [CD-1], silver 31.0 ± 0.8 %", (96.4, 31.0, 0.8)),
    "fine": (DUST, "kept 60.0 g fine dust [CD-2], silver 18.5 ± 0.6 %", (60.0, 18.5, 0.6)),
    "coarse": (DUST, "got 36.3 g coarse dust, silver 52.0 ± 1.0 %", (36.3, 52.0, 1.0)),
    "acid": (DUST, "added 80 mL nitric acid 68 %", (80,)),
    "water": (DUST, "added 80 mL distilled water", (80,)),
    "rinse": (DUST, "rinsed with 50 mL distilled water", (50,)),
    "jar": (DUST, "got 0.22 L silver nitrate solution [S-9], 258.6 g", (258.6,)),
    "half": (DUST, "took 129.3 g of [S-9]", (129.3,)),
    "copper": (DUST, "added 20.40 g copper bar", (20.40,)),
    "copper back": (DUST, "kept 13.20 g copper bar [CU-10], silver 0.01 ± 0.01 g", (13.20, 0.01)),
    "by copper": (DUST, "got 9.34 g cement silver [P-7], silver 99 ± 0.5 %", (9.34, 99, 0.5)),
    "salt": (DUST, "added 8 g salt", (8,)),
    "chloride": (DUST, "got about 14 g silver chloride, damp", (14,)),
    "lye": (DUST, "added 8 g sodium hydroxide", (8,)),
    "dextrose": (DUST, "added 9 g dextrose", (9,)),
    "by chloride": (DUST, "got 9.27 g silver powder [P-8], silver 99 ± 0.5 %", (9.27, 99, 0.5)),
    "ash": (PAPERS, "got 2.60 g ash [FA-1], gold 1.9 ± 0.2 %", (2.60, 1.9)),
}
BENCH = hypot(0.1, 0.1 / 2 / sqrt(3))  # reads 0.1 g, repeats 0.1 g; JCGM 100, 4.3.7


def figure(row: str, place: int = 0) -> float:
    """A figure of the table."""
    return ROWS[row][2][place]


def fine(row: str) -> float:
    """Grams of silver: weight times share."""
    return figure(row) * figure(row, 1) / 100


def doubt(row: str) -> float:
    """Its standard uncertainty; the weighing counts for nothing beside the share."""
    return figure(row) * figure(row, 2) / 100


# By hand: 9.34 x 0.99 + 0.01 + 0.2 x 0.02 and 9.27 x 0.99 + 0.25 x 0.02 + 0.15 x 0.02 g.
BY_COPPER, BY_CHLORIDE = 9.2606, 9.1853


@pytest.mark.parametrize("row", ROWS)
def test_the_words_and_their_figures_stand_in_the_log(row: str) -> None:
    """A row is worth only what stands in its log."""
    log, words, figures = ROWS[row]
    assert words in (RUNS / log).read_text(encoding="utf-8")
    for number in figures:
        assert f"{number:g}" in words


def test_the_sieve_keeps_the_weight() -> None:
    """Three weighings to 0.1 g."""
    apart = figure("dust") - figure("fine") - figure("coarse")
    assert abs(apart) <= 2 * sqrt(3) * BENCH


def test_the_sieve_keeps_the_silver() -> None:
    """29.88 g went in, 11.10 and 18.88 g came out."""
    apart = fine("dust") - fine("fine") - fine("coarse")
    assert abs(apart) <= 2 * hypot(doubt("dust"), doubt("fine"), doubt("coarse"))


def test_the_two_halves_are_halves() -> None:
    """By weight, and by the silver that each gave."""
    assert 2 * figure("half") == pytest.approx(figure("jar"), abs=2 * BENCH)
    assert pytest.approx(fine("by copper") + 0.014, abs=1e-4) == BY_COPPER
    assert pytest.approx(fine("by chloride") + 0.008, abs=1e-4) == BY_CHLORIDE
    assert abs(BY_COPPER - BY_CHLORIDE) <= 2 * hypot(doubt("by copper"), doubt("by chloride"))


def test_both_halves_are_what_was_dissolved() -> None:
    """18.45 g out of coarse dust that was read as 18.88 g."""
    apart = fine("coarse") - BY_COPPER - BY_CHLORIDE
    assert 0 <= apart <= 2 * doubt("coarse")


def test_there_was_acid_enough_and_not_a_flood_of_it() -> None:
    """All that is not silver as copper: zinc needs less."""
    silver, base = fine("coarse") / SILVER, (figure("coarse") - fine("coarse")) / COPPER
    acid = figure("acid") * ACID_PER_ML / NITRIC_ACID
    assert silver * 4 / 3 + base * 8 / 3 <= acid <= 1.5 * (silver * 2 + base * 4)


def test_the_jar_holds_no_more_than_was_poured_into_it() -> None:
    """Water is 1 g/mL; gas and steam left, and most of it stayed."""
    poured = figure("water") + figure("rinse") + figure("coarse")
    poured += figure("acid") * 1.4048
    assert 0.85 * poured <= figure("jar") <= poured


def test_copper_salt_lye_and_dextrose_are_enough() -> None:
    """Cu + 2 Ag; one salt and one lye for a silver, one dextrose for two, and its acid's lye."""
    gone = figure("copper") - figure("copper back")
    assert gone >= BY_COPPER / SILVER / 2 * COPPER
    moles = BY_CHLORIDE / SILVER
    assert figure("salt") >= moles * SALT
    assert figure("lye") >= 1.5 * moles * LYE
    assert figure("dextrose") >= moles / 2 * DEXTROSE
    assert figure("chloride") >= moles * (SILVER + 35.45)


def test_three_beakers_hold_what_one_bucket_held() -> None:
    """0.65 + 0.70 + 0.65 L; what was poured in, and a fifth more for the metal and the marks."""
    text = (RUNS / BEAKERS).read_text(encoding="utf-8")
    for number, litres in ((1, "0.65"), (2, "0.70"), (3, "0.65")):
        assert f"- got {litres} L silver nitrate solution [B-{number}]\n" in text
    assert "- took [B-1], [B-2] and [B-3]\n" in text
    assert "added 260 mL distilled water in 3 beakers" in text
    assert "rinsed with 80 mL distilled water each in 3 beakers" in text
    assert 0.65 + 0.70 + 0.65 <= 3 * (0.26 + 0.26 + 0.08) * 1.2


@pytest.mark.parametrize("log", SWEEPS)
def test_two_papers_of_each_draw_went_into_the_bag(log: str) -> None:
    """Eight in all, so that each draw has a quarter by count."""
    text = (RUNS / log).read_text(encoding="utf-8")
    assert ("- kept 2 filters [FS-1]\n" in text) or ("- kept 2 filters into [FS-1]\n" in text)


def test_the_papers_hold_less_than_the_draws_miss() -> None:
    """By hand, feed less button: 0.110, 0.188, 0.137 and 0.133 g, together 0.568 g."""
    assert "- took [FS-1]\n" in (RUNS / PAPERS).read_text(encoding="utf-8")
    missing = 0.250 * 8.2 - 1.98 * 0.98 + 0.250 * 8.2 - 1.90 * 0.98
    missing += 0.300 * 8.2 - 2.37 * 0.98 + 0.2505 * 8.2 - 1.96 * 0.98
    assert missing == pytest.approx(0.568, abs=0.001)
    assert fine("ash") == pytest.approx(0.0494, abs=1e-6)
    assert fine("ash") < missing
