"""What the runs that a plan is like say of danger, as its sheet shows it at the head.

Each caution says from which run and line it comes. No figure is shown without the sentence that
heat, foam and gas do not grow in step with the weight.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from logbook.calculation.bench.gas import NO_VENTILATION
from logbook.calculation.plans.likeness import SCALING
from logbook.calculation.results import Caution, StageGas
from logbook.calculation.results.plans import LikeSafety
from logbook.pages.addresses import Here, Link
from logbook.pages.caution_view import CautionGroup, caution_group
from logbook.pages.gas_view import GasRow, gas_row
from logbook.pages.vessel_view import VesselRow, vessel_row
from logbook.pages.wording import listed


@dataclass(frozen=True, slots=True)
class LikeGas:
    """The gases of one stage of a run that the plan is like."""

    stage: Link
    rows: tuple[GasRow, ...]


@dataclass(frozen=True, slots=True)
class LikeSafetyView:
    """Cautions, gas and vessels beyond the plan's own words. `room`: whether one is stated."""

    cautions: CautionGroup | None
    gases: tuple[LikeGas, ...]
    room: bool
    vessels: tuple[VesselRow, ...]
    scaling: str
    warning: str


def like_safety_view(safety: LikeSafety, here: Here) -> LikeSafetyView:
    """What the stages of those runs say, in the order of their runs and stages."""
    vessels = sorted(safety.vessels, key=lambda one: one.stage)
    return LikeSafetyView(
        cautions=caution_group(_from_runs(safety.cautions), here),
        gases=tuple(_gases(safety.gases, here)),
        room=any(one.room is not None for one in safety.gases),
        vessels=tuple(
            vessel_row(one, here.stage(one.stage.run, one.stage.index), here) for one in vessels
        ),
        scaling=SCALING,
        warning=NO_VENTILATION,
    )


def _from_runs(cautions: Iterable[Caution]) -> Iterable[Caution]:
    """Each rule once, in its shortest words, with the first line of each run that raised it."""
    rules: dict[str, list[Caution]] = {}
    for caution in cautions:
        rules.setdefault(caution.rule, []).append(caution)
    for same in rules.values():
        lines: dict[str, int] = {}
        for one in same:
            lines.setdefault(one.stage.run, one.entry.line)
        where = listed([f"{run}, line {line}" for run, line in lines.items()])
        text = f"As in {where}: {min((one.text for one in same), key=len)}"
        for one in same:
            yield replace(one, text=text, other=None)


def _gases(gases: Iterable[StageGas], here: Here) -> Iterable[LikeGas]:
    stages: dict[tuple[str, int], list[GasRow]] = {}
    for gas in sorted(gases, key=lambda one: one.stage):
        key = gas.stage.run, gas.stage.index
        stages.setdefault(key, []).append(gas_row(gas, here))
    return (LikeGas(here.stage(*key), tuple(rows)) for key, rows in stages.items())
