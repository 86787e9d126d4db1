"""A claim that does not agree, with what the book gives: what every slip is tried on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.calculation.claims.known import Claimed
from logbook.calculation.claims.written import Written
from logbook.calculation.figure import Figure
from logbook.calculation.results import Thing
from logbook.calculation.sums import add_up
from logbook.model.amount import Uncertain

Slips = Iterator[tuple[str, float]]  # what was done, in words, and what that gives


@dataclass(frozen=True, slots=True)
class Case:
    """A claim, its kind, the right figure in its own unit, and the figure that was written."""

    claimed: Claimed
    kind: str
    figure: Figure
    known: Uncertain
    said: Written

    @property
    def right(self) -> float:
        """The right figure."""
        return self.known.value

    @property
    def things(self) -> list[Thing]:
        """What it is about: the things that are named, else what the run made."""
        return self.claimed.things or self.claimed.products


def value_of(figure: Figure | None) -> float | None:
    """The value of a figure; None where it is not known."""
    return figure.value.value if figure is not None and figure.value is not None else None


def gross_of(things: list[Thing]) -> float | None:
    """The weight of things together."""
    return value_of(add_up("weight", "g", [one.gross for one in things])) if things else None


def fine_of(things: list[Thing], metal: str) -> float | None:
    """The metal in things together, as it was read, else as the book gives it."""
    total = 0.0
    for thing in things:
        held = thing.held.get(metal)
        if held is None:
            return None
        part = value_of(held.measured) if held.measured.known else value_of(held.best)
        if part is None:
            return None
        total += part
    return total if things else None
