"""The gas that each stage can give off at most, and what that makes of air.

For every gas one upper limit; never a value, and never nothing where something is not known.
This is no design of a ventilation and no permission: see `NO_VENTILATION`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from logbook.calculation.bench.gas_sources import MOST, GasPart, gas_parts
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageChemistry, StageGas, StageKey
from logbook.calculation.sums import lowest, notes_of, reasons
from logbook.calculation.weights import leaf
from logbook.chemistry.air import (
    Compared,
    air_to,
    gases,
    litres,
    molar_volume,
    name_of,
    parts_per_million,
)
from logbook.model.amount import Amount, Dimension
from logbook.model.book import Bench
from logbook.model.run import Run, Stage

NO_VENTILATION = (
    "These are limits of what is possible, not a design of a ventilation and not a permission. "
    "Gas does not mix evenly: where you stand there can be far more than the figure for the room, "
    "and a gas may come in minutes. Extraction that carries it out of doors, local codes and "
    "licensed practice decide, not this table. A gas that is not named here is still a danger."
)
"""The sentences that stand wherever gas is shown."""

NOT_COUNTED = (
    "Strong hydrochloric acid, strong nitric acid and ammonia give off vapour cold as well, and "
    "a bath that works heats itself: of that nothing is counted here unless the stage was heated. "
    "Nor is what clings to a damp powder or a filter, or what plastics and solder give in a fire."
)
"""What the table leaves out."""

HOT_KINDS = frozenset({"evaporate", "denox", "dry", "incinerate", "melt"})
HOT_ACTIONS = frozenset({"heated", "evaporated", "dried", "melted", "burnt"})
MOLTEN = frozenset({"melt", "pour", "cupel"})
HOT = 40.0  # C; warmer than any room. The bound is this project's own
OXIDES = frozenset({"NO", "NO2"})
ONE_OR_THE_OTHER = (
    "Nitric acid leaves as nitrogen monoxide, as nitrogen dioxide or as both: each row is what it "
    "would be if all of it went that way, and the rows do not add up."
)


def gases_of_run(
    run: Run, chemistry: Sequence[StageChemistry], bench: Bench
) -> tuple[StageGas, ...]:
    """The gases of every stage of a run or a plan, in the room that it or the bench states."""
    poured_off = [_without_liquid(one, run.stages[one.stage.index]) for one in chemistry]
    return stage_gases(poured_off, room_of(run, bench), heated_stages(run))


def _without_liquid(chemistry: StageChemistry, stage: Stage) -> StageChemistry:
    """Into a crucible goes the solid alone, with what is added there."""
    if MOLTEN.isdisjoint(stage.kinds):
        return chemistry
    return replace(chemistry, substances=chemistry.added)


def room_of(run: Run, bench: Bench) -> Figure | None:
    """The room that a log states for itself, else the one of bench.md [L]; None for none."""
    stated: Amount | None = run.room or bench.room
    if stated is None:
        return None
    read = leaf("the room", stated, "how large the room is, is not known")
    # Of a range the smallest room counts: it holds the most gas.
    return read if stated.low is None else replace(read, value=None, low=stated.low)


def heated_stages(run: Run) -> frozenset[StageKey]:
    """The stages that were heated, by their kind or by what was done or read."""
    places = (place for place, stage in enumerate(run.stages) if _heated(stage))
    return frozenset(StageKey(run.name, place) for place in places)


def _heated(stage: Stage) -> bool:
    hot = (
        amount.dimension is Dimension.TEMPERATURE and (amount.high or amount.base_value or 0) >= HOT
        for entry in stage.entries
        for amount in entry.conditions
    )
    done = any(entry.action in HOT_ACTIONS for entry in stage.entries)
    return done or not HOT_KINDS.isdisjoint(stage.kinds) or any(hot)


def stage_gases(
    chemistry: Sequence[StageChemistry],
    room: Figure | None,
    heated: Collection[StageKey] = (),
) -> tuple[StageGas, ...]:
    """For each stage and gas the most that its things can give.

    `room` is the volume of a room [L], None where none is stated. From the stages that were
    `heated`, hydrochloric acid, nitric acid and ammonia can go off whole.
    """
    return tuple(
        gas
        for one in chemistry
        for gas in _of_stage(one.stage, gas_parts(one, heated=one.stage in heated), room)
    )


def _of_stage(stage: StageKey, parts: Iterator[GasPart], room: Figure | None) -> Iterator[StageGas]:
    by_gas: dict[str, list[Figure]] = {}
    for gas, figure in parts:
        by_gas.setdefault(gas, []).append(figure)
    order = list(gases())
    for gas in sorted(by_gas, key=order.index):
        words = [gases()[gas].note]
        if gas in OXIDES and by_gas.keys() >= OXIDES:
            words.append(ONE_OR_THE_OTHER)
        yield gas_of(stage, gas, by_gas[gas], room, " ".join(filter(None, words)))


def gas_of(
    stage: StageKey, gas: str, parts: Sequence[Figure], room: Figure | None, words: str
) -> StageGas:
    """What all the sources of a gas come to, as litres, as air that it spoils, and in the room."""
    grams = _together(f"{name_of(gas)}, at most", parts)
    volume = _volume(gas, grams)
    compared = gases()[gas].held_against()
    return StageGas(
        stage,
        gas,
        volume,
        grams,
        None if compared is None else _air(volume, compared),
        None if room is None else _in_room(volume, room),
        words,
    )


def _together(name: str, parts: Sequence[Figure]) -> Figure:
    tops = [one.high for one in parts]
    high = None if None in tops else sum(top for top in tops if top is not None)
    return Figure(
        name,
        "g",
        formula=" + ".join(dict.fromkeys(one.name for one in parts)),
        terms=tuple(parts),
        why=reasons(one for one in parts if one.high is None) if high is None else MOST,
        low=0.0,
        high=high,
        notes=notes_of(parts),
    )


def _volume(gas: str, grams: Figure) -> Figure:
    return Figure(
        grams.name,
        "L",
        formula=f"mass / molar mass × {molar_volume():.2f} L/mol (25 °C, 101.325 kPa)",
        terms=(grams,),
        why=grams.why,
        low=0.0,
        high=None if grams.high is None else litres(gas, grams.high),
        notes=grams.notes,
    )


def _air(volume: Figure, compared: Compared) -> Figure:
    """The air that a gas brings to the limit that it reaches first [m3]."""
    limit = compared.limit
    return Figure(
        "air that it brings to the limit",
        "m3",
        formula=f"litres / ({compared.words})",
        terms=(volume,),
        why=volume.why,
        low=0.0,
        high=None if volume.high is None else air_to(limit.ppm, volume.high * compared.moles),
        notes=(f"{limit.words}: {limit.source}{'; ' + limit.note if limit.note else ''}",),
    )


def _in_room(volume: Figure, room: Figure) -> Figure:
    """What a gas makes of a room without any ventilation [ppm]: the least room, the most gas."""
    least = lowest(room)
    known = volume.high is not None and least > 0
    return Figure(
        "in the room, without ventilation",
        "ppm",
        formula="litres / the room × 1 000 000, evenly mixed",
        terms=(volume, room),
        why=volume.why if known else reasons([volume, room]),
        low=0.0,
        high=parts_per_million(volume.high, least / 1000.0) if known and volume.high else None,
    )
