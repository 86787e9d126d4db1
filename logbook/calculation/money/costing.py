"""Cost and hours followed along the metal, over the whole book.

Things and stages are walked in the order in which one came from another. What a stage cost,
with all that the things it took carried, is shared between the things it made; a draw takes
its part, a jar the sum of what was poured in. Nothing is counted twice and nothing is lost:
what comes in equals what stands on things, was written off, or is still in work.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from logbook.calculation.figure import Figure
from logbook.calculation.money.loads import (
    EMPTY,
    NONE,
    RAW,
    Load,
    Part,
    divided,
    joined,
    less,
    part_of_figure,
    together,
)
from logbook.calculation.money.returned import returned
from logbook.calculation.money.split_off import PriceOf, Shares, carriers, shares
from logbook.calculation.results import RunFigures, StageKey, StageTime, Thing

Node = str | StageKey
ROUNDING = Decimal("1e-6")  # of the currency, or of an hour: less is the rounding of sums


@dataclass(frozen=True, slots=True)
class Carried:
    """What one thing carries, its share of what was passed on where it was made, and the rule."""

    load: Load
    share: float | None = None
    rule: str = ""


@dataclass(slots=True)
class Followed:
    """Every load where it came to stand.

    `things` by key; `written_off` what each stage could pass on to nothing, `came_round` what a
    ring of things would have counted twice. `own` is what was spent at each stage, after it was
    given to a stage that made something, `scrap` what came in with things from outside, and
    `replaced` the parts of lots in whose place a draw has a price of its own.
    """

    things: dict[str, Carried] = field(default_factory=dict)
    written_off: dict[StageKey, Load] = field(default_factory=dict)
    came_round: list[Load] = field(default_factory=list)
    own: dict[StageKey, Load] = field(default_factory=dict)
    scrap: dict[str, Load] = field(default_factory=dict)
    replaced: list[Load] = field(default_factory=list)


def follow_cost(
    runs: Mapping[str, RunFigures],
    things: Sequence[Thing],
    scrap: Mapping[str, Figure],
    price_of: PriceOf,
) -> Followed:
    """Follow what was spent along the things of a book.

    Equations, in currency and in hours: a stage passes on S = own + Σ carried by what it took;
    a thing that it made carries S v_i / Σ v (see `split_off.py`), a draw its share of the lot,
    a jar the sum of its parts. Source: process costing, costs transferred in and joint costs at
    split-off, as in Horngren et al., Cost Accounting (method from memory; checked with worked
    examples in the tests).

    >>> follow_cost({}, (), {}, lambda metal, thing: None).things
    {}
    """
    return _Walk(runs, things, scrap, price_of).walk()


class _Walk:
    """The walk from the first things to the last."""

    def __init__(
        self,
        runs: Mapping[str, RunFigures],
        things: Sequence[Thing],
        scrap: Mapping[str, Figure],
        price_of: PriceOf,
    ) -> None:
        self._runs = runs
        self._by_key = {thing.key: thing for thing in things}
        self._price_of = price_of
        self._draws: dict[str, list[Thing]] = {}
        self._jar_of: dict[str, str] = {}
        self._made: dict[StageKey, list[Thing]] = {}
        for thing in things:
            if thing.part_of:
                self._draws.setdefault(thing.part_of, []).append(thing)
            elif thing.made_by is not None and not thing.pooled_from:
                self._made.setdefault(thing.made_by, []).append(thing)
            for part in thing.pooled_from:
                self._jar_of[part] = thing.key
        self._carry = {stage: carriers(made) for stage, made in self._made.items()}
        self._result = Followed()
        self._arrived: dict[Node, list[Load]] = {}
        self._done: set[Node] = set()
        self._result.own = self._own_by_stage()
        self._result.scrap = self._from_outside(scrap)

    # What there is to begin with

    def _own_by_stage(self) -> dict[StageKey, Load]:
        """What was spent, at the stage that bears it: one that made something, if there is one."""
        loads: dict[StageKey, list[Load]] = {}
        for name, figures in self._runs.items():
            for stage, load in own_loads(figures).items():
                loads.setdefault(self._bearer(name, stage), []).append(load)
        return {stage: together(found) for stage, found in loads.items()}

    def _bearer(self, run: str, stage: StageKey) -> StageKey:
        """The stage whose things carry what was spent at a stage.

        A trial is borne by the work it was made for, and the treatment of waste, or a test, by
        the next stage that made something, else by the last one before.
        """
        stages = self._runs[run].run.stages
        makes = [at for at in range(len(stages)) if self._carry.get(StageKey(run, at))]
        makes = [at for at in makes if not stages[at].trial] or makes
        after = [at for at in makes if at >= stage.index]
        found = after[0] if after else makes[-1] if makes else stage.index
        return StageKey(run, found)

    def _from_outside(self, scrap: Mapping[str, Figure]) -> dict[str, Load]:
        """What each thing from outside was bought for; one price of several is shared out."""
        priced: dict[int, list[Thing]] = {}
        for thing in self._by_key.values():
            if thing.key in scrap and not thing.pooled_from and not self._has_price_of_lot(thing):
                of = id(thing.entries[0]) if thing.entries else id(thing)
                priced.setdefault(of, []).append(thing)
        loads: dict[str, Load] = {}
        for group in priced.values():
            whole = Load({RAW: part_of_figure(scrap[group[0].key])})
            masses = [max(one.gross.value.value, 0.0) if one.gross.value else 0.0 for one in group]
            sizes = masses if all(masses) else [1.0] * len(group)
            loads |= {one.key: part for one, part in zip(group, divided(whole, sizes), strict=True)}
        return loads

    def _has_price_of_lot(self, thing: Thing) -> bool:
        """Whether a draw has its price from its lot, rather than one of its own."""
        first = thing.entries[0] if thing.entries else None
        own = first is not None and first.action == "took" and first.price is not None
        return bool(thing.part_of) and not own

    # The walk

    def walk(self) -> Followed:
        """Go from what came in to where all of it stands."""
        waits = self._waits_for()
        nodes = list(waits)
        ready = deque(node for node in nodes if not waits[node])
        left = deque(nodes)
        while True:
            while ready:
                node = ready.popleft()
                for onward in self._process(node):
                    waits[onward] -= 1
                    if not waits[onward] and onward not in self._done:
                        ready.append(onward)
            while left and left[0] in self._done:
                left.popleft()
            if not left:
                return self._result
            ready.append(left[0])  # a ring of things: it is cut at what came to be first

    def _waits_for(self) -> dict[Node, int]:
        """How many others each thing and stage waits for."""
        stages = {*self._made, *self._result.own}
        stages |= {thing.used_by for thing in self._by_key.values() if thing.used_by is not None}
        waits: dict[Node, int] = dict.fromkeys(self._by_key, 0)
        waits |= dict.fromkeys(sorted(stages), 0)
        for node in list(waits):
            for onward in self._onward(node):
                waits[onward] += 1
        return waits

    def _onward(self, node: Node) -> list[Node]:
        """The things and stages that what stands at a node goes on to."""
        if isinstance(node, StageKey):
            able = self._carry.get(node, ())
            later = None if able else self._later(node)
            return [thing.key for thing in able] if able else [later] if later else []
        if node in self._draws:
            return [draw.key for draw in self._draws[node]]
        used_by = self._by_key[node].used_by
        onward: Node | None = used_by if used_by is not None else self._jar_of.get(node)
        return [onward] if onward is not None else []

    def _later(self, stage: StageKey) -> StageKey | None:
        """The next stage of a run that made something, for one that made nothing."""
        stages = self._runs[stage.run].run.stages if stage.run in self._runs else ()
        keys = (StageKey(stage.run, at) for at in range(stage.index + 1, len(stages)))
        return next((key for key in keys if self._carry.get(key)), None)

    def _process(self, node: Node) -> list[Node]:
        if node in self._done:
            return []
        self._done.add(node)
        onward = self._onward(node)
        if isinstance(node, StageKey):
            self._pass_on(node, onward)
        else:
            self._hand_on(node, onward)
        return onward

    def _deliver(self, node: Node, load: Load, share: float | None = None, rule: str = "") -> None:
        if node in self._done:
            self._result.came_round.append(load)
            return
        self._arrived.setdefault(node, []).append(load)
        if isinstance(node, str) and rule:
            self._result.things[node] = Carried(NONE, share, rule)

    def _gathered(self, node: Node) -> Load:
        found = self._arrived.pop(node, [])
        return together(found) if found else NONE

    def _hand_on(self, key: str, onward: Sequence[Node]) -> None:
        """A thing: it carries what arrived and what it was bought for, and hands all of it on."""
        load = self._gathered(key)
        bought = self._result.scrap.get(key)
        if bought is not None:
            load = together([load, bought]) if load.kinds or load.hours.amount else bought
        said = self._result.things.get(key, Carried(NONE))
        self._result.things[key] = replace(said, load=load)
        if key in self._draws:
            self._divide(load, self._draws[key])
        elif onward:
            self._deliver(onward[0], load)

    def _divide(self, load: Load, draws: Sequence[Thing]) -> None:
        """A lot between its draws; those of which nobody knows the share take the rest alike."""
        known = [
            one.share.value.value if one.share is not None and one.share.value else None
            for one in draws
        ]
        rest = max(1.0 - sum(share or 0.0 for share in known), 0.0)
        blind = known.count(None)
        sizes = [max(share, 0.0) if share is not None else rest / blind for share in known]
        if not sum(sizes):
            sizes = [1.0] * len(draws)
        for draw, size, part in zip(draws, sizes, divided(load, sizes), strict=True):
            if draw.key in self._result.scrap:  # it has a price of its own
                self._result.replaced.append(Load({RAW: part.kinds.get(RAW, EMPTY)}))
                part = Load({k: v for k, v in part.kinds.items() if k != RAW}, part.hours)
            self._deliver(draw.key, part, size / sum(sizes), "the part that was drawn")

    def _pass_on(self, stage: StageKey, onward: Sequence[Node]) -> None:
        """A stage: what it took and what it cost go to what it made."""
        own = self._result.own.get(stage)
        taken = self._gathered(stage).entered()
        load = together([taken, own]) if own is not None else taken
        able = self._carry.get(stage, ())
        if able:
            self._share(load, able, stage)
        elif onward:
            self._deliver(onward[0], load)
        elif load.kinds or load.hours != EMPTY:
            self._result.written_off[stage] = load

    def _share(self, load: Load, able: Sequence[Thing], stage: StageKey) -> None:
        """Share a load; a supply that came back takes the part of its cost with it."""
        back = returned(able, stage, self._runs[stage.run]) if stage.run in self._runs else {}
        apart = {key: part for key, part in back.items() if part.amount <= _reagent(load).amount}
        kept = _less(load, joined(list(apart.values()))) if apart else load
        found: Shares = shares(able, self._price_of)
        parts = divided(kept, found.sizes)
        whole = sum(found.sizes)
        for thing, size, part, rule in zip(
            found.things, found.sizes, parts, found.rules, strict=True
        ):
            if thing.key in apart:
                part = together([part, Load({"reagent": apart[thing.key]})])
                rule = f"{rule}; and what it cost as the supply that came back"
            self._deliver(thing.key, part, size / whole, rule)


def _reagent(load: Load) -> Part:
    return load.kinds.get("reagent", EMPTY)


def _less(load: Load, part: Part) -> Load:
    """A load without a part of its reagents."""
    return Load({**load.kinds, "reagent": less(_reagent(load), part)}, load.hours)


def own_loads(figures: RunFigures) -> dict[StageKey, Load]:
    """What was spent at each stage of a run, without what it took; the rest at its last stage.

    The rest is what only the run as a whole knows: hours worked in all, say.
    """
    name = figures.run.name
    kinds: dict[StageKey, dict[str, list[Part]]] = {}
    for row in figures.stage_costs:
        of_stage = kinds.setdefault(row.stage, {})
        of_stage.setdefault(row.kind, []).append(part_of_figure(row.amount))
    hours = {time.stage: part_of_figure(time.hands_on) for time in _timed(figures)}
    last = StageKey(name, max(len(figures.run.stages) - 1, 0))
    loads = {
        stage: Load(
            {kind: joined(parts) for kind, parts in kinds.get(stage, {}).items()},
            hours.get(stage, EMPTY),
        )
        for stage in dict.fromkeys((*kinds, *hours))
    }
    rest = _rest(figures, loads)
    if rest.kinds or rest.hours != EMPTY:
        loads[last] = together([loads[last], rest]) if last in loads else rest
    return loads


def _timed(figures: RunFigures) -> list[StageTime]:
    """The stages in which any work was noted."""
    worked = {
        at
        for at, stage in enumerate(figures.run.stages)
        if any(entry.action == "worked" and not entry.in_all for entry in stage.entries)
    }
    return [time for time in figures.stage_times if time.stage.index in worked]


def _rest(figures: RunFigures, loads: Mapping[StageKey, Load]) -> Load:
    """What the lines of a run hold beyond its stages, and why more of them is not known."""
    kinds: dict[str, Part] = {}
    for line in figures.costs:
        if line.kind == "feed":
            continue  # it comes with the things
        spent = [load.kinds[line.kind] for load in loads.values() if line.kind in load.kinds]
        part = _beyond(part_of_figure(line.amount), spent)
        if part != EMPTY:
            kinds[line.kind] = part
    hours = _beyond(part_of_figure(figures.hands_on), [load.hours for load in loads.values()])
    return Load(kinds, hours)


def _beyond(whole: Part, parts: Sequence[Part]) -> Part:
    """A whole less its parts, where more than rounding is left; its reason if none has one."""
    known = joined(list(parts)) if parts else EMPTY
    over = whole.amount - known.amount
    missing = whole.missing if not known.missing else ()
    if abs(over) < ROUNDING:
        return Part(missing=missing)
    return Part(over, whole.doubt - known.doubt, missing)
