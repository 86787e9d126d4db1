"""What an hour earned in many draws of all inputs together, by a stated seed.

The draws are made with the generator of the standard library, so that they are the same on
every machine. Inputs that share a source of error are drawn together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import sqrt
from random import Random

from logbook.calculation.money.inputs import Inputs
from logbook.calculation.money.sensitivity import USUAL, Lever
from logbook.calculation.results import Spread
from logbook.calculation.sums import lowest
from logbook.model.amount import ZERO, Uncertain

SEED, DRAWS = 20260328, 2000
QUANTILES = (5, 25, 50, 75, 95)


def spread_of(inputs: Inputs, levers: Sequence[Lever], moved: Mapping[str, float]) -> Spread:
    """The spread of an hour's earnings.

    Method: propagation of distributions, normal for every input, with the covariances that
    inputs share (JCGM 101:2008, 6.4.7 and 7; clause numbers from memory). Prices are drawn with
    the spread that the book's own notes show, else with a usual change; costs that are not
    known count with what is known of them.
    """
    metals = [one for one in inputs.metals.values() if one.worth.value is not None]
    names = [name for name, one in inputs.metals.items() if one.worth.value is not None]
    costs = [one for kind, one in inputs.costs.items() if kind != "labour"]
    values = [one.worth.value or ZERO for one in metals]
    values += [one.value or Uncertain(lowest(one)) for one in costs]
    values += [inputs.received.value or ZERO, inputs.hours.value or ZERO]
    root = cholesky([[one.covariance(other) for other in values] for one in values])
    spreads = [moved.get(name, USUAL) for name in names]
    random = Random(SEED)
    found = sorted(
        _draw(random, [one.value for one in values], root, spreads) for _ in range(DRAWS)
    )
    return Spread(
        DRAWS,
        SEED,
        {at: quantile(found, at / 100.0) for at in QUANTILES},
        sum(one < 0.0 for one in found) / DRAWS,
        (*_prices_in_words(names, moved), *_others_in_words(levers)),
    )


def _draw(
    random: Random,
    means: Sequence[float],
    root: Sequence[Sequence[float]],
    spreads: Sequence[float],
) -> float:
    """What an hour earned in one draw: worth of the metals, costs, receipts and hours."""
    normal = [random.gauss(0.0, 1.0) for _ in means]
    values = [
        mean + sum(one * z for one, z in zip(row, normal, strict=False))
        for mean, row in zip(means, root, strict=True)
    ]
    metals = len(spreads)
    worth = sum(
        value * max(1.0 + spread * random.gauss(0.0, 1.0), 0.0)
        for value, spread in zip(values, spreads, strict=False)
    )
    hours = max(values[-1], means[-1] * 0.01)
    return (worth + values[-2] - sum(values[metals:-2])) / hours


def cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """A lower triangle L with L Lᵀ = M, for a covariance matrix that may be singular.

    Source: textbooks of numerical analysis (from memory).

    >>> cholesky([[4.0, 2.0], [2.0, 10.0]])
    [[2.0], [1.0, 3.0]]
    """
    rows: list[list[float]] = []
    for i, line in enumerate(matrix):
        row: list[float] = []
        for j in range(i + 1):
            other = row if j == i else rows[j]
            rest = line[j] - sum(a * b for a, b in zip(row[:j], other[:j], strict=True))
            if i == j:
                row.append(sqrt(max(rest, 0.0)))
            else:
                row.append(rest / rows[j][j] if rows[j][j] > 1e-12 else 0.0)
        rows.append(row)
    return rows


def quantile(ordered: Sequence[float], share: float) -> float:
    """A quantile of sorted values, on the straight line between the two next to it.

    Source: Hyndman and Fan, The American Statistician 50 (1996) 361-365, definition 7 (from
    memory).

    >>> quantile([1.0, 2.0, 3.0, 4.0], 0.5)
    2.5
    """
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])


def _prices_in_words(names: Sequence[str], moved: Mapping[str, float]) -> tuple[str, ...]:
    return tuple(
        f"price of {name} by {moved[name] * 100:.2g} % (as it moved from note to note)"
        if name in moved
        else f"price of {name} by 10 % (a usual change)"
        for name in names
    )


def _others_in_words(levers: Sequence[Lever]) -> tuple[str, ...]:
    return tuple(
        f"{one.what} by {one.doubt * 100:.2g} %" for one in levers if one.doubt * 100 >= 0.1
    )


def moved_by(prices: Sequence[float]) -> float | None:
    """How much a price moved from note to note; None where there are fewer than five notes.

    Equation: s = √(Σ d² / n), with d the relative change from one note to the next. Source: the
    root mean square (common practice, no source).

    >>> round(moved_by([1.0, 1.1, 1.1, 1.1, 1.1]), 6)
    0.05
    """
    if len(prices) < 5:
        return None
    changes = [(b - a) / a for a, b in pairwise(prices) if a]
    return sqrt(sum(change * change for change in changes) / len(changes)) if changes else None
