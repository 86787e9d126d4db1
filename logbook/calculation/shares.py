"""Sums that are known where their parts are not, shared out by one rule for all the parts.

A share is a convention and no measurement: it lets costs and later products follow the metal,
and never goes back into a balance.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from logbook.calculation.contents import statements_of
from logbook.calculation.holdings import Holding
from logbook.calculation.weights import Weights
from logbook.model.amount import Dimension

Weighed = Callable[[Holding], float | None]
ROUNDS = 100


def share_out(
    total: float,
    parts: Sequence[Holding],
    limits: Mapping[str, tuple[float, float | None]],
    metal: str,
    weights: Weights,
) -> tuple[str, dict[str, float]]:
    """A sum shared between its parts, with the rule: the first that all the parts allow.

    Equation: a_i = S q_i / Σ q [g], with q an own assay, a declared estimate, the weight, or
    the count; a share beyond a limit is held at it, and the others share what is left. Source:
    common practice, no source.
    """
    rule, sizes = next(
        (name, found)
        for name, found in _rules(parts, metal, weights)
        if all(size is not None for size in found) and sum(size or 0.0 for size in found) > 0.0
    )
    keys = [part.key for part in parts]
    wanted = dict(zip(keys, (size or 0.0 for size in sizes), strict=True))
    return rule, _within(total, wanted, limits)


def _rules(
    parts: Sequence[Holding], metal: str, weights: Weights
) -> list[tuple[str, list[float | None]]]:
    return [
        ("own assay", [_by_assay(part, metal, weights) for part in parts]),
        ("declared estimate", [_declared(part, metal) for part in parts]),
        ("mass", [_amount(part, Dimension.MASS, weights) for part in parts]),
        ("count", [_amount(part, Dimension.COUNT, weights) for part in parts]),
        ("one share each", [1.0 for _ in parts]),
    ]


def _amount(part: Holding, dimension: Dimension, weights: Weights) -> float | None:
    figure = weights.of(part, dimension)
    return None if figure.value is None else figure.value.value


def _by_assay(part: Holding, metal: str, weights: Weights) -> float | None:
    """Weight, even a damp one, times what was assayed."""
    weight = _amount(part, Dimension.MASS, weights)
    for statement in statements_of(part, metal):
        amount = statement.composition.amount
        if amount.dimension is Dimension.FRACTION and amount.base_value and weight is not None:
            return weight * amount.base_value
    return None


def _declared(part: Holding, metal: str) -> float | None:
    """The middle of a range that was written for the content."""
    for statement in statements_of(part, metal):
        amount = statement.composition.amount
        if amount.dimension is Dimension.MASS and amount.high is not None:
            return (amount.high + (amount.low or 0.0)) / 2.0
    return None


def _within(
    total: float,
    sizes: Mapping[str, float],
    limits: Mapping[str, tuple[float, float | None]],
) -> dict[str, float]:
    """Shares in proportion, none beyond its limits."""
    held: dict[str, float] = {}
    for _ in range(ROUNDS):
        open_parts = {key: size for key, size in sizes.items() if key not in held}
        left, whole = total - sum(held.values()), sum(open_parts.values())
        if not open_parts:
            break
        each = {
            key: left * size / whole if whole else left / len(open_parts)
            for key, size in open_parts.items()
        }
        beyond = {key: _clamped(share, limits.get(key)) for key, share in each.items()}
        over = {key: v for key, v in beyond.items() if v != each[key]}
        if not over:
            return {**held, **each}
        held.update(over)
    return held


def _clamped(value: float, limits: tuple[float, float | None] | None) -> float:
    low, high = limits if limits is not None else (0.0, None)
    return max(low, value if high is None else min(value, high))
