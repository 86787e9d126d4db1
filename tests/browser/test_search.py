"""The search in a real browser, from a folder: it finds, says where, and degrades to an index."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from logbook.build import PourOptions, pour
from tests.browser.chromium import Chromium
from tests.conftest import make_book

pytestmark = pytest.mark.browser

LOG = """\
# Café spoons & </script><b>forks</b>

Date: 2026-03-01
Metal: silver

Bought from a café in Zürich; the *Neusilber* ones are sorted out.

## Dissolve

- took 50.0 g spoons [SP-1], silver 80 ± 1 %
- added 100 mL nitric acid 68 %
- private: the safe stands behind the cupboard [SAFE-9]
- kept 2 filters [F-10]
- kept 1 filter [F-2]

## Melt

- got 39.0 g silver bar [AG-1], silver 99 %
"""
FOUND = """
JSON.stringify([...document.querySelectorAll('#results li')].map(one => one.textContent.trim()))
"""
SAID = "document.getElementById('found').textContent"
LATER = "new Promise(done => setTimeout(done, 900))"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of one small run."""
    folder = tmp_path_factory.mktemp("search")
    files = {"2026-03-01-spoons.md": LOG, "sources.md": "# Sources\n\n- spoons: also ladles\n"}
    pour(PourOptions(make_book(folder / "book", files), folder / "site"))
    return folder / "site"


def find(browser: Chromium, site: Path, words: str) -> list[str]:
    """What is found for some words, typed into the box."""
    browser.open("about:blank")
    browser.open((site / "search.html").as_uri())
    browser.ask(
        f"field = document.getElementById('words'); field.value = {json.dumps(words)};"
        "field.dispatchEvent(new Event('input', {bubbles: true}))"
    )
    browser.ask_later(LATER)
    found: list[str] = json.loads(browser.ask(FOUND))
    return found


def test_it_finds_runs_labels_supplies_scrap_and_lines(browser: Chromium, site: Path) -> None:
    """Names come first, each with what it is; lines say where they stand."""
    browser.wide(1280)
    run = find(browser, site, "cafe")
    assert run[0].startswith("Café spoons & </script><b>forks</b> run, 1 March 2026")
    assert any(one.startswith("line 6 of Café spoons") for one in run)
    assert find(browser, site, "sp-1")[0] == "[SP-1] label, spoons"
    assert find(browser, site, "nitr")[0] == "nitric acid 68 % supply"
    assert "spoons kind of scrap, also ladles" in find(browser, site, "LADLE")
    assert browser.complaints() == []
    assert browser.ask(SAID).startswith("1 name and 1 line found.")


def test_case_and_accents_do_not_count_and_beginnings_do(browser: Chromium, site: Path) -> None:
    """Thus zurich finds Zürich, neusil finds Neusilber; the middle of a word is none."""
    assert any("Zürich" in one for one in find(browser, site, "ZURICH neusil"))
    marks = "[...document.querySelectorAll('mark')].map(one => one.textContent).join()"
    assert browser.ask(marks) == "Zürich,Neusil"
    assert find(browser, site, "silber") == []
    assert browser.ask(SAID) == "Nothing found."
    assert find(browser, site, "(.*") == []
    assert find(browser, site, "cafe zebra") == []


def test_private_notes_are_in_no_index(site: Path) -> None:
    """Neither the words of the note nor the label that it alone names."""
    for file in site.rglob("*"):
        if file.is_file():
            data = file.read_bytes()
            assert b"cupboard" not in data, file
            assert b"SAFE-9" not in data, file


def test_what_was_looked_for_is_in_the_address(browser: Chromium, site: Path) -> None:
    """It comes back from there, and links lead to the line."""
    browser.open("about:blank")
    browser.open((site / "search.html").as_uri() + "#words=neusilber")
    browser.ask_later(LATER)
    assert json.loads(browser.ask(FOUND))
    assert browser.ask("document.querySelector('#results a').getAttribute('href')") == (
        "runs/2026-03-01-spoons.html#line-6"
    )


def test_without_scripts_it_is_an_index(browser: Chromium, site: Path) -> None:
    """Every run, label, supply and kind of scrap from A to Z, F-2 before F-10; no dead box."""
    browser.open("about:blank")
    browser.scripts(allowed=False)
    browser.open((site / "search.html").as_uri())
    html = browser.html()
    browser.scripts(allowed=True)
    for name in ("[SP-1]", "[AG-1]", "nitric acid 68 %", "Café spoons", ">spoons</a>"):
        assert name in html, name
    assert html.index("[F-2]") < html.index("[F-10]")
    assert 'data-index="search-index.js" hidden=""' in html
