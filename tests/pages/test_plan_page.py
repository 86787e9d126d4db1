"""The bench sheet: what stands on it, in which order, and what is left empty."""

from __future__ import annotations

import re
from functools import cache

from logbook.pages.site_pages import Page
from logbook.reading.read_book import read_book
from tests.pages.shown import pages, rendered

PLAN = """\
# Lot 5, planned

Date: 2026-04-01
Status: planned
Metal: silver
Like: 2026-03-01-lot-4 without melt

Water first <b>always</b>.

## Dissolve

- take 300.0 g relay contacts, silver 70 ± 1 %
- add 500 mL distilled water
- add 3 L nitric acid 68 %, in small portions
- heat at 60 C for 2 h
- filter with 3 filters

## Cement

- add 200.0 g copper bar
- wait overnight
- get silver powder
"""
LOT_4 = """\
# Lot 4

Date: 2026-03-01
Metal: silver

## Dissolve

- took 100.0 g relay contacts, silver 70 ± 1 %
- added 200 mL nitric acid 68 %

## Melt

- got 60.0 g silver bar, silver 99 %
"""
LOT_5 = """\
# Lot 5

Date: 2026-04-05
Metal: silver
Plan: 2026-04-01-lot-5-planned

## Dissolve

- took 300.0 g relay contacts, silver 70 ± 1 %
- added 600 mL nitric acid 68 %
"""
SUPPLIES = "# Supplies\n\n- 2026-01-01 bought 2.5 L nitric acid 68 % for 40 EUR\n"
TEXTS = {
    "runs/supplies.md": SUPPLIES,
    "runs/2026-03-01-lot-4.md": LOT_4,
    "runs/2026-04-01-lot-5-planned.md": PLAN,
    "runs/2026-04-05-lot-5.md": LOT_5,
}
SHEET = "runs/2026-04-01-lot-5-planned.html"
RECORD = "runs/2026-04-05-lot-5.html"


@cache
def site() -> dict[str, Page]:
    """The pages of the book."""
    return pages(read_book(TEXTS))


@cache
def html(path: str = SHEET) -> str:
    """The HTML of one page."""
    return rendered({path: site()[path]})[path]


def test_cautions_come_before_everything_that_could_be_done() -> None:
    """Cautions with their signal words and the deferral stand before supplies and steps."""
    text = html()
    first = text.index("Cautions first")
    signal = text.index('<strong class="signal">Danger</strong>')
    deferral = text.index("Local law and codes")
    supplies = text.index("To have at hand")
    steps = text.index('id="steps"')
    assert first < signal < deferral < supplies < steps


def test_every_step_has_a_box_and_its_words() -> None:
    """Each entry of the plan has a box to tick, with the writer's words, unticked."""
    steps = re.findall(
        r'<label class="line"[^>]*><input type="checkbox"> <span>(.*?)</span>', html()
    )
    words = [re.sub(r"<[^>]+>", "", step) for step in steps]
    assert words[0] == "take 300.0 g relay contacts, silver 70 ± 1 %"
    assert len(words) == 8
    assert "checked" not in html()


def test_places_to_write_are_empty() -> None:
    """A blank holds nothing: no planned figure is written into it."""
    assert html().count('<span class="blank"></span>') >= 9
    assert re.findall(r'<span class="blank[^"]*">[^<]+</span>', html()) == []
    assert "temperature <span" in html()


def test_what_is_there_is_held_against_what_is_planned() -> None:
    """2.5 L were bought and 0.8 L used, so 1.7 L are there for 3 L: 1.3 L short, by hand."""
    view = site()[SHEET].view
    acid = next(row for row in view.supplies if row.supply.startswith("nitric"))
    water = next(row for row in view.supplies if row.supply.startswith("distilled"))
    assert (acid.enough, acid.words, acid.in_hand.value) == ("no", "not enough", "1.700")
    assert float(acid.short.value) == 1.3
    assert (water.enough, water.in_hand.known) == ("not-known", False)


def test_what_the_other_run_would_use_stands_beside_it() -> None:
    """200 mL for 100 g are 600 mL for 300 g, which is three times as much: a warning says so."""
    view = site()[SHEET].view
    acid = next(row for row in view.reagents if row.supply.startswith("nitric"))
    assert acid.like.mean.value == "600"
    assert "3 times as much as Lot 4" in view.like.far
    assert view.like.far in html().replace("&#39;", "'")
    assert "Heat, foam and gas do not grow in step with the weight" in html()
    assert view.like.runs[0].left_out == ("Melt",)


def test_vessels_have_headroom() -> None:
    """At most 0.5 + 2 × 0.1/√12 and 3 + 2/√12 L stand in twice as much; no beaker is so large.

    By hand 0.5577 + 3.5774 = 4.1351 L and 8.2702 L, both rounded up.
    """
    view = site()[SHEET].view
    dissolve = view.vessels[0]
    assert (dissolve.liquid.value, dissolve.least.value, dissolve.beaker) == ("4.14", "8.28", "")
    assert dissolve.fill.startswith("at most 50 % full: nitric acid on metal foams")


def test_cautions_are_repeated_beside_their_stage() -> None:
    """Each stage with a caution names it in short, and leads to the head of the sheet."""
    view = site()[SHEET].view
    assert view.stages[0].cautions is not None
    short = html()[html().index('class="short-cautions"') :]
    assert "<strong" in short[:400]
    assert short.index("In full at the head of this sheet") < short.index("what-to-do")


def test_there_is_a_line_to_sign() -> None:
    """Somebody did it, on a day."""
    assert "Done by" in html() and "Read over by" in html()


def test_the_words_of_the_plan_are_words() -> None:
    """Tags in a plan are shown, not obeyed."""
    assert "<b>always</b>" not in html()
    assert "&lt;b&gt;always&lt;/b&gt;" in html()


def test_the_line_of_likenesses_leads_to_the_run() -> None:
    """The run is a link, the rest of the line words."""
    fact = next(fact for fact in site()[SHEET].view.facts if fact.word == "Like")
    assert [(part.text, part.href) for part in fact.value] == [
        ("2026-03-01-lot-4", "../runs/2026-03-01-lot-4.html"),
        (" without melt", ""),
    ]


def test_plan_and_record_lead_to_each_other() -> None:
    """The sheet names the record, the record has planned and done side by side."""
    assert [link.text for link in site()[SHEET].view.records] == ["Lot 5"]
    check = site()[RECORD].view.check
    assert check.plan.text == "Lot 5, planned"
    acid = next(row for row in check.groups[1].rows if row.what == "nitric acid 68 %")
    assert (float(acid.planned.value), float(acid.done.value)) == (3.0, 600.0)
    assert "Planned and done" in html(RECORD)
    assert site()["runs/2026-03-01-lot-4.html"].view.check is None


def test_a_plan_that_was_carried_out_is_not_waiting_any_more() -> None:
    """The front page lists plans that no record names."""
    assert site()["index.html"].view.planned == ()
    waiting = {path: text for path, text in TEXTS.items() if "04-05" not in path}
    assert [one.run.text for one in pages(read_book(waiting))["index.html"].view.planned] == [
        "Lot 5, planned"
    ]


def test_a_plan_without_anything_is_a_sheet_all_the_same() -> None:
    """A plan with no entries, no likeness and no supplies has its page."""
    empty = {"runs/2026-04-01-idea.md": "# An idea\n\nStatus: planned\n"}
    found = pages(read_book(empty))
    text = rendered(found)["runs/2026-04-01-idea.html"]
    assert "No caution of this program is raised" in text
    assert "That tells nothing about whether it is safe." in text
    assert "Local law and codes" in text
    assert "The plan names no supply" in text


ONLY_LIKE = """\
# Lot 6, planned

Date: 2026-06-01
Status: planned
Metal: silver
For: 200 g
Like: 2026-03-01-lot-4
"""


@cache
def like_sheet(like: str = "2026-03-01-lot-4") -> tuple[Page, str]:
    """The page and the text of a plan that says nothing but what it is like."""
    plan = ONLY_LIKE.replace("2026-03-01-lot-4", like)
    found = pages(read_book({**TEXTS, "runs/2026-06-01-lot-6-planned.md": plan}))
    path = "runs/2026-06-01-lot-6-planned.html"
    return found[path], rendered({path: found[path]})[path]


def test_a_plan_that_only_says_like_what_has_the_cautions_of_that_run() -> None:
    """They stand at the head, each with the run and the line that it comes from."""
    page, text = like_sheet()
    safety = page.view.safety
    assert page.view.cautions is None
    brown = next(one for one in safety.cautions.cautions if one.rule == "nitrogen-dioxide")
    assert brown.text.startswith("As in 2026-03-01-lot-4, line 9: ")
    assert "No caution of this program is raised" not in text
    assert "words name no supply; what the runs it is like used" in text
    assert "The plan names no supply" not in text
    head, hand = text.index("As in 2026-03-01-lot-4, line 9"), text.index("To have at hand")
    assert head < text.index("Local law and codes") < hand


def test_gas_and_vessels_of_that_run_are_on_the_sheet_times_as_much() -> None:
    """Twice 200 mL of acid in a vessel half full; the gas stands with its warning."""
    page, text = like_sheet()
    (vessel,) = page.view.safety.vessels
    assert vessel.stage.text.startswith("Dissolve")
    assert float(vessel.least.value) >= 0.8
    assert {row.gas for one in page.view.safety.gases for row in one.rows} >= {"nitrogen dioxide"}
    gas = text.index("Gas of those stages")
    assert text.index("not a design of a ventilation") < gas < text.index("To have at hand")
    assert "Heat, foam and gas do not grow in step with the weight" in text[:gas]


def test_a_run_that_is_not_known_brings_no_cautions_and_says_what_that_means() -> None:
    """A slip in the name: the sheet has none to show, and does not look safe for it."""
    page, text = like_sheet("2026-03-01-lot-44")
    assert page.view.safety is None
    assert "That tells nothing about whether it is safe." in text
