"""Stages joined through unmeasured things, and the equations that are left between them.

Metal may pass unseen through a thing that nobody measured, so the stages on both sides of it
can only be balanced together: they are one zone. A zone that is joined to the outside in this
way has no check; each other zone gives one equation. Nothing here solves anything.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.network.arcs import OUTSIDE, Arc
from logbook.calculation.network.parity import EXACT, Equations, Loss
from logbook.model.amount import Uncertain, combined
from logbook.model.errors import flat


class Joined:
    """Names that are joined into groups, two at a time."""

    def __init__(self) -> None:
        self._above: dict[Hashable, Hashable] = {}

    def find(self, name: Hashable) -> Hashable:
        """The name that stands for the group of a name."""
        above = self._above
        root = name
        while above.get(root, root) != root:
            root = above[root]
        while above.get(name, name) != root:
            above[name], name = root, above[name]
        return root

    def join(self, one: Hashable, other: Hashable) -> None:
        """Make one group of two."""
        self._above[self.find(one)] = self.find(other)


@dataclass(frozen=True, slots=True)
class Equation:
    """Something that has to be nothing: in less out of a zone, or two readings of one thing.

    `losses` are the groups of nodes at which a loss would show in it, each with how much of it
    shows; there is none where one thing was read twice.
    """

    row: Uncertain
    losses: tuple[tuple[tuple[str, ...], float], ...]
    arcs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Zones:
    """Which nodes belong together. `open` is the zone that is joined to the outside."""

    zone_of: Mapping[str, Hashable]
    outer: Hashable
    nodes: Mapping[Hashable, tuple[str, ...]]


def zones_of(arcs: Iterable[Arc]) -> Zones:
    """Join the nodes of every unmeasured arc.

    >>> zones = zones_of([Arc("feed", "", "a", (Uncertain(1.0),)), Arc("x", "a", "b")])
    >>> zones.zone_of["a"] == zones.zone_of["b"], zones.zone_of["a"] == zones.outer
    (True, False)
    """
    joined = Joined()
    names: dict[str, None] = {OUTSIDE: None}
    for arc in arcs:
        names[arc.tail] = names[arc.head] = None
        if not arc.readings:
            joined.join(arc.tail, arc.head)
    zone_of = {name: joined.find(name) for name in names}
    nodes: dict[Hashable, list[str]] = {}
    for name, zone in zone_of.items():
        nodes.setdefault(zone, []).append(name)
    return Zones(zone_of, zone_of[OUTSIDE], {zone: tuple(names) for zone, names in nodes.items()})


def repeats_of(arcs: Iterable[Arc]) -> list[Equation]:
    """One equation for each reading of a thing beside the one to go by."""
    return [
        Equation(combined(((1.0, again), (-1.0, arc.readings[-1]))), (), (arc.key,))
        for arc in arcs
        for again in arc.readings[:-1]
    ]


def equations_of(arcs: Iterable[Arc], zones: Zones) -> list[Equation]:
    """One equation for each zone that has a check.

    What comes to nothing without any doubt says nothing, and is left out.
    """
    terms: dict[Hashable, list[tuple[float, Arc]]] = {}
    found = []
    for arc in arcs:
        into, out = zones.zone_of[arc.head], zones.zone_of[arc.tail]
        if arc.readings and into != out:
            terms.setdefault(into, []).append((1.0, arc))
            terms.setdefault(out, []).append((-1.0, arc))
    for zone, crossing in terms.items():
        if zone == zones.outer:
            continue
        row = combined((sign, arc.readings[-1]) for sign, arc in crossing)
        scale = max(abs(arc.readings[-1].value) for _, arc in crossing)
        if row.u > EXACT * scale or abs(row.value) > EXACT * scale:
            keys = tuple(dict.fromkeys(arc.key for _, arc in crossing))
            found.append(Equation(row, ((zones.nodes[zone], 1.0),), keys))
    return found


def blocks_of(equations: Sequence[Equation]) -> list[list[Equation]]:
    """Equations that share a thing or a source of error, together."""
    joined = Joined()
    for at, equation in enumerate(equations):
        for key in equation.arcs:
            joined.join(at, ("arc", key))
        for source in flat(equation.row.errors):
            joined.join(at, ("source", source))
    blocks: dict[Hashable, list[Equation]] = {}
    for at, equation in enumerate(equations):
        blocks.setdefault(joined.find(at), []).append(equation)
    return list(blocks.values())


def as_equations(block: Sequence[Equation]) -> Equations:
    """A block ready to be solved, with every loss that shows in it."""
    effects: dict[tuple[str, ...], dict[int, float]] = {}
    losses = []
    for at, equation in enumerate(block):
        for nodes, size in equation.losses:
            effects.setdefault(nodes, {})[at] = size
        if not equation.losses:
            losses.append(Loss((), {at: 1.0}, equation.arcs[0]))
    losses += [Loss(nodes, effect) for nodes, effect in effects.items()]
    return Equations([one.row for one in block], losses).independent()
