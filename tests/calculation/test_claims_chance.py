"""Far-fetched explanations: how often a figure that is simply wrong is explained, or agrees.

Wrong figures are drawn with a fixed seed, the logarithm uniform between 0.3 and 3 times the
truth, and written with two, three or four digits. The truths are those of `claims_book.py`, by
hand. The range and the bound of one in twenty are our own choice, no standard.
"""

from __future__ import annotations

from collections import Counter
from math import exp, floor, log, log10
from random import Random

import pytest

from tests.calculation.claims_book import all_checked

TRUTHS = {
    "recovery {} %": 91.9286,
    "mass yield {} %": 65.0,
    "head grade {} %": 70.0,
    "fine silver {} g": 128.7,
    "fine silver {} ozt": 4.13780,
    "fineness of [A] {} %": 99.0,
    "weight of [A] {} g": 130.0,
    "hours {} h": 3.75,
    "labour {} EUR": 75.0,
    "electricity {} kWh": 1.0,
    "cost of nitric acid {} EUR": 7.5,
    "cost {} EUR": 92.44,
    "cost with the scrap {} EUR": 152.44,
    "worth {} EUR": 128.7,
    "worth {} EUR of [A] at 1.10 EUR per g": 141.57,
    "price of silver {} EUR/ozt": 31.1034768,
    "used {} mL nitric acid": 300.0,
    "earned {} EUR/h without the scrap": 29.669,
}
SEED = 20260110
DRAWN = {2: 4000, 3: 1000, 4: 400}  # by digits: few digits make few figures, each drawn often


def written(value: float, digits: int) -> str:
    """A figure with so many digits that count."""
    places = digits - 1 - floor(log10(value))
    return f"{round(value, places):.{max(places, 0)}f}"


def half(text: str) -> float:
    """Half of the last digit that was written."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


@pytest.mark.parametrize("digits", [2, 3, 4])
@pytest.mark.parametrize("words", TRUTHS)
def test_wrong_figures_are_seldom_explained_and_never_agree(words: str, digits: int) -> None:
    """At most one in twenty of them is given a slip; what agrees is rounded to the truth."""
    draw, truth = Random(SEED + digits), TRUTHS[words]
    drawn = Counter(
        written(truth * exp(draw.uniform(log(0.3), log(3.0))), digits) for _ in range(DRAWN[digits])
    )
    explained = wrong = 0
    checks = all_checked([words.format(one) for one in drawn])
    for (text, times), check in zip(drawn.items(), checks, strict=True):
        off = abs(float(text) - truth)
        if check.agrees == "yes":
            assert off <= half(text) + 2e-4 * truth or words.startswith("earned"), text
        elif off > half(text) + 2e-4 * truth:
            assert check.agrees == "no"
            wrong += times
            explained += times * bool(check.slip)
    assert wrong > 0.9 * DRAWN[digits]
    assert explained <= 0.05 * wrong
