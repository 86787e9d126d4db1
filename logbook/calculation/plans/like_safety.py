"""What the runs that a plan is like tell of danger: their cautions, their gas, their vessels.

Only the stages that count are looked at. What the plan's own words say already, and at least as
gravely, is not said again. Gas and liquid are multiplied by how many times as much the plan
takes: that is no promise that they grow in step, and where it is not known nothing is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import TypeVar

from logbook.calculation.bench.gas import gas_of
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.plans.like_runs import stage_word
from logbook.calculation.plans.vessels import limit_of, load_of, vessel_loads
from logbook.calculation.results import Caution, RunFigures, StageGas, StageKey, Thing
from logbook.calculation.results.plans import LikeFigures, LikeRun, LikeSafety, VesselLoad
from logbook.calculation.sums import product

One = TypeVar("One")
SCALED = "at most in that run, times as much as this plan takes"


def like_safety(
    plan: RunFigures,
    vessels: Sequence[VesselLoad],
    like: LikeFigures,
    runs: Mapping[str, RunFigures],
    things: Sequence[Thing],
    room: Figure | None,
) -> LikeSafety:
    """What the stages that a plan is like say beyond the plan's own words.

    `vessels` are those of the plan itself, `things` those of the book, `room` the plan's own.
    """
    counted = [(one, runs[one.run]) for one in like.runs]
    gases = [gas for one, figures in counted for gas in _gases(one, figures, room)]
    loads = [load for one, figures in counted for load in _vessels(one, figures, things)]

    def word(key: StageKey) -> str:
        run = plan.run if key.run == plan.run.name else runs[key.run].run
        return stage_word(run.stages[key.index])

    return LikeSafety(
        tuple(_cautions(plan, counted)),
        tuple(_gravest(plan.gases, gases, lambda one: (word(one.stage), one.gas), _litres)),
        tuple(_gravest(vessels, loads, lambda one: (word(one.stage), ""), _least)),
    )


def _cautions(plan: RunFigures, counted: Iterable[tuple[LikeRun, RunFigures]]) -> Iterator[Caution]:
    """The cautions of the stages that count, but of rules that the plan raises itself."""
    told = {caution.rule for caution in plan.cautions}
    for like, figures in counted:
        for caution in figures.cautions:
            if caution.stage.index in like.stages and caution.rule not in told:
                yield caution


def _gases(like: LikeRun, figures: RunFigures, room: Figure | None) -> Iterator[StageGas]:
    for gas in figures.gases:
        if gas.stage.index in like.stages:
            part = _scaled(gas.grams, like)
            yield gas_of(gas.stage, gas.gas, [part], room, gas.words)


def _scaled(grams: Figure, like: LikeRun) -> Figure:
    """The most that a stage can give, times as much as the plan takes: an upper limit again."""
    times = limit_of(like.times)
    if grams.high is None or times.value is None:
        why = grams.why if grams.high is None else times.why
        return not_known(grams.name, "g", why, grams, like.times)
    high = grams.high * times.value.value
    return Figure(
        grams.name, "g", None, SCALED, (grams, like.times), why=grams.why, low=0.0, high=high
    )


def _vessels(like: LikeRun, figures: RunFigures, things: Sequence[Thing]) -> Iterator[VesselLoad]:
    own = [one for one in things if one.used_by is not None and one.used_by.run == like.run]
    times = limit_of(like.times)
    for load in vessel_loads(figures.run, own):
        if load.stage.index in like.stages:
            most = product(load.liquid.name, "L", load.liquid, times, SCALED)
            if most.value is None:
                most = not_known(most.name, "L", most.why, *most.terms)
            yield load_of(load.stage, load.vessels, most, load.share, load.reason)


def _litres(gas: StageGas) -> float | None:
    return gas.litres.high


def _least(load: VesselLoad) -> float | None:
    return None if load.least.value is None else load.least.value.value


def _gravest(
    own: Iterable[One],
    found: Iterable[One],
    kind: Callable[[One], tuple[str, str]],
    size: Callable[[One], float | None],
) -> Iterator[One]:
    """Of each kind the largest that was found, and what is not known.

    Where the plan's own is known and no smaller, it says all.
    """
    largest: dict[tuple[str, str], float] = {}
    for one in own:
        most = size(one)
        if most is not None:
            largest[kind(one)] = max(most, largest.get(kind(one), most))
    rows = sorted(found, key=lambda one: -(size(one) or 0.0))
    for one in rows:
        most = size(one)
        if most is None:
            yield one
        elif most > largest.get(kind(one), -1.0):
            largest[kind(one)] = most
            yield one
