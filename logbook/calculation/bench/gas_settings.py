"""What is done in each stage of a run, as far as a gas depends on it: heat, fire, earlier acid."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from logbook.calculation.bench.demand import DISSOLVE
from logbook.calculation.bench.gas_mix import Setting
from logbook.calculation.results import StageChemistry, StageKey, Substance
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import works_in
from logbook.model.amount import Dimension
from logbook.model.run import Run, Stage

MOLTEN = frozenset({"melt", "pour", "cupel"})
FIRE_KINDS = MOLTEN | {"incinerate", "inquart"}
FIRE_ACTIONS = frozenset({"melted", "burnt"})
DRY_KINDS = FIRE_KINDS | {"evaporate", "denox", "dry"}
DRY_ACTIONS = FIRE_ACTIONS | {"evaporated", "dried"}
HOT_KINDS = frozenset({"evaporate", "denox", "dry", "incinerate", "melt"})
HOT_ACTIONS = DRY_ACTIONS | {"heated"}
HOT = 40.0  # C; warmer than any room. The bound is this project's own
SALT_FORMERS = ("HNO3", "HCl")
FROM_ELSEWHERE = "how much nitrate or chloride a liquid from elsewhere brought is not written"


def settings_of(run: Run, chemistry: Sequence[StageChemistry]) -> Mapping[StageKey, Setting]:
    """The setting of every stage of a run whose chemistry is given, stage by stage."""
    hot = heated_stages(run)
    return {
        one.stage: _setting(run.stages[one.stage.index], one.stage in hot, chemistry[: place + 1])
        for place, one in enumerate(chemistry)
    }


def heated_stages(run: Run) -> frozenset[StageKey]:
    """The stages that were heated, by their kind or by what was done or read."""
    places = (place for place, stage in enumerate(run.stages) if _heated(stage))
    return frozenset(StageKey(run.name, place) for place in places)


def _setting(stage: Stage, heated: bool, so_far: Sequence[StageChemistry]) -> Setting:
    molten = not MOLTEN.isdisjoint(stage.kinds)
    return Setting(
        heated=heated,
        dried=_does(stage, DRY_KINDS, DRY_ACTIONS),
        fire=_does(stage, FIRE_KINDS, FIRE_ACTIONS),
        dissolves=bool(stage.kinds) and DISSOLVE in works_in(stage.kinds),
        earlier=() if molten else tuple(_earlier(so_far)),
    )


def _does(stage: Stage, kinds: frozenset[str], actions: frozenset[str]) -> bool:
    done = any(entry.action in actions for entry in stage.entries)
    return done or not kinds.isdisjoint(stage.kinds)


def _heated(stage: Stage) -> bool:
    hot = (
        amount.dimension is Dimension.TEMPERATURE and (amount.high or amount.base_value or 0) >= HOT
        for entry in stage.entries
        for amount in entry.conditions
    )
    return _does(stage, HOT_KINDS, HOT_ACTIONS) or any(hot)


def _earlier(so_far: Sequence[StageChemistry]) -> Iterable[Substance]:
    """Acid of earlier stages, where some came along: all of it may stand there as a salt.

    Where more came along than this run ever put in, a liquid from elsewhere brought it, and with
    it an amount of salt that nobody wrote down.
    """
    for formula in SALT_FORMERS:
        if not _carried(so_far[-1], formula):
            continue
        before = 0.0
        elsewhere = False
        for one in so_far:
            elsewhere = elsewhere or _carried(one, formula) > before
            before += _high(one.added, formula) if one is not so_far[-1] else 0.0
        known = not elsewhere and before < float("inf")
        yield Substance(
            formula,
            Range(0.0, before if known else None),
            "what earlier stages put in",
            (),
            () if known else (FROM_ELSEWHERE,),
        )


def _carried(chemistry: StageChemistry, formula: str) -> float:
    """What came along at most, and was not put in here [g]."""
    there, added = _high(chemistry.substances, formula), _high(chemistry.added, formula)
    return 0.0 if there <= added else there - added


def _high(substances: Iterable[Substance], formula: str) -> float:
    found = [one.grams.high for one in substances if one.formula == formula]
    return sum(float("inf") if high is None else high for high in found)
