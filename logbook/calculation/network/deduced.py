"""What follows for things that nobody measured: which of them are given, and by what.

In a network of unmeasured things a content is given where no other way leads round it, that
is where it is a bridge (Mah, Stanley and Downing, 1976, from memory). Then it is all that
went into one side of the bridge less all that came out. Nothing here adjusts a reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.network.arcs import OUTSIDE, Arc
from logbook.model.amount import ZERO, Uncertain, combined


@dataclass(frozen=True, slots=True)
class Deduced:
    """The content of a bridge, as the nodes beyond it give it.

    Beyond is the side that does not hold the outside; `made_there` tells whether the arc
    starts in it.
    """

    arc: Arc
    value: Uncertain
    made_there: bool
    beyond: tuple[str, ...]


def supplies(arcs: Iterable[Arc], values: Mapping[str, Uncertain]) -> dict[str, Uncertain]:
    """What measured things bring to each node, less what they take from it [g]."""
    terms: dict[str, list[tuple[float, Uncertain]]] = {}
    for arc in arcs:
        value = values.get(arc.key)
        if value is not None and arc.tail != arc.head:
            terms.setdefault(arc.head, []).append((1.0, value))
            terms.setdefault(arc.tail, []).append((-1.0, value))
    return {node: combined(found) for node, found in terms.items()}


def deduce(
    unmeasured: Sequence[Arc], supply: Mapping[str, Uncertain]
) -> tuple[list[Deduced], list[Arc]]:
    """The arcs that are given, each with its content, and those that are not.

    Of 10 g that go into a stage 7 g come out as a bar; the filter holds the other 3 g.

    >>> stage = {"dissolve": Uncertain(3.0)}
    >>> given, free = deduce([Arc("filter", "dissolve", OUTSIDE)], stage)
    >>> given[0].value.value, given[0].made_there, free
    (3.0, True, [])
    """
    given, free = [], []
    walk = _Walk(unmeasured, supply)
    for arc in unmeasured:
        found = walk.bridges.get(arc.key)
        if found is None:
            free.append(arc)
        else:
            given.append(found)
    return given, free


class _Walk:
    """One walk through the unmeasured arcs, depth first, that finds the bridges.

    A tree arc is a bridge where nothing below it reaches back above it. The walk starts
    outside, so that what lies below a bridge is the side that does not hold the outside.
    """

    def __init__(self, arcs: Sequence[Arc], supply: Mapping[str, Uncertain]) -> None:
        self.bridges: dict[str, Deduced] = {}
        self._supply = supply
        self._beside: dict[str, list[Arc]] = {}
        for arc in arcs:
            self._beside.setdefault(arc.tail, []).append(arc)
            self._beside.setdefault(arc.head, []).append(arc)
        self._found: dict[str, int] = {}
        self._lowest: dict[str, int] = {}
        self._order: list[str] = []
        for start in sorted(self._beside, key=lambda node: node != OUTSIDE):
            if start not in self._found:
                self._from(start)

    def _from(self, start: str) -> None:
        sums: dict[str, list[tuple[float, Uncertain]]] = {}
        self._enter(start)
        stack = [(start, "", iter(self._beside[start]))]
        while stack:
            node, by, arcs = stack[-1]
            arc = next(arcs, None)
            if arc is not None:
                if arc.key == by or arc.tail == arc.head:
                    continue
                other = arc.head if arc.tail == node else arc.tail
                if other in self._found:
                    self._lowest[node] = min(self._lowest[node], self._found[other])
                else:
                    self._enter(other)
                    stack.append((other, arc.key, iter(self._beside[other])))
                continue
            stack.pop()
            self._leave(node, by, stack[-1][0] if stack else None, sums)

    def _enter(self, node: str) -> None:
        self._found[node] = self._lowest[node] = len(self._found)
        self._order.append(node)

    def _leave(
        self,
        node: str,
        by: str,
        above: str | None,
        sums: dict[str, list[tuple[float, Uncertain]]],
    ) -> None:
        """Go back above a node: what is below it is now known."""
        below = combined([(1.0, self._supply.get(node, ZERO)), *sums.pop(node, [])])
        if above is None:
            return
        self._lowest[above] = min(self._lowest[above], self._lowest[node])
        sums.setdefault(above, []).append((1.0, below))
        if self._lowest[node] > self._found[above]:
            arc = next(one for one in self._beside[node] if one.key == by)
            made_there = arc.tail == node
            sign = 1.0 if made_there else -1.0
            beyond = tuple(self._order[self._found[node] :])
            self.bridges[by] = Deduced(arc, combined([(sign, below)]), made_there, beyond)
