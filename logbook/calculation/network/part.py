"""One part of a network that touches no other: tested, adjusted, and what follows from it."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import replace
from math import inf

from logbook.calculation.network.arcs import (
    OUTSIDE,
    Arc,
    Known,
    Ratio,
    Reconciliation,
    SharedSum,
    Unaccounted,
)
from logbook.calculation.network.coupled import LARGEST, Coupled
from logbook.calculation.network.flow import Flow, Given, Nodes
from logbook.calculation.network.known import (
    held_at_nothing,
    impossible,
    moved,
    of_given,
    of_limits,
    of_reading,
)
from logbook.calculation.network.parity import Loss
from logbook.calculation.network.testing import Tested, tested
from logbook.calculation.network.zones import Joined, blocks_of, repeats_of
from logbook.model.amount import Uncertain, combined
from logbook.model.errors import flat

Regions = Mapping[str, Sequence[str]]
NOT_MEASURED = "it was not measured, and what is around it does not give it"
OPEN = "it was not measured, and the balance around it does not close"


class Part:
    """A part of a network, and everything that is found out about it."""

    def __init__(
        self,
        arcs: Sequence[Arc],
        ratios: Sequence[Ratio],
        regions: Regions,
        jars: frozenset[str] = frozenset(),
    ) -> None:
        self._arcs = {arc.key: arc for arc in arcs}
        self._nets = nets_of(arcs, ratios, jars)
        here = {node for arc in arcs for node in (arc.tail, arc.head)} - {OUTSIDE}
        self._regions = {
            name: own for name, nodes in regions.items() if (own := [n for n in nodes if n in here])
        }
        equations = repeats_of(arcs)
        for net in self._nets:
            equations += net.equations()
        self._tested = [tested(block) for block in blocks_of(equations)]
        self._block_of = {source: one.kept for one in self._tested for source in one.kept.sources}
        self._zones = [zone for at, one in enumerate(self._tested) for zone in one.open_zones(at)]

    def reconciled(self) -> Reconciliation:
        """Everything that is known of the part."""
        freed = frozenset(node for zone in self._zones for node in zone.nodes)
        best = {
            key: self._adjusted(arc.readings[-1]) for key, arc in self._arcs.items() if arc.readings
        }
        given = {
            one.key: one for net in self._nets for one in net.given(best, freed, self._adjusted)
        }
        wrong = [
            zone
            for key, one in given.items()
            if (zone := impossible(one, self._arcs[key])) is not None
        ]
        self._zones += wrong
        numbers, known = self._known(best, given, {zone.arcs[0] for zone in wrong})
        sums: list[SharedSum] = []
        gaps = {zone.nodes: zone.missing.value for zone in self._zones if zone.kind == "gap"}
        both = {**best, **{key: one.value for key, one in given.items()}}
        for net in self._nets:
            for key, interval in net.limits(numbers, gaps).items():
                arc = self._arcs[key]
                known[key] = of_limits(
                    interval, OPEN if {arc.tail, arc.head} & freed else NOT_MEASURED
                )
            sums += net.sums(both, freed)
        return Reconciliation(
            known={key: known[key] for key in self._arcs if key in known},
            blocks=tuple(one.block() for one in self._tested),
            open_zones=tuple(self._zones),
            checked={node: at for at, one in enumerate(self._tested) for node in one.nodes},
            sums=tuple(sums),
            unaccounted=self._unaccounted(),
        )

    def _adjusted(self, reading: Uncertain) -> Uncertain:
        """A reading as every block that shares an error with it would have it."""
        blocks = {
            id(block): block
            for source in flat(reading.errors)
            if (block := self._block_of.get(source)) is not None
        }
        for block in blocks.values():
            reading = block.adjusted(reading)
        return reading

    def _known(
        self, best: Mapping[str, Uncertain], given: Mapping[str, Given], wrong: set[str]
    ) -> tuple[dict[str, float], dict[str, Known]]:
        """What is known of all that has a value, and the values themselves."""
        raw = self._raw()
        values = {**best, **{key: one.value for key, one in given.items() if key not in wrong}}
        numbers = held_at_nothing(values, raw)
        known = {}
        for key, value in best.items():
            reading = self._arcs[key].readings[-1]
            checked = key not in raw and (
                moved(self._arcs[key].readings, value) or numbers[key] != value.value
            )
            known[key] = of_reading(reading, value, numbers[key], checked=checked)
        for key, one in given.items():
            arc = self._arcs[key]
            if key in wrong:
                known[key] = of_limits((0.0, inf if arc.high is None else arc.high), OPEN)
                numbers[key] = max(0.0, min(one.value.value, arc.high or one.value.value))
            else:
                known[key] = of_given(one, numbers[key], arc)
        return numbers, known

    def _raw(self) -> set[str]:
        """The measured things at the bounds of a gap: they stay as they were read.

        A thing that was read twice is no such bound: the reading to go by counts as any other.
        """
        nodes = {node for zone in self._zones for node in zone.nodes}
        return {
            key
            for key, arc in self._arcs.items()
            if arc.readings and (arc.tail in nodes or arc.head in nodes)
        }

    # Regions

    def _unaccounted(self) -> dict[str, Unaccounted]:
        """What is missing over each region, its own balances dropped and all others kept."""
        group_of = {node: nodes for net in self._nets for nodes in net.closed() for node in nodes}
        joined = Joined()
        for name, nodes in self._regions.items():
            joined.join(("region", name), ("region", name))
            for node in nodes:
                if node in group_of:
                    joined.join(("region", name), group_of[node])
        groups: dict[Hashable, list[str]] = {}
        for name in self._regions:
            groups.setdefault(joined.find(("region", name)), []).append(name)
        found = {}
        for names in groups.values():
            value = self._missing(names, group_of)
            for name in names:
                found[name] = Unaccounted(value, tuple(names))
        return found

    def _missing(self, names: Sequence[str], group_of: Mapping[str, Nodes]) -> Uncertain | None:
        nodes = [node for name in names for node in self._regions[name]]
        if any(node not in group_of for node in nodes):
            return None
        wanted = set(dict.fromkeys(group_of[node] for node in nodes))
        terms: list[Uncertain] = []
        for one in self._tested:
            own = [loss for loss in one.whole.losses if loss.nodes in wanted]
            if own:
                terms += self._estimates(one, own)
        return combined((1.0, term) for term in terms) if terms else None

    def _estimates(self, one: Tested, own: Sequence[Loss]) -> list[Uncertain]:
        """Losses of a block, free together with those that its own gaps have already."""
        freed = {(loss.nodes, loss.arc) for loss in one.freed}
        more = [
            loss for loss in one.whole.losses if (loss.nodes, loss.arc) in freed and loss not in own
        ]
        return one.whole.estimates([*own, *more])[: len(own)]


def nets_of(
    arcs: Iterable[Arc], ratios: Sequence[Ratio], jars: frozenset[str]
) -> list[Flow | Coupled]:
    """Nodes that unmeasured things or shares tie together, each with the arcs around it.

    A measured thing between two nets comes from outside for both: what it says in each is put
    together in the equations. Where there are shares the graph does not tell all; a net too
    large for a full matrix is taken as a flow, and then its shares tell nothing.
    """
    joined = Joined()
    every = {arc.key: arc for arc in arcs}
    for arc in every.values():
        if not arc.readings and OUTSIDE not in (arc.tail, arc.head):
            joined.join(arc.tail, arc.head)
    for ratio in ratios:
        ends = [n for key in (ratio.part, ratio.whole) for n in _ends(every[key])]
        for node in ends:
            joined.join(ends[0], node)
    groups: dict[Hashable, list[Arc]] = {}
    for arc in every.values():
        nets = {joined.find(node): node for node in _ends(arc)}
        for net in nets:
            tail = arc.tail if joined.find(arc.tail) == net else OUTSIDE
            head = arc.head if joined.find(arc.head) == net else OUTSIDE
            groups.setdefault(net, []).append(replace(arc, tail=tail, head=head))
    shares: dict[Hashable, list[Ratio]] = {}
    for ratio in ratios:
        for node in _ends(every[ratio.part])[:1]:
            shares.setdefault(joined.find(node), []).append(ratio)
    return [
        Coupled(own, shares[net], jars)
        if net in shares and len(own) <= LARGEST
        else Flow(own, jars)
        for net, own in groups.items()
    ]


def _ends(arc: Arc) -> list[str]:
    return [node for node in (arc.tail, arc.head) if node != OUTSIDE]
