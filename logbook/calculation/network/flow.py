"""A connected network of flows: what is checked in it, what is given, and what is limited.

Everything here is a question of the graph; `coupled.py` does the same where it is not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.network.arcs import OUTSIDE, Arc, SharedSum
from logbook.calculation.network.deduced import deduce, supplies
from logbook.calculation.network.limits import Interval, limits
from logbook.calculation.network.zones import Equation, equations_of, zones_of
from logbook.model.amount import Uncertain, combined

Nodes = tuple[str, ...]
Adjust = Callable[[Uncertain], Uncertain]


@dataclass(frozen=True, slots=True)
class Given:
    """The content of a thing that nobody measured [g], and from where it follows."""

    key: str
    value: Uncertain
    side: str  # making, use, both; empty where no stage is between
    nodes: Nodes  # those whose balance gives it
    u: float  # of the value


class Flow:
    """A network of things between nodes, in which every equation is a balance."""

    def __init__(self, arcs: Sequence[Arc], jars: frozenset[str] = frozenset()) -> None:
        self.arcs = tuple(arcs)
        self._jars = jars
        self._zones = zones_of(arcs)
        self._unmeasured: dict[object, list[Arc]] = {}
        for arc in arcs:
            if not arc.readings and arc.tail != arc.head:
                self._unmeasured.setdefault(self._zones.zone_of[arc.tail], []).append(arc)
        self._bridged: set[str] = set()

    def equations(self) -> list[Equation]:
        """One for each zone that has a check."""
        return equations_of(self.arcs, self._zones)

    def closed(self) -> Iterator[Nodes]:
        """The nodes of each zone that has a check."""
        for zone, nodes in self._zones.nodes.items():
            if zone != self._zones.outer:
                yield nodes

    def given(
        self, values: Mapping[str, Uncertain], freed: frozenset[str], _adjust: Adjust
    ) -> list[Given]:
        """The unmeasured things that follow from the measured ones."""
        supply = supplies(self.arcs, values)
        found = []
        for zone, arcs in self._unmeasured.items():
            if freed.intersection(self._zones.nodes[zone]):
                continue
            outer = zone == self._zones.outer
            for one in deduce(arcs, supply)[0]:
                side = ("making" if one.made_there else "use") if outer else "both"
                if self._jars.issuperset(one.beyond):
                    side = ""
                found.append(Given(one.arc.key, one.value, side, one.beyond, one.value.u))
        self._bridged = {one.key for one in found}
        return found

    def _free(self) -> list[Arc]:
        return [
            arc
            for arcs in self._unmeasured.values()
            for arc in arcs
            if arc.key not in self._bridged
        ]

    def limits(
        self, values: Mapping[str, float], gaps: Mapping[Nodes, float]
    ) -> dict[str, Interval]:
        """The limits of what is left, at the values of all else.

        Where a zone has a gap, each of its nodes may have lost some of it.
        """
        free = self._free()
        if not free:
            return {}
        supply = self._supply(values)
        losses = [
            Arc(f"\0loss {node}", node, OUTSIDE, (), gap)
            if gap > 0.0
            else Arc(f"\0loss {node}", OUTSIDE, node, (), -gap)
            for nodes, gap in gaps.items()
            for node in nodes
        ]
        touched = {node for arc in free for node in (arc.tail, arc.head)}
        found = limits(
            [*free, *(one for one in losses if touched & ({one.tail, one.head} - {OUTSIDE}))],
            supply,
        )
        return {arc.key: found[arc.key] for arc in free}

    def _supply(self, values: Mapping[str, float]) -> dict[str, float]:
        supply: dict[str, float] = {}
        for arc in self.arcs:
            value = values.get(arc.key)
            if value is not None and arc.tail != arc.head:
                supply[arc.head] = supply.get(arc.head, 0.0) + value
                supply[arc.tail] = supply.get(arc.tail, 0.0) - value
        return supply

    def sums(self, values: Mapping[str, Uncertain], freed: frozenset[str]) -> Iterator[SharedSum]:
        """Sums that are given of things which are not: put together, or parts of a lot."""
        ways: dict[str, tuple[list[Arc], list[Arc]]] = {}
        for arc in self._free():
            ways.setdefault(arc.head, ([], []))[0].append(arc)
            ways.setdefault(arc.tail, ([], []))[1].append(arc)
        supply = supplies(self.arcs, values)
        for node, (into, out) in ways.items():
            if node == OUTSIDE or node in freed or (into and out):
                continue
            if out and node not in self._jars:
                continue  # what one stage gave is no lot: its parts have nothing in common
            arcs = into or out
            sign = -1.0 if into else 1.0
            total = combined([(sign, supply[node])]) if node in supply else Uncertain(0.0)
            if len(arcs) > 1:
                yield SharedSum(node, tuple(arc.key for arc in arcs), total)
