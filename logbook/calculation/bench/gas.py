"""The gas that each stage can give off at most, and what that makes of air.

For every gas one upper limit; never a value, and never nothing where something is not known.
This is no design of a ventilation and no permission: see `NO_VENTILATION`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from logbook.calculation.bench.gas_bounds import MOST
from logbook.calculation.bench.gas_freed import GasPart
from logbook.calculation.bench.gas_mix import OXIDES as OXIDES
from logbook.calculation.bench.gas_mix import Setting
from logbook.calculation.bench.gas_settings import MOLTEN, settings_of
from logbook.calculation.bench.gas_sources import gas_parts
from logbook.calculation.figure import Figure
from logbook.calculation.results import Caution, StageChemistry, StageGas, StageKey
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
from logbook.chemistry.releases import warned
from logbook.model.amount import Amount
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

NOT_TOLD = "a caution is raised here ({rule}), and nothing written tells how much can come"
NO_SETTINGS: Mapping[StageKey, Setting] = {}
ONE_OR_THE_OTHER = (
    "Nitric acid leaves as nitrogen monoxide, as nitrogen dioxide or as both: each row is what it "
    "would be if all of it went that way, and the rows do not add up."
)


def gases_of_run(
    run: Run, chemistry: Sequence[StageChemistry], bench: Bench
) -> tuple[StageGas, ...]:
    """The gases of every stage of a run or a plan, in the room that it or the bench states."""
    poured_off = [_without_liquid(one, run.stages[one.stage.index]) for one in chemistry]
    return stage_gases(poured_off, room_of(run, bench), settings=settings_of(run, chemistry))


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


def stage_gases(
    chemistry: Sequence[StageChemistry],
    room: Figure | None,
    heated: Collection[StageKey] = (),
    settings: Mapping[StageKey, Setting] = NO_SETTINGS,
) -> tuple[StageGas, ...]:
    """For each stage and gas the most that its things can give.

    `room` is the volume of a room [L], None where none is stated. From the stages that were
    `heated`, hydrochloric acid, nitric acid and ammonia can go off whole. `settings` tell more of
    a stage; without one nothing is dried or burnt there, and nothing came from an earlier stage.
    """
    found: list[StageGas] = []
    for one in chemistry:
        told = settings.get(one.stage, Setting())
        setting = replace(told, heated=told.heated or one.stage in heated)
        found += _of_stage(one.stage, gas_parts(one, setting), room)
    return tuple(found)


def in_all(
    found: Iterable[StageGas], cautions: Iterable[Caution], room: Figure | None
) -> tuple[StageGas, ...]:
    """Gas of each stage once, from whatever it comes, and what a caution alone tells of.

    What acid sets free and what a current does is one gas. A gas that a caution is about, and
    that nothing else tells of, is not known there; without a row it would look like none.
    """
    alike: dict[tuple[StageKey, str], list[StageGas]] = {}
    for one in found:
        alike.setdefault((one.stage, one.gas), []).append(one)
    rows = {key: _joined(same, room) for key, same in alike.items()}
    for caution in cautions:
        for gas in warned().get(caution.rule, ()):
            if (caution.stage, gas) not in rows:
                rows[caution.stage, gas] = _warned(caution, gas, room)
    order = list(gases())
    return tuple(sorted(rows.values(), key=lambda one: (one.stage.index, order.index(one.gas))))


def _joined(same: Sequence[StageGas], room: Figure | None) -> StageGas:
    if len(same) == 1:
        return same[0]
    words = " ".join(dict.fromkeys(one.words for one in same))
    return gas_of(same[0].stage, same[0].gas, [one.grams for one in same], room, words)


def _warned(caution: Caution, gas: str, room: Figure | None) -> StageGas:
    why = NOT_TOLD.format(rule=caution.rule.replace("-", " "))
    nothing = Figure(name_of(gas), "g", why=why, low=0.0)
    return gas_of(caution.stage, gas, [nothing], room, gases()[gas].note)


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
