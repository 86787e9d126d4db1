"""Alloys that go by a name: what is taken of them can be, and no word means two."""

from __future__ import annotations

from collections import Counter

import pytest

from logbook.chemistry.named_alloys import alloy_named
from logbook.reference import load, metals


@pytest.mark.parametrize("row", load("named_alloys.toml")["alloy"], ids=lambda row: row["name"])
def test_the_parts_make_a_whole(row) -> None:  # type: ignore[no-untyped-def]
    """The shares of known metals reach the whole, and at their least do not pass it."""
    alloy = alloy_named(row["name"])
    assert alloy is not None
    assert alloy.name == row["name"]
    assert set(alloy.parts) <= set(metals())
    assert sum(part.low for part in alloy.parts.values()) <= 1.0 + 1e-9
    assert sum(part.high or 0.0 for part in alloy.parts.values()) >= 1.0 - 1e-9


def test_no_word_names_two_alloys() -> None:
    """A word means one alloy."""
    rows = load("named_alloys.toml")["alloy"]
    words = Counter(word.lower() for row in rows for word in (row["name"], *row["also"]))
    assert [word for word, times in words.items() if times > 1] == []


def test_the_fineness_of_the_marks() -> None:
    """Sterling is 925 and Britannia 958 in a thousand; coin silver of the United States is 900.

    Common practice, no source; the first two are marks of British assay offices.
    """
    for words, silver in (("sterling spoons", 0.925), ("Britannia", 0.958), ("coin silver", 0.9)):
        alloy = alloy_named(words)
        assert alloy is not None
        assert alloy.parts["silver"].low == alloy.parts["silver"].high == silver
    assert alloy_named("silver wire") is None
