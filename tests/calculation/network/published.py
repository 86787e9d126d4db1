"""The cases of published.toml as records of the engine."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from logbook.calculation.network.arcs import OUTSIDE, Arc
from logbook.model.amount import Uncertain

CASES: Mapping[str, Any] = tomllib.loads(
    (Path(__file__).parent / "published.toml").read_text(encoding="utf-8")
)


def reading(name: str, value: float, u: float) -> tuple[Uncertain, ...]:
    """One reading with an error of its own."""
    return (Uncertain.of(value, u, name),)


def arcs_of(case: str) -> list[Arc]:
    """The streams of a linear case."""
    return [
        Arc(name, tail or OUTSIDE, head or OUTSIDE, reading(name, *read) if read else ())
        for name, tail, head, *read in CASES[case]["streams"]
    ]


def pair(one: str, other: str, u: Sequence[float], r: float) -> Mapping[str, Mapping[str, float]]:
    """The errors of two readings with correlation r: a part of each is common to both."""
    return {
        name: {name: own * (1.0 - r) ** 0.5, f"{one} and {other}": own * r**0.5}
        for name, own in zip((one, other), u, strict=True)
    }
