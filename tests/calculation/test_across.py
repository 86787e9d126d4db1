"""Kinds of scrap and methods over small books, by hand."""

from __future__ import annotations

import pytest

from logbook.calculation.across.intervals import SCATTER
from logbook.calculation.book_figures import work_out
from logbook.calculation.results.across import Across
from logbook.reading.read_book import read_book

SOURCES = "# Sources\n\n- relay contacts: also contacts\n"
PRICES = "# Prices\n\n- 2026-01-02 priced silver at 1.00 EUR/g\n"
LOG = """\
# Run {number}

Date: 2026-03-{number:02}
Metal: silver

## Dissolve

- took 100.0 g {what} [RC-{number}], silver {grade} %
- added 100 mL nitric acid 68 %
- added 100 mL distilled water

## {by}

- added {with_}
- worked {hours} h
- got {bar} g silver bar [AG-{number}], silver 100.0 %
"""
COPPER, CHLORIDE = ("Cement", "50 g copper bar"), ("Drop", "20 g sodium chloride")


def log(
    number: int, way: tuple[str, str], bar: float, grade: str = "70", what: str = "contacts"
) -> str:
    """One run by one of two ways, that took 100 g and made one bar."""
    return LOG.format(
        number=number, by=way[0], with_=way[1], bar=bar, grade=grade, what=what, hours=2
    )


def across(*logs: str) -> Across:
    """What a book of some logs tells across its runs."""
    files = {f"runs/2026-03-{number:02}-run.md": text for number, text in enumerate(logs, 1)}
    book = read_book({**files, "runs/sources.md": SOURCES, "runs/prices.md": PRICES})
    return work_out(book).across


def test_grades_and_worth_of_a_kind() -> None:
    """60, 70 and 74 %: mean 68 %, deviation √((64 + 4 + 36)/2) = √52 = 7.211 %, by hand.

    A kilogram holds 680 g of silver, at 1.00 EUR/g 680 EUR. Contacts are relay contacts.
    """
    found = across(
        log(1, COPPER, 58.0, "60"), log(2, COPPER, 68.0, "70", "relay contacts"),
        log(3, COPPER, 72.0, "74"),
    )  # fmt: skip
    (kind,) = found.scrap
    assert (kind.kind, len(kind.lots), len(kind.runs)) == ("relay contacts", 3, 3)
    (silver,) = kind.metals
    grade = silver.grade
    assert grade.mean.value is not None
    assert grade.mean.value.value == pytest.approx(0.68)
    assert grade.deviation == pytest.approx(0.07211, abs=1e-5)
    assert (grade.least, grade.most) == pytest.approx((0.60, 0.74))
    assert kind.worth.value is not None
    assert kind.worth.value.value == pytest.approx(680.0)
    hours = kind.hours_per_gram.mean.value
    assert hours is not None
    assert hours.value == pytest.approx((2 / 58 + 2 / 68 + 2 / 72) / 3)


def test_the_richest_kind_comes_first_and_unknown_ones_last() -> None:
    """80 % before 70 %, and what nobody assayed at the end, with the reason."""
    unknown = log(3, COPPER, 50.0, what="forks").replace(", silver 70 %", "")
    found = across(log(1, COPPER, 68.0), log(2, COPPER, 78.0, "80", "spoons"), unknown)
    assert [one.kind for one in found.scrap] == ["spoons", "relay contacts", "forks"]
    assert not found.scrap[2].worth.known
    assert "never measured" in found.scrap[2].worth.why


def test_no_price_no_worth() -> None:
    """A metal without a price has no worth, and says so."""
    gold = log(1, COPPER, 1.0, "2").replace("silver", "gold").replace("Metal: gold", "Metal: gold")
    (kind,) = across(gold).scrap
    assert not kind.worth.known
    assert "no price of gold" in kind.worth.why


def test_routes_are_stages_and_what_does_something_in_them() -> None:
    """Water goes with every way; copper and salt do not."""
    found = across(log(1, COPPER, 68.0), log(2, CHLORIDE, 66.0))
    assert [one.route for one in found.methods] == [
        "dissolve with nitric acid, cement with copper",
        "dissolve with nitric acid, drop with sodium chloride",
    ]


def test_two_methods_by_welch() -> None:
    """Recoveries 60, 62, 64 g against 40, 50 g of 70 g: 62/70 − 45/70 = 0.242857, by hand.

    Variances of the bars 4 and 50: s²/n are 4/3 and 25, together 26.333; ν = 26.333² /
    ((4/3)²/2 + 25²/1) = 693.44/625.89 = 1.10794. So few runs do not tell the two apart: t is
    about 10.5, half the width 10.5 × 5.1316/70 = 0.77, far more than 0.24.
    """
    found = across(
        *(log(at, COPPER, bar) for at, bar in ((1, 60.0), (2, 62.0), (3, 64.0))),
        *(log(at, CHLORIDE, bar) for at, bar in ((4, 40.0), (5, 50.0))),
    )
    (recovery,) = [one for one in found.differences if one.measure == "recovery in the run"]
    assert recovery.counts == (3, 2)
    assert recovery.value.value is not None
    assert recovery.value.value.value == pytest.approx(17 / 70)
    assert recovery.basis == SCATTER
    assert recovery.degrees == pytest.approx(1.10794, abs=1e-4)
    assert not recovery.apart
    assert recovery.low < 0.0 < recovery.high


def test_a_built_up_head_is_not_compared_with_an_assayed_one() -> None:
    """A run whose scrap nobody assayed has no recovery to set against the others."""
    unknown = log(2, CHLORIDE, 66.0).replace(", silver 70 %", "")
    found = across(log(1, COPPER, 68.0), unknown)
    assert not [one for one in found.differences if "recovery" in one.measure]
    assert [one.measure for one in found.differences] == ["hours per gram"]


def test_a_plan_is_no_run() -> None:
    """What is only planned counts neither as a lot nor as a method."""
    plan = log(1, COPPER, 68.0).replace("Metal: silver", "Metal: silver\nStatus: planned")
    assert across(plan) == Across()
