"""Amounts for tests of the chemistry, as the program's own reader reads them."""

from __future__ import annotations

from logbook.model.amount import Amount
from logbook.model.book import Customs
from logbook.reading.amounts import amount_reader
from logbook.reading.context import Reading
from logbook.source import SourceText


def written(text: str) -> Amount:
    """The amount that some words say."""
    reading = Reading(SourceText("runs/test.md", text), Customs())
    found = amount_reader(False).read(reading, 0, len(text))
    assert found is not None, text
    return found[0]
