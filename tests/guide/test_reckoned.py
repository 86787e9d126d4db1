"""What the guide says of reckoned figures is what the program answers."""

from __future__ import annotations

import re

import pytest

from logbook.calculation.book_figures import work_out
from logbook.pages.claim_view import VERDICTS
from logbook.reading.read_book import read_book
from tests.guide.test_guide import chapters, examples

CHAPTER = "72-money.md"
ROW = re.compile(
    r"^- `(reckoned [^`]+)` (agrees|disagrees|cannot be checked)(?:: (.*))?$", re.MULTILINE
)
ROWS = [tuple(part.strip() for part in row) for row in ROW.findall(chapters()[CHAPTER])]


def test_the_rows_are_found() -> None:
    """Eleven rows, with each of the three answers among them."""
    assert len(ROWS) == 11
    assert {answer for _, answer, _ in ROWS} == set(VERDICTS.values())


@pytest.mark.parametrize(("line", "answer", "slip"), ROWS)
def test_each_row_is_answered_so(line: str, answer: str, slip: str) -> None:
    """128.7 g are 130.0 x 0.990, 128.7 / 140 is 91.9 %, the hours are 3 h 45 min, by hand."""
    (log,) = (one.log for one in examples() if "Contacts for once" in one.text)
    figures = work_out(read_book({"runs/2026-03-14-example.md": f"{log}- {line}\n"}))
    (check,) = figures.runs["2026-03-14-example"].claims
    assert VERDICTS[check.agrees] == answer
    assert check.slip == slip
