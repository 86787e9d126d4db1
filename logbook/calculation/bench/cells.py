"""What the current of a cell can have carried over at most, and the gas it can set free."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from logbook.calculation.bench.gas import gas_of
from logbook.calculation.bench.gas_bounds import MOST
from logbook.calculation.bench.gas_mix import OXIDES
from logbook.calculation.cautions.signs import LIQUID, OUT
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import StageGas, StageKey
from logbook.calculation.sums import add_up, highest, product
from logbook.calculation.weights import leaf
from logbook.chemistry.air import name_of
from logbook.chemistry.electrolysis import (
    electrons_of,
    faraday_bound,
    gas_bound,
    gases_of_cell,
)
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run, Stage
from logbook.reference import metal_words, reagents

CELL = "electrolyse"
NO_CURRENT = "no current was read"
NO_TIME = "how long the current ran is not written"
ALL_OF_IT = "If all of the current went into it."
BY_ITSELF = "What nitric acid does to metal without the current comes on top."
BATH = re.compile(r"\b(electrolyte|bath|brine)s?\b")
BOUND = "a bound: some of the current goes into gas, heat and other metals"
NOT_ELAPSED = frozenset({"worked"})
"""Time that lies inside other time."""


def cell_bounds(run: Run) -> tuple[tuple[StageKey, Figure], ...]:
    """For each cell of a run, the most that its current can have carried over of each metal [g].

    Equation: m = I t M / (z F), current and time as they are written. The highest current that
    was read counts wherever a time was noted without one. Source: Faraday's law.
    """
    return tuple(
        (key, _carried(metal, stage, run))
        for key, stage in _cells(run)
        for metal in _metals(stage, run)
    )


def cell_gases(run: Run, room: Figure | None) -> tuple[StageGas, ...]:
    """For each cell of a run, every gas that its current can set free.

    Chlorine counts unless the bath is known to hold no chloride, oxides of nitrogen unless it is
    known to hold no nitrate.
    """
    return tuple(
        gas_of(key, gas, [_set_free(gas, stage)], room, _words(gas))
        for key, stage in _cells(run)
        for gas in gases_of_cell(_baths(run, stage))
    )


def _words(gas: str) -> str:
    return f"{ALL_OF_IT} {BY_ITSELF}" if gas in OXIDES else ALL_OF_IT


def _cells(run: Run) -> Iterator[tuple[StageKey, Stage]]:
    for place, stage in enumerate(run.stages):
        if CELL in stage.kinds:
            yield StageKey(run.name, place), stage


def _carried(metal: str, stage: Stage, run: Run) -> Figure:
    passed, baths = _passed(stage), _baths(run, stage)
    name = f"{metal} that the current can carry over"
    try:
        electrons = electrons_of(metal, baths)
    except MissingError as why:
        return not_known(name, "g", str(why), passed)
    each = f"{electrons} electron{'s' if electrons > 1 else ''} an atom"
    top = highest(passed)
    return Figure(
        name,
        "g",
        formula=f"current × time × molar mass / ({each} × Faraday constant)",
        terms=(passed,),
        why=BOUND if top is not None else passed.why,
        low=0.0,
        high=None if top is None else faraday_bound(metal, top, 1.0, baths),
    )


def _set_free(gas: str, stage: Stage) -> Figure:
    passed = _passed(stage)
    top = highest(passed)
    return Figure(
        f"{name_of(gas)} from the current",
        "g",
        formula="current × time × molar mass / (electrons × Faraday constant)",
        terms=(passed,),
        why=MOST if top is not None else passed.why,
        low=0.0,
        high=None if top is None else gas_bound(gas, top, 1.0),
    )


def _passed(stage: Stage) -> Figure:
    """The charge that passed [A h]."""
    read = [figure for entry in stage.entries for figure in _currents(entry)]
    timed = [
        entry
        for entry in stage.entries
        if entry.duration is not None and entry.action not in NOT_ELAPSED
    ]
    if not read:
        return not_known("charge", "A h", NO_CURRENT)
    if not timed:
        return not_known("charge", "A h", NO_TIME, *read)
    strongest = max(read, key=_top)
    return add_up("charge", "A h", [_spell(entry, strongest) for entry in timed])


def _spell(entry: Entry, strongest: Figure) -> Figure:
    assert entry.duration is not None
    current = max(_currents(entry), key=_top, default=strongest)
    time = _as_written("time", entry.duration, NO_TIME)
    return product("charge", "A h", current, time, "current × time")


def _currents(entry: Entry) -> list[Figure]:
    return [
        _as_written("current", amount, NO_CURRENT)
        for amount in entry.conditions
        if amount.dimension is Dimension.CURRENT
    ]


def _as_written(name: str, amount: Amount, why: str) -> Figure:
    """A reading; of a range that was written, both limits and no middle."""
    read = leaf(name, amount, why)
    if amount.high is None:
        return read
    return replace(read, value=None, low=amount.low, high=amount.high, why="a range was written")


def _top(figure: Figure) -> float:
    top = highest(figure)
    return float("inf") if top is None else top


def _baths(run: Run, stage: Stage) -> frozenset[str]:
    """The classes of the supplies of a run; none where its cell holds a liquid nobody named.

    Liquids that the run itself made are made of its supplies.
    """
    made = {
        label.name
        for entry in run.entries
        if entry.action in OUT
        for portion in entry.portions
        for label in portion.labels
    }
    put_in = [
        portion
        for entry in stage.entries
        if entry.action not in OUT
        for portion in entry.portions
        if not made.intersection(label.name for label in portion.labels)
    ]
    if any(_is_unnamed_liquid(portion) for portion in put_in):
        return frozenset()
    supplies = (one for entry in run.entries for one in (*entry.portions, *entry.supplies))
    known = (reagents().get(one.reagent) for one in supplies)
    return frozenset(name for reagent in known if reagent is not None for name in reagent.classes)


def _is_unnamed_liquid(portion: Portion) -> bool:
    """Whether a portion is a liquid of which no word says what is in it."""
    if portion.reagent:
        return False
    amount, what = portion.amount, portion.what.lower()
    by_volume = amount is not None and amount.dimension is Dimension.VOLUME
    return by_volume or LIQUID.search(what) is not None or BATH.search(what) is not None


def _metals(stage: Stage, run: Run) -> tuple[str, ...]:
    """The metals that a cell may carry over: those it speaks of, and those the run is after."""
    spoken = [
        metal_words()[word]
        for entry in stage.entries
        for portion in entry.portions
        for word in portion.what.lower().split()
        if word in metal_words()
    ]
    held = [one.metal for entry in stage.entries for one in entry.compositions]
    return tuple(dict.fromkeys((*run.metals, *spoken, *held)))
