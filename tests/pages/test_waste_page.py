"""The waste page: caution and order first, nothing without limits, and no leave for anything."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.pages.rounding import between
from logbook.pages.site_pages import PageOptions, site_pages
from logbook.pages.waste_page import WasteView
from logbook.reference import load
from tests.calculation.test_acids import HEAD, book
from tests.calculation.test_waste import TWO_POURS
from tests.conftest import ROOT

NO = re.compile(r"\b(?:no|not|never|nothing|neither|nor|none|without|forbidden|against)\b")
AWAY = re.compile(
    r"\b(?:drains?|sewers?|(?:the|a|kitchen) sink|gutter|toilet|flush(?:ed)?|rubbish|"
    r"into the garden|on the ground|pour(?:ed)? (?:it |them |this )?(?:away|out))\b"
)


class Words(HTMLParser):
    """The words that a page shows, block by block."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """What stands in a script or a style is not shown; a block begins a new part."""
        self.hidden += tag in ("script", "style")
        if tag in ("p", "li", "td", "th", "dd", "dt", "h1", "h2", "h3", "h4", "summary", "div"):
            self.parts.append("")

    def handle_endtag(self, tag: str) -> None:
        """The end of what is not shown."""
        self.hidden -= tag in ("script", "style")

    def handle_data(self, data: str) -> None:
        """Words."""
        if not self.hidden:
            self.parts = [*self.parts[:-1], (self.parts or [""])[-1] + data]


def sentences(text: str) -> list[str]:
    """A text in sentences, in lower case."""
    return [one.strip() for one in re.split(r"(?<=[.!?;])\s", " ".join(text.lower().split()))]


def allowing(text: str) -> list[str]:
    """The sentences that speak of a drain, the ground or the like without a no."""
    return [one for one in sentences(text) if AWAY.search(one) and not NO.search(one)]


def view(*logs: str) -> WasteView:
    """The waste page of some logs."""
    pages = {page.path: page for page in site_pages(book(*logs), (), PageOptions())}
    found = pages["waste.html"].view
    assert isinstance(found, WasteView)
    return found


def test_the_words_of_caution_and_the_order_come_first() -> None:
    """In the page itself: deferral, local rules, all steps in order, then containers."""
    shown = view(TWO_POURS)
    assert shown.deferral == DEFERRAL
    assert "Local rules decide" in shown.local
    assert [step.number for step in shown.steps] == list(
        range(1, len(load("waste.toml")["step"]) + 1)
    )
    assert all(step.source for step in shown.steps)
    text = (ROOT / "themes/bench/templates/waste.html").read_text(encoding="utf-8")
    body = text[text.index("{% block main %}") :]
    order = [body.index(part) for part in ("view.deferral", "view.local", "view.steps", "standing")]
    assert order == sorted(order)


def test_a_container_has_its_limits_and_its_lines() -> None:
    """Limits are shown as limits, rounded outwards, with the entries they rest on."""
    (one,) = view(TWO_POURS).standing
    assert one.label.text == "W-1" and one.label.href == "labels/w-1.html"
    assert not any(figure.known for figure in one.acids)
    soda = one.base[1].grams
    assert not soda.known and soda.limits.startswith("at most 5")
    assert one.base_why
    assert one.base[0].gas is None and one.base[1].gas is not None
    assert [part.what for part in one.poured] == ["blue solution", "rinse water"]
    assert all(part.lines and part.lines[0].href for part in one.poured)
    assert "copper" in one.may_hold
    assert one.steps and one.cautions is not None


def test_needed_base_is_rounded_up() -> None:
    """Of an upper limit no digit is lost downwards (by hand: 43.161 g becomes 43.2 g)."""
    assert between(0.0, 43.161, "g") == "at most 43.2\u00a0g"
    assert between(0.0, 57.1901, "g") == "at most 57.2\u00a0g"


def test_the_words_that_follow_cautions_stand_once() -> None:
    """At the head of the page; beside the containers the cautions alone, with what to do."""
    text = (ROOT / "themes/bench/templates/waste.html").read_text(encoding="utf-8")
    assert text.count("deferral }}") == 1 and "log.dangers(" not in text
    assert "caution.do" in text


def test_what_must_not_be_treated_says_so_first() -> None:
    """No base, no heat, no step that treats it; the sentence stands beside the container."""
    log = HEAD + "## Leach\n\n- added 20 g nitric acid 68 %\n- added 2 g sodium cyanide\n"
    (one,) = view(log + "- discarded 0.5 L liquor into [W-1]\n").standing
    assert "add nothing to it" in one.as_it_is and "as it is" in one.as_it_is
    assert not one.base and one.heat is None
    anchors = {step.anchor for step in one.steps}
    assert "step-as-it-is" in anchors and "step-copper-on-iron" not in anchors
    (acid,) = view(TWO_POURS).standing
    assert not acid.as_it_is and acid.heat is not None
    assert "thinning" in acid.heat.name and "lye" in acid.heat.name


def test_nothing_discarded_is_not_nothing() -> None:
    """A book without waste says that no line tells of any."""
    shown = view(HEAD + "## Melt\n\n- got 5.00 g silver bar, silver 99 %\n")
    assert not shown.standing and "not to say" in shown.summary


def test_what_has_gone_stands_apart() -> None:
    """With its day and the words of the line that says so."""
    later = HEAD.replace("14 March", "20 March") + "## Treat waste\n\n"
    shown = view(TWO_POURS, later + "- discarded [W-1], handed over to the collection point\n")
    assert not shown.standing
    (gone,) = shown.gone
    assert gone.where == "Left this book on 20 March 2026."
    assert "handed over" in gone.where_lines[0].quote


@pytest.mark.parametrize(
    ("text", "bad"),
    [
        ("Afterwards pour it out.", True),
        ("The clear liquid may go down the drain.", True),
        ("Nothing of it goes down a drain, treated or not.", False),
        ("No household drain takes them.", False),
    ],
)
def test_the_check_itself(text: str, bad: bool) -> None:
    """The check below finds what it looks for."""
    assert bool(allowing(text)) is bad


def known_warnings() -> set[str]:
    """What names a drain without a "no": titles and texts of cautions, beliefs called wrong."""
    cautions = load("cautions.toml")["caution"]
    beliefs = load("wrong_advice.toml")["belief"]
    texts = [row["text"] for row in cautions] + [row["belief"] for row in beliefs]
    titles = [row["id"].replace("-", " ") for row in cautions]
    return {one for text in (*texts, *titles) for one in sentences(text) if allowing(one)}


def test_no_page_says_that_waste_may_be_poured_away(demo_site: Path) -> None:
    """Of the whole demo site, pages and guide: no sentence of ours lets anything go."""
    files = [*demo_site.rglob("*.html")]
    assert files and demo_site / "waste.html" in files
    found = set()
    for file in files:
        words = Words()
        words.feed(file.read_text(encoding="utf-8"))
        found.update(one for part in words.parts for one in allowing(part))
    known = known_warnings()
    assert {one for one in found if not any(text in one for text in known)} == set()
