"""Where the facts of a log may stand: under its title, and below the prose of its opening."""

from __future__ import annotations

from logbook.model.book import Customs
from logbook.model.run import Run
from logbook.reading.read_log import read_log
from logbook.source import SourceText


def run_of(opening: str) -> Run:
    """The run of a plan that opens with some words."""
    text = f"# A plan\n\nMetal: silver\n\n{opening}\n\n## Work\n\n- take 5 g contacts\n"
    return read_log(SourceText("runs/2026-03-14-plan.md", text), Customs())[0]


def test_facts_below_the_prose_count() -> None:
    """A paragraph of known facts is read wherever it stands before the first heading."""
    run = run_of("From the last lift.\n\nFor: 1.2 kg\nLike: contacts\n\nMore to come.")
    assert run.meant is not None and run.meant.base_value == 1200.0
    assert [like.run for like in run.like] == ["contacts"]


def test_a_blank_line_ends_no_facts() -> None:
    """`For:` right below the facts, after a blank line, is a fact too."""
    run = run_of("For: 1.2 kg")
    assert run.meant is not None and run.opening == ()


def test_prose_that_begins_like_a_fact_stays_prose() -> None:
    """A line that goes on as prose, or opens with a word of the writer's own, is no fact."""
    run = run_of("It foamed.\n\nIdea: keep it cool.\n\nFor: 1.2 kg\nand a bit more.")
    assert run.meant is None
    assert " ".join(block.span.text for block in run.opening).endswith("and a bit more.")
