"""Whatever stands behind `reckoned` is read and answered, and many claims stay cheap."""

from __future__ import annotations

from random import Random
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.book_figures import work_out
from logbook.calculation.claims import checked as claims_checked
from logbook.model.book import Book
from logbook.reading.read_book import read_book
from tests.calculation.claims_book import BENCH, PRICES, SUPPLIES, all_checked

BENCH_WORDS = """
recovery fine silver gold worth cost net hours hour per an of in all at left used needs to add
quarter loss missing price break-even grade fineness nitric acid without the scrap with later so
far is makes [A] [C] [Z] g ozt oz dwt EUR USD kWh mL EUR/g EUR/h g/g h min 2h15 0 1 15 3.5 1,000
1,5 99.9 1e9 999999999999 -3 1/2 ½ 3:1 10–20 990 $ € = x / - + ± % ~ about ( ) ,
"""
WORDS = BENCH_WORDS.split()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.sampled_from(WORDS), min_size=1, max_size=9), min_size=1, max_size=6))
def test_any_words_are_answered(lines: list[list[str]]) -> None:
    """No crash; each claim agrees, does not, or says why it cannot be checked."""
    for check in all_checked([" ".join(one) for one in lines]):
        assert check.agrees in ("yes", "no", "unknown")
        assert check.why
        assert "nan" not in check.why.split()
        if check.agrees == "yes":
            assert check.computed is not None and check.computed.known


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=120))
def test_any_text_is_answered(text: str) -> None:
    """Also signs that nobody writes."""
    for check in all_checked([text.replace("\n", " ").replace("\r", " ")]):
        assert check.why


@pytest.mark.parametrize(
    "piece", ["1 x ", "1 g + ", "[A] ", "of ", "(", "1/", "about ", "= 1 ", "1,", "9", "h 1 "]
)
def test_long_claims_take_no_longer_than_their_length(piece: str) -> None:
    """Four times the length takes no more than about four times as long; quadratic is 16."""

    def spent(times: int) -> float:
        text = "recovery 95 % " + piece * times
        least = float("inf")
        for _ in range(3):
            began = perf_counter()
            all_checked([text])
            least = min(least, perf_counter() - began)
        return least

    short, long = spent(2_000), spent(8_000)
    assert long <= 9.0 * short + 0.05


def book_of(runs: int) -> Book:
    """A book of runs with ten claims each, every tenth run without what the last one made."""
    draw = Random(3)
    texts = {"runs/bench.md": BENCH, "runs/supplies.md": SUPPLIES, "runs/prices.md": PRICES}
    for at in range(runs):
        day = f"2026-{1 + at // 28 % 12:02d}-{1 + at % 28:02d}"
        earlier = f"- took [A{at - 1}]\n" if at % 10 else ""
        claims = (
            f"fineness of [A{at}] {draw.uniform(30, 99):.1f} %",
            f"worth {draw.uniform(30, 300):.2f} EUR of [A{at}]",
            f"cost in all {draw.uniform(30, 900):.2f} EUR",
            f"recovery {draw.uniform(30, 99):.2f} %",
            f"hours in all {draw.uniform(1, 9):.2f} h",
            f"fine silver {draw.uniform(30, 99):.2f} g",
            f"cost of nitric acid {draw.uniform(1, 9):.2f} EUR",
            f"nitric acid left {draw.uniform(1, 9):.2f} L",
            f"net {draw.uniform(1, 99):.2f} EUR",
            f"{draw.uniform(0.1, 3):.3f} EUR/g",
        )
        texts[f"runs/{day}-run-{at:04d}.md"] = (
            f"# Run {at}\n\nDate: {day}\nMetal: silver\n\n## Dissolve\n"
            f"- took 100.0 g contacts [C{at}], silver 80 % by assay, for 30 EUR\n{earlier}"
            "- added 1 mL nitric acid 68 %\n- worked 2 h 25 min\n\n## Melt\n"
            f"- worked 35 min\n- got 79.0 g silver bar [A{at}], silver 99.0 % by assay\n"
            + "".join(f"- reckoned {one}\n" for one in claims)
        )
    return read_book(texts)


def test_many_claims_take_no_longer_than_each_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five times the claims in five times the book take about five times as long, not 25."""
    kept = []
    monkeypatch.setattr(
        "logbook.calculation.book_figures.with_claims",
        lambda figures: kept.append(figures) or figures,
    )
    for runs in (40, 200):
        work_out(book_of(runs))
    spent = []
    for figures in kept:
        least = float("inf")
        for _ in range(3):
            began = perf_counter()
            claims_checked.with_claims(figures)
            least = min(least, perf_counter() - began)
        spent.append(least)
    assert spent[1] <= 12.0 * spent[0] + 0.05
