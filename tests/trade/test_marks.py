"""Karat and hallmarks: ISO 9202 marks are minima in thousandths, karats are parts of 24."""

from __future__ import annotations

from fractions import Fraction

import pytest

from logbook.reference import load, metals


def marks() -> list[dict[str, object]]:
    """The rows of marks.toml."""
    rows = load("marks.toml")["mark"]
    assert isinstance(rows, list)
    return rows


@pytest.mark.parametrize(
    ("karat", "mark"), [(9, 375), (10, 417), (14, 585), (18, 750), (22, 916), (24, 999)]
)
def test_gold_marks(karat: int, mark: int) -> None:
    """The mark of each karat, as ISO 9202 lists it (375 and 585 read, the others from memory)."""
    found = [row["mark"] for row in marks() if row.get("karat") == karat]
    assert found == [mark]


def test_a_mark_is_not_the_karat_fraction() -> None:
    """585 is the mark of 14 karat, and 14/24 is 583.3 thousandths: the two are kept apart."""
    fourteen = next(row for row in marks() if row.get("karat") == 14)
    assert fourteen["fineness"] == 0.585
    assert Fraction(14, 24) == Fraction(7, 12)
    assert float(Fraction(7, 12)) == pytest.approx(0.58333, abs=1e-5)
    assert fourteen["fineness"] != pytest.approx(14 / 24, abs=1e-3)


def test_a_mark_is_never_far_from_its_karat() -> None:
    """No mark is more than two thousandths from karat/24, so that none was mistyped."""
    for row in marks():
        if "karat" in row:
            assert row["fineness"] == pytest.approx(float(str(row["karat"])) / 24, abs=0.002)


def test_marks_are_thousandths_of_known_precious_metals() -> None:
    """Fineness is the mark in thousandths, and only precious metals are marked."""
    for row in marks():
        assert row["fineness"] == pytest.approx(float(str(row["mark"])) / 1000, abs=1e-9)
        assert metals()[str(row["metal"])].precious


def test_no_mark_twice() -> None:
    """A metal has a mark once, and a word one mark."""
    keys = [(row["metal"], row["mark"]) for row in marks()]
    assert len(keys) == len(set(keys))
    words = [word for row in marks() for word in row.get("also", [])]  # type: ignore[attr-defined]
    assert len(words) == len(set(words))
