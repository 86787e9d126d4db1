"""The gas of a run on its page: limits in words, the warning, and never nothing for unknown."""

from __future__ import annotations

import re

from logbook.calculation.bench.gas import NO_VENTILATION
from logbook.reading.read_book import read_book
from tests.pages.shown import pages, rendered

LOG = "# A run\n\nDate: 2026-03-14\nMetal: silver\n{}\n## {}\n\n{}\n"
BENCH = "# The bench\n\nCurrency: EUR\nRoom: 3 x 4 x 2.5 m\n"


def page_of(title: str, *entries: str, bench: str = BENCH, fact: str = "") -> str:
    """The words of the page of a run, its spaces single."""
    log = LOG.format(fact, title, "\n".join(f"- {entry}" for entry in entries))
    book = read_book({"runs/bench.md": bench, "runs/2026-03-14-a.md": log})
    path = "runs/2026-03-14-a.html"
    html = rendered({path: pages(book)[path]})[path]
    start = html.find('aria-labelledby="gas"')
    if start < 0:
        return ""
    section = html[start : html.index("</section>", start)]
    words = re.sub(r"<[^>]+>", " ", section)
    return " ".join(words.split())


SILVER = ("took 100.000 ± 0 g silver wire, silver 100.00 ± 0 %", "added 200 mL nitric acid 68 %")


def test_a_run_shows_its_gas_with_limit_body_and_year() -> None:
    """22.68 L of NO2 from 100 g of silver (two libraries), rounded up; 756 ppm in 30 m3."""
    words = page_of("Dissolve", *SILVER)
    assert "nitrogen dioxide" in words and "nitrogen monoxide" in words
    assert "at most 22.7 L" in words
    assert "1 ppm (NIOSH, 1994)" in words and "13 ppm (NIOSH, 2017)" in words
    assert re.search(r"at most 75[6-7] ppm", words)
    assert NO_VENTILATION in words


def test_a_plan_shows_it_too() -> None:
    """Before the work, under the same warning."""
    words = page_of("Dissolve", *SILVER, fact="Status: planned\n")
    assert "nitrogen dioxide" in words
    assert NO_VENTILATION in words


def test_what_is_not_known_is_not_shown_as_nothing() -> None:
    """No zero stands anywhere; the reason does."""
    words = page_of("Dissolve", "took some scrap", "added nitric acid, enough to cover")
    assert "not known" in words
    assert not re.search(r"(?<![\d.])0 (?:m?L|ppm|m³|g)(?!\w)", words)
    assert "because" in words


def test_without_a_room_the_page_asks_for_one() -> None:
    """No room is made up, and the way to state one is told."""
    words = page_of("Dissolve", *SILVER, bench="# The bench\n")
    assert "No room is stated" in words
    assert "in the stated room" not in words


def test_a_cell_shows_what_its_current_can_carry_over() -> None:
    """3 A for 2 h: 24.148 g of silver at most (by hand), rounded up, and hydrogen."""
    words = page_of("Electrolyse", "read 3.0 A", "waited 2 h")
    assert "at most 24.2 g" in words
    assert "hydrogen" in words


def test_a_run_without_gas_has_no_section() -> None:
    """Nothing stands where nothing is known of."""
    assert page_of("Sort", "took 100 g relay contacts") == ""


def test_a_gas_that_only_a_caution_knows_of_stands_there_as_not_known() -> None:
    """Liver of sulfur in acid: what it holds is not known, and hydrogen sulfide is named."""
    words = page_of("Drop", "added 20 g liver of sulfur", "added 100 mL hydrochloric acid 10 %")
    row = words[words.index("hydrogen sulfide") :]
    assert re.search(r"hydrogen sulfide.{0,80}not known", row[:200])
    assert "sulfide with acid" in words


def test_hydrogen_is_held_against_a_tenth_of_what_burns_and_against_what_burns() -> None:
    """4000 ppm (29 CFR 1910.146: 10 % of the lower limit of 4 %), and 40 000 beside it."""
    words = page_of("Dissolve", "took 10 g zinc granules", "added 200 mL hydrochloric acid 10 %")
    assert "4000 ppm, a tenth of what burns (OSHA, 1993)" in words
    assert "40000 ppm, burns from" in words
