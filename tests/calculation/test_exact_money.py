"""Exact money against whole fractions and the standard library's decimal, on random sums.

Documented rounding: halves away from nothing, once at the end. Python's `fractions` are the
second method: they are exact, and know nothing of decimal places.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.money.exact import cents, exact, rounded_together, shared_out

MONEY = st.decimals(min_value="-100000", max_value="100000", places=4)


@given(MONEY)
@settings(deadline=None)
def test_a_sum_in_cents_is_what_decimal_rounds_it_to(amount: Decimal) -> None:
    """ROUND_HALF_UP of the standard library, which is away from nothing."""
    assert Decimal(cents(amount)) / 100 == amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


@given(st.lists(st.integers(-(10**9), 10**9), max_size=30))
@settings(deadline=None)
def test_prices_of_two_places_add_up_without_an_error(hundredths: list[int]) -> None:
    """Each price is a float of whole cents; the sum is that of whole numbers."""
    total = sum((exact(one / 100) for one in hundredths), Decimal(0))
    assert Fraction(total) == Fraction(sum(hundredths), 100)


@given(MONEY, st.lists(st.integers(0, 1000), min_size=1, max_size=12).filter(any))
@settings(deadline=None)
def test_parts_are_the_whole_and_within_a_step_of_their_share(
    amount: Decimal, sizes: list[int]
) -> None:
    """Against exact fractions: A q_i / Σ q, no part further off than one step."""
    parts = shared_out(amount, [float(size) for size in sizes])
    assert sum(parts, Decimal(0)) == amount
    for part, size in zip(parts, sizes, strict=True):
        share = Fraction(amount) * size / sum(sizes)
        assert abs(Fraction(part) - share) <= Fraction(1, 10**12)


@given(st.lists(MONEY, max_size=12))
@settings(deadline=None)
def test_lines_in_cents_add_up_to_their_sum_in_cents(amounts: list[Decimal]) -> None:
    """The sum is rounded once; no line is a whole cent off."""
    lines, whole = rounded_together(amounts)
    assert sum(lines) == whole
    assert whole == cents(sum(amounts, Decimal(0)))
    for line, amount in zip(lines, amounts, strict=True):
        assert abs(Decimal(line) / 100 - amount) < Decimal("0.01")
