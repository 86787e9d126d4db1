"""A record is a frozen dataclass in everything but the speed at which it is made."""

from __future__ import annotations

import pickle
from copy import copy
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace

import pytest

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.source import SourceText, Span

SOURCE = SourceText("runs/a.md", "- took 12 g ash")
SPAN = Span(SOURCE, 7, 11)
AMOUNT = Amount(SPAN, Dimension.MASS, "g", 12.0, 12.0)
PORTION = Portion(SPAN, AMOUNT, "ash")


@pytest.mark.parametrize("made", [SPAN, AMOUNT, PORTION, replace(PORTION, what="slag")])
def test_a_record_cannot_be_changed(made: object) -> None:
    """Neither a field, nor the lack of one, nor a field that it does not have."""
    assert is_dataclass(made)
    name = fields(made)[0].name
    with pytest.raises(FrozenInstanceError):
        setattr(made, name, None)
    with pytest.raises(FrozenInstanceError):
        delattr(made, name)
    with pytest.raises(FrozenInstanceError):
        made.more = 1  # type: ignore[attr-defined]


def test_records_are_compared_by_what_they_hold() -> None:
    """Equal fields make equal records, with one hash; another field or kind makes another."""
    assert Span(SOURCE, 7, 11) == SPAN
    assert hash(Span(SOURCE, 7, 11)) == hash(SPAN)
    assert Span(SOURCE, 7, 12) != SPAN
    assert replace(replace(PORTION, what="slag"), what="ash") == PORTION
    assert PORTION != SPAN


def test_amounts_are_compared_by_identity() -> None:
    """Two weighings that happen to read the same are two weighings."""
    again = replace(AMOUNT)
    assert again != AMOUNT
    assert len({again, AMOUNT}) == 2


def test_a_record_shows_itself_by_its_name() -> None:
    """As the dataclass that it is."""
    assert repr(SPAN) == "Span(start=7, end=11)"
    assert type(SPAN).__name__ == "Span"
    assert isinstance(SPAN, Span)


def test_a_record_can_be_copied_and_sent() -> None:
    """Copies and pickles hold the same, and cannot be changed either."""
    stretch = Span(SOURCE, 7, 11)
    assert copy(stretch) == stretch
    sent = pickle.loads(pickle.dumps(AMOUNT))
    assert (sent.value, sent.unit, sent.span.text) == (12.0, "g", "12 g")
    with pytest.raises(FrozenInstanceError):
        sent.value = 13.0
