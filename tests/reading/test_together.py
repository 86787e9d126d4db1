"""What a question about gas puts together is all read, however the words are joined."""

from __future__ import annotations

import pytest

from logbook.model.entry import Portion
from tests.reading.test_questions import understood


def name(portion: Portion) -> str:
    """A portion by its amount and what it is."""
    amount = portion.amount.span.text if portion.amount is not None else "some"
    return f"{amount} {portion.reagent or portion.what}"


JOINED = (
    (
        "gas from 100 g Na2S2O5 + 100 g Na2SO3 in HCl",
        ["100 g sodium metabisulfite", "100 g sodium sulfite"],
        ["some hydrochloric acid"],
    ),
    (
        "gas from 100 mL muriatic acid and bleach",
        ["100 mL hydrochloric acid"],
        ["some sodium hypochlorite"],
    ),
    (
        "gas from bleach and 100 mL muriatic acid",
        ["100 mL hydrochloric acid"],
        ["some sodium hypochlorite"],
    ),
    ("gas from bleach with 100 mL vinegar", ["100 mL acetic acid"], ["some sodium hypochlorite"]),
    (
        "gas from 100 g copper and bleach in hydrochloric acid",
        ["100 g copper"],
        ["some hydrochloric acid", "some sodium hypochlorite"],
    ),
    ("gas from 100 mL nitric acid and copper", ["100 mL nitric acid"], ["some copper"]),
    (
        "gas from adding 100 mL muriatic acid to 10 g sodium cyanide",
        ["100 mL hydrochloric acid", "10 g sodium cyanide"],
        [],
    ),
    (
        "gas if 100 mL muriatic acid meets 10 g sodium cyanide",
        ["100 mL hydrochloric acid", "10 g sodium cyanide"],
        [],
    ),
    (
        "gas when I pour 100 mL muriatic acid over 50 g zinc",
        ["100 mL hydrochloric acid", "50 g zinc"],
        [],
    ),
    ("gas from 10 g sodium cyanide, vinegar", ["10 g sodium cyanide"], ["some acetic acid"]),
    (
        "gas from 100 mL muriatic acid in 100 g sodium cyanide",
        ["100 mL hydrochloric acid"],
        ["100 g sodium cyanide"],
    ),
)


@pytest.mark.parametrize(("text", "of", "asked"), JOINED)
def test_nothing_that_is_put_together_is_lost(text: str, of: list[str], asked: list[str]) -> None:
    """Each thing with its amount, and each supply without one."""
    question = understood(text)
    assert [name(one.portion) for one in question.of] == of
    assert [name(one) for one in question.asked] == asked
    assert question.unread == ()


def test_a_composition_is_no_supply() -> None:
    """Copper 29 % behind contacts is what they hold."""
    question = understood("gas from 100 g contacts, silver 71 %, copper 29 % in nitric acid")
    (material,) = question.of
    assert [one.metal for one in material.holds] == ["silver", "copper"]
    assert [name(one) for one in question.asked] == ["some nitric acid"]
