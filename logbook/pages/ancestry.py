"""Where each thing came from and where it went: the links between things, ready to follow.

The links are those that the calculation found; nothing is added to them here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from logbook.calculation.results import StageKey, Thing

MOST_STEPS = 150  # a lineage longer than this is cut, and says so


@dataclass(frozen=True, slots=True)
class Step:
    """One thing on the way. `again` tells that its own origins or ends were shown before."""

    depth: int
    thing: Thing
    again: bool


@dataclass(frozen=True, slots=True)
class Ancestry:
    """Things of a book by what joins them."""

    by_key: Mapping[str, Thing]
    entering: Mapping[StageKey, list[Thing]]
    leaving: Mapping[StageKey, list[Thing]]
    draws: Mapping[str, list[Thing]]
    pools: Mapping[str, Thing]

    def origins(self, thing: Thing) -> list[Thing]:
        """What a thing was drawn from, poured together from, or made of."""
        if thing.part_of:
            return [self.by_key[thing.part_of]] if thing.part_of in self.by_key else []
        if thing.pooled_from:
            return [self.by_key[key] for key in thing.pooled_from if key in self.by_key]
        return list(self.entering.get(thing.made_by, ())) if thing.made_by is not None else []

    def ends(self, thing: Thing) -> list[Thing]:
        """What was drawn from a thing, what it was poured into, or what was made of it."""
        found = list(self.draws.get(thing.key, ()))
        if thing.key in self.pools:
            found.append(self.pools[thing.key])
        if thing.used_by is not None:
            found.extend(self.leaving.get(thing.used_by, ()))
        return found

    def back(self, things: Iterable[Thing]) -> tuple[Step, ...]:
        """Everything that things came from, each with what it came from below it."""
        return tuple(_follow(list(things), self.origins))

    def onward(self, things: Iterable[Thing]) -> tuple[Step, ...]:
        """Everything that things went into, each with what that went into below it."""
        return tuple(_follow(list(things), self.ends))


def ancestry(things: Iterable[Thing]) -> Ancestry:
    """Sort the things of a book by what joins them."""
    by_key: dict[str, Thing] = {}
    entering: dict[StageKey, list[Thing]] = {}
    leaving: dict[StageKey, list[Thing]] = {}
    draws: dict[str, list[Thing]] = {}
    pools: dict[str, Thing] = {}
    for thing in things:
        by_key[thing.key] = thing
        if thing.used_by is not None:
            entering.setdefault(thing.used_by, []).append(thing)
        if thing.made_by is not None and not thing.part_of and not thing.pooled_from:
            leaving.setdefault(thing.made_by, []).append(thing)
        if thing.part_of:
            draws.setdefault(thing.part_of, []).append(thing)
        pools.update(dict.fromkeys(thing.pooled_from, thing))
    return Ancestry(by_key, entering, leaving, draws, pools)


def _follow(starts: list[Thing], further: Callable[[Thing], list[Thing]]) -> Iterator[Step]:
    """Depth first from things that stand at the start, which are not told themselves.

    A thing that was told before is named again, but not followed again.
    """
    own = {thing.key for thing in starts}
    told: set[str] = set()
    stack = [(0, thing) for start in reversed(starts) for thing in reversed(further(start))]
    count = 0
    while stack and count < MOST_STEPS:
        depth, thing = stack.pop()
        if thing.key in own:
            continue
        again = thing.key in told
        told.add(thing.key)
        count += 1
        yield Step(depth, thing, again)
        if not again:
            stack.extend((depth + 1, after) for after in reversed(further(thing)))
