"""Reckoned figures worked out again: what agrees, what does not, and the slip that gives it."""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import ClaimCheck
from logbook.reading.read_book import read_book

LOG = """# Contacts

Date: 5 January 2026
Metal: silver

## Dissolve
- took 100.0 g contacts, silver 80 % by assay, for 30 EUR
- added 100 mL nitric acid 68 %
- worked 2 h 25 min

## Melt
- worked 35 min
- got 79.0 g silver bar [AG], silver 99.0 % by assay
- reckoned {claim}
"""
SUPPLIES = "# Supplies\n\n- 2026-01-01 bought 1 L nitric acid 68 % for 20 EUR\n"
BENCH = "# Bench\n\nCurrency: EUR\n"


def checked(claim: str) -> ClaimCheck:
    """The check of one claim in a book of one log."""
    texts = {"runs/bench.md": BENCH, "runs/supplies.md": SUPPLIES}
    log = {"runs/2026-01-05-contacts.md": LOG.format(claim=claim)}
    (found,) = work_out(read_book({**texts, **log})).runs["2026-01-05-contacts"].claims
    return found


@pytest.mark.parametrize(
    ("claim", "agrees"),
    [
        ("recovery 98 %", "yes"),  # 79.0 x 0.990 = 78.21 of 80 g are 97.8 %, by hand
        ("recovery 60 %", "no"),
        ("fine silver 78.2 g", "yes"),
        ("fine silver 2.51 ozt", "yes"),  # 78.21 / 31.1034768 = 2.5145 (NIST Handbook 44)
        ("hours 3 h", "yes"),  # 2 h 25 min + 35 min
        ("cost of nitric acid 2 EUR", "yes"),  # a tenth of 1 L for 20 EUR
        ("worth 74.30 EUR of [AG] at 0.95 EUR per g", "yes"),  # 78.21 x 0.95 = 74.30
        ("head grade 80 %", "yes"),
        ("a happy number 7 g", "unknown"),
    ],
)
def test_a_claim_is_worked_out_again(claim: str, agrees: str) -> None:
    """Within its last digit and twice the doubt it agrees; further off it does not."""
    assert checked(claim).agrees == agrees


@pytest.mark.parametrize(
    ("claim", "slip"),
    [
        ("cost of nitric acid 20 EUR", "all that was bought"),
        ("worth 743.0 EUR of [AG] at 0.95 EUR per g", "decimal point"),
        ("recovery 70 %", ""),  # no slip gives this
    ],
)
def test_the_slip_that_gives_the_figure_is_named(claim: str, slip: str) -> None:
    """Only a slip that gives just the claimed figure is named."""
    found = checked(claim)
    assert found.agrees == "no"
    assert slip in found.slip and bool(slip) == bool(found.slip)


def test_a_common_ounce_for_a_troy_ounce_is_named() -> None:
    """78.21 g are 2.7588 common ounces of 28.349523125 g (NIST Handbook 44, Appendix C)."""
    found = checked("fine silver 2.759 ozt")
    assert (found.agrees, "common ounce" in found.slip) == ("no", True)
