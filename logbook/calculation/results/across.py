"""What all runs together tell: of kinds of scrap, and of one method against another."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results.plans import Spread


@dataclass(frozen=True, slots=True)
class Lot:
    """Scrap that came from outside the book under one label: its weight and its head grades.

    `grades` are g/g, by metal, not known where nobody assayed it.
    """

    key: str
    label: str
    weight: Figure
    grades: tuple[tuple[str, Figure], ...]


@dataclass(frozen=True, slots=True)
class ScrapMetal:
    """One metal in a kind of scrap: its head grade over the lots, and what a kilogram holds."""

    metal: str
    grade: Spread  # g/g
    worth: Figure  # currency/kg of scrap, as metal that has still to be won


@dataclass(frozen=True, slots=True)
class ScrapFigures:
    """A kind of scrap over the whole book.

    `runs` worked on it, `alone` on nothing else; the hours and the net are of these.
    """

    kind: str
    lots: tuple[Lot, ...]
    runs: tuple[str, ...]
    alone: tuple[str, ...]
    metals: tuple[ScrapMetal, ...]
    worth: Figure  # currency/kg, of all its metals
    hours_per_gram: Spread  # h/g of fine metal
    net_per_kilo: Spread  # currency/kg of scrap


@dataclass(frozen=True, slots=True)
class MethodFigures:
    """A method: the same working stages with the same reagents, for one metal.

    `measures` are its figures over the runs, by name; `kinds` the scrap they worked on.
    """

    route: str
    metal: str
    runs: tuple[str, ...]
    kinds: tuple[str, ...]
    measures: tuple[tuple[str, Spread], ...]


@dataclass(frozen=True, slots=True)
class MethodDifference:
    """One measure by one method less the same by another, with the interval for that.

    `low` and `high` are its bounds. `basis` tells how they were found: by scatter (Welch), as
    one further value, or by the readings. `apart` is True where the interval leaves out zero.
    """

    metal: str
    measure: str
    one: str
    other: str
    counts: tuple[int, int]
    value: Figure
    low: float
    high: float
    basis: str
    degrees: float | None = None

    @property
    def apart(self) -> bool:
        """Whether the interval leaves out zero."""
        return self.low > 0.0 or self.high < 0.0


@dataclass(frozen=True, slots=True)
class Across:
    """Kinds of scrap, the richest first, and methods with their differences."""

    scrap: tuple[ScrapFigures, ...] = ()
    methods: tuple[MethodFigures, ...] = ()
    differences: tuple[MethodDifference, ...] = ()
