"""Totals `in all`, over a run and those that it continues: every sum by hand."""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures
from logbook.reading.read_book import read_book

BENCH = "# Bench\n\nCurrency: EUR\n"
FIRST = """\
# First

Date: 2026-01-10
Metal: silver

## Dissolve

- took 100 g contacts, silver 70 %, for 20 EUR
- worked 2 h
- spent 5 EUR on gas
- got 1 L silver nitrate solution
"""
SECOND = """\
# Second

Date: 2026-01-17
Metal: silver
{head}
## Cement

- worked 1 h
- broke a beaker, 4 EUR
- got 70 g silver bar [AG-1]
- worked {hours} h in all
- spent {money} EUR in all
"""


def book(head: str = "Continues: First\n", hours: str = "5", money: str = "40") -> BookFigures:
    """Two runs, of which the second ends with totals."""
    second = SECOND.format(head=head, hours=hours, money=money)
    texts = {
        "runs/bench.md": BENCH,
        "runs/2026-01-10-first.md": FIRST,
        "runs/2026-01-17-second.md": second,
    }
    return work_out(read_book(texts))


def test_what_was_noted_in_the_run_continued_lies_inside_the_totals() -> None:
    """5 h − 2 h − 1 h = 2 h; 40 EUR − 20 − 5 − 4 = 11 EUR."""
    second = book().runs["2026-01-17-second"]
    assert second.hours_unallocated is not None
    assert second.hours_unallocated.value is not None
    assert second.hours_unallocated.value.value == pytest.approx(2.0)
    assert second.cost_unallocated is not None
    assert second.cost_unallocated.value is not None
    assert second.cost_unallocated.value.value == pytest.approx(11.0)


def test_more_noted_than_the_total_is_said_for_hours_and_for_money() -> None:
    """3 h were noted of 2 h in all, and 29 EUR of 20 EUR in all: nothing is left, and told."""
    figures = book(hours="2", money="20")
    told = [one for one in figures.findings if one.code == "in-all-less"]
    assert sorted(one.span.text for one in told) == ["2 h", "20 EUR"]
    second = figures.runs["2026-01-17-second"]
    assert second.cost_unallocated is not None
    assert second.cost_unallocated.value is not None
    assert second.cost_unallocated.value.value == 0.0
    assert second.hours_unallocated is not None
    assert not second.hours_unallocated.known


def test_totals_that_fit_are_not_spoken_of() -> None:
    """Exactly what was noted: 3 h and 29 EUR."""
    figures = book(hours="3", money="29")
    assert [one for one in figures.findings if one.code == "in-all-less"] == []
    second = figures.runs["2026-01-17-second"]
    assert second.cost_unallocated is not None
    assert second.cost_unallocated.value is not None
    assert second.cost_unallocated.value.value == 0.0


def test_a_total_over_earlier_work_that_no_line_names_is_not_divided() -> None:
    """A bar of an earlier run went in, but nothing says that this run continues it."""
    first = FIRST.replace("got 1 L silver nitrate solution", "got 68 g silver bar [AG-0]")
    second = SECOND.format(head="", hours="5", money="40").replace(
        "- worked 1 h\n", "- took [AG-0]\n- worked 1 h\n"
    )
    texts = {
        "runs/bench.md": BENCH,
        "runs/2026-01-10-first.md": first,
        "runs/2026-01-17-second.md": second,
    }
    run = work_out(read_book(texts)).runs["2026-01-17-second"]
    for rest in (run.hours_unallocated, run.cost_unallocated):
        assert rest is not None
        assert not rest.known
        assert "earlier work" in rest.why
