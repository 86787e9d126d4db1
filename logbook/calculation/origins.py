"""Where things came from and went to across jars: what was poured in, and who used the jar.

For sums over several runs, which must count metal once however often it changed its jar.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Thing


@dataclass(frozen=True, slots=True)
class Origins:
    """Things by key, and for each thing that was poured into a jar the key of the jar."""

    by_key: Mapping[str, Thing]
    jar_of: Mapping[str, str]

    def leaves(self, thing: Thing) -> list[Thing]:
        """What was poured together to make a thing, down to the things first made."""
        found, stack = [], [thing]
        while stack:
            one = stack.pop()
            if one.pooled_from:
                stack.extend(self.by_key[key] for key in reversed(one.pooled_from))
            elif one.part_of and one.made_by is None:
                stack.append(self.by_key[one.part_of])
            else:
                found.append(one)
        return found

    def from_outside(self, thing: Thing, runs: set[str], metal: str) -> list[Figure]:
        """What a thing brings of a metal from outside some runs; nothing if they made it."""
        leaves = self.leaves(thing)
        outer = [leaf for leaf in leaves if maker(leaf) not in runs]
        if not outer or metal not in thing.contents:
            return []
        if len(outer) == len(leaves):
            return [thing.contents[metal]]
        if thing.pooled_from:
            return [leaf.contents[metal] for leaf in outer if metal in leaf.contents]
        title = f"[{thing.label}]" if thing.label else f"the {thing.what}"
        why = f"only a part of the {metal} in {title} came from outside the period"
        return [not_known(f"{metal} in {title}", "g", why)]

    def user(self, thing: Thing) -> str:
        """The run that used a thing, or the jar it was poured into; empty where none did."""
        one = thing
        while one.used_by is None and one.key in self.jar_of:
            one = self.by_key[self.jar_of[one.key]]
        return one.used_by.run if one.used_by is not None else ""


def maker(thing: Thing) -> str:
    """The run that made a thing; empty for one from outside the book."""
    return thing.made_by.run if thing.made_by is not None else ""


def origins_of(things: Iterable[Thing]) -> Origins:
    """The origins of the things of a book."""
    by_key = {thing.key: thing for thing in things}
    jar_of = {key: thing.key for thing in by_key.values() for key in thing.pooled_from}
    return Origins(by_key, jar_of)
