"""Exact money: decimal sums, shared out so that the parts are the whole, rounded once at the end.

Binary fractions cannot hold a tenth, and a share of a share of a share would drift. Money is
kept here in decimal steps far below a cent; a sum that is divided loses and gains nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

STEP = Decimal("1e-12")  # of the currency: what money is kept in
CENT = Decimal("0.01")
NOTHING = Decimal(0)


def exact(value: float) -> Decimal:
    """A number as it was written, kept to the step: the shortest decimal that gives this float.

    >>> exact(0.1) + exact(0.2)
    Decimal('0.300000000000')
    """
    return Decimal(repr(float(value))).quantize(STEP)


def cents(amount: Decimal) -> int:
    """An amount in whole hundredths of the currency, halves away from nothing.

    Source: the commercial rounding of amounts of money (common practice, no source).

    >>> cents(Decimal("2.345")), cents(Decimal("-2.345")), cents(Decimal("2.3449"))
    (235, -235, 234)
    """
    return int((amount / CENT).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def shared_out(amount: Decimal, sizes: Sequence[float], step: Decimal = STEP) -> list[Decimal]:
    """An amount shared in proportion to some sizes, in whole steps, nothing lost or gained.

    Equation: a_i = A q_i / Σ q, rounded down to the step; what is left over goes, a step each,
    to the parts whose rounding lost most, the first of equals first. Source: the method of
    largest remainders (from memory). Sizes must not be negative and not all nothing.

    A cent shared by three, and 100 by 1 : 1 : 1 in whole cents, by hand:

    >>> [str(part) for part in shared_out(Decimal("100.00"), [1.0, 1.0, 1.0], CENT)]
    ['33.34', '33.33', '33.33']
    """
    if amount < 0:
        return [-part for part in shared_out(-amount, sizes, step)]
    weights = [Decimal(size) for size in sizes]
    whole = sum(weights, NOTHING)
    wanted = [amount * weight / whole for weight in weights]
    parts = [part.quantize(step, rounding=ROUND_FLOOR) for part in wanted]
    over = int(((amount - sum(parts, NOTHING)) / step).quantize(Decimal(1)))
    order = sorted(range(len(parts)), key=lambda at: (parts[at] - wanted[at], at))
    for at in order[:over]:
        parts[at] += step
    return parts


def rounded_together(amounts: Sequence[Decimal]) -> tuple[list[int], int]:
    """Amounts in cents that add up to their sum in cents, and that sum.

    Each is rounded down or up, so that no line is a whole cent from what it is.

    >>> rounded_together([Decimal("0.334"), Decimal("0.333"), Decimal("0.333")])
    ([34, 33, 33], 100)
    """
    whole = cents(sum(amounts, NOTHING))
    floors = [int((one / CENT).to_integral_value(ROUND_FLOOR)) for one in amounts]
    rests = [one / CENT - floor for one, floor in zip(amounts, floors, strict=True)]
    over = whole - sum(floors)
    order = sorted(range(len(floors)), key=lambda at: (-rests[at], at))
    for at in order[:over]:
        floors[at] += 1
    return floors, whole
