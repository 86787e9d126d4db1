"""The cautions page: what is raised and where, all that is looked for, and the words above it."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import Any

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.cautions.rules import rule_book
from logbook.calculation.cautions.wrong_advice import wrong_advice
from logbook.reading.read_book import read_book
from tests.pages.shown import pages, rendered, small_pages, small_site

PAGE = "cautions.html"
LOGS = {
    "runs/2026-03-01-strip.md": "# Strip\n\n## Strip\n- added 100 mL bleach into [W-2]\n",
    "runs/2026-05-02-leach.md": (
        "# Leach\n\n## Leach\n- added 50 mL vinegar into [W-2]\n"
        "- private: the drain, bleach\n\nA fan is enough.\n"
    ),
    "runs/2026-06-01-plan.md": (
        "# Next leach\n\nStatus: planned\n\n## Leach\n- add 50 mL vinegar into [W-2]\n"
    ),
}


def shown() -> Any:
    """The page of a book in which two logs fill one waste container."""
    return pages(read_book(LOGS))[PAGE].view


def test_the_words_that_put_cautions_in_their_place_come_first() -> None:
    """Before any rule the reader meets the sentences on codes, ventilation and practice."""
    html = small_site()[PAGE]
    assert small_pages()[PAGE].view.deferral == DEFERRAL
    assert html.index("Local law and codes") < html.index("Raised in this book")
    assert html.index("Local law and codes") < html.index("All that is looked for")


def test_every_rule_that_is_looked_for_stands_there_with_its_source() -> None:
    """The reader sees all that is checked, each with source and standing."""
    view = small_pages()[PAGE].view
    assert {rule.anchor for rule in view.known} == {rule.name for rule in rule_book().rules}
    assert {rule.anchor for rule in view.beliefs} == {one.name for one in wrong_advice()}
    signals = [rule.signal for rule in view.known]
    assert signals == sorted(signals)  # danger before warning
    html = small_site()[PAGE]
    for rule in (*view.known, *view.beliefs):
        assert rule.source and rule.standing
        assert f'id="rule-{rule.anchor}"' in html


def test_a_rule_whose_note_goes_beyond_its_source_is_published_in_part() -> None:
    """Of a rule that is partly from memory the page does not say that all of it is published."""
    standings = {rule.anchor: rule.standing for rule in small_pages()[PAGE].view.known}
    noted = {rule.name for rule in rule_book().rules if rule.note}
    assert noted and noted < standings.keys()
    for name, standing in standings.items():
        assert (standing == "published, in part") == (name in noted)


def test_a_rule_names_its_runs_and_lines() -> None:
    """A meeting in a container leads to both lines, in whatever logs they stand."""
    (met,) = [one for one in shown().raised if one.rule.anchor == "hypochlorite-with-acid"]
    assert [run.run.text for run in met.runs] == ["Next leach", "Leach"]
    assert [run.planned for run in met.runs] == [True, False]
    plan, leach = met.runs
    assert leach.lines[0].href == "runs/2026-05-02-leach.html#line-4"
    assert leach.others[0].href == "runs/2026-03-01-strip.html#line-4"
    assert plan.lines[0].href == "runs/2026-06-01-plan.html#line-6"
    assert met.count == "in 2 runs"


def test_dangers_come_before_warnings() -> None:
    """The graver signal word stands first, and both are counted in words."""
    signals = [one.rule.signal for one in shown().raised]
    assert signals == sorted(signals)
    dangers = signals.count("danger")
    assert shown().summary.startswith(f"{dangers} dangers and {signals.count('warning')} warning")


def test_wrong_advice_is_shown_as_wrong() -> None:
    """A belief stands with what is true, and under a title that does not repeat it."""
    (fan,) = [one for one in shown().raised if one.rule.anchor == "a-fan-is-no-extraction"]
    assert fan.rule.title == "a fan is no extraction"
    assert "outside" in fan.rule.do


def test_nothing_of_a_private_note_shows() -> None:
    """No rule is raised by a private note, and none leads to it."""
    assert "into-the-drain" not in {one.rule.anchor for one in shown().raised}


def test_a_book_without_cautions_says_so_and_promises_nothing() -> None:
    """No caution is no word of safety; what is looked for stands there all the same."""
    logs = {"runs/2026-03-01-a.md": "# A\n\n## Sort\n- took 20 g copper wire\n"}
    view = pages(read_book(logs))[PAGE].view
    assert view.raised == ()
    assert view.summary.startswith("No caution of this program")
    assert "says nothing about safety" in view.deferral


class Links(HTMLParser):
    """The anchors of a page, and the places within it that are linked to."""

    def __init__(self) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.targets: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note ids and links."""
        for name, value in attrs:
            if name == "id" and value:
                self.ids.append(value)
            if name == "href" and value and value.startswith("#"):
                self.targets.add(value[1:])


def test_links_within_the_page_arrive() -> None:
    """Each anchor is there once, and each link within the page has one."""
    found = Links()
    found.feed(rendered(pages(read_book(LOGS)))[PAGE])
    assert len(found.ids) == len(set(found.ids))
    assert found.targets - {"top"} <= set(found.ids)
    assert "rule-hypochlorite-with-acid" in found.targets


def test_the_page_is_in_the_navigation() -> None:
    """Every page leads to it."""
    for path, html in small_site().items():
        assert "cautions.html" in html, path
