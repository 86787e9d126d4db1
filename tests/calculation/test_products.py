"""What a thing is told to be from its words, and the words themselves."""

from __future__ import annotations

import pytest

from logbook.calculation.products import is_liquid, is_metal, is_unworked
from logbook.reference import load, metal_words, vocabularies


def test_the_words_are_well_formed() -> None:
    """Each list has a standing, whole words in lower case and none twice, in order."""
    data = load("words.toml")
    assert data["meta"]["defaults"]["words"]["standing"] == "common practice, no source"
    for row in data["vocabulary"]:
        assert row["words"] == sorted(set(row["words"])), row["name"]
        assert all(word == word.lower() and word.isalpha() for word in row["words"]), row["name"]


def test_a_word_for_metal_is_none_for_a_salt() -> None:
    """No word speaks of metal and of something that only holds it, and none names a metal."""
    lists = vocabularies()
    assert not lists["form"] & lists["not_metal"]
    assert not lists["liquid"] & lists["washing"]
    names = {word for word in metal_words() if word.islower()}
    assert not names & (lists["form"] | lists["not_metal"])


@pytest.mark.parametrize(
    ("words", "metal"),
    [("gold button", True), ("silver chloride", False), ("copper bar", False), ("prills", True)],
)
def test_metal_is_told_by_its_words(words: str, metal: bool) -> None:
    """A button of the run's metal is metal; a salt of it and another metal's bar are not."""
    assert is_metal(words, ["gold", "silver"]) is metal


@pytest.mark.parametrize(
    ("words", "liquid"),
    [("spent liquor", True), ("wash water", False), ("cement silver", False)],
)
def test_a_liquid_is_told_by_its_words(words: str, liquid: bool) -> None:
    """What only cleaned something is no liquid that holds its metal."""
    assert is_liquid(words) is liquid


def test_scrap_comes_back_under_its_own_name() -> None:
    """The rest of the contacts is contacts; nothing, filters and bars are not."""
    assert is_unworked("rest of the relay contacts, undissolved", "relay contacts")
    assert not is_unworked("", "")
    assert not is_unworked("filters", "relay contacts")
    assert not is_unworked("silver bar", "silver bar")
