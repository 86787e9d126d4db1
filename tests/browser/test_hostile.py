"""The site of the hostile book in a real browser: nothing runs, nothing is fetched, all is valid.

Every page is opened, whatever it is, scrolled to its end and unfolded, so that charts and all
that is drawn late are there too.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.browser.chromium import Chromium
from tests.browser.kinds import pages_of_every_kind
from tests.browser.test_pages import DESK, OVERFLOW, PHONE
from tests.browser.test_valid import complaints
from tests.hostile.payloads import RUN
from tests.hostile.poured import Poured, pour_hostile

pytestmark = pytest.mark.browser

# Dialogues would stop the browser: they tell instead.
WATCH = """
for (const name of ["alert", "confirm", "prompt", "open", "print"]) {
  window[name] = () => { window.hit = name; };
}
"""
UNFOLD = """(async () => {
  document.querySelectorAll("details").forEach(one => { one.open = true; });
  for (let at = 0; at < document.body.scrollHeight; at += 20000) { window.scrollTo(0, at); }
  const late = document.querySelector("[data-chart], .chart") ? 400 : 0;
  await new Promise(done => setTimeout(done, late));
})()"""
# What an element may not have in the tree that the browser made, late parts included.
DEEDS = """(() => {
  const wrong = [], web = /^(https?:|mailto:|file:|data:image|#|$)/i;
  if (window.hit !== undefined) { wrong.push("something ran: " + window.hit); }
  const all = [...document.querySelectorAll("*")];
  for (const one of all) {
    for (const its of one.attributes) {
      if (/^on|^srcdoc$/i.test(its.name)) { wrong.push(its.name + "=" + its.value); }
    }
    for (const name of ["href", "src", "action", "formAction", "data"]) {
      let to = one[name];
      if (to && to.baseVal !== undefined) { to = to.baseVal; }
      if (typeof to === "string" && !web.test(to) && one.localName !== "button") {
        wrong.push(one.localName + " " + to);
      }
    }
    if (/^(iframe|object|embed|base)$/.test(one.localName)) { wrong.push(one.localName); }
  }
  if (!document.body.checkVisibility()) { wrong.push("the page is hidden"); }
  return wrong.map(one => one.slice(0, 120));
})()"""
# Words and figures of the Latin alphabet that stand on one line follow each other to the right.
ORDER = r"""(() => {
  const wrong = [];
  const lines = document.querySelectorAll(
    "h1, h2, h3, dt, dd, td, th, .line, figcaption, summary, p:not(.prose p), li:not(.prose li)");
  for (const line of lines) {
    if (line.querySelector("p, li, td, dd, table, svg, .prose, ul")) { continue; }
    if (line.closest(".prose, svg")) { continue; }
    const walk = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    let last = null, node;
    while ((node = walk.nextNode())) {
      for (const word of node.data.matchAll(/[A-Za-z0-9][A-Za-z0-9.]*/g)) {
        const range = document.createRange();
        range.setStart(node, word.index); range.setEnd(node, word.index + word[0].length);
        const [box, more] = range.getClientRects();
        if (!box || more || box.width === 0) { continue; }
        if (last && Math.abs(last.box.bottom - box.bottom) < 2
            && last.node.parentNode === node.parentNode && box.left < last.box.left) {
          wrong.push(last.word + " / " + word[0] + " in " + line.textContent.trim().slice(0, 80));
        }
        last = {box, node, word: word[0]};
      }
    }
  }
  return wrong;
})()"""
# Not ours: the language of a page is guessed from its letters, and is no error.
GUESSED = "This document appears to be written in"


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Poured:
    """The hostile book in the first theme."""
    return pour_hostile(tmp_path_factory.mktemp("hostile"))


@pytest.fixture(scope="module")
def fair_copy(tmp_path_factory: pytest.TempPathFactory) -> Poured:
    """The hostile book in the second theme."""
    return pour_hostile(tmp_path_factory.mktemp("hostile"), "fair-copy")


@pytest.fixture
def watching(browser: Chromium) -> Chromium:
    """A browser in which dialogues tell instead of waiting."""
    browser.call("Page.addScriptToEvaluateOnNewDocument", source=WATCH)
    return browser


def trouble(browser: Chromium, page: Path, site: Path) -> list[str]:
    """All that is wrong with a page, in words."""
    browser.open(page.as_uri())
    browser.ask_later(UNFOLD)
    wrong = [*browser.ask(DEEDS), *browser.complaints()]
    wrong += [
        f"asks for {address}"
        for address in browser.requests()
        if not address.startswith((site.as_uri() + "/", "data:image/"))
    ]
    if (over := browser.ask(OVERFLOW)) > 0:
        wrong.append(f"{over} pixels wider than the window")
    return wrong


def most_pages(site: Path) -> list[Path]:
    """Every page but those of labels and of the guide, and some of these."""
    runs = sorted((site / "runs").glob("*.html"))
    labels = sorted((site / "labels").glob("*.html"))
    return [*sorted({*pages_of_every_kind(site), *runs, *labels[::9]})]


def test_nothing_runs_and_nothing_is_wider_than_a_phone(
    watching: Chromium, hostile: Poured
) -> None:
    """On every page of a run, every page at the top, and some of the labels."""
    watching.wide(PHONE)
    pages = most_pages(hostile.site)
    assert len(pages) > 150
    found = {page.name: trouble(watching, page, hostile.site) for page in pages}
    assert {name: wrong[:3] for name, wrong in found.items() if wrong} == {}


def test_nothing_runs_in_the_second_theme(watching: Chromium, fair_copy: Poured) -> None:
    """Nor is anything of it wider than a phone."""
    watching.wide(PHONE)
    pages = [*pages_of_every_kind(fair_copy.site), *sorted(fair_copy.site.glob("runs/*.html"))[::4]]
    found = {page.name: trouble(watching, page, fair_copy.site) for page in pages}
    assert {name: wrong[:3] for name, wrong in found.items() if wrong} == {}


def test_the_watch_sees_what_runs(watching: Chromium, tmp_path: Path) -> None:
    """What the tests above rely on: a script, a handler, a dialogue and an address are seen."""
    page = tmp_path / "page.html"
    for harm, told in (
        (f"<script>{RUN}</script>", "something ran"),
        (f"<img src=x: onerror={RUN}>", "something ran"),
        ("<script>alert(1)</script>", "something ran: alert"),
        ("<a href='javascript:x'>a</a>", "javascript:x"),
        ("<svg><a xlink:href='javascript:x'><text>a</text></a></svg>", "javascript:x"),
        ("<p onclick=x>a</p>", "onclick=x"),
        ("<style>*{display:none}</style>", "hidden"),
        ("<p style='width:3000px'>a</p>", "wider than the window"),
    ):
        page.write_text(f"<!doctype html><title>a</title>{harm}", encoding="utf-8")
        assert any(told in one for one in trouble(watching, page, tmp_path)), harm


def test_no_line_is_turned(browser: Chromium, hostile: Poured) -> None:
    """Around words from right to left, and signs that turn, a line goes on from left to right."""
    browser.wide(DESK)
    names = ("override", "unclosed-isolate", "marks", "right-to-left", "right-to-left-arabic")
    runs = [
        page
        for page in sorted((hostile.site / "runs").glob("*.html"))
        if page.stem.partition("2026-03-")[2][7:] in names
    ]
    assert len(runs) == len(names)
    shared = [hostile.site / name for name in ("shelf.html", "money.html", "side-by-side.html")]
    for page in (*runs, *shared):
        browser.open(page.as_uri())
        browser.ask_later(UNFOLD)
        assert browser.ask(ORDER) == [], page.name


def test_a_turned_line_is_seen(browser: Chromium, tmp_path: Path) -> None:
    """What the test above relies on: a weight behind Hebrew, and an override, are told."""
    page = tmp_path / "page.html"
    for text in ("AG \u05db\u05e1\u05e3 12.4 7.5", "AG \u202e one two"):
        page.write_text(f"<!doctype html><meta charset=utf-8><p>{text}</p>", encoding="utf-8")
        browser.open(page.as_uri())
        assert browser.ask(ORDER), json.dumps(text)


@pytest.mark.parametrize("theme", ["hostile", "fair_copy"])
def test_every_page_is_valid(theme: str, request: pytest.FixtureRequest) -> None:
    """The Nu checker finds no error and no warning on any page."""
    poured: Poured = request.getfixturevalue(theme)
    found = [one for one in complaints(poured.site) if GUESSED not in one]
    assert found[:5] == []
