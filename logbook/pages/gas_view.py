"""The gas of a run or a plan as its page shows it, with the limits it is held against.

The warning stands with every figure: none of them is a permission.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from logbook.calculation.bench.gas import NO_VENTILATION, NOT_COUNTED
from logbook.calculation.results import RunFigures, StageGas
from logbook.chemistry.air import BURNS, TENTH, Compared, gases, local_rules, name_of
from logbook.model.run import Run
from logbook.pages.addresses import Here, Link
from logbook.pages.balance_view import stage_link
from logbook.pages.figure_view import FigureView, figure_view


@dataclass(frozen=True, slots=True)
class GasRow:
    """One gas of one stage; `air` and `room` are None where there is no limit, or no room."""

    gas: str
    most: FigureView
    air: FigureView | None
    limit: str
    room: FigureView | None
    danger: str


@dataclass(frozen=True, slots=True)
class StageRows:
    """The gases of one stage."""

    stage: Link
    rows: tuple[GasRow, ...]


@dataclass(frozen=True, slots=True)
class CellRow:
    """What a cell can have carried over at most."""

    stage: Link
    bound: FigureView


@dataclass(frozen=True, slots=True)
class GasNote:
    """What there is to know of a gas, and the limits it is held against, in full."""

    gas: str
    words: str
    limit: str
    danger: str


@dataclass(frozen=True, slots=True)
class GasView:
    """The gas of a run, and the bound of its cells."""

    stages: tuple[StageRows, ...]
    notes: tuple[GasNote, ...]
    cells: tuple[CellRow, ...]
    room: bool  # whether a room is stated
    warning: str
    left_out: str
    local: str


def gas_view(run: Run, figures: RunFigures, here: Here) -> GasView | None:
    """The gas of a run or a plan; None where no gas and no cell is known of."""
    if not figures.gases and not figures.cells:
        return None
    return GasView(
        stages=tuple(_stages(figures.gases, run, here)),
        notes=tuple(_notes(figures.gases)),
        cells=tuple(
            CellRow(stage_link(run, key.index), figure_view(bound, here))
            for key, bound in figures.cells
        ),
        room=any(one.room is not None for one in figures.gases),
        warning=NO_VENTILATION,
        left_out=NOT_COUNTED,
        local=local_rules(),
    )


def _stages(found: Iterable[StageGas], run: Run, here: Here) -> Iterable[StageRows]:
    by_stage: dict[int, list[GasRow]] = {}
    for gas in found:
        by_stage.setdefault(gas.stage.index, []).append(gas_row(gas, here))
    return (StageRows(stage_link(run, at), tuple(rows)) for at, rows in sorted(by_stage.items()))


def gas_row(gas: StageGas, here: Here) -> GasRow:
    """One gas of one stage, against what it is held against."""
    known = gases()[gas.gas]
    return GasRow(
        gas=name_of(gas.gas),
        most=figure_view(gas.litres, here, levels=3),
        air=figure_view(gas.air, here, levels=1) if gas.air is not None else None,
        limit=_short(known.held_against()),
        room=figure_view(gas.room, here, levels=1) if gas.room is not None else None,
        danger=_short(known.dangerous_as()),
    )


def _short(compared: Compared | None) -> str:
    """The limit; what burns says so, because the limits of other gases are for breathing."""
    if compared is None:
        return "none found"
    limit = compared.limit
    return limit.words if limit.kind in (TENTH, BURNS) else limit.short


def _notes(found: Iterable[StageGas]) -> Iterable[GasNote]:
    """Each gas once; where a stage says more of it than another, the longer words."""
    words: dict[str, str] = {}
    for gas in found:
        words[gas.gas] = max(words.get(gas.gas, ""), gas.words, key=len)
    return (_note(gas, said) for gas, said in words.items())


def _note(gas: str, said: str) -> GasNote:
    short, danger = gases()[gas].held_against(), gases()[gas].dangerous_as()
    return GasNote(
        name_of(gas),
        said,
        short.words if short is not None else "no limit was found, which is no leave",
        danger.words if danger is not None and danger != short else "",
    )
