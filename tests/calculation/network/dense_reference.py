"""The same balance a second way: dense matrices and the formulas of the textbooks.

With contents x that fulfil A x = 0 and readings y = H x + e, e of covariance V, the best x is
the x = N w (N a basis of the null space of A) with the least (y − H x)ᵀ V⁻¹ (y − H x). Tests:
t = V⁻¹ (y − H x), P = V⁻¹ (V − H C Hᵀ) V⁻¹, z = fᵀ t / √(fᵀ P f) for an error of signature f.
Sources (from memory): Narasimhan and Jordache, Data Reconciliation and Gross Error Detection
(2000), chapters 3 and 7; Crowe, Garcia Campos, Hrymak, AIChE J. 29 (1983) 881-888; Mah and
Tamhane, AIChE J. 28 (1982) 828-830; Narasimhan and Mah, AIChE J. 33 (1987) 1514-1521.
Nothing here is taken from the engine but its records of arcs.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Mapping, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from logbook.calculation.network.arcs import OUTSIDE, Arc, Ratio

Array = NDArray[np.float64]

ALPHA = 0.0455  # the rules of the metal balance
SMALL = 1e-9  # relative: what is nothing in the arithmetic of this module


class Dense:
    """A network of arcs and ratios as matrices, solved when it is asked."""

    def __init__(
        self,
        arcs: Sequence[Arc],
        ratios: Sequence[Ratio] = (),
        wholes: Mapping[str, float] | None = None,
        without: Collection[str] = (),
    ) -> None:
        """`wholes` are the contents that the doubts of shares are taken of.

        `without` are nodes whose balances are left out.
        """
        self.keys = [arc.key for arc in arcs]
        self.at = {key: place for place, key in enumerate(self.keys)}
        self.nodes = list(
            dict.fromkeys(
                n for arc in arcs for n in (arc.tail, arc.head) if n not in (OUTSIDE, *without)
            )
        )
        self.A = np.zeros((len(self.nodes), len(arcs)))
        for place, arc in enumerate(arcs):
            if arc.head in self.nodes:
                self.A[self.nodes.index(arc.head), place] += 1.0
            if arc.tail in self.nodes:
                self.A[self.nodes.index(arc.tail), place] -= 1.0
        self.highs = [arc.high for arc in arcs]
        rows: list[tuple[Array, float, Mapping[Hashable, float]]] = []
        self.read: list[str] = []  # the arc of each reading; "" for a share
        for arc in arcs:
            for reading in arc.readings:
                rows.append((self._unit(arc.key), reading.value, reading.errors))
                self.read.append(arc.key)
        exact = []
        for ratio in ratios:
            row = self._unit(ratio.part) - ratio.share.value * self._unit(ratio.whole)
            if not ratio.share.errors:
                exact.append(row)
                continue
            whole = (wholes or {}).get(ratio.whole, 0.0)
            errors = {source: e * whole for source, e in ratio.share.errors.items()}
            rows.append((row, 0.0, errors))
            self.read.append("")
        self.constraints = np.vstack([self.A, *exact]) if exact else self.A
        self.sources = list(dict.fromkeys(source for _, _, errors in rows for source in errors))
        self.H = np.array([row for row, _, _ in rows]).reshape(len(rows), len(arcs))
        self.y = np.array([value for _, value, _ in rows])
        self.E = np.zeros((len(rows), len(self.sources)))
        place = {source: n for n, source in enumerate(self.sources)}
        for n, (_, _, errors) in enumerate(rows):
            for source, error in errors.items():
                self.E[n, place[source]] = error

    def _unit(self, key: str) -> Array:
        row = np.zeros(len(self.keys))
        row[self.at[key]] = 1.0
        return row

    @property
    def says_twice(self) -> bool:
        """Whether an exact share only says again what conservation says."""
        return rank(self.constraints) < len(self.constraints)

    @cached_property
    def V(self) -> Array:  # noqa: N802 (the letter of the formula)
        """The covariance of the readings."""
        return np.asarray(self.E @ self.E.T)

    @cached_property
    def _null(self) -> Array:
        return null_space(self.constraints)

    @cached_property
    def _white(self) -> Array:
        """L⁻¹ where V = L Lᵀ."""
        return np.asarray(np.linalg.inv(np.linalg.cholesky(self.V)))

    @cached_property
    def _parts(self) -> tuple[Array, Array]:
        """G with x = G y, and a basis of the directions in w that no reading sees."""
        seen = self._white @ self.H @ self._null
        left, sizes, right = np.linalg.svd(seen, full_matrices=True)
        rank = int((sizes > SMALL * max(sizes.max(initial=0.0), 1.0)).sum())
        inverse = right[:rank].T @ ((left[:, :rank] / sizes[:rank]).T)
        return self._null @ inverse @ self._white, self._null @ right[rank:].T

    @property
    def G(self) -> Array:  # noqa: N802
        """The linear estimator: x = G y."""
        return self._parts[0]

    @cached_property
    def x(self) -> Array:
        """The best contents; only those that are `determined` mean anything."""
        return np.asarray(self.G @ self.y)

    @cached_property
    def C(self) -> Array:  # noqa: N802
        """The covariance of the best contents."""
        return np.asarray(self.G @ self.V @ self.G.T)

    @cached_property
    def determined(self) -> NDArray[np.bool_]:
        """Whether conservation and the readings give each content."""
        unseen = self._parts[1]
        return np.asarray(np.abs(unseen).max(axis=1, initial=0.0) < 1e-7)

    @cached_property
    def t(self) -> Array:
        """V⁻¹ (y − H x)."""
        return np.asarray(self._white.T @ self._white @ (self.y - self.H @ self.x))

    @cached_property
    def P(self) -> Array:  # noqa: N802
        """The covariance of t."""
        inverse = self._white.T @ self._white
        return np.asarray(inverse @ (self.V - self.H @ self.C @ self.H.T) @ inverse)

    @property
    def chi_square(self) -> float:
        """The weighted sum of squares that is left."""
        return float(self.t @ self.V @ self.t)

    @property
    def moves(self) -> NDArray[np.bool_]:
        """Whether least squares can move each reading at all."""
        own = np.diag(self.V)
        return np.asarray(np.diag(self.V @ self.P @ self.V) > 1e-8 * own)

    def block(self, signatures: Sequence[Array]) -> tuple[float, int]:
        """X² and degrees of freedom of the part of it that errors of these signatures show in.

        With F the signatures: (Fᵀ t)ᵀ (Fᵀ P F)⁺ (Fᵀ t), and the rank of Fᵀ P F.
        """
        shown = np.array(signatures) / [[np.linalg.norm(one) or 1.0] for one in signatures]
        spread, score = shown @ self.P @ shown.T, shown @ self.t
        sizes, ways = np.linalg.eigh(spread)
        kept = sizes > 1e-8 * sizes.max(initial=0.0)
        along = ways[:, kept].T @ score
        return float(np.sum(along**2 / sizes[kept])), int(kept.sum())

    @property
    def freedom(self) -> int:
        """Readings less what they determine."""
        both = rank(np.vstack([self.constraints, self.H])) - rank(self.constraints)
        return len(self.y) - both

    def power(self, signature: Array) -> float:
        """fᵀ P f, nothing where only rounding is left of it."""
        found = float(signature @ self.P @ signature)
        raw = float(signature @ self._white.T @ self._white @ signature)
        return found if found > 1e-8 * max(raw, 1e-300) else 0.0

    def test(self, signature: Array) -> float | None:
        """The test z of an error of this signature; None where no equation sees it."""
        power = self.power(signature)
        return float(signature @ self.t) / power**0.5 if power else None

    def source(self, source: Hashable) -> Array:
        """What one standard error of a source does to the readings."""
        return np.asarray(self.E[:, self.sources.index(source)])

    def loss(self, node: str) -> Array:
        """What one gram lost at a node does to the readings."""
        gone = np.zeros(len(self.constraints))
        gone[self.nodes.index(node)] = 1.0
        shown = self.H @ np.linalg.lstsq(self.constraints, gone, rcond=None)[0]
        shown[np.abs(shown) < SMALL] = 0.0  # what only rounding leaves of it is nothing
        return np.asarray(shown)

    def different(self, signatures: Sequence[Array]) -> int:
        """How many of the errors can be told apart by the tests."""
        directions: list[Array] = []
        for signature in signatures:
            if not self.power(signature):
                continue
            seen = self._white @ self.V @ self.P @ signature
            seen = seen / np.linalg.norm(seen)
            if all(abs(seen @ other) < 1.0 - 1e-9 for other in directions):
                directions.append(seen)
        return len(directions)


def null_space(matrix: Array) -> Array:
    """An orthonormal basis of what a matrix makes nothing of."""
    _, sizes, right = np.linalg.svd(matrix, full_matrices=True)
    return np.asarray(right[int((sizes > SMALL * max(sizes.max(initial=0.0), 1.0)).sum()) :].T)


def rank(matrix: Array) -> int:
    """The rank of a matrix, with the tolerance of this module."""
    if not matrix.size:
        return 0
    sizes = np.linalg.svd(matrix, compute_uv=False)
    return int((sizes > SMALL * max(sizes[0], 1.0)).sum())


def chi_square_limit(freedom: int, alpha: float = ALPHA) -> float:
    """The upper limit of X²."""
    return float(stats.chi2.isf(alpha, freedom))


def test_limit(tests: int, alpha: float = ALPHA) -> float:
    """The limit of |z| with the correction of Šidák for so many tests."""
    return float(stats.norm.isf((1.0 - (1.0 - alpha) ** (1.0 / tests)) / 2.0))


test_limit.__test__ = False  # type: ignore[attr-defined] # a formula; pytest would run it
