"""The timeline: days and stages as the logs tell, one below the other where they overlap."""

from __future__ import annotations

from logbook.pages.timeline_page import TimelineView
from logbook.reading.read_book import read_book
from tests.pages.shown import pages

FIRST = """\
# First

Date: 2026-03-01
Metal: silver

## Dissolve, 1 March 09:20

- took 100 g contacts [RC-1], silver 70 %

## Cement

- 2026-03-01 added 50 g copper bar
- 2026-03-03 got 60 g cement silver [P-1]
- private: 2026-03-09 the neighbour
- 2026-03-03 kept 2 filters [F-1]

## Settle, 3 March

- 2027-05-01 waited overnight
"""
SECOND = """\
# Second

Date: 2026-03-03

## Sort

- took 20 g contacts [RC-2]
- sold [P-1] for 60 EUR
"""
PLAN = "# Third\n\nDate: 2026-03-20\nStatus: planned\n\n## Sort\n\n- take 20 g contacts\n"
SUPPLIES = """\
# Supplies

- 2026-02-27 bought 2.5 L nitric acid 68 % for 42 EUR
- had 1 L hydrochloric acid 32 %
"""


def timeline() -> TimelineView:
    """The timeline of the book above."""
    files = {"2026-03-01-first": FIRST, "2026-03-03-second": SECOND, "2026-03-20-third": PLAN}
    texts = {f"runs/{name}.md": text for name, text in files.items()}
    found = pages(read_book({**texts, "runs/supplies.md": SUPPLIES}))
    view = found["timeline.html"].view
    assert isinstance(view, TimelineView)
    return view


def words(month: int) -> dict[str, list[tuple[str, str, str]]]:
    """Day → kind, thing and parts of all that happened in a month."""
    return {
        day.day: [
            (one.kind, one.what.text, "; ".join(part.text for part in one.parts))
            for one in day.happenings
        ]
        for day in timeline().months[month].days
    }


def test_months_stand_newest_first_and_only_those_with_days() -> None:
    """A stage that ends 14 months later shows its two ends and nothing between."""
    assert [month.name for month in timeline().months] == [
        "May 2027",
        "March 2026",
        "February 2026",
    ]


def test_each_day_tells_its_stages_and_events() -> None:
    """Day by day, by hand; the private line brings no day."""
    assert words(1) == {
        "1": [("run", "First", "Dissolve, 09:20; Cement")],
        "2": [("run", "First", "Cement, begun on 1 March 2026")],
        "3": [
            ("run", "First", "Cement, begun on 1 March 2026; Settle"),
            ("run", "Second", "Sort"),
            ("sold", "[P-1]", ""),
            ("put on the shelf", "[P-1] cement silver", ""),
            ("put on the shelf", "[F-1] filters", ""),
        ],
        "20": [("planned", "Third", "")],
    }


def test_purchases_are_told_without_their_price() -> None:
    """The amount and the name; what was there from the beginning has no day."""
    assert words(2) == {"27": [("bought", "2.5 L nitric acid 68 %", "")]}
    assert [one.what.text for one in timeline().undated] == ["1 L hydrochloric acid 32 %"]


def test_rows_run_along_the_days() -> None:
    """In March day 1 begins at 0; Dissolve and Cement share it: 10 − 1 wide each, by hand.

    A day is 20 wide, and 31 of them are 620.
    """
    month = timeline().months[1]
    assert (month.width, month.length, month.weeks) == ("620", 31, ("140", "280", "420", "560"))
    first = month.rows[0]
    assert (first.what.text, first.days) == ("First", "1 March 2026 to 1 May 2027")
    assert [(mark.x, mark.width) for mark in first.marks] == [
        ("0", "9"),
        ("10", "9"),
        ("20", "19"),
        ("40", "9"),
        ("50", "9"),
    ]
    assert month.rows[1].what.text == "Second"
    assert [mark.x for mark in month.rows[1].marks] == ["40"]
    assert [row.what.text for row in month.rows[2:]] == ["planned", "sold", "put on the shelf"]


def test_a_book_without_a_day_has_an_empty_timeline() -> None:
    """A run without a date stands below, and nothing is invented for it."""
    view = pages(read_book({"runs/a.md": "# A\n\n## Sort\n\n- took 20 g contacts\n"}))
    found = view["timeline.html"].view
    assert found.months == ()
    assert [(one.kind, one.what.text) for one in found.undated] == [("run", "A")]
