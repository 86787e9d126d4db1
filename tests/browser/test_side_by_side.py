"""Runs set side by side in a real browser: choosing, finding, sorting, and what differs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from logbook.build import PourOptions, pour
from tests.browser.chromium import Chromium
from tests.conftest import make_book

pytestmark = pytest.mark.browser

LOG = """\
# {title}

Date: {day}
Metal: silver

## Dissolve

- took {feed}, silver {grade} [{label}]

## Melt

- worked 50 min
- got {bar} silver bar [{bar_label}], silver 99.0 ± 0.5 %
"""
RUNS = {
    "2026-03-01-first.md": LOG.format(
        title="First", day="2026-03-01", feed="100.0 ± 0.1 g relay contacts", grade="70 ± 1 %",
        label="RC-1", bar="69.0 ± 0.1 g", bar_label="AG-1",
    ),
    "2026-03-02-second.md": LOG.format(
        title="Second", day="2026-03-02", feed="100.0 ± 0.1 g relay contacts", grade="71 ± 1 %",
        label="RC-2", bar="60.0 ± 0.1 g", bar_label="AG-2",
    ),
    "2026-03-03-third.md": LOG.format(
        title="Third", day="2026-03-03", feed="50.0 ± 0.1 g café spoons", grade="80 ± 1 %",
        label="SP-1", bar="39.0 ± 0.1 g", bar_label="AG-3",
    ),
}  # fmt: skip
TITLES = """
JSON.stringify([...document.querySelectorAll('#compare tbody')]
    .filter(one => !one.hidden).map(one => one.dataset.title))
"""
APART = """
[...document.querySelectorAll('td.apart')].map(one => one.parentNode.cells[0].textContent).join()
"""
CELLS = """
JSON.stringify(Object.fromEntries([...document.querySelectorAll('table.against tbody tr')].map(
    row => [row.cells[0].textContent, [...row.cells].slice(1).map(one => one.textContent)])))
"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of the page of three small runs."""
    folder = tmp_path_factory.mktemp("side")
    site = folder / "site"
    pour(PourOptions(make_book(folder / "book", RUNS), site))
    return (site / "side-by-side.html").as_uri()


def shown(browser: Chromium) -> list[str]:
    """The titles of the runs that the table shows, in order."""
    found: list[str] = json.loads(browser.ask(TITLES))
    return found


def cells(browser: Chromium) -> dict[str, list[str]]:
    """The rows of the comparison: for each figure the text of each run."""
    found: dict[str, list[str]] = json.loads(browser.ask(CELLS))
    return found


def test_what_differs_stands_out_and_nothing_else(browser: Chromium, page: str) -> None:
    """By hand: 70 ± 1 % and 71 ± 1 % differ by 1.0 ± 1.4, within 2 × 1.4; the bars by 8.91.

    Fine silver 69.0 × 0.99 = 68.31 ± √((0.99 × 0.1)² + (69 × 0.005)²) = 0.36 g, and 59.40 ± 0.32:
    the difference is 8.91 ± √(0.3589² + 0.3160²) = 0.48 g, far beyond 0.96. Not accounted for
    are 70 − 68.31 and 71 − 59.40, which differ by 9.9 ± 1.5 g.
    """
    browser.wide(1280)
    browser.open(f"{page}#runs=2026-03-01-first,2026-03-02-second")
    found = cells(browser)
    assert "within the doubt: 1.0 ± 1.4 points" in found["silver head grade"][1]
    assert "▼ 8.91 ± 0.48 g less" in found["silver product"][1]
    assert "not compared" in found["net"][1]
    assert browser.ask(APART).split(",") == [
        "silver product",
        "silver recovery in the run",
        "silver recovery so far",
        "silver not accounted for",
        "mass yield",
    ]
    words = browser.ask("document.querySelector('#comparison li').textContent")
    assert words.startswith("Second, against First: more silver not accounted for; less silver")
    assert browser.complaints() == []


def test_a_reading_that_both_share_counts_once(browser: Chromium, tmp_path: Path) -> None:
    """Two halves of one lot: 20.0 g against 10.0 g of one assay, silver 70 ± 10 %.

    Heads 14 ± 2 and 7 ± 1 g would differ by 7.0 ± 2.2 g if their assays were two. It is one, and
    the difference is 10 g at 70 ± 10 %: 7.0 ± 1.0 g, by hand.
    """
    lot = (
        "# Lot\n\n- 2026-01-02 bought 30.0 ± 0.001 g contacts [LOT-1], silver 70 ± 10 %, "
        "sampling ± 0.01 %, for 10 EUR\n"
    )
    take = (
        "# {0}\n\nDate: 2026-03-0{1}\nMetal: silver\n\n## Dissolve\n\n"
        "- took {2} ± 0.001 g from [LOT-1]\n"
    )
    files = {
        "supplies.md": lot,
        "2026-03-01-one.md": take.format("One", 1, "20.0"),
        "2026-03-02-two.md": take.format("Two", 2, "10.0"),
    }
    pour(PourOptions(make_book(tmp_path / "book", files), tmp_path / "site"))
    address = (tmp_path / "site" / "side-by-side.html").as_uri()
    browser.open(f"{address}#runs=2026-03-01-one,2026-03-02-two")
    assert "▼ 7.0 ± 1.0 g less" in cells(browser)["silver head"][1]


def test_the_choice_is_kept_in_the_address(browser: Chromium, page: str) -> None:
    """Ticked runs, what is looked for and the order are in the address, and come back from it."""
    browser.open("about:blank")
    browser.open(page)
    assert shown(browser) == ["First", "Second", "Third"]
    assert browser.ask("document.getElementById('chosen').hidden")
    for name in ("2026-03-03-third", "2026-03-01-first"):
        browser.ask(f"document.querySelector('[data-run=\"{name}\"] input').click()")
    browser.ask("document.querySelectorAll('#compare thead button')[3].click()")
    kept = browser.ask("location.hash")
    assert kept == "#runs=2026-03-03-third,2026-03-01-first&sort=product"
    assert shown(browser) == ["Third", "Second", "First"]
    browser.open("about:blank")
    browser.open(f"{page}{kept}&kind=relay%20contacts")
    assert shown(browser) == ["Second", "First"]
    assert browser.ask("document.querySelectorAll('table.against thead a').length") == 2
    assert (
        browser.ask("document.querySelector('th[aria-sort]').getAttribute('aria-sort')")
        == "ascending"
    )


def test_words_find_runs_whatever_their_accents(browser: Chromium, page: str) -> None:
    """Letters count without case or accent; every word must be there."""
    browser.open("about:blank")
    browser.open(f"{page}#words=CAFE")
    assert shown(browser) == ["Third"]
    browser.open("about:blank")
    browser.open(f"{page}#words=relay%20rc-2")
    assert shown(browser) == ["Second"]


def test_without_scripts_all_runs_are_there(browser: Chromium, page: str) -> None:
    """The whole table, and no form that would do nothing."""
    browser.scripts(allowed=False)
    browser.open("about:blank")
    browser.open(f"{page}#runs=2026-03-01-first")
    html = browser.html()
    browser.scripts(allowed=True)
    assert html.count("<tbody data-run=") == 3
    assert '<form class="finder" id="finder" role="search" aria-label="Runs" hidden="">' in html
