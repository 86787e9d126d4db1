"""Masses and assays together, a second way: dense matrices and scipy's minimiser.

Unknown are the mass of each piece and its assay for each metal; at every node masses balance,
and so does mass × assay for each metal. Sought is the least Σ ((reading − unknown) / u)².
Sources (from memory): Crowe C.M., Reconciliation of process flow rates by matrix projection,
part 2, the nonlinear case, AIChE J. 32 (1986) 616-623; Narasimhan and Jordache (2000), ch. 4.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from dense_reference import null_space, rank
from numpy.typing import NDArray
from scipy.optimize import minimize

Array = NDArray[np.float64]
Read = Mapping[str, tuple[float, float]]  # name -> value and standard uncertainty


@dataclass(frozen=True)
class Bilinear:
    """Pieces [name, from, to] with what was read of their masses and assays."""

    pieces: Sequence[tuple[str, str, str]]
    metals: Sequence[str]
    masses: Read
    assays: Mapping[str, Read]  # metal -> readings

    @property
    def count(self) -> int:
        """How many pieces there are."""
        return len(self.pieces)

    def place(self, name: str, metal: str = "") -> int:
        """Where a mass or an assay stands among the unknown."""
        at = [piece[0] for piece in self.pieces].index(name)
        return at if not metal else at + self.count * (1 + list(self.metals).index(metal))

    def _incidence(self) -> Array:
        nodes = list(dict.fromkeys(n for _, tail, head in self.pieces for n in (tail, head) if n))
        matrix = np.zeros((len(nodes), self.count))
        for column, (_, tail, head) in enumerate(self.pieces):
            for node, sign in ((head, 1.0), (tail, -1.0)):
                if node:
                    matrix[nodes.index(node), column] = sign
        return matrix

    def balances(self, p: Array) -> Array:
        """What every balance comes to."""
        blocks = p.reshape(len(self.metals) + 1, self.count)
        net = self._incidence()
        return np.concatenate([net @ blocks[0], *(net @ (blocks[0] * a) for a in blocks[1:])])

    def slopes(self, p: Array) -> Array:
        """The derivatives of the balances."""
        blocks = p.reshape(len(self.metals) + 1, self.count)
        net = self._incidence()
        found = np.zeros(((len(self.metals) + 1) * len(net), p.size))
        found[: len(net), : self.count] = net
        for n, assay in enumerate(blocks[1:], 1):
            rows = slice(n * len(net), (n + 1) * len(net))
            found[rows, : self.count] = net * assay
            found[rows, n * self.count : (n + 1) * self.count] = net * blocks[0]
        return found

    def readings(self) -> tuple[Array, Array, Array]:
        """Rows that pick what was read, the values, and their standard uncertainties."""
        found = [(self.place(name), *read) for name, read in self.masses.items()]
        for metal, reads in self.assays.items():
            found += [(self.place(name, metal), *read) for name, read in reads.items()]
        picked = np.zeros((len(found), self.count * (1 + len(self.metals))))
        picked[range(len(found)), [at for at, _, _ in found]] = 1.0
        return picked, np.array([v for _, v, _ in found]), np.array([u for _, _, u in found])

    def chi_square(self, p: Array) -> float:
        """The sum of squares at a point."""
        picked, values, u = self.readings()
        return float(np.sum(((values - picked @ p) / u) ** 2))

    def freedom(self, p: Array) -> int:
        """Readings, less unknown, plus independent balances, plus what nothing determines."""
        picked, values, _ = self.readings()
        slopes = self._scaled(self.slopes(p))
        undetermined = p.size - rank(np.vstack([picked, slopes]))
        return len(values) - p.size + rank(slopes) + undetermined

    def covariance(self, p: Array) -> Array:
        """The covariance of the unknown, linearised at a point."""
        picked, _, u = self.readings()
        free = null_space(self._scaled(self.slopes(p)))
        seen = (picked @ free) / u[:, None]
        return np.asarray(free @ np.linalg.pinv(seen.T @ seen, rcond=1e-14) @ free.T)

    def _scaled(self, slopes: Array) -> Array:
        return np.asarray(slopes / np.linalg.norm(slopes, axis=1)[:, None])

    def solved(self, start: Array) -> Array:
        """The best point by sequential quadratic programming, from a point near it."""
        picked, values, u = self.readings()
        scale = np.where(np.abs(start) > 0.0, np.abs(start), 1.0)
        weight = 1.0 / np.linalg.norm(self.slopes(start) * scale, axis=1)

        def squares(q: Array) -> float:
            return float(np.sum(((values - picked @ (q * scale)) / u) ** 2))

        def slope(q: Array) -> Array:
            return np.asarray(-2.0 * (picked.T @ ((values - picked @ (q * scale)) / u**2)) * scale)

        done = minimize(
            squares,
            start / scale,
            jac=slope,
            method="SLSQP",
            constraints={
                "type": "eq",
                "fun": lambda q: weight * self.balances(q * scale),
                "jac": lambda q: weight[:, None] * self.slopes(q * scale) * scale,
            },
            options={"ftol": 1e-15, "maxiter": 1000},
        )
        return np.asarray(done.x * scale)

    def newton(self, p: Array, steps: int = 60) -> Array:
        """Gauss-Newton on the linearised balances: the best point to the last digits."""
        picked, values, u = self.readings()
        scale = np.where(np.abs(p) > 0.0, np.abs(p), 1.0)
        for _ in range(steps):
            slopes = self.slopes(p) * scale
            size = np.linalg.norm(slopes, axis=1)
            slopes, short = slopes / size[:, None], -self.balances(p) / size
            seen = (picked * scale) / u[:, None]
            free = null_space(slopes)
            first = np.linalg.lstsq(slopes, short, rcond=1e-11)[0]
            rest = (values - picked @ p) / u - seen @ first
            step = first + free @ np.linalg.lstsq(seen @ free, rest, rcond=1e-13)[0]
            p = p + step * scale
            if np.abs(step).max() < 1e-14:
                break
        return p
