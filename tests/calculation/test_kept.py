"""What has not changed between two rounds is not worked out again."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.network import reconcile as module
from logbook.model.kept import Kept
from logbook.reading.read_book import read_book
from tests.conftest import ROOT

LOG = """# Contacts {n}

Metal: silver

## Dissolve, {day} March 2026

- took 100.0 g relay contacts [RC-{n}], silver 70 ± 2 %
- got 1.0 L silver solution

## Cement

- got {bar} g silver bar [AG-{n}], silver 99 ± 1 %
- kept residue [R-{n}], silver 1.2 ± 0.4 g
"""


def texts(first_bar: str) -> dict[str, str]:
    """Two runs that have nothing to do with each other."""
    return {
        "runs/2026-03-01-a.md": LOG.format(n=1, day=1, bar=first_bar),
        "runs/2026-03-02-b.md": LOG.format(n=2, day=2, bar="69.0"),
    }


def test_only_the_part_that_a_changed_log_touches_is_solved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of two runs apart, only the one whose log was changed is put into balance again."""
    solved: list[set[str]] = []
    first = module._reconciled

    def counting(arcs, *more):  # type: ignore[no-untyped-def]
        solved.append({arc.key for arc in arcs})
        return first(arcs, *more)

    monkeypatch.setattr(module, "_reconciled", counting)
    kept = Kept()
    work_out(read_book(texts("68.0"), kept=kept), kept)
    before = len(solved)
    kept.next_round()
    work_out(read_book(texts("68.0"), kept=kept), kept)
    assert len(solved) == before, "nothing changed"
    kept.next_round()
    work_out(read_book(texts("68.5"), kept=kept), kept)
    again = solved[before:]
    assert [keys for keys in again if "RC-2" in keys] == []
    assert len([keys for keys in again if "RC-1" in keys]) == 1


def test_figures_are_the_same_with_and_without_what_was_kept() -> None:
    """A log that is read and worked out anew gives what the kept results give."""
    kept = Kept()
    work_out(read_book(texts("68.0"), kept=kept), kept)
    kept.next_round()
    with_kept = work_out(read_book(texts("68.5"), kept=kept), kept)
    anew = work_out(read_book(texts("68.5")))
    for run, figures in anew.runs.items():
        for mine, other in zip(figures.balances, with_kept.runs[run].balances, strict=True):
            assert mine.product.value is not None
            assert other.product.value is not None
            assert mine.product.value.value == pytest.approx(other.product.value.value, rel=1e-12)
            assert mine.product.value.u == pytest.approx(other.product.value.u, rel=1e-12)
            assert mine.closes == other.closes


def test_the_demo_read_again_is_the_same_book() -> None:
    """Every log of the demo is taken as it was read before."""
    folder: Path = ROOT / "runs"
    found = {f"runs/{one.name}": one.read_text(encoding="utf-8") for one in folder.glob("*.md")}
    kept = Kept()
    first = read_book(found, kept=kept)
    kept.next_round()
    second = read_book(found, kept=kept)
    assert all(a is b for a, b in zip(first.runs, second.runs, strict=True))
