"""Networks in which one thing is a share of another that nobody measured.

Then what is known is no longer a question of the graph alone: the balances, the readings and
the shares are put into one matrix, and its null spaces tell which combinations of readings
have to be nothing, which contents are given, and along which directions nothing is known.
Dense, and therefore only for parts of a network that are small.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from logbook.calculation.network.arcs import OUTSIDE, Arc, Ratio, SharedSum
from logbook.calculation.network.flow import Adjust, Given, Nodes
from logbook.calculation.network.limits import Interval, program_limits
from logbook.calculation.network.parity import EXACT
from logbook.calculation.network.zones import Equation
from logbook.model.amount import Uncertain, combined
from logbook.model.errors import flat

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

PASSES = 3  # the doubt of a share is a part of the content, which is known better each time
RANK = 1e-10  # singular values below this part of the largest count as nothing
GIVEN = 1e-7  # part of an unknown direction below which a content has none of it
LARGEST = 150  # arcs, up to which dense matrices are made


class Coupled:
    """A part of a network with shares in it, as a matrix of balances, readings and shares."""

    def __init__(
        self,
        arcs: Sequence[Arc],
        ratios: Sequence[Ratio],
        jars: frozenset[str] = frozenset(),
        contents: Mapping[str, float] | None = None,
        freed: frozenset[str] = frozenset(),
    ) -> None:
        self.arcs = tuple(arcs)
        self.ratios = tuple(ratios)
        self._jars = jars
        self._place = {arc.key: at for at, arc in enumerate(arcs)}
        names = dict.fromkeys(node for arc in arcs for node in (arc.tail, arc.head))
        self.nodes = [node for node in names if node != OUTSIDE and node not in freed]
        self._contents = contents if contents is not None else self._first_contents(freed)
        self._build()

    def _first_contents(self, freed: frozenset[str]) -> Mapping[str, float]:
        """About what every arc holds, so that the doubt of its shares can be given in grams."""
        contents: Mapping[str, float] = {}
        for _ in range(PASSES):
            trial = Coupled(self.arcs, self.ratios, self._jars, contents, freed)
            contents = trial.about()
        return contents

    def _build(self) -> None:
        import numpy as np

        place = {node: at for at, node in enumerate(self.nodes)}
        balances = np.zeros((len(self.nodes), len(self.arcs)))
        for column, arc in enumerate(self.arcs):
            if arc.head in place:
                balances[place[arc.head], column] += 1.0
            if arc.tail in place:
                balances[place[arc.tail], column] -= 1.0
        exact = [one for one in self.ratios if not one.share.u]
        loose = [one for one in self.ratios if one.share.u]
        self.measured = [arc for arc in self.arcs if arc.readings]
        seen = np.zeros((len(self.measured), len(self.arcs)))
        for row, arc in enumerate(self.measured):
            seen[row, self._place[arc.key]] = 1.0
        self.fixed = np.vstack([balances, self._shares(exact)])
        self.readings = [
            *(arc.readings[-1] for arc in self.measured),
            *(self._share_reading(one) for one in loose),
        ]
        self.names = [*(arc.key for arc in self.measured), *("" for _ in loose)]
        self.matrix = np.vstack([self.fixed, seen, self._shares(loose)])
        left, sizes, right = np.linalg.svd(self.matrix, full_matrices=True)
        rank = int((sizes > RANK * max(sizes[0], 1.0)).sum()) if sizes.size else 0
        self._left, self.unknown = left[:, rank:], right[rank:].T
        inverse = np.zeros((len(self.arcs), len(self.matrix)))
        inverse[:] = (right[:rank].T / sizes[:rank]) @ left[:, :rank].T
        self._solution = inverse[:, len(self.fixed) :]

    def _shares(self, ratios: Sequence[Ratio]) -> Array:
        import numpy as np

        rows = np.zeros((len(ratios), len(self.arcs)))
        for row, one in enumerate(ratios):
            rows[row, self._place[one.part]] += 1.0
            rows[row, self._place[one.whole]] -= one.share.value
        return rows

    def _share_reading(self, ratio: Ratio) -> Uncertain:
        """x(part) − p x(whole), read as nothing, with the doubt of p in grams."""
        whole = self._contents.get(ratio.whole, 1.0)
        return Uncertain(0.0, {source: e * whole for source, e in flat(ratio.share.errors).items()})

    def about(self) -> dict[str, float]:
        """A first idea of every content [g], the smallest where it is not determined."""
        import numpy as np

        values = self._solution @ np.array([one.value for one in self.readings])
        return {arc.key: max(float(v), 0.0) for arc, v in zip(self.arcs, values, strict=True)}

    def equations(self) -> list[Equation]:
        """The combinations of readings that have to be nothing, with the losses they show."""
        combos = self._combinations()
        groups = self._groups(combos)
        found = []
        for at, combo in enumerate(combos.T):
            factors = combo[len(self.fixed) :]
            chosen = [one for one, factor in enumerate(factors) if abs(factor) > RANK]
            row = combined((float(factors[one]), self.readings[one]) for one in chosen)
            losses = tuple(
                (nodes, float(effect[at]))
                for nodes, effect in groups.items()
                if abs(effect[at]) > EXACT
            )
            keys = tuple(self.names[one] for one in chosen if self.names[one])
            found.append(Equation(row, losses, keys))
        return found

    def _combinations(self) -> Array:
        """Columns z with zᵀ M = 0 that rest on readings, not on balances alone."""
        import numpy as np

        _, sizes, turned = np.linalg.svd(self._left[len(self.fixed) :], full_matrices=False)
        found: Array = self._left @ turned[sizes > RANK].T
        return found

    def _groups(self, combos: Array) -> dict[Nodes, Array]:
        """Nodes at which a loss shows alike, with how it shows in each combination."""
        import numpy as np

        alike: dict[tuple[float, ...], list[str]] = {}
        effects: dict[tuple[float, ...], Array] = {}
        for node, row in zip(self.nodes, combos, strict=False):
            effect = -row
            if np.abs(effect).max(initial=0.0) > EXACT:
                name = tuple(np.round(effect, 8))
                alike.setdefault(name, []).append(node)
                effects[name] = effect
        return {tuple(nodes): effects[name] for name, nodes in alike.items()}

    def closed(self) -> Iterator[Nodes]:
        """The nodes of each group at which a loss shows."""
        yield from self._groups(self._combinations())

    def given(
        self, values: Mapping[str, Uncertain], freed: frozenset[str], adjust: Adjust
    ) -> list[Given]:
        """The unmeasured contents that balances, readings and shares give together."""
        now = self if not freed else self._without(freed)
        readings = [
            values[name] if name else adjust(reading)
            for name, reading in zip(now.names, now.readings, strict=True)
        ]
        self._now, self._readings = now, readings
        found = []
        for arc in self.arcs:
            if not arc.readings and now.determines(arc.key):
                side = self._side(arc, freed)
                value = now.content(arc.key, readings)
                found.append(Given(arc.key, value, side, (), value.u))
        self._found = {one.key for one in found}
        return found

    def _side(self, arc: Arc, freed: frozenset[str]) -> str:
        """From which end a content follows: it still does without the balance of the other."""
        stages = freed.union(node for node in self.nodes if node not in self._jars)
        if self._without(stages).determines(arc.key):
            return ""
        without_user = self._without(freed | {arc.head}).determines(arc.key)
        without_maker = self._without(freed | {arc.tail}).determines(arc.key)
        if without_user and without_maker:
            return "both"
        return "making" if without_user else "use" if without_maker else "both"

    def _without(self, freed: frozenset[str]) -> Coupled:
        return Coupled(self.arcs, self.ratios, self._jars, self._contents, freed)

    def determines(self, key: str) -> bool:
        """Whether a content is given by all that is here together."""
        import numpy as np

        return float(np.abs(self.unknown[self._place[key]]).max(initial=0.0)) < GIVEN

    def content(self, key: str, readings: Sequence[Uncertain]) -> Uncertain:
        """The content of an arc from the adjusted readings."""
        factors = self._solution[self._place[key]]
        return combined(
            (float(f), reading)
            for f, reading in zip(factors, readings, strict=True)
            if abs(f) > RANK
        )

    def limits(
        self, values: Mapping[str, float], gaps: Mapping[Nodes, float]
    ) -> dict[str, Interval]:
        """The limits of what is left, moving only where nothing is known."""
        import numpy as np

        free = [a.key for a in self.arcs if not a.readings and a.key not in self._found]
        if not free:
            return {}
        now = self._now
        numbers = np.array(
            [
                values[name] if name else reading.value
                for name, reading in zip(now.names, self._readings, strict=True)
            ]
        )
        target = now.matrix @ (now._solution @ numbers)
        found = program_limits(now.matrix, target, [arc.high for arc in self.arcs])
        return {key: found[self._place[key]] for key in free}

    def sums(self, values: Mapping[str, Uncertain], freed: frozenset[str]) -> Iterator[SharedSum]:
        """Sums that are given of things which are not: put together, or parts of a lot."""
        free = [arc for arc in self.arcs if not arc.readings and arc.key not in self._found]
        for node in self.nodes:
            into = [arc.key for arc in free if arc.head == node]
            out = [arc.key for arc in free if arc.tail == node]
            keys = into or out
            if len(keys) < 2 or (into and out) or node in freed:
                continue
            if (into or node in self._jars) and self._now.determines_sum(keys):
                terms = [(1.0, self._now.content(key, self._readings)) for key in keys]
                yield SharedSum(node, tuple(keys), combined(terms))

    def determines_sum(self, keys: Sequence[str]) -> bool:
        """Whether the sum of some contents is given, though they may not be."""
        import numpy as np

        rows = self.unknown[[self._place[key] for key in keys]]
        return float(np.abs(rows.sum(axis=0)).max(initial=0.0)) < GIVEN
