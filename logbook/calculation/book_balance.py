"""Every content of a book put into balance, metal by metal, and what does not close.

The engine knows arcs and numbers; here its results become figures with their working, and its
gaps get the names of stages, weighings and days. Nothing here is added to what it found.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.causes import Readings
from logbook.calculation.contents import Contents
from logbook.calculation.figure import Figure
from logbook.calculation.holdings import Holding
from logbook.calculation.joint import Jointly
from logbook.calculation.metal_network import MetalNetwork, metal_network
from logbook.calculation.network.arcs import (
    OUTSIDE,
    Known,
    OpenZone,
    Ratio,
    Reconciliation,
    SharedSum,
    Unaccounted,
)
from logbook.calculation.network.reconcile import reconcile
from logbook.calculation.results import Content, Gap, Standing
from logbook.calculation.shares import share_out
from logbook.calculation.sums import add_up, difference
from logbook.calculation.weights import Weights, in_dependency
from logbook.model.amount import Uncertain
from logbook.model.kept import Kept

SIDES = {
    "making": "any loss included",
    "use": "any later loss not included",
    "both": "checked from both sides",
}
NOTES = {
    "at zero": "at zero: the balance would have it a little below nothing, within its doubt",
    "at its weight": "at its own weight: a little more is missing, within the doubt",
    "full": "more is missing than it can hold",
}


FROM_BALANCE = "limits by the balance, as if nothing was lost unseen and without its doubt"
MOST_NODES = 40  # stages whose things are told one by one, where a content follows from them


@dataclass(frozen=True, slots=True)
class BookBalance:
    """What a book holds, thing by thing and metal by metal, and where it does not close.

    `contents` is by the key of the thing and the metal, `unaccounted` by run and metal.
    """

    contents: Mapping[tuple[str, str], Content]
    unaccounted: Mapping[tuple[str, str], Unaccounted]
    gaps: tuple[Gap, ...]

    def gaps_of(self, run: str, metal: str) -> tuple[Gap, ...]:
        """The gaps of a metal that a run has part in.

        A gap in a jar that is only divided or poured into is the jar's own, not that of the
        runs that used it; a thing that was read twice is a matter of those that read it.
        """
        return tuple(
            gap
            for gap in self.gaps
            if gap.metal == metal and run in gap.runs and (gap.stages or len(gap.things) == 1)
        )


@dataclass(frozen=True, slots=True)
class Measured:
    """The things of a book with what was measured of them."""

    holdings: Sequence[Holding]
    runs: Mapping[str, tuple[str, ...]]  # run -> the metals it speaks of
    contents: Contents
    weights: Weights
    spoken: Mapping[int, frozenset[str]]
    readings: Readings
    jointly: Jointly


def balance_book(measured: Measured, kept: Kept | None = None) -> BookBalance:
    """Put every metal of a book into balance."""
    contents: dict[tuple[str, str], Content] = {}
    unaccounted: dict[tuple[str, str], Unaccounted] = {}
    gaps: list[Gap] = []
    for metal in sorted({metal for metals in measured.spoken.values() for metal in metals}):
        network = metal_network(
            metal,
            measured.holdings,
            measured.runs,
            measured.contents,
            measured.weights,
            measured.spoken,
            measured.jointly,
        )
        found = reconcile(network.arcs, network.ratios, network.regions, network.jars, kept)
        book = _OneMetal(measured, network, found)
        contents.update(((key, metal), one) for key, one in book.contents().items())
        unaccounted.update(
            ((run, metal), one)
            for run, one in found.unaccounted.items()
            if run not in measured.jointly.runs  # there the readings themselves tell the gap
        )
        gaps += book.gaps()
    gaps.sort(key=lambda gap: -abs(gap.deviations))
    return BookBalance(contents, unaccounted, tuple(gaps))


class _OneMetal:
    """The figures of one metal."""

    def __init__(self, measured: Measured, network: MetalNetwork, found: Reconciliation) -> None:
        self._measured = measured
        self._network = network
        self._found = found
        self._things = {held.key: held for held in measured.holdings}
        self._arcs = {arc.key: arc for arc in network.arcs}
        self._beside: dict[str, list[str]] = {}
        for arc in network.arcs:
            for node in (arc.tail, arc.head):
                self._beside.setdefault(node, []).append(arc.key)

    # Contents

    def contents(self) -> dict[str, Content]:
        """What every thing holds of the metal."""
        read = self._read()
        found = {key: replace(self._content(key), read=read[key]) for key in self._arcs}
        for shared in self._found.sums:
            found.update(self._shared(shared, found))
        return found

    def _read(self) -> dict[str, Figure]:
        """What every thing holds by readings, pouring and drawing alone."""
        metal, contents = self._network.metal, self._measured.contents
        shares = {ratio.part: ratio for ratio in self._network.ratios}
        found: dict[str, Figure] = {}
        for held in in_dependency(self._measured.holdings):
            if held.key not in self._arcs:
                continue
            figure = contents.of(held, metal)
            if not figure.known and not held.missing:
                figure = self._by_drawing(held, figure, shares, found)
            found[held.key] = figure
        return found

    def _by_drawing(
        self,
        held: Holding,
        unknown: Figure,
        shares: Mapping[str, Ratio],
        found: Mapping[str, Figure],
    ) -> Figure:
        """The content of what was poured together, or drawn from a lot; unknown if not given."""
        if held.poured and all(part.key in found for part in held.poured):
            parts = [found[part.key] for part in held.poured]
            total = add_up(unknown.name, "g", parts, "sum of what was poured together")
            return total if total.known else unknown
        lot = held.parent
        whole = found.get(lot.key) if lot is not None else None
        if lot is None or whole is None or whole.value is None:
            return unknown
        if held.key in shares:
            share = self._measured.weights.share(held)
            value = whole.value * shares[held.key].share
            return Figure(unknown.name, "g", value, f"{whole.name} × share", (whole, share))
        others = [found[part.key] for part in lot.draws if part is not held and part.key in found]
        if len(others) < len(lot.draws) - 1 or not all(one.known for one in others):
            return unknown
        drawn = add_up(f"drawn from {lot.title}", "g", others)
        return difference(unknown.name, "g", whole, drawn, "the lot − what was drawn from it")

    def _content(self, key: str) -> Content:
        held = self._things[key]
        measured = self._measured.contents.of(held, self._network.metal)
        known = self._found.known.get(key) or Known(
            Standing.UNKNOWN, None, measured.low or 0.0, measured.high, why=measured.why
        )
        together = self._measured.jointly.words.get(key, "")
        if measured.value is not None and key in self._network.own:
            return self._of_measured(held, measured, known, together)
        nothing = replace(measured, value=None, low=measured.low, high=measured.high)
        if known.value is None:
            limited = self._limited(held, nothing, known)
            standing = Standing.UNKNOWN if limited.high is None else Standing.BOUNDED
            return Content(nothing, limited, standing, words="; ".join(limited.notes))
        best = self._deduced(held, nothing, known)
        return Content(
            nothing, best, Standing.DEDUCED, side=known.side, words="; ".join(best.notes)
        )

    def _of_measured(self, held: Holding, measured: Figure, known: Known, together: str) -> Content:
        joint = (held.key, self._network.metal) in self._measured.jointly.contents
        raw = known.standing is not Standing.ADJUSTED and not joint
        if raw or known.value is None or measured.value is None:
            return Content(measured, measured, Standing.MEASURED, words=together)
        best = replace(
            measured,
            value=known.value,
            formula="as measured, moved within its doubt so that the balance around it closes",
            terms=(measured,),
            rests_on=(),
        )
        moved = known.value.value - measured.value.value
        sizes = moved / measured.value.u if measured.value.u else 0.0
        words = "; ".join(one for one in (NOTES.get(known.note, ""), together) if one)
        return Content(measured, best, Standing.ADJUSTED, sizes, words=words)

    def _limited(self, held: Holding, measured: Figure, known: Known) -> Figure:
        """A content of which limits are known, with the reason why no more is.

        What nobody took is known from its making alone: as much of it may have been lost, so
        that the balance gives it no lower limit.
        """
        arc = self._arcs[held.key]
        made = arc.head == OUTSIDE and arc.tail not in self._network.jars
        low = (measured.low or 0.0) if made else max(known.low, measured.low or 0.0)
        high = known.high
        own = measured.low or 0.0, measured.high
        tighter = (low, high) != own and high is not None
        told = (NOTES.get(known.note), FROM_BALANCE if tighter else None)
        notes = (*measured.notes, *(note for note in told if note))
        return replace(measured, low=low, high=high, why=measured.why or known.why, notes=notes)

    def _deduced(self, held: Holding, measured: Figure, known: Known) -> Figure:
        """A content that follows from others, with the figures it follows from."""
        name = measured.name
        formula, terms = "what the balance around it leaves for it", self._around(held, known)
        lot = held.parent
        low, high = known.low, known.high
        side = SIDES.get(known.side)
        if not known.nodes and known.side == "" and known.value is not None:
            low = max(0.0, known.value.value - 2.0 * known.value.u)
            high = known.value.value + 2.0 * known.value.u
            if lot is not None:
                share = self._measured.weights.share(held)
                whole = self._measured.contents.of(lot, self._network.metal)
                formula, terms = f"{whole.name} × share", (whole, share)
                side = f"its share of {lot.title}"
        value, note = known.value, NOTES.get(known.note)
        if known.side == "making" and value is not None and high is not None and value.value > high:
            value, note = Uncertain(high, value.errors), NOTES["at its weight"]
        told = (side, note, self._measured.jointly.words.get(held.key))
        notes = tuple(word for word in told if word)
        return Figure(name, "g", value, formula, terms, low=low, high=high, notes=notes)

    def _around(self, held: Holding, known: Known) -> tuple[Figure, ...]:
        """The measured contents at the bounds of the nodes that give a content, if not too many."""
        if len(known.nodes) > MOST_NODES:
            return ()
        inside = set(known.nodes)
        keys = dict.fromkeys(key for node in known.nodes for key in self._beside[node])
        crossing = [
            key
            for key in keys
            if key != held.key
            and (self._arcs[key].tail in inside) != (self._arcs[key].head in inside)
        ]
        contents, metal = self._measured.contents, self._network.metal
        return tuple(contents.of(self._things[key], metal) for key in crossing)

    def _shared(self, shared: SharedSum, found: Mapping[str, Content]) -> dict[str, Content]:
        """The parts of a sum that is known, each with its share and the rule."""
        parts = [self._things[key] for key in shared.arcs]
        limits = {key: (found[key].best.low or 0.0, found[key].best.high) for key in shared.arcs}
        total = max(shared.total.value, 0.0)
        rule, sizes = share_out(total, parts, limits, self._network.metal, self._measured.weights)
        return {
            key: replace(
                found[key],
                allocated=Figure(
                    f"share of {found[key].best.name}",
                    "g",
                    shared.total.times(size / total) if total else shared.total.times(0.0),
                    f"its part by {rule} of what all {len(parts)} hold together",
                ),
                share_rule=rule,
            )
            for key, size in sizes.items()
        }

    # Gaps

    def gaps(self) -> list[Gap]:
        """Every place where the metal does not close."""
        return [self._gap(zone) for zone in self._found.open_zones]

    def _gap(self, zone: OpenZone) -> Gap:
        places = self._network.places
        stages = [one for node in zone.nodes if (one := places[node].stage) is not None]
        runs = dict.fromkeys(stage.run for stage in stages)
        if not runs:
            runs = dict.fromkeys(run for key in zone.arcs for run in self._runs_of(key))
        metal = self._network.metal
        things = self._bounds(zone)
        missing = Figure(
            f"{metal} missing",
            "g",
            zone.missing,
            self._formula(zone),
            tuple(self._measured.contents.of(self._things[key], metal) for key in things),
        )
        return Gap(
            metal=metal,
            group=" + ".join(runs),
            runs=tuple(runs),
            stages=tuple(stages),
            things=things,
            missing=missing,
            deviations=zone.missing.value / zone.missing.u if zone.missing.u else 0.0,
            causes=self._measured.readings.causes(zone, places),
        )

    def _bounds(self, zone: OpenZone) -> tuple[str, ...]:
        """The things at the bounds of a gap."""
        if not zone.nodes:
            return zone.arcs
        inside = set(zone.nodes)
        keys = dict.fromkeys(key for node in zone.nodes for key in self._beside[node])
        return tuple(
            key
            for key in keys
            if (self._arcs[key].tail in inside) != (self._arcs[key].head in inside)
        )

    def _formula(self, zone: OpenZone) -> str:
        return {
            "readings": "one reading of it − the reading that counts",
            "below nothing": "in − out, which leaves less than nothing for what was not measured",
            "overfull": "the most that it can hold − what came out of it",
        }.get(zone.kind, "in − out, as the rest of the book has it")

    def _runs_of(self, key: str) -> Iterable[str]:
        held = self._things[key]
        one: Holding | None = held
        while one is not None and one.used_by is None and one.pool is not None:
            one = one.pool
        for stage in (held.made_by, one.used_by if one is not None else None):
            if stage is not None:
                yield stage.run
