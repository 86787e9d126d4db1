"""What a table of the site's data folder is: columns that say what they hold, and rows.

Nothing is rounded and nothing is worked out here. A cell of None means that it is not known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import isfinite
from typing import TypeVar

from logbook.calculation.figure import Figure
from logbook.calculation.money.markets import book_currency
from logbook.calculation.results import BookFigures, StageKey
from logbook.model.run import Run
from logbook.pages.privacy import Privacy, privacy_of

KEPT_BACK = "\u00a4"  # in place of a currency that an edition does not show
T = TypeVar("T")
Cell = str | int | float | bool | None
Row = tuple[Cell, ...]


class Kind(StrEnum):
    """What the cells of a column hold, as Table Schema names it."""

    TEXT = "string"
    NUMBER = "number"
    WHOLE = "integer"
    DAY = "date"
    YES_NO = "boolean"


@dataclass(frozen=True, slots=True)
class Column:
    """A column. `unit` is empty where the cells have none, or where another column names it."""

    name: str
    kind: Kind
    unit: str
    description: str


@dataclass(frozen=True, slots=True)
class Table:
    """A table. `row_is` says in a few words what one row stands for."""

    name: str
    row_is: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


def table(
    name: str, row_is: str, items: Iterable[T], *fields: tuple[Column, Callable[[T], Cell]]
) -> Table:
    """A table with a row for each item; a field is a column and how to fill it."""
    columns = tuple(column for column, _ in fields)
    rows = tuple(tuple(_finite(fill(item)) for _, fill in fields) for item in items)
    return Table(name, row_is, columns, rows)


def _finite(cell: Cell) -> Cell:
    """A cell that every reader of numbers can take; one too large for that is not known."""
    return None if isinstance(cell, float) and not isfinite(cell) else cell


def text(name: str, description: str) -> Column:
    """A column of words."""
    return Column(name, Kind.TEXT, "", description)


def number(name: str, unit: str, description: str) -> Column:
    """A column of figures."""
    return Column(name, Kind.NUMBER, unit, description)


def whole(name: str, description: str) -> Column:
    """A column of whole numbers."""
    return Column(name, Kind.WHOLE, "", description)


def day(name: str, description: str) -> Column:
    """A column of days, written 2026-03-14."""
    return Column(name, Kind.DAY, "", description)


@dataclass(frozen=True, slots=True)
class Source:
    """What the tables are made from: the figures, what may be shown, and names for stages."""

    figures: BookFigures
    privacy: Privacy
    currency: str
    stages: Mapping[StageKey, str]

    def of_run(self, run: Run) -> tuple[StageKey, ...]:
        """The stages of a run, in order."""
        return tuple(StageKey(run.name, index) for index in range(len(run.stages)))

    def stage(self, key: StageKey | None) -> str:
        """The name of a stage within its run; empty where there is none."""
        return "" if key is None else self.stages.get(key, "")

    def place(self, key: StageKey | None) -> Cell:
        """A stage with its run in one cell; None where there is none."""
        return None if key is None else f"{key.run}/{self.stage(key)}"


def source_of(figures: BookFigures, *, with_private: bool) -> Source:
    """What the tables of a book are made from."""
    runs = [one.run for one in figures.runs.values()]
    stages = {
        StageKey(run.name, index): name
        for run in runs
        for index, name in enumerate(stage_names(run))
    }
    privacy = privacy_of(figures.book, with_private=with_private)
    shown = figures.book.edition.money
    return Source(figures, privacy, book_currency(figures.book) if shown else KEPT_BACK, stages)


def stage_names(run: Run) -> tuple[str, ...]:
    """A name for each stage of a run: its heading, with a number where two are the same."""
    names: list[str] = []
    for stage in run.stages:
        title = name = stage.title or "before the first heading"
        again = 2
        while name in names:
            name = f"{title} ({again})"
            again += 1
        names.append(name)
    return tuple(names)


def value(figure: Figure | None) -> float | None:
    """The value of a figure; None where it is not known."""
    return None if figure is None or figure.value is None else figure.value.value


def doubt(figure: Figure | None) -> float | None:
    """One standard uncertainty of a figure; None where the figure is not known."""
    return None if figure is None or figure.value is None else figure.value.u


def as_day(when: date | None) -> Cell:
    """A day as it stands in a cell."""
    return None if when is None else when.isoformat()


def words(text: str) -> Cell:
    """Words as they stand in a cell: None where there are none."""
    return text or None
