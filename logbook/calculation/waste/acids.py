"""How much acid may still be in each liquid, and how much base it takes: a ledger of the book.

What was put in goes along with the liquid. It grows less only by what must have been used up;
where that, or the way it went, is not known, the upper limit is all that was put in. No limit
here is ever a value, and none says that a liquid is harmless. What clings to a damp solid that
was weighed is not followed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from logbook.calculation.bench.substances import within
from logbook.calculation.book_balance import FROM_BALANCE
from logbook.calculation.results import Role, StageChemistry, StageKey, Substance, Thing
from logbook.calculation.waste.acid_supplies import (
    acid_of,
    amount_of,
    base_of,
    grams_of,
    is_liquid,
    least,
    limited,
    most_of,
    outside_words,
    times,
    uncounted_words,
    within_takes,
)
from logbook.chemistry.neutralising import ACIDS
from logbook.chemistry.ranges import NOTHING, Range
from logbook.model.run import Run
from logbook.reference import stage_kinds

BOILED = frozenset({"evaporate", "denox", "dry"})


@dataclass(frozen=True, slots=True)
class AcidHeld:
    """What a liquid may hold: grams of each acid, and moles of base it takes at most.

    `takes` counts the acid and all that it may have dissolved, less the base that was put in.
    `base` is the base that was put in [mol]. `reach` is the greatest part of what was added in
    each stage that can be here, `through` every stage it came through. `doubts` name what
    cannot be counted: then `takes` has no limit.
    """

    acids: Mapping[str, Range] = field(default_factory=dict)
    takes: float | None = 0.0
    base: float | None = 0.0
    reach: Mapping[StageKey, float] = field(default_factory=dict)
    doubts: tuple[str, ...] = ()
    through: tuple[StageKey, ...] = ()

    @property
    def followed(self) -> bool:
        """Whether anything came along with it: then it is a liquid, or stands in one."""
        return bool(self.reach or self.doubts)


NONE_HELD = AcidHeld()


def acids_of(
    things: Sequence[Thing],
    chemistry: Mapping[StageKey, StageChemistry],
    runs: Mapping[str, Run],
    doubts: Mapping[StageKey, tuple[str, ...]],
) -> Mapping[str, AcidHeld]:
    """What each thing may hold of acid, by its key.

    `doubts` name, for each stage, what was added and cannot be counted.
    """
    ledger = _Ledger(things, chemistry, runs, doubts)
    for thing in ledger.in_order(things):
        ledger.held[thing.key] = ledger.work_out(thing)
    return ledger.held


class _Ledger:
    """The ledger while it is written. `held` is what each thing may hold, by its key."""

    def __init__(
        self,
        things: Sequence[Thing],
        chemistry: Mapping[StageKey, StageChemistry],
        runs: Mapping[str, Run],
        doubts: Mapping[StageKey, tuple[str, ...]],
    ) -> None:
        self.chemistry, self.runs, self.doubts = chemistry, runs, doubts
        self.held: dict[str, AcidHeld] = {}
        self.by_key = {thing.key: thing for thing in things}
        self.inputs: dict[StageKey, list[Thing]] = {}
        self.outputs: dict[StageKey, list[Thing]] = {}
        self.stages: dict[StageKey, AcidHeld] = {}
        for thing in things:
            if thing.used_by is not None:
                self.inputs.setdefault(thing.used_by, []).append(thing)
            if thing.made_by is not None and not thing.part_of and not thing.pooled_from:
                self.outputs.setdefault(thing.made_by, []).append(thing)

    def in_order(self, things: Sequence[Thing]) -> Iterator[Thing]:
        """Things so that what a thing came from, and what its stage was made of, is before it."""
        begun: set[str] = set()
        for first in things:
            stack = [first]
            while stack:
                thing = stack[-1]
                awaited = [] if thing.key in begun else self._before(thing)
                begun.add(thing.key)
                awaited = [one for one in awaited if one.key not in begun]
                if awaited:
                    stack.extend(awaited)
                    continue
                stack.pop()
                if thing.key not in self.held:
                    yield thing

    def _before(self, thing: Thing) -> list[Thing]:
        keys = [*thing.pooled_from, *([thing.part_of] if thing.part_of else [])]
        origins = [self.by_key[key] for key in keys if key in self.by_key]
        if not origins and thing.made_by is not None:
            return self.inputs.get(thing.made_by, [])
        return origins

    def work_out(self, thing: Thing) -> AcidHeld:
        """What one thing may hold, from what it came from."""
        if thing.pooled_from:
            return self._together([self.by_key[key] for key in thing.pooled_from])
        if thing.part_of:
            return _drawn(self._of(thing.part_of), thing)
        if thing.made_by is not None:
            return self._from_stage(thing, thing.made_by)
        why = outside_words(thing)
        return replace(NONE_HELD, takes=None, base=None, doubts=(why,)) if why else NONE_HELD

    def _of(self, key: str) -> AcidHeld:
        """What a thing may hold; one that is reached in a ring before its time: anything."""
        ring = "how it came about leads round in a ring"
        return self.held.get(key, replace(NONE_HELD, takes=None, base=None, doubts=(ring,)))

    def _from_stage(self, thing: Thing, key: StageKey) -> AcidHeld:
        if not self._carries(thing, key):
            dried = thing.role is Role.WASTE
            return replace(NONE_HELD, through=self._stage(key).through) if dried else NONE_HELD
        whole = self._stage(key)
        others = [one for one in self.outputs.get(key, ()) if self._carries(one, key)]
        if len(others) == 1:
            return whole
        return replace(whole, acids={name: Range(0.0, a.high) for name, a in whole.acids.items()})

    def _carries(self, thing: Thing, key: StageKey) -> bool:
        """Whether a thing brings along the liquid of its stage. Waste does, unless it is dry."""
        if is_liquid(thing):
            return True
        if thing.role is Role.WASTE:
            return thing.moisture != "dry"
        if thing.gross.known or thing.moisture or thing.role is not Role.CHARGE:
            return False
        kinds = self.runs[key.run].stages[key.index].kinds if key.run in self.runs else ()
        known = stage_kinds()
        return any(known[kind].wet for kind in kinds if kind in known)

    def _stage(self, key: StageKey) -> AcidHeld:
        if key not in self.stages:
            self.stages[key] = self._work_out_stage(key)
        return self.stages[key]

    def _work_out_stage(self, key: StageKey) -> AcidHeld:
        """What is in a stage when it is over."""
        before = self._together(self.inputs.get(key, ()))
        chemistry = self.chemistry.get(key)
        added = chemistry.added if chemistry is not None else ()
        doubts = (*before.doubts, *(uncounted_words(one) for one in self.doubts.get(key, ())))
        reach = {**before.reach, key: 1.0} if added else before.reach
        acid, base = acid_of(added), base_of(added)
        takes = most_of((before.takes, acid))
        if takes is not None:
            takes = max(0.0, takes - base.low)
        names = dict.fromkeys((*before.acids, *(one.formula for one in added)))
        acids = {
            name: limited(
                self._left(key, name, before.acids.get(name, NOTHING) + amount_of(added, name)),
                self._put_in(name, reach),
                gone=self._may_be_gone(key, added, before) or bool(doubts),
            )
            for name in names
            if name in ACIDS
        }
        return AcidHeld(
            {name: within_takes(name, a, takes, doubts) for name, a in acids.items()},
            None if doubts else takes,
            most_of((before.base, base.high)),
            reach,
            tuple(dict.fromkeys(doubts)),
            tuple(dict.fromkeys((*before.through, key))),
        )

    def _left(self, key: StageKey, name: str, there: Range) -> Range:
        """An acid less what a stage used up: at least for what it brought into solution.

        Where what went in held metal in solution already, that was dissolved before. Limits of
        a metal that have no doubt in them say nothing of what was used up.
        """
        chemistry = self.chemistry.get(key)
        if chemistry is None:
            return there
        if any(FROM_BALANCE in metal.notes for metal in chemistry.metals.values()):
            return Range(0.0, there.high)
        before, after = (amount_of(found, name) for found in (chemistry.substances, chemistry.left))
        low = max(0.0, there.low - (before.low - after.low)) if after.low else 0.0
        if there.high is None or before.high is None or self._brings_solution(key):
            return Range(low, there.high)
        used = 0.0 if after.high is None else before.high - after.high
        return Range(low, max(0.0, there.high - used))

    def _brings_solution(self, key: StageKey) -> bool:
        """Whether metal that is in solution already goes into a stage."""
        inputs = self.inputs.get(key, ())
        return any(thing.contents and self._of(thing.key).followed for thing in inputs)

    def _may_be_gone(self, key: StageKey, added: Sequence[Substance], before: AcidHeld) -> bool:
        """Whether acid may all have gone: with steam, or into what no reaction here counts."""
        chemistry = self.chemistry.get(key)
        if key.run not in self.runs or chemistry is None:
            return True
        stage = self.runs[key.run].stages[key.index]
        if any(one.action == "heated" for one in stage.entries) or BOILED.intersection(stage.kinds):
            return True
        if before.base != 0 or any(one.formula not in ACIDS for one in added):
            return True
        solid = any(not self._of(one.key).followed for one in self.inputs.get(key, ()))
        return solid and not any(one.work == "dissolve" for one in chemistry.reactions)

    def _together(self, things: Sequence[Thing]) -> AcidHeld:
        """Some liquids poured together: no more than was put in, whichever way it came."""
        held = [self._of(thing.key) for thing in things]
        reach: dict[StageKey, float] = {}
        for one in held:
            for key, part in one.reach.items():
                reach[key] = min(1.0, reach.get(key, 0.0) + part)
        doubts = tuple(dict.fromkeys(doubt for one in held for doubt in one.doubts))
        names = dict.fromkeys(name for one in held for name in one.acids)
        acids = {name: self._sum(name, things, reach) for name in names}
        takes = least(
            self._by_stage(things, [one.takes for one in held]),
            most_of(times(part, self._takes_of(key)) for key, part in reach.items()),
        )
        base = most_of(one.base for one in held)
        through = tuple(dict.fromkeys(key for one in held for key in one.through))
        return AcidHeld(acids, None if doubts else takes, base, reach, doubts, through)

    def _sum(self, name: str, things: Sequence[Thing], reach: Mapping[StageKey, float]) -> Range:
        parts = [self._of(thing.key).acids.get(name, NOTHING) for thing in things]
        high = self._by_stage(things, [part.high for part in parts])
        return limited(Range(sum(part.low for part in parts), high), self._put_in(name, reach))

    def _by_stage(self, things: Sequence[Thing], highs: Sequence[float | None]) -> float | None:
        """The sum of limits; what one stage gave in several pours is no more than it had."""
        groups: dict[StageKey | str, list[float | None]] = {}
        for thing, high in zip(things, highs, strict=True):
            loose = thing.pooled_from or thing.part_of or thing.made_by is None
            groups.setdefault(thing.key if loose else thing.made_by or "", []).append(high)
        return most_of(
            None if None in group else max(one for one in group if one is not None)
            for group in groups.values()
        )

    def _put_in(self, formula: str, reach: Mapping[StageKey, float]) -> float | None:
        """The most of an acid that can have been put into a liquid [g]."""
        return most_of(
            times(part, grams_of(self.chemistry[key].added, formula))
            for key, part in reach.items()
            if key in self.chemistry
        )

    def _takes_of(self, key: StageKey) -> float | None:
        """The most base that what was added in a stage can take [mol]."""
        return acid_of(self.chemistry[key].added) if key in self.chemistry else 0.0


def _drawn(whole: AcidHeld, thing: Thing) -> AcidHeld:
    """The part of a liquid that was drawn; where its share is not known, anything up to all."""
    share = within(thing.share) if thing.share is not None else Range(0.0, None)
    most = 1.0 if share.high is None else min(1.0, share.high)
    low = min(share.low, 1.0)
    return AcidHeld(
        {name: Range(a.low * low, times(most, a.high)) for name, a in whole.acids.items()},
        times(most, whole.takes),
        times(most, whole.base),
        {key: part * most for key, part in whole.reach.items()},
        whole.doubts,
        whole.through,
    )
