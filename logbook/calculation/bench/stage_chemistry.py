"""What stands together in each stage of the book, and which reactions that may set going.

Stages are gone through in the order in which things came to be. What a liquid brings into a
later stage is an upper limit: all of it that no product shows to be used up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from logbook.calculation.bench.demand import DISSOLVE, used_up
from logbook.calculation.bench.substances import UNLIMITED, merged, substances_of, within
from logbook.calculation.cautions.signs import LIQUID
from logbook.calculation.figure import Figure
from logbook.calculation.results import Role, StageChemistry, StageKey, Substance, Thing
from logbook.calculation.sums import add_up
from logbook.calculation.supplies.known import SupplyList
from logbook.calculation.supplies.uses import SupplyUse
from logbook.chemistry.ranges import Range
from logbook.chemistry.reactions import Reaction, reactions_in
from logbook.model.run import Run, Stage
from logbook.reference import reagent_words, stage_kinds

VOLATILE = frozenset({"HNO3", "HCl", "NH3"})
DRIVEN_OFF = frozenset({"evaporate", "denox"})
COMMON_ACIDS = ("HNO3", "HCl", "H2SO4")
PLAIN_WATER = frozenset({"water", "distilled water", "tap water", "rain water", "ice"})
MAYBE_LIQUID = frozenset({Role.CHARGE, Role.WASTE, Role.LEFT})


def chemistry_of_runs(
    runs: Iterable[Run],
    uses: Mapping[str, Sequence[SupplyUse]],
    things: Sequence[Thing],
    supplies: SupplyList,
) -> Mapping[str, tuple[StageChemistry, ...]]:
    """The chemistry of every stage of some runs, by the run's name."""
    by_name = {run.name: run for run in runs}
    sweep = _Sweep(by_name, _added(uses, supplies), _used_by(things), _made_by(things))
    for thing in _in_order(things, sweep.used_by):
        sweep.pass_on(thing)
    return {
        run.name: tuple(
            sweep.stage(StageKey(run.name, place)) for place, _ in enumerate(run.stages)
        )
        for run in by_name.values()
    }


def _added(
    uses: Mapping[str, Sequence[SupplyUse]], supplies: SupplyList
) -> dict[StageKey, tuple[Substance, ...]]:
    by_stage: dict[StageKey, list[SupplyUse]] = {}
    for of_run in uses.values():
        for use in of_run:
            by_stage.setdefault(use.stage, []).append(use)
    return {key: substances_of(found, supplies) for key, found in by_stage.items()}


def _used_by(things: Iterable[Thing]) -> dict[StageKey, list[Thing]]:
    found: dict[StageKey, list[Thing]] = {}
    for thing in things:
        if thing.used_by is not None:
            found.setdefault(thing.used_by, []).append(thing)
    return found


def _made_by(things: Iterable[Thing]) -> dict[StageKey, list[Thing]]:
    found: dict[StageKey, list[Thing]] = {}
    for thing in things:
        if thing.made_by is not None:
            found.setdefault(thing.made_by, []).append(thing)
    return found


def _in_order(
    things: Sequence[Thing], used_by: Mapping[StageKey, Sequence[Thing]]
) -> Iterator[Thing]:
    """Things so that what one came from, and what its stage was made of, is before it."""
    by_key = {thing.key: thing for thing in things}
    begun: set[str] = set()
    for first in things:
        stack = [first]
        while stack:
            thing = stack[-1]
            if thing.key in begun:
                stack.pop()
                yield thing
                continue
            begun.add(thing.key)
            origins = (*thing.pooled_from, thing.part_of)
            before = [by_key[key] for key in origins if key in by_key]
            if thing.made_by is not None:
                before += used_by.get(thing.made_by, ())
            stack.extend(one for one in before if one.key not in begun)


@dataclass(slots=True)
class _Sweep:
    """One walk through the things; `held` is what each of them may bring along."""

    runs: Mapping[str, Run]
    added: Mapping[StageKey, tuple[Substance, ...]]
    used_by: Mapping[StageKey, Sequence[Thing]]
    made_by: Mapping[StageKey, Sequence[Thing]]
    held: dict[str, tuple[Substance, ...]] = field(default_factory=dict)
    done: dict[StageKey, StageChemistry] = field(default_factory=dict)

    def pass_on(self, thing: Thing) -> None:
        """Note what a thing brings along from the stage that made it, or from its origins."""
        origins = [*thing.pooled_from, *([thing.part_of] if thing.part_of else [])]
        brought = [one for key in origins for one in self.held.get(key, ())]
        if not origins and thing.made_by is not None and thing.made_by.run in self.runs:
            chemistry = self.stage(thing.made_by)
            if _carries(thing, self._stage_of(thing.made_by)):
                alone = len([one for one in self.made_by[thing.made_by] if _is_liquid(one)]) == 1
                brought += [one if alone else _at_most(one) for one in chemistry.left]
        if thing.made_by is None and not origins and _may_be_acid(thing):
            brought += _any_acid(thing)
        self.held[thing.key] = merged(brought)

    def stage(self, key: StageKey) -> StageChemistry:
        """The chemistry of a stage, worked out once."""
        if key not in self.done:
            self.done[key] = self._work_out(key)
        return self.done[key]

    def _stage_of(self, key: StageKey) -> Stage:
        return self.runs[key.run].stages[key.index]

    def _work_out(self, key: StageKey) -> StageChemistry:
        things = self.used_by.get(key, ())
        stage, added = self._stage_of(key), self.added.get(key, ())
        carried = [one for thing in things for one in self.held.get(thing.key, ())]
        substances = merged((*added, *carried))
        metals, rest = _metals(things), _rest(things)
        formulas = {substance.formula for substance in substances}
        chemistry = StageChemistry(
            key,
            metals,
            rest,
            added,
            substances,
            tuple(_possible(stage, formulas, metals, rest)),
        )
        return replace(chemistry, left=tuple(self._left(chemistry, stage)))

    def _left(self, chemistry: StageChemistry, stage: Stage) -> Iterator[Substance]:
        """What may be left of each substance when the stage is over."""
        dissolved = self._dissolved(chemistry.stage)
        boiled = not DRIVEN_OFF.isdisjoint(stage.kinds)
        for one in chemistry.substances:
            use = used_up(chemistry, one.formula, dissolved)
            low = 0.0 if use.high is None else max(0.0, one.grams.low - use.high)
            high = None if one.grams.high is None else max(0.0, one.grams.high - use.low)
            low = 0.0 if boiled and one.formula in VOLATILE else low
            if high is None or high > 0:
                yield replace(one, grams=Range(low, high))

    def _dissolved(self, key: StageKey) -> Mapping[str, float]:
        """Grams of each metal that went into solution in a stage, at least.

        What its liquids brought along in solution was dissolved before, and used no acid here.
        """
        made = _metals([one for one in self.made_by.get(key, ()) if _is_liquid(one)])
        brought = _metals([one for one in self.used_by.get(key, ()) if _is_liquid(one)])
        found = {}
        for metal, content in made.items():
            before = within(brought[metal]).high if metal in brought else 0.0
            found[metal] = 0.0 if before is None else max(0.0, within(content).low - before)
        return found


def _at_most(substance: Substance) -> Substance:
    return replace(substance, grams=Range(0.0, substance.grams.high))


def _metals(things: Sequence[Thing]) -> Mapping[str, Figure]:
    """Each metal in some things together; not known where one of them may hold more of it."""
    names = sorted({metal for thing in things for metal in thing.contents})
    return {
        metal: add_up(
            f"{metal} in the charge",
            "g",
            [thing.contents[metal] for thing in things if metal in thing.contents],
        )
        for metal in names
    }


def _rest(things: Sequence[Thing]) -> Figure | None:
    """What of a charge no line tells [g]; None where it is not weighed, or is measured by volume.

    What is measured by volume may hold, dissolved or as a sludge, what nobody wrote down.
    """
    if any(_is_liquid(thing) or within(thing.gross).high is None for thing in things):
        return None
    gross = add_up("weight of the charge", "g", [thing.gross for thing in things])
    told = add_up(
        "metal that is told of",
        "g",
        [content for thing in things for content in thing.contents.values()],
    )
    most, least = within(gross).high or 0.0, within(told).low
    low = max(0.0, within(gross).low - (within(told).high or most))
    why = "what else the charge is made of is not written"
    return Figure(
        "the rest of the charge",
        "g",
        formula="weight of the charge − metal that is told of",
        terms=(gross, told),
        why=why,
        low=low,
        high=max(0.0, most - least),
    )


def _possible(
    stage: Stage, formulas: set[str], metals: Mapping[str, Figure], rest: Figure | None
) -> Iterator[Reaction]:
    """The reactions for which everything is there, or may be.

    What of the charge no line tells may be any metal that dissolves.
    """
    open_rest = rest is None or within(rest).high != 0
    for reaction in reactions_in(stage.kinds):
        if not formulas.issuperset(reaction.asks):
            continue
        there = reaction.metal in metals if reaction.metal else reaction.basis in formulas
        if there or (open_rest and reaction.metal and reaction.work == DISSOLVE):
            yield reaction


def _carries(thing: Thing, stage: Stage) -> bool:
    """Whether a thing brings along what its stage was done with: a liquid, or what stands in one.

    A solid that was weighed, or is called damp or dry, was taken out of its liquid. Of what is
    thrown away or stands there without a word on what it is, the worse is taken.
    """
    if _is_liquid(thing):
        return True
    if thing.gross.known or thing.moisture or thing.role not in MAYBE_LIQUID:
        return False
    return not _wet_kinds().isdisjoint(stage.kinds)


@cache
def _wet_kinds() -> frozenset[str]:
    return frozenset(name for name, kind in stage_kinds().items() if kind.wet)


def _may_be_acid(thing: Thing) -> bool:
    """Whether a thing from outside the book is a liquid, or nobody knows what it is.

    Plain water is none. Of a jar that is named here first, and never told of, all is open.
    """
    if not thing.what or thing.what.startswith("["):
        return True
    return _is_liquid(thing) and reagent_words().get(thing.what.lower()) not in PLAIN_WATER


def _any_acid(thing: Thing) -> list[Substance]:
    """What a liquid of unknown make may bring: any of the common acids, in any amount."""
    words = f"{thing.what or 'something'} from outside the book"
    spans = tuple(entry.span for entry in thing.entries)
    note = f"what {words} holds is not written"
    return [Substance(acid, UNLIMITED, words, spans, (note,)) for acid in COMMON_ACIDS]


def _is_liquid(thing: Thing) -> bool:
    return thing.volume.known or LIQUID.search(thing.what.lower()) is not None
