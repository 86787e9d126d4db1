"""Answers on the page of a run: below their question, with working, sources and cautions."""

from __future__ import annotations

from functools import cache
from html import unescape
from typing import Any

import pytest

from logbook.build import guide_chapters
from logbook.calculation.book_figures import work_out
from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.figure import Figure
from logbook.calculation.results.answers import Answer
from logbook.model.amount import Uncertain
from logbook.pages.addresses import chapter_path
from logbook.pages.answer_view import AnswerView, answer_view
from logbook.pages.rounding import NO_BREAK
from logbook.pages.site_pages import PageOptions, site_pages
from logbook.reading.read_book import read_book
from logbook.writing.templates import Theme
from tests.pages.shown import THEME

LOG = """\
# Contacts of one relay

Date: 2026-03-14
Metal: silver

## Dissolve

- took 10.0 g silver wire [SW-1], silver 92.5 ± 0.5 %
- ask how much nitric acid 68 % to dissolve 100 g silver?
- ask urea to destroy 10 mL nitric acid 68 %
- ask how much silver is in [SW-1]?
- ask what is the weather <b>today</b>

## Private: what nobody is to see

- ask salt to drop 80 g silver
"""
RUN = "runs/2026-03-14-contacts.html"


@cache
def page() -> tuple[Any, str]:
    """The view of the run's page, and its HTML."""
    figures = work_out(read_book({"runs/2026-03-14-contacts.md": LOG}))
    pages = {one.path: one for one in site_pages(figures, (), PageOptions())}
    return pages[RUN].view, Theme(THEME).render(pages[RUN])


def answers() -> dict[str, AnswerView]:
    """The answers on the page by their question."""
    view, _ = page()
    entries = [e for stage in view.stages for block in stage.blocks for e in block.entries]
    found = [entry.beside.answer for entry in entries if entry.beside.answer is not None]
    return {answer.question: answer for answer in found}


def test_the_answer_stands_with_its_question() -> None:
    """81.5 to 122.3 mL by hand, rounded outwards, in one sentence."""
    answer = answers()["how much nitric acid 68 % to dissolve 100 g silver?"]
    sentence = answer.sentence.replace(NO_BREAK, " ")
    assert "between 81.4 and 123 mL of nitric acid 68 %" in sentence
    assert answer.sources
    assert answer.cautions[0].word == "Danger"
    assert answer.deferral == DEFERRAL


def test_an_answer_from_the_book_leads_to_its_lines() -> None:
    """10.0 g x 0.925 = 9.25 g; the figure leads to the line it was read from."""
    answer = answers()["how much silver is in [SW-1]?"]
    assert "9.250 ± 0.057 g" in answer.sentence.replace(NO_BREAK, " ")
    hrefs = [line.href for figure in answer.figures for line in every_line(figure)]
    assert "#line-8" in hrefs


def every_line(figure: Any) -> list[Any]:
    """The lines of a figure and of its terms."""
    return [*figure.lines, *(line for term in figure.terms for line in every_line(term))]


def test_wrong_advice_is_told_on_the_page() -> None:
    """No figure, no empty answer: what is true instead."""
    _, html = page()
    assert "That is not so." in html
    assert "Nitric acid and nitrates stay where they are" in unescape(html)


def test_a_question_that_is_not_understood_says_what_is_missing() -> None:
    """The entry is shown, and what the question lacks below it."""
    answer = answers()["what is the weather <b>today</b>"]
    assert answer.sentence == ""
    assert answer.missing
    assert "<b>today" not in page()[1]


def test_a_private_question_and_its_answer_are_left_out() -> None:
    """What stands under a private heading is not on the page, nor is what was made of it."""
    _, html = page()
    assert "80 g silver" not in unescape(html)
    assert "43.3" not in html


def test_every_answer_has_the_sentences_that_defer() -> None:
    """Local codes and licensed practice come first, below each answer."""
    _, html = page()
    assert unescape(html).count(DEFERRAL) >= len(answers())


@pytest.mark.parametrize(
    ("figure", "text"),
    [
        (Figure("acid", "L", low=0.08138, high=0.12231), "between 81.3 and 123 mL"),
        (Figure("gas", "L", high=77.02), "at most 77.1 L"),
        (Figure("soda", "g", Uncertain(8.6859)), "8.69 g"),
        (Figure("soda", "g", why="nobody knows"), "an amount that is not known"),
    ],
)
def test_limits_go_outwards(figure: Figure, text: str) -> None:
    """A lower limit is rounded down and an upper one up; what is unknown stays so."""
    shown = answer_view(Answer("a question", "kind", ("It is ", figure, ".")))
    assert shown.sentence.replace(NO_BREAK, " ") == f"It is {text}."


def test_what_was_not_understood_leads_to_the_guide() -> None:
    """On a page the chapter on questions is linked, and no word of the terminal is named."""
    view = answers()["what is the weather <b>today</b>"]
    _, html = page()
    chapters = {chapter_path(chapter.name) for chapter in guide_chapters()}
    assert view.guide.removeprefix("../") in chapters
    assert f'<a href="{view.guide}">the guide</a>' in html
    assert "fineweight ask" not in html
