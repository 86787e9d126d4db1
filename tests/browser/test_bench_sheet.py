"""The bench sheet on paper: A4 and US Letter, black on white, nothing wider than the page."""

from __future__ import annotations

import base64
import re
from pathlib import Path

import pytest

from tests.browser.chromium import Chromium

pytestmark = pytest.mark.browser

SHEET = "runs/2026-03-28-relay-contacts-lot-6.html"
MILLIMETRES = 96 / 25.4  # CSS pixels in one, by definition: 96 to the inch
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}  # ISO 216, ANSI/ASME Y14.1
FIRST = 100.0  # points from the edge of the paper: margin, space above and the heading itself
SIDES = 26.0  # mm, both margins of the sheet together
WIDER = """
[...document.querySelectorAll('main *')].filter(one => one.checkVisibility() &&
    one.getBoundingClientRect().right > document.documentElement.clientWidth + 1 &&
    getComputedStyle(one).position !== 'absolute').map(one => one.tagName + '.' + one.className)
"""


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_wider_than_the_paper(browser: Chromium, demo_site: Path, paper: str) -> None:
    """With the styles of print, on the width that the margins leave, nothing sticks out."""
    width, height = PAPERS[paper]
    browser.wide(int((width - SIDES) * MILLIMETRES), int(height * MILLIMETRES))
    browser.call("Emulation.setEmulatedMedia", media="print")
    browser.open((demo_site / SHEET).as_uri())
    assert browser.ask(WIDER) == []
    browser.call("Emulation.setEmulatedMedia", media="")


def test_print_is_black_on_white_without_navigation(browser: Chromium, demo_site: Path) -> None:
    """Dark screens print black on white, in 11 pt, without the links at the head."""
    browser.wide(700)
    dark = [{"name": "prefers-color-scheme", "value": "dark"}]
    browser.call("Emulation.setEmulatedMedia", media="print", features=dark)
    browser.open((demo_site / SHEET).as_uri())
    style = "getComputedStyle(document.body)"
    assert browser.ask(f"{style}.color") == "rgb(0, 0, 0)"
    assert browser.ask(f"{style}.backgroundColor") == "rgb(255, 255, 255)"
    assert browser.ask("getComputedStyle(document.querySelector('.head')).display") == "none"
    # 11 points at 96 pixels and 72 points to the inch
    size = float(browser.ask("getComputedStyle(document.documentElement).fontSize")[:-2])
    assert size == pytest.approx(11 * 96 / 72, abs=0.01)
    step = "getComputedStyle(document.querySelector('.step')).breakInside"
    assert browser.ask(step) == "avoid"
    browser.call("Emulation.setEmulatedMedia", media="", features=[])


@pytest.mark.parametrize("paper", PAPERS)
def test_steps_and_annex_begin_on_pages_of_their_own(
    browser: Chromium, demo_site: Path, paper: str
) -> None:
    """What is ticked at the bench is a sheet of its own, and what other runs had comes last."""
    width, height = PAPERS[paper]
    browser.open((demo_site / SHEET).as_uri())
    inches = {"paperWidth": width / 25.4, "paperHeight": height / 25.4}
    answer = browser.call("Page.printToPDF", **inches, generateDocumentOutline=True)
    pdf = base64.b64decode(answer["data"])
    kids = re.search(rb"/Type /Pages\s.*?/Kids \[(.*?)\]", pdf, re.DOTALL)
    assert kids is not None
    order = re.findall(rb"(\d+) 0 R", kids[1])
    outline = re.findall(rb"/Title \((.*?)\)\s*/Dest \[(\d+) 0 R /XYZ [\d.]+ ([\d.]+) ", pdf)
    place = {title.decode(): (order.index(page), float(top)) for title, page, top in outline}
    first = height / 25.4 * 72 - FIRST  # as far down, in points, as a heading may stand
    assert place["Cautions first"][0] == 0
    assert place["Steps"][0] > place["To have at hand"][0]
    assert place["Steps"][1] > first
    assert place["As those runs had it"] == max(place.values(), key=lambda one: (one[0], -one[1]))
    assert place["As those runs had it"][1] > first
    lines = dict(re.findall(rb"/line-(\d+) \[(\d+) 0 R", pdf))
    html = (demo_site / SHEET).read_text(encoding="utf-8")
    for heading in re.findall(r'<h3 id="line-(\d+)"', html):
        later = [number for number in lines if int(number) > int(heading)]
        step = min(later, key=int)
        assert lines[heading.encode()] == lines[step], "a heading stays with what is below it"


def test_paper_has_no_closed_folds_and_no_question_without_an_answer(
    browser: Chromium, demo_site: Path
) -> None:
    """Nobody can open a fold on paper; cautions stand in two columns, and none is left out."""
    browser.call("Emulation.setEmulatedMedia", media="print")
    browser.open((demo_site / SHEET).as_uri())
    shown = "[...document.querySelectorAll('%s')].filter(one => one.checkVisibility()).length"
    assert browser.ask("document.querySelectorAll('.rests').length") > 0
    assert browser.ask(shown % ".rests") == 0
    cautions = browser.ask("document.querySelectorAll('.cautions .caution').length")
    assert browser.ask(shown % ".cautions .caution") == cautions > 0
    columns = "getComputedStyle(document.querySelector('.cautions')).columnCount"
    assert browser.ask(columns) == "2"
    browser.ask("document.querySelector('.step').classList.add('unanswered')")
    assert not browser.ask("document.querySelector('.step').checkVisibility()")
    browser.call("Emulation.setEmulatedMedia", media="")
    assert browser.ask("document.querySelector('.step').checkVisibility()")


@pytest.mark.parametrize("paper", PAPERS)
def test_the_sheet_prints_on_paper_of_its_size(
    browser: Chromium, demo_site: Path, paper: str
) -> None:
    """A PDF has pages of the paper that was asked for, and no more than a folder holds."""
    width, height = PAPERS[paper]
    browser.open((demo_site / SHEET).as_uri())
    answer = browser.call("Page.printToPDF", paperWidth=width / 25.4, paperHeight=height / 25.4)
    pdf = base64.b64decode(answer["data"])
    boxes = re.findall(rb"/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)", pdf)
    points = [(float(across) * 25.4 / 72, float(down) * 25.4 / 72) for across, down in boxes]
    assert 1 < len(points) < 15
    for across, down in points:
        assert (across, down) == pytest.approx((width, height), abs=1.0)
