"""A network of one metal put into balance: tested first, then adjusted, then what follows.

The order of the work stands here. Where a balance does not close nothing is adjusted to hide
it: the readings there stay as they are, and the gap is handed on with its likeliest causes.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import replace
from functools import partial

from logbook.calculation.network.arcs import (
    OUTSIDE,
    Arc,
    Block,
    Known,
    OpenZone,
    Ratio,
    Reconciliation,
    SharedSum,
    Unaccounted,
)
from logbook.calculation.network.part import Part, Regions
from logbook.calculation.network.zones import Joined
from logbook.model.amount import Uncertain, combined
from logbook.model.errors import flat
from logbook.model.kept import Kept


def reconcile(
    arcs: Sequence[Arc],
    ratios: Sequence[Ratio] = (),
    regions: Regions | None = None,
    jars: frozenset[str] = frozenset(),
    kept: Kept | None = None,
) -> Reconciliation:
    """Put a network into balance.

    Minimises (y − x)ᵀ V⁻¹ (y − x) [all in grams] over contents x that are conserved at every
    node, where the balances pass their tests. `regions` are groups of nodes, such as the
    stages of a run, for which the unaccounted metal is told; `jars` are nodes at which things
    are only divided or poured together, so that nothing gets lost there unnoticed. A part of
    the network that is as it was is taken from `kept`.

    100 g went in and 60 and 44 came out, each weighed to 1 g: the gap of −4 g is 2.3 of its
    standard deviations, so it stays open. With 43 it closes, and each moves by 1 g:

    >>> from logbook.model.amount import Uncertain, combined
    >>> def weighed(grams, name):
    ...     return (Uncertain.of(grams, 1.0, name),)
    >>> def stage(last):
    ...     return [Arc("in", "", "melt", weighed(100, "a")),
    ...             Arc("bar", "melt", "", weighed(60, "b")),
    ...             Arc("rest", "melt", "", weighed(last, "c"))]
    >>> len(reconcile(stage(44)).open_zones)
    1
    >>> [round(one.value.value, 6) for one in reconcile(stage(43)).known.values()]
    [101.0, 59.0, 42.0]
    """
    regions = regions or {}
    kept = kept if kept is not None else Kept()
    nodes = {node: name for name, own in regions.items() for node in own}
    found = []
    for own, tied in parts_of(*read(arcs, ratios)):
        here = {node for arc in own for node in (arc.tail, arc.head)}
        around = {nodes[node]: regions[nodes[node]] for node in sorted(here & nodes.keys())}
        part = partial(_reconciled, own, tied, around, jars & here)
        found.append(kept.made(_all_of(own, tied, around, jars & here), part))
    return together(found)


def _reconciled(
    arcs: Sequence[Arc], ratios: Sequence[Ratio], regions: Regions, jars: frozenset[str]
) -> Reconciliation:
    return Part(arcs, ratios, regions, jars).reconciled()


def _all_of(
    arcs: Sequence[Arc], ratios: Sequence[Ratio], regions: Regions, jars: frozenset[str]
) -> Hashable:
    """Everything that a part is made of; readings are the same only if their sources are."""
    return (
        tuple((a.key, a.tail, a.head, a.high, tuple(map(_as_read, a.readings))) for a in arcs),
        tuple((one.part, one.whole, _as_read(one.share)) for one in ratios),
        tuple((name, tuple(nodes)) for name, nodes in regions.items()),
        jars,
    )


def _as_read(value: Uncertain) -> Hashable:
    return value.value, frozenset(flat(value.errors).items())


def read(arcs: Sequence[Arc], ratios: Sequence[Ratio]) -> tuple[Sequence[Arc], Sequence[Ratio]]:
    """Turn a share of a measured thing into a reading of the part.

    Both say the same: a reading of the part and the reading of the whole err together.
    """
    by_key = {arc.key: arc for arc in arcs}
    tied = []
    for ratio in ratios:
        whole, part = by_key[ratio.whole], by_key[ratio.part]
        if whole.readings:
            reading = whole.readings[-1] * ratio.share
            by_key[ratio.part] = replace(part, readings=(reading, *part.readings))
        else:
            tied.append(ratio)
    return list(by_key.values()), tied


def parts_of(arcs: Sequence[Arc], ratios: Sequence[Ratio]) -> list[tuple[list[Arc], list[Ratio]]]:
    """The network in parts that share neither a node nor a source of error."""
    joined = Joined()
    for arc in arcs:
        own = ("arc", arc.key)
        for node in (arc.tail, arc.head):
            if node != OUTSIDE:
                joined.join(own, ("node", node))
        for reading in arc.readings:
            for source in flat(reading.errors):
                joined.join(own, ("source", source))
    for ratio in ratios:
        joined.join(("arc", ratio.part), ("arc", ratio.whole))
        for source in flat(ratio.share.errors):
            joined.join(("arc", ratio.part), ("source", source))
    found: dict[Hashable, tuple[list[Arc], list[Ratio]]] = {}
    for arc in arcs:
        found.setdefault(joined.find(("arc", arc.key)), ([], []))[0].append(arc)
    for ratio in ratios:
        found[joined.find(("arc", ratio.part))][1].append(ratio)
    return list(found.values())


def together(parts: Iterable[Reconciliation]) -> Reconciliation:
    """Several reconciled parts as one. A region that lies in several adds up what they tell."""
    known: dict[str, Known] = {}
    blocks: list[Block] = []
    zones: list[OpenZone] = []
    checked: dict[str, int] = {}
    sums: list[SharedSum] = []
    told: list[Unaccounted] = []
    for part in parts:
        first = len(blocks)
        known.update(part.known)
        blocks += part.blocks
        zones += [
            replace(one, block=one.block + first) if one.block >= 0 else one
            for one in part.open_zones
        ]
        checked.update({node: at + first for node, at in part.checked.items()})
        sums += part.sums
        told += {one.regions: one for one in part.unaccounted.values()}.values()
    unaccounted = _added_up(told)
    return Reconciliation(known, tuple(blocks), tuple(zones), checked, tuple(sums), unaccounted)


def _added_up(told: Sequence[Unaccounted]) -> dict[str, Unaccounted]:
    """What each region misses over all parts; regions with one gap between them tell the same."""
    joined = Joined()
    for one in told:
        for name in one.regions:
            joined.join(one.regions[0], name)
    groups: dict[Hashable, list[Unaccounted]] = {}
    for one in told:
        groups.setdefault(joined.find(one.regions[0]), []).append(one)
    found = {}
    for group in groups.values():
        values = [one.value for one in group if one.value is not None]
        value = combined((1.0, one) for one in values) if len(values) == len(group) else None
        names = tuple(sorted({name for one in group for name in one.regions}))
        found.update(dict.fromkeys(names, Unaccounted(value, names)))
    return found
