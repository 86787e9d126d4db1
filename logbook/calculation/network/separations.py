"""Physical separations: masses and assays of all their pieces reconciled together.

Sorting, screening or a magnet conserve the total mass as well as each metal, so a weighing
helps an assay and the other way round. Contents are mass times assay, which makes the problem
bilinear; with masses and contents as the unknowns the balances are linear, and only the assay,
a ratio of the two, has to be taken by its slope, again and again until nothing moves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from logbook.calculation.network.arcs import OUTSIDE
from logbook.calculation.network.parity import Equations, Loss
from logbook.model.amount import Uncertain, combined

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEPS = 50
SMALL_STEP = 1e-12  # of the size of each unknown
RANK = 1e-10
GIVEN = 1e-7


@dataclass(frozen=True, slots=True)
class Piece:
    """A thing at a physical separation, as it was read: mass [g], assays [g/g], contents [g]."""

    key: str
    tail: str
    head: str
    mass: tuple[Uncertain, ...]
    assays: Mapping[str, tuple[Uncertain, ...]] = field(default_factory=dict)
    contents: Mapping[str, tuple[Uncertain, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Separated:
    """Masses [g], assays [g/g] and contents [g] that fulfil every balance; None where not given.

    `freedom` is the degrees of freedom, `passes` whether the readings agree within their
    doubts. Where it has not `converged`, nothing in it may be used.
    """

    masses: Mapping[str, Uncertain | None]
    contents: Mapping[str, Mapping[str, Uncertain | None]]
    assays: Mapping[str, Mapping[str, Uncertain | None]]
    chi_square: float
    freedom: int
    passes: bool
    converged: bool


def reconcile_pieces(pieces: Sequence[Piece]) -> Separated:
    """Reconcile the masses and assays of the pieces of separations that hang together.

    Equations: Σ s_k m_k = 0 and Σ s_k m_k a_kj = 0 at each separation and for each metal j,
    with s_k = +1 in and −1 out; minimised is the sum of the squared standardised corrections
    of what was read of m and a. Source: Crowe (1986), Simpson, Voller and Everett (1991) (from
    memory); solved by Gauss-Newton steps.

    Of 100 g with 10 % silver one half holds 16 %; the other 4 %, by the two-product formula:

    >>> def read(value):
    ...     return (Uncertain.of(value, 0.001 * value, object()),)
    >>> found = reconcile_pieces([
    ...     Piece("feed", "", "screen", read(100.0), {"silver": read(0.10)}),
    ...     Piece("fine", "screen", "", (), {"silver": read(0.16)}),
    ...     Piece("coarse", "screen", "", (), {"silver": read(0.04)})])
    >>> round(found.masses["fine"].value, 6), found.freedom
    (50.0, 0)
    """
    problem = _Problem(pieces)
    point, converged = problem.start(), False
    for _ in range(STEPS):
        step = problem.linear(point).point - point
        point = point + step
        if (abs(step) <= SMALL_STEP * problem.scale).all():
            converged = True
            break
    return problem.read_off(problem.linear(point), converged=converged)


@dataclass(frozen=True, slots=True)
class _Reading:
    """What was read: a mass, a content, or an assay; the places of mass and content."""

    value: Uncertain
    mass: int = -1
    content: int = -1


class _Problem:
    """The unknowns of some pieces: all masses, then the contents metal by metal."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = tuple(pieces)
        self.metals = list(dict.fromkeys(m for one in pieces for m in (*one.assays, *one.contents)))
        self.count = len(pieces)
        self.readings = [*self._read()]
        self.fixed, self.nodes = self._balances()
        self.scale = self._sizes()

    def _read(self) -> list[_Reading]:
        found = []
        for at, piece in enumerate(self.pieces):
            found += [_Reading(one, mass=at) for one in piece.mass]
            for place, metal in enumerate(self.metals, start=1):
                content = at + place * self.count
                found += [_Reading(one, -1, content) for one in piece.contents.get(metal, ())]
                found += [_Reading(one, at, content) for one in piece.assays.get(metal, ())]
        return found

    def _balances(self) -> tuple[Array, list[str]]:
        import numpy as np

        names = dict.fromkeys(n for one in self.pieces for n in (one.tail, one.head))
        nodes = [name for name in names if name != OUTSIDE]
        net = np.zeros((len(nodes), self.count))
        for column, piece in enumerate(self.pieces):
            for node, sign in ((piece.head, 1.0), (piece.tail, -1.0)):
                if node != OUTSIDE:
                    net[nodes.index(node), column] += sign
        kinds = 1 + len(self.metals)
        fixed: Array = np.kron(np.eye(kinds), net).astype(float)
        return fixed, nodes * kinds

    def _sizes(self) -> Array:
        """About how large each unknown is, so that small ones count as much as large ones."""
        import numpy as np

        masses = [one.value.value for one in self.readings if one.content < 0]
        largest = max((abs(mass) for mass in masses), default=1.0) or 1.0
        sizes = [np.full(self.count, largest)]
        for metal in self.metals:
            assays = [abs(one.value) for p in self.pieces for one in p.assays.get(metal, ())]
            held = [abs(one.value) for p in self.pieces for one in p.contents.get(metal, ())]
            size = max([largest * max(assays, default=0.0), *held]) or largest
            sizes.append(np.full(self.count, size))
        return np.concatenate(sizes)

    def start(self) -> Array:
        """A first point: masses as read, or as the balances give them; contents from those."""
        import numpy as np

        masses = self._first_masses()
        point = [masses]
        for metal in self.metals:
            assays = [self._first_assay(piece, metal) for piece in self.pieces]
            known = [assay for assay in assays if assay is not None]
            usual = sum(known) / len(known) if known else 0.0
            contents = [
                piece.contents[metal][-1].value
                if piece.contents.get(metal)
                else mass * (usual if assay is None else assay)
                for piece, mass, assay in zip(self.pieces, masses, assays, strict=True)
            ]
            point.append(np.array(contents))
        return np.concatenate(point)

    def _first_assay(self, piece: Piece, metal: str) -> float | None:
        assays = piece.assays.get(metal, ())
        return assays[-1].value if assays else None

    def _first_masses(self) -> Array:
        """Unmeasured masses by least squares of all balances, with the assays as read."""
        import numpy as np

        net = self.fixed[: len(self.nodes) // (1 + len(self.metals)), : self.count]
        matrix = np.vstack([net, *(row for m in self.metals for row in self._assayed(net, m))])
        masses = np.array([one.mass[-1].value if one.mass else 0.0 for one in self.pieces])
        free = [at for at, one in enumerate(self.pieces) if not one.mass]
        if free:
            found = np.linalg.lstsq(matrix[:, free], -matrix @ masses, rcond=None)[0]
            masses[free] = np.maximum(found, 1e-3 * self.scale[0])
        return masses

    def _assayed(self, net: Array, metal: str) -> Iterator[Array]:
        """The balances of a metal at nodes around which all is assayed, as rows of masses."""
        import numpy as np

        assays = [self._first_assay(piece, metal) for piece in self.pieces]
        size = max((abs(one) for one in assays if one is not None), default=0.0) or 1.0
        known = np.array([one is not None for one in assays])
        values = np.array([one or 0.0 for one in assays]) / size
        yield from (row * values for row in net if known[row != 0.0].all())

    def linear(self, point: Array) -> _Linear:
        """The problem with every assay taken by its slope at a point, solved."""
        return _Linear(self, point)

    def read_off(self, solved: _Linear, *, converged: bool) -> Separated:
        """The figures of every piece."""
        masses = {one.key: solved.unknown(at) for at, one in enumerate(self.pieces)}
        contents: dict[str, dict[str, Uncertain | None]] = {one.key: {} for one in self.pieces}
        assays: dict[str, dict[str, Uncertain | None]] = {one.key: {} for one in self.pieces}
        for place, metal in enumerate(self.metals, start=1):
            for at, piece in enumerate(self.pieces):
                content, mass = solved.unknown(at + place * self.count), masses[piece.key]
                contents[piece.key][metal] = content
                both = content is not None and mass is not None and mass.value != 0.0
                assays[piece.key][metal] = content / mass if both and content and mass else None
        equations = solved.equations
        return Separated(
            masses,
            contents,
            assays,
            equations.chi_square,
            equations.freedom,
            equations.passes,
            converged,
        )


class _Linear:
    """The separations with every assay taken by its slope at a point."""

    def __init__(self, problem: _Problem, point: Array) -> None:
        import numpy as np

        self._point = point
        self._fixed = problem.fixed * problem.scale
        self._scale = problem.scale
        slopes = np.zeros((len(problem.readings), point.size))
        self._targets: list[Uncertain] = []  # of the readings, less what the point has
        sizes = []
        for row, one in enumerate(problem.readings):
            now = self._slope(slopes[row], one, point)
            size = float(np.abs(slopes[row] * self._scale).max()) or 1.0
            sizes.append(size)
            self._targets.append(
                Uncertain((one.value.value - now) / size, one.value.times(1.0 / size).errors)
            )
        slopes = slopes * self._scale / np.array(sizes)[:, None]
        norms = np.abs(self._fixed).max(axis=1, keepdims=True)
        self._fixed = self._fixed / np.where(norms == 0.0, 1.0, norms)
        self._short = -(self._fixed @ (point / self._scale))
        matrix = np.vstack([self._fixed, slopes])
        left, sizes_, right = np.linalg.svd(matrix, full_matrices=True)
        rank = int((sizes_ > RANK * sizes_[0]).sum())
        self._left, self._unknown = left[:, rank:], right[rank:].T
        self._solution = (right[:rank].T / sizes_[:rank]) @ left[:, :rank].T
        self.equations = self._equations(problem.nodes)
        self._adjusted = [self.equations.adjusted(target) for target in self._targets]

    def _slope(self, row: Array, one: _Reading, point: Array) -> float:
        """Fill in how a reading follows the unknowns; its value at the point."""
        if one.content < 0:
            row[one.mass] = 1.0
            return float(point[one.mass])
        if one.mass < 0:
            row[one.content] = 1.0
            return float(point[one.content])
        mass, content = float(point[one.mass]), float(point[one.content])
        row[one.content] = 1.0 / mass
        row[one.mass] = -content / mass**2
        return content / mass

    def _equations(self, nodes: Sequence[str]) -> Equations:
        """The combinations of readings that have to be nothing."""
        import numpy as np

        first = len(self._fixed)
        _, sizes, turned = np.linalg.svd(self._left[first:], full_matrices=False)
        rows: list[Uncertain] = []
        losses: dict[int, dict[int, float]] = {}
        for at, combo in enumerate((self._left @ turned[sizes > RANK].T).T):
            shift = -float(combo[:first] @ self._short)
            row = combined(
                (float(factor), target)
                for factor, target in zip(combo[first:], self._targets, strict=True)
                if abs(factor) > RANK
            )
            rows.append(Uncertain(row.value - shift, row.errors))
            for place, effect in enumerate(combo[:first]):
                if abs(effect) > RANK:
                    losses.setdefault(place, {})[at] = -float(effect)
        return Equations(rows, [Loss((nodes[p],), effect) for p, effect in losses.items()])

    @property
    def point(self) -> Array:
        """The best point of the linear problem."""
        import numpy as np

        values = [one.value for one in self._adjusted]
        step: Array = self._solution @ np.concatenate([self._short, values])
        return self._point + step * self._scale

    def unknown(self, place: int) -> Uncertain | None:
        """An unknown with its doubt; None where nothing gives it."""
        import numpy as np

        if float(np.abs(self._unknown[place]).max(initial=0.0)) > GIVEN:
            return None
        factors = self._solution[place]
        first = len(self._fixed)
        scale = float(self._scale[place])
        moved = combined(
            (float(factor) * scale, one)
            for factor, one in zip(factors[first:], self._adjusted, strict=True)
            if abs(factor) > RANK
        )
        shift = float(factors[:first] @ self._short) * scale
        return Uncertain(float(self._point[place]) + shift + moved.value, moved.errors)
