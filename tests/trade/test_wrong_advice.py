"""Well-known wrong advice is contradicted, in a question, an entry or a paragraph.

What is true is judged by the sources named in wrong_advice.toml; the figures in the answers are
worked out here a second time.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.cautions.raised import cautions_of_runs
from logbook.calculation.cautions.wrong_advice import contradicted, wrong_advice
from logbook.calculation.results import Caution
from logbook.reading.read_book import read_book

CASES: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent / "wrong_advice_cases.toml").read_text(encoding="utf-8")
)["case"]
SHOWN = [(case["name"], text) for case in CASES for text in case["shows"]]
SILENT = [(case["name"], text) for case in CASES for text in case["silent"]]


def names_in(text: str) -> set[str]:
    """The beliefs that a text shows."""
    return {advice.name for advice in contradicted(text)}


def cautions_of(log: str) -> tuple[Caution, ...]:
    """The cautions of one log."""
    (run,) = read_book({"runs/2026-03-01-case.md": f"# A case\n\n{log}"}).runs
    return cautions_of_runs([run])[run.name]


@pytest.mark.parametrize(("name", "text"), SHOWN)
def test_a_wrong_belief_is_contradicted(name: str, text: str) -> None:
    """Words that show a belief are recognised."""
    assert name in names_in(text)


@pytest.mark.parametrize(("name", "text"), SILENT)
def test_what_is_near_to_it_is_left_alone(name: str, text: str) -> None:
    """Words that deny a belief, or only name its things, show nothing."""
    assert name not in names_in(text)


@pytest.mark.parametrize(("name", "text"), SHOWN)
def test_a_log_that_shows_it_is_warned(name: str, text: str) -> None:
    """As an item or a paragraph of a log it raises a warning at its line, with what is true."""
    for written in (f"- {text}", text):
        found = cautions_of(f"## Trial\n- waited 1 h\n\n{written}\n")
        (one,) = [caution for caution in found if caution.rule == name]
        assert one.signal == "warning" and "Not so" in one.text
        assert one.entry.line == 6 or "line 6" in one.text


def test_every_belief_has_a_case() -> None:
    """No belief is without words that show it and words that do not."""
    names = [advice.name for advice in wrong_advice()]
    assert len(names) == len(set(names))
    assert {case["name"] for case in CASES} == set(names)


def test_beliefs_are_complete_and_give_no_leave() -> None:
    """Each says what is true and who says so, and never that something is safe."""
    for advice in wrong_advice():
        assert advice.belief.startswith("that ") and advice.belief.endswith(".")
        assert advice.true.endswith(".")
        assert advice.source and advice.standing
        assert "is safe" not in advice.true and "you can" not in advice.true.lower()


def test_the_figures_of_the_answers() -> None:
    """Ounces, pounds and karats worked out by hand.

    Grain 64.79891 mg (exact, 1959): troy ounce 480 grains, troy pound 5760, avoirdupois ounce
    437.5, pound 7000. 14/24 = 0.58333. Two gold(III) take six electrons, sulfur dioxide gives
    two each: 2 Au for 3 SO2.
    """
    told = {advice.name: advice.true for advice in wrong_advice()}
    grain = 0.06479891
    assert f"{480 * grain:.7f} g" in told["an-ounce-of-gold-is-31-g"]
    assert f"{437.5 * grain:.2f} g" in told["an-ounce-of-gold-is-31-g"]
    assert round(480 / 437.5, 1) == 1.1  # "wrong by a tenth"
    assert f"{5760 * grain:.2f} g" in told["a-troy-pound-is-12-ounces"]
    assert f"{7000 * grain:.2f} g" in told["a-troy-pound-is-12-ounces"]
    assert f"{14 / 24 * 1000:.1f} in 1000" in told["14-karat-is-14-in-24"]
    assert "two atoms of gold take three molecules" in told["more-sulfite-is-no-more-gold"]


def test_a_belief_is_told_once_in_a_run() -> None:
    """The same belief in two paragraphs is one warning."""
    found = cautions_of(
        "## Trial\n- waited 1 h\n\nA fan is enough.\n\n## Melt\n- waited 1 h\n\nA fan will do.\n"
    )
    assert [one.rule for one in found].count("a-fan-is-no-extraction") == 1


def test_a_private_note_shows_nothing() -> None:
    """No warning gives a private note away."""
    assert not cautions_of("## Settle\n- waited 1 h\n- private: a fan is enough\n")


def test_one_sentence_at_a_time() -> None:
    """A denial counts for its own sentence, and a belief is not pieced together of two."""
    assert not names_in("I bought urea. Later I destroyed the nitric acid.")
    assert names_in("Nothing is wrong. Urea destroys nitric acid.")


@given(st.text(max_size=200))
@settings(max_examples=60, deadline=None)
def test_any_text_can_be_looked_at(text: str) -> None:
    """Whatever is written, it is looked at without a mistake."""
    contradicted(text)
