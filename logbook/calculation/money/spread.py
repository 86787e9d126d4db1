"""What an hour earned in many draws of all inputs together, by a stated seed.

The draws are made with the generator of the standard library, so that they are the same on
every machine. Inputs that share a source of error are drawn together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import log, sqrt
from random import Random

from logbook.calculation.money.inputs import LABOUR, Inputs, MetalInput
from logbook.calculation.money.sensitivity import USUAL, Lever, known_part
from logbook.calculation.results import DayPrice, Spread
from logbook.model.amount import ZERO, Uncertain, total

SEED, DRAWS = 20260328, 2000
QUANTILES = (5, 25, 50, 75, 95)
ENOUGH = 5  # notes of a price, to tell how it moves
LEAST = 0.1  # of the hours: fewer are never drawn, as nothing is earned in no time
NOT_DRAWN = "costs that are not known are left out, so that all of this is at most so much"


def spread_of(inputs: Inputs, levers: Sequence[Lever], moved: Mapping[str, float]) -> Spread:
    """The spread of an hour's earnings.

    Method: propagation of distributions, normal for every input, with the covariances that
    inputs share (JCGM 101:2008, 6.4.8 and 7; clause numbers from memory). Prices are drawn with
    the spread that the book's own notes show, else with a usual change; costs that are not
    known count with what is known of them.
    """
    priced = {
        name: one for name, one in inputs.metals.items() if one.payable.value and one.price.value
    }
    costs = [known_part(one) for kind, one in inputs.costs.items() if kind != LABOUR]
    values = [_gross(one) for one in priced.values()]
    values += [inputs.received.value or ZERO, total(costs), inputs.hours.value or ZERO]
    charges = sum(map(_charges, priced.values()))
    moves = [moved.get(name, USUAL) for name in priced]
    random = Random(SEED)
    fewest = values[-1].value * LEAST
    found = []
    for *worths, received, spent, hours in joint_draws(values, DRAWS, random):
        worth = sum(
            one * max(1.0 + by * random.gauss(0.0, 1.0), 0.0)
            for one, by in zip(worths, moves, strict=True)
        )
        found.append((worth - charges + received - spent) / max(hours, fewest))
    unknown = any(not one.known for kind, one in inputs.costs.items() if kind != LABOUR)
    words = (*_prices_in_words(priced, moved), *_others_in_words(levers))
    return _counted(found, (*words, NOT_DRAWN) if unknown else words)


def _gross(one: MetalInput) -> Uncertain:
    """What the market pays for the payable metal, before any charge."""
    payable, price = one.payable.value or ZERO, one.price.value or ZERO
    return payable * price


def _charges(one: MetalInput) -> float:
    worth = one.worth.value or ZERO
    return _gross(one).value - worth.value


def _counted(found: list[float], words: tuple[str, ...]) -> Spread:
    found.sort()
    lost = sum(one < 0.0 for one in found) / len(found)
    at = {place: quantile(found, place / 100.0) for place in QUANTILES}
    return Spread(len(found), SEED, at, lost, words)


def joint_draws(values: Sequence[Uncertain], draws: int, random: Random) -> Iterator[list[float]]:
    """Draws of values together: normal, with the doubts they have and the errors they share.

    Equation: x = m + L z, with L Lᵀ the covariance matrix of the values and z independent
    standard normal numbers. Source: JCGM 101:2008, 6.4.8 and C.5 (clause numbers from memory).
    """
    root = cholesky([[one.covariance(other) for other in values] for one in values])
    means = [one.value for one in values]
    for _ in range(draws):
        normal = [random.gauss(0.0, 1.0) for _ in means]
        yield [
            mean + sum(by * z for by, z in zip(row, normal, strict=False))
            for mean, row in zip(means, root, strict=True)
        ]


def cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """A lower triangle L with L Lᵀ = M, for a covariance matrix that may be singular.

    What is left of a variance after those before it is taken as nothing where it is rounding.
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
                row.append(sqrt(rest) if rest > 1e-12 * line[i] else 0.0)
            else:
                row.append(rest / rows[j][j] if rows[j][j] else 0.0)
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


def _prices_in_words(names: Iterable[str], moved: Mapping[str, float]) -> Iterator[str]:
    for name in names:
        if name in moved:
            yield f"price of {name} by {moved[name] * 100:.2g} % (as it moved from note to note)"
        else:
            yield f"price of {name} by {USUAL * 100:.0f} % (a usual change)"


def _others_in_words(levers: Sequence[Lever]) -> Iterator[str]:
    """The doubts of the other inputs, as far as they are seen."""
    for one in levers:
        if one.doubt * 100 >= 0.1:
            yield f"{one.what} by {one.doubt * 100:.2g} % (its own standard uncertainty)"


def moves_of(prices: Iterable[DayPrice]) -> dict[str, float]:
    """How much the price of each metal moved from note to note, where enough are noted."""
    noted: dict[str, list[float]] = {}
    for one in prices:
        if one.price.value is not None and one.price.value.value > 0.0:
            noted.setdefault(one.metal, []).append(one.price.value.value)
    moved = {metal: moved_by(found) for metal, found in noted.items()}
    return {metal: by for metal, by in moved.items() if by}


def moved_by(prices: Sequence[float]) -> float | None:
    """How much a price moved from note to note; None where there are fewer than five notes.

    Equation: s = √(Σ d² / n), with d = ln(p_i / p_(i−1)), the relative change from one note to
    the next: up a tenth and back again are the same size. Source: the root mean square (common
    practice, no source).

    Up by a tenth and back, four times, by hand ln 1.1 = 0.09531:

    >>> round(moved_by([1.0, 1.1, 1.0, 1.1, 1.0]), 5)
    0.09531
    """
    if len(prices) < ENOUGH:
        return None
    changes = [log(after / before) for before, after in pairwise(prices)]
    return sqrt(sum(change * change for change in changes) / len(changes))
