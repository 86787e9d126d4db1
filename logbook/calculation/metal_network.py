"""The things of a book as a network: one for each metal, things as its arcs, stages as nodes.

A stage is a node, and so is a lot that is drawn from and a jar that is poured into. What no
stage made comes from outside, and what no stage took goes there. Nothing here solves anything.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from logbook.calculation.contents import Contents
from logbook.calculation.holdings import Holding
from logbook.calculation.joint import Jointly
from logbook.calculation.network.arcs import OUTSIDE, Arc, Ratio
from logbook.calculation.results import StageKey
from logbook.calculation.sampling import sampling_errors, sampling_of, tied_parts
from logbook.calculation.weights import Weights
from logbook.model.amount import Uncertain
from logbook.model.errors import flat


@dataclass(frozen=True, slots=True)
class Place:
    """What a node stands for: a stage, or the thing that was drawn from or poured into."""

    stage: StageKey | None = None
    thing: Holding | None = None


@dataclass(frozen=True, slots=True)
class MetalNetwork:
    """One metal over the whole book."""

    metal: str
    arcs: tuple[Arc, ...]
    ratios: tuple[Ratio, ...]
    regions: Mapping[str, tuple[str, ...]]  # run -> the nodes of its stages
    places: Mapping[str, Place]
    jars: frozenset[str]  # nodes that are no stages
    own: frozenset[str]  # things that have a reading of their own, not only as a part of a lot


@dataclass(slots=True)
class _Network:
    """A network while it is put together."""

    metal: str
    runs: Mapping[str, tuple[str, ...]]  # run -> the metals it speaks of
    contents: Contents
    weights: Weights
    spoken: Mapping[int, frozenset[str]]
    jointly: Jointly
    arcs: list[Arc] = field(default_factory=list)
    ratios: list[Ratio] = field(default_factory=list)
    places: dict[str, Place] = field(default_factory=dict)
    own: set[str] = field(default_factory=set)
    overdrawn: dict[int, bool] = field(default_factory=dict)

    def add(self, held: Holding) -> None:
        """Add a thing, and the shares of what was drawn from it."""
        content = self.contents.of(held, self.metal)
        readings = self.contents.readings(held, self.metal)
        if readings:
            self.own.add(held.key)
        joint = self.jointly.contents.get((held.key, self.metal))
        if joint is not None:
            readings = (*readings[:-1], joint)
        self.arcs.append(Arc(held.key, self._tail(held), self._head(held), readings, content.high))
        if held.draws:
            self._shares(held)

    def _tail(self, held: Holding) -> str:
        if held.missing:
            return OUTSIDE
        if held.parent is not None:
            return self._drawn(held.parent)
        if held.poured:
            return self._node(f"into {held.key}", Place(thing=held))
        return self._stage(held.made_by)

    def _head(self, held: Holding) -> str:
        if held.draws:
            return self._drawn(held)
        if held.pool is not None and self._speaks(held.pool):
            return self._node(f"into {held.pool.key}", Place(thing=held.pool))
        return self._stage(held.used_by)

    def _drawn(self, lot: Holding) -> str:
        """The node at which a lot is divided; none where more was taken than it held."""
        if not self._speaks(lot) or self._overdrawn(lot):
            return OUTSIDE
        return self._node(f"from {lot.key}", Place(thing=lot))

    def _overdrawn(self, lot: Holding) -> bool:
        if id(lot) not in self.overdrawn:
            self.overdrawn[id(lot)] = any(part.missing for part in lot.draws)
        return self.overdrawn[id(lot)]

    def _stage(self, key: StageKey | None) -> str:
        if key is None or self.metal not in self.runs.get(key.run, ()):
            return OUTSIDE
        return self._node(f"{key.run}: stage {key.index}", Place(stage=key))

    def _node(self, name: str, place: Place) -> str:
        self.places.setdefault(name, place)
        return name

    def _speaks(self, held: Holding) -> bool:
        return self.metal in self.spoken[id(held)]

    def open_ends(self) -> None:
        """Let metal come from outside where no entry says what went into a stage.

        Otherwise what it gave would have to hold nothing; and the same the other way round.
        """
        made_into = {arc.head for arc in self.arcs}
        taken_from = {arc.tail for arc in self.arcs}
        loose = {
            name
            for name, place in self.places.items()
            if place.stage is not None and (name not in made_into or name not in taken_from)
        }
        if not loose:
            return
        self.arcs = [
            replace(
                arc,
                tail=OUTSIDE if arc.tail in loose else arc.tail,
                head=OUTSIDE if arc.head in loose else arc.head,
            )
            if arc.tail in loose or arc.head in loose
            else arc
            for arc in self.arcs
        ]
        for name in loose:
            del self.places[name]

    def _shares(self, lot: Holding) -> None:
        """Tie the parts of a lot to it, where their weights tell what they hold."""
        if self._overdrawn(lot):
            return
        shares = {id(part): self.weights.share(part) for part in lot.draws}
        sampled = sampling_errors(lot, shares)
        for part in tied_parts(lot):
            share = shares[id(part)].value
            by_weight = part.key not in self.own and (
                (part.key, self.metal) not in self.jointly.contents
            )
            if share is None or sampling_of(part) is None or not by_weight:
                continue
            errors: dict[Hashable, float] = {**flat(share.errors), **sampled.get(id(part), {})}
            self.ratios.append(Ratio(part.key, lot.key, Uncertain(share.value, errors)))


def metal_network(
    metal: str,
    holdings: Iterable[Holding],
    runs: Mapping[str, tuple[str, ...]],
    contents: Contents,
    weights: Weights,
    spoken: Mapping[int, frozenset[str]],
    jointly: Jointly,
) -> MetalNetwork:
    """The network of one metal: every thing of which it is spoken."""
    network = _Network(metal, runs, contents, weights, spoken, jointly)
    for held in holdings:
        if metal in spoken[id(held)]:
            network.add(held)
    network.open_ends()
    regions: dict[str, list[str]] = {}
    for name, place in network.places.items():
        if place.stage is not None:
            regions.setdefault(place.stage.run, []).append(name)
    return MetalNetwork(
        metal,
        tuple(network.arcs),
        tuple(network.ratios),
        {run: tuple(nodes) for run, nodes in regions.items()},
        network.places,
        frozenset(name for name, place in network.places.items() if place.stage is None),
        frozenset(network.own),
    )
