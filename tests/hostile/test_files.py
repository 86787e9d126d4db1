"""The files of the hostile book's site: what is in them, and where they are. No browser needed.

Every file of the site is looked at, whatever it is called, so that new ones are held to this too.
"""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path
from unicodedata import normalize
from xml.etree import ElementTree

import pytest

from tests.hostile.book import TEXTS, label, line
from tests.hostile.payloads import CONTROLS, NO_CHARACTERS, TURNING
from tests.hostile.poured import Poured
from tests.hostile.reader import Deeds, broken

MOST_SECONDS = 120.0  # about 8 on a slow machine; a log that takes ever longer shows at once
TEXT_ENDINGS = {".html", ".json", ".csv", ".xml", ".atom", ".txt", ".svg", ".webmanifest"}
SAFE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,99}")
DEVICES = {"con", "prn", "aux", "nul"} | {
    f"{port}{n}" for port in ("com", "lpt") for n in range(10)
}


@pytest.fixture(scope="module")
def pages(hostile: Poured) -> dict[Path, Deeds]:
    """Every page, read."""
    return {page: Deeds(page) for page in sorted(hostile.site.rglob("*.html"))}


def own_texts(site: Path) -> list[Path]:
    """The files of the site with words of the book in them."""
    found = [file for file in site.rglob("*") if file.suffix in TEXT_ENDINGS]
    return [file for file in sorted(found) if file.parent.name != "assets"]


def test_the_book_is_poured_in_time(hostile: Poured) -> None:
    """Nothing in it takes ever longer, and every log that can be read has a page."""
    assert hostile.seconds < MOST_SECONDS
    assert hostile.report.runs > len(TEXTS)


def test_nothing_else_is_touched(hostile: Poured) -> None:
    """Beside the site all is as it was: no file made, changed or gone, no link followed."""
    assert hostile.before == hostile.after
    assert not list(Path("/tmp").glob("pwned*"))


def test_names_of_files_are_safe_everywhere(hostile: Poured) -> None:
    """Each name is plain, no device of any system, and differs from others not in case alone."""
    names = [file.relative_to(hostile.site) for file in hostile.site.rglob("*")]
    assert not [name for name in names if not all(map(SAFE.fullmatch, name.parts))]
    assert not [name for name in names if name.name.split(".")[0].lower() in DEVICES]
    assert len({str(name).casefold() for name in names}) == len(names)
    assert not [file for file in hostile.site.rglob("*") if file.is_symlink()]


def test_nothing_from_outside_is_published(hostile: Poured) -> None:
    """What links and .. lead to is not in the site, nor what was private; each is told."""
    pictures = [file.suffix for file in (hostile.site / "pictures").iterdir()]
    assert pictures == [".svg"]
    for file in own_texts(hostile.site):
        text = file.read_text(encoding="utf-8")
        for word in ("OUTSIDEWORD", "SECRETWORD", "root:x:0"):
            assert word not in text, file
    codes = {finding.code for finding in hostile.report.findings}
    assert codes >= {
        *("file-outside-book", "folder-linked", "file-too-large", "file-not-utf-8"),
        *("file-name-not-text", "file-not-readable", "picture-outside-book", "picture-unfit"),
        *("picture-missing", "picture-kind", "text-not-shown"),
    }


def test_no_page_runs_or_loads_anything_of_the_book(pages: dict[Path, Deeds]) -> None:
    """No handler, no script, no style, no frame, no address but the web's and the site's own."""
    assert len(pages) > len(TEXTS)
    assert {page.name: deeds.wrong for page, deeds in pages.items() if deeds.wrong} == {}
    for page, deeds in pages.items():
        assets = [one for one in deeds.loaded if "assets/" not in one and "pictures/" not in one]
        assert not [one for one in assets if not one.endswith((".json", ".xml", ".atom"))], page


def test_every_link_leads_somewhere(hostile: Poured, pages: dict[Path, Deeds]) -> None:
    """Also those to and from what is named most oddly."""
    assert broken(hostile.site, pages) == []


def test_no_sign_is_left_that_may_not_stand_in_a_page_or_feed(hostile: Poured) -> None:
    """Neither control characters nor what turns the words around it (XML 1.0, 2.2; UAX 9)."""
    isolates = "\u2068\u2069"  # the two that the program itself sets, always as a pair
    forbidden = re.compile(f"[{re.escape(CONTROLS + NO_CHARACTERS + TURNING)}]")
    for file in own_texts(hostile.site):
        text = file.read_text(encoding="utf-8")
        text = re.sub(f"{isolates[0]}([^{isolates}]*){isolates[1]}", r"\1", text)
        found = forbidden.search(text)
        assert found is None, (file, ascii(text[max(found.start() - 60, 0) : found.start() + 20]))


def test_data_are_well_formed(hostile: Poured, pages: dict[Path, Deeds]) -> None:
    """JSON, CSV and XML are read by readers that are strict, also JSON within pages."""
    for file in own_texts(hostile.site):
        text = file.read_text(encoding="utf-8")
        if file.suffix == ".json":
            json.loads(text)
        elif file.suffix in {".xml", ".atom", ".svg"}:
            ElementTree.fromstring(text)
        elif file.suffix == ".csv":
            rows = list(csv.reader(io.StringIO(text), strict=True))
            assert {len(row) for row in rows} == {len(rows[0])}, file
    for page, deeds in pages.items():
        for data in deeds.json:
            json.loads(data)
            assert "<!--" not in data, page


def test_no_cell_is_a_formula(hostile: Poured) -> None:
    """A program for tables takes = + - @ and a tab at the head of a cell for a formula to run.

    OWASP, CSV Injection: such cells get an apostrophe before them. Numbers keep their sign.
    """
    number = re.compile(r"-?\d+(\.\d+)?(e[+-]?\d+)?")
    quoted = 0
    for file in sorted((hostile.site / "data").glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as opened:
            for row in csv.reader(opened):
                for cell in row:
                    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")) or (
                        number.fullmatch(cell)
                    ), (file.name, cell)
                    quoted += cell.startswith("'=")
    assert quoted


def as_shown(text: str) -> str:
    """A text as pages hold it: in one form, without what cannot be shown, spaces taken together."""
    signs = dict.fromkeys(map(ord, CONTROLS + NO_CHARACTERS + TURNING), "\ufffd")
    whole = normalize("NFC", line(text)).translate(signs).replace("\t", " ")
    return " ".join(whole.split())


def test_what_was_written_is_on_its_page(hostile: Poured, pages: dict[Path, Deeds]) -> None:
    """Every text is there word for word: nothing is lost by being made harmless."""
    for number, (name, text) in enumerate(TEXTS.items()):
        (page,) = [one for one in pages if f"-{number:03d}-" in one.name and "2026-03" in one.name]
        words = "".join(pages[page].texts).replace("\u2068", "").replace("\u2069", "")
        assert as_shown(text).strip(" #") in " ".join(words.split()), (name, page)
        assert hostile.site in page.parents
        assert label(text)
