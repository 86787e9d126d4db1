"""Questions carry the cautions of what they name, answered or not."""

from __future__ import annotations

import pytest

from tests.calculation.answers.asked import ask

DANGEROUS = (
    ("nitric acid 68 % to dissolve 100 g silver", "nitrogen-dioxide"),
    ("hydrochloric acid 32 % and nitric acid 68 % to dissolve 10 g gold", "aqua-regia"),
    ("sodium metabisulfite to drop 12 g gold", "sulfite-with-acid"),
    ("gas from 50 g sodium metabisulfite", "sulfite-with-acid"),
    ("zinc to cement 5 g gold", "hydrogen"),
    ("urea to destroy 100 mL nitric acid 68 %", "urea-with-nitric"),
    ("ammonia to drop 10 g gold", "gold-with-ammonia"),
    ("may I mix bleach and hydrochloric acid", "hypochlorite-with-acid"),
    (
        "sodium hypochlorite and hydrochloric acid 32 % to dissolve 10 g gold",
        "hypochlorite-with-acid",
    ),
    ("sodium cyanide to dissolve 10 g gold in acid", "cyanide-with-acid"),
    ("dilute 500 mL sulfuric acid 96 % to 35 %", "acid-and-water"),
)


@pytest.mark.parametrize(("text", "rule"), DANGEROUS)
def test_what_must_not_meet_is_said(text: str, rule: str) -> None:
    """A question raises the caution that its substances would raise in a log."""
    assert rule in [caution.rule for caution in ask(text).cautions]


def test_dangers_come_first() -> None:
    """The graver signal word stands above the other."""
    signals = [one.signal for one in ask("soda ash to neutralise 1 L nitric acid 70 %").cautions]
    assert {"danger", "warning"} == set(signals)
    assert signals == sorted(signals)


@pytest.mark.parametrize("text", ["2 ozt in g", "gold in 12 cm2 plated 2.5 micron"])
def test_harmless_questions_raise_none(text: str) -> None:
    """Where nothing meets anything, nothing is raised."""
    assert ask(text).cautions == ()


WRONG = (
    ("urea to destroy 100 mL nitric acid 68 %", "Nitric acid and nitrates stay"),
    ("how much urea kills nitric acid?", "Nitric acid and nitrates stay"),
    ("how many g are 2 oz of gold at 28.35 g an ounce", "31.1"),
    ("ammonia to dissolve 10 g silver chloride", ""),
)


@pytest.mark.parametrize(("text", "true"), WRONG)
def test_wrong_advice_is_contradicted_and_not_answered(text: str, true: str) -> None:
    """What rests on a wrong belief gets no figure: it is told what is true, with a source."""
    answer = ask(text)
    assert not answer.answered
    assert answer.figures == ()
    assert any(true in one.true for one in answer.wrong)
    assert all(one.source for one in answer.wrong)


def test_an_honest_question_is_not_contradicted() -> None:
    """Sulfamic acid does what urea does not; to ask what urea does not do is no belief."""
    assert ask("sulfamic acid to destroy 1 mL nitric acid 70 %").answered
    assert ask("how many grams in an ounce of silver?").wrong == ()
