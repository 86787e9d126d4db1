"""Equations that true contents must fulfil, tested and solved in the space of the errors.

Each equation is a sum of readings that would be nothing if no reading erred. What it comes to
is known with the sources of its error, so everything follows from the matrix of those: which
source is how likely to be wrong, whether a loss at a stage explains it, and how far each
reading has to move. Nothing here knows what the equations are about.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING, Any

from logbook.calculation.network.arcs import Suspect
from logbook.model.amount import Uncertain, combined
from logbook.model.errors import MANY, Basis, Packed, flat

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

ALPHA = 0.0455  # of all balances that are right, this part is called open; k = 2
ALIKE = 2.0  # two explanations whose X² differs by less than this fit alike
DENSE = 400  # equations, up to which a full matrix is quicker than a sparse one
SMALLEST = 1e-9  # an error below this part of the largest is left out of an adjusted figure
EXACT = 1e-9  # relative; figures that differ by less are the same
RANK = 1e-8  # of the largest singular value: below it, equations say the same
FLOOR = 1e-15  # of the largest variance: what an equation without doubt is given


@dataclass(frozen=True, slots=True)
class Loss:
    """A loss that may have happened: at one of `nodes`, adding `effect` to the equations.

    Without nodes it stands for a thing that was read twice, of which one reading is wrong.
    """

    nodes: tuple[str, ...]
    effect: Mapping[int, float]  # equation -> how much of the loss shows in it
    arc: str = ""


def chi_square_limit(freedom: int, alpha: float = ALPHA) -> float:
    """The value that X² exceeds by chance with probability alpha.

    Equation: P(X² > limit | ν) = α. Source: the chi-square distribution; with one degree of
    freedom and α = 0.0455 it is 4.00, the square of k = 2.

    >>> round(chi_square_limit(1), 2), round(chi_square_limit(4, 0.05), 3)
    (4.0, 9.488)
    """
    from scipy.special import gammainccinv

    return 0.0 if freedom <= 0 else 2.0 * float(gammainccinv(freedom / 2.0, alpha))


def z_limit(tests: int) -> float:
    """The limit of |z| where so many different tests are made of the same equations.

    Equation: z = Φ⁻¹(1 − α′/2), α′ = 1 − (1 − α)^(1/m). Source: the correction of Šidák, as
    Mah and Tamhane (1982) use it for measurement tests (from memory).

    >>> round(z_limit(1), 2)
    2.0
    """
    each = 1.0 - (1.0 - ALPHA) ** (1.0 / max(tests, 1))
    return NormalDist().inv_cdf(1.0 - each / 2.0)


class Equations:
    """Equations with what they come to, and the losses that would show in them.

    With d what the equations come to and B the errors behind it (equations × sources, each
    source one standard deviation), S = B Bᵀ is the covariance of d, X² = dᵀ S⁻¹ d on as many
    degrees of freedom as there are equations, and the best estimate of the errors is Bᵀ S⁻¹ d.
    Source: weighted least squares under linear constraints; Narasimhan and Jordache, Data
    Reconciliation and Gross Error Detection (2000), chapters 3 and 7 (from memory).
    """

    def __init__(self, rows: Sequence[Uncertain], losses: Sequence[Loss] = ()) -> None:
        self.rows = tuple(Uncertain(row.value, flat(row.errors)) for row in rows)
        self.losses = tuple(losses)
        named = dict.fromkeys(source for row in self.rows for source in row.errors)
        self.sources: dict[Hashable, int] = {source: at for at, source in enumerate(named)}

    @cached_property
    def errors(self) -> Any:
        """B: one row for each equation, one column for each source of error; sparse if large."""
        import numpy as np

        data: list[float] = []
        columns: list[int] = []
        starts = [0]
        for row in self.rows:
            data.extend(row.errors.values())
            columns.extend(self.sources[source] for source in row.errors)
            starts.append(len(data))
        shape = len(self.rows), len(self.sources)
        if self._small:
            full = np.zeros(shape)
            full[np.repeat(np.arange(shape[0]), np.diff(starts)), columns] = data
            return full
        from scipy.sparse import csr_array

        return csr_array((data, columns, starts), shape=shape)

    @property
    def _small(self) -> bool:
        return len(self.rows) <= DENSE

    @cached_property
    def _inverse(self) -> Array:
        """S⁻¹.

        An equation without any doubt gets one that is far below all others, so that S can be
        inverted and a misfit of such an equation counts as certain.
        """
        import numpy as np

        covariance = self.errors @ self.errors.T
        floor = FLOOR * float(covariance.diagonal().max(initial=0.0)) or EXACT**2
        eye = np.eye(len(self.rows))
        if self._small:
            return np.linalg.inv(covariance + floor * eye)
        from scipy.sparse import csc_array, eye_array
        from scipy.sparse.linalg import splu

        inverse: Array = splu(csc_array(covariance + floor * eye_array(len(eye)))).solve(eye)
        return inverse

    @cached_property
    def misfit(self) -> Array:
        """d: what each equation comes to."""
        import numpy as np

        return np.array([row.value for row in self.rows], dtype=float)

    @cached_property
    def _weighted_misfit(self) -> Array:
        return self._inverse @ self.misfit

    def _traced(self, shown: Mapping[int, float]) -> Array:
        """Bᵀ S⁻¹ v: what shows in the equations, traced back to the sources of error."""
        import numpy as np

        rows = list(shown)
        weighted = np.array(list(shown.values())) @ self._inverse[rows]  # S is symmetric
        traced: Array = self.errors.T @ weighted
        return traced

    @cached_property
    def chi_square(self) -> float:
        """X² = dᵀ S⁻¹ d."""
        return max(float(self.misfit @ self._weighted_misfit), 0.0) if self.rows else 0.0

    @property
    def freedom(self) -> int:
        """Degrees of freedom: each equation is one."""
        return len(self.rows)

    @cached_property
    def shifts(self) -> Array:
        """Bᵀ S⁻¹ d: the best estimate of each source's error, in its standard deviations."""
        found: Array = self.errors.T @ self._weighted_misfit
        return found

    @cached_property
    def suspects(self) -> tuple[Suspect, ...]:
        """Every reading and loss that the equations can see, the likeliest first.

        Equations: z = bᵀ S⁻¹ d / √(bᵀ S⁻¹ b) with b the signature of the reading or the loss
        in the equations; the X² left without it is X² − z², and its best estimate
        bᵀ S⁻¹ d / bᵀ S⁻¹ b. Source: the measurement test of Mah and Tamhane (1982) and the
        generalised likelihood ratio of Narasimhan and Mah (1987) (from memory).
        """
        found = [*self._readings(), *self._losses()]
        return tuple(sorted(found, key=lambda one: (one.left, one.is_loss)))

    @cached_property
    def _signatures(self) -> dict[tuple[tuple[int, float], ...], list[Hashable]]:
        """Sources of error by their signature: those with the same cannot be told apart."""
        found: dict[tuple[tuple[int, float], ...], list[Hashable]] = {}
        for source, column in self._columns.items():
            found.setdefault(_direction(column), []).append(source)
        return found

    @cached_property
    def _columns(self) -> dict[Hashable, list[tuple[int, float]]]:
        """How each source of error shows in the equations."""
        columns: dict[Hashable, list[tuple[int, float]]] = {}
        for at, row in enumerate(self.rows):
            for source, error in row.errors.items():
                if error:
                    columns.setdefault(source, []).append((at, error))
        return columns

    @property
    def different_tests(self) -> int:
        """How many different signatures readings and losses have between them."""
        losses = {_direction(sorted(one.effect.items())) for one in self.losses if one.nodes}
        return len(losses | set(self._signatures))

    def _readings(self) -> Iterable[Suspect]:
        for alike in self._signatures.values():
            first = alike[0]
            column = self._columns[first]
            power = self._power(column)
            if power > 0.0:
                z = float(self.shifts[self.sources[first]]) / sqrt(power)
                yield Suspect(tuple(alike), (), z / sqrt(power), z, self._left(z))

    def _power(self, column: Sequence[tuple[int, float]]) -> float:
        """bᵀ S⁻¹ b for a signature b."""
        import numpy as np

        if len(column) < 4:
            return sum(
                one * other * float(self._inverse[at, beside])
                for at, one in column
                for beside, other in column
            )
        rows = [at for at, _ in column]
        sizes = np.array([size for _, size in column])
        return float(sizes @ self._inverse[rows][:, rows] @ sizes)

    def _losses(self) -> Iterable[Suspect]:
        for loss, z, size in self.loss_tests:
            if loss.nodes:
                yield Suspect((), loss.nodes, size, z, self._left(z))

    @cached_property
    def loss_tests(self) -> tuple[tuple[Loss, float, float], ...]:
        """Every loss with its z and its best estimate; what no equation shows is left out."""
        if not self.losses:
            return ()
        shown, weighted = self._loss_effects
        powers = (shown * weighted).sum(axis=1)
        scores = shown @ self._weighted_misfit
        return tuple(
            (loss, float(score) / sqrt(power), float(score) / float(power))
            for loss, power, score in zip(self.losses, powers, scores, strict=True)
            if power > 0.0
        )

    def _left(self, z: float) -> float:
        return max(self.chi_square - z * z, 0.0)

    @property
    def passes(self) -> bool:
        """Whether neither the sum of squares nor any single test is beyond its limit."""
        if not self.rows:
            return True
        if self.chi_square > chi_square_limit(self.freedom):
            return False
        limit = z_limit(self.different_tests)
        return all(abs(one.z) <= limit for one in self.suspects)

    def named(self) -> tuple[Suspect, ...]:
        """Explanations that leave the rest within its limit, and that fit alike.

        The best reading and the best loss are both named where both would do: a wrong weighing
        and a spill are asked after in different ways. A loss below nothing is no explanation:
        metal does not come from nowhere.
        """
        limit = chi_square_limit(self.freedom - 1) + EXACT * self.chi_square
        offered = [one for one in self.suspects if not (one.is_loss and one.size < 0.0)]
        good = [one for one in offered if one.left <= limit]
        best = min((one.left for one in good), default=0.0)
        first = {one.is_loss: one for one in reversed(good)}.values()
        return tuple(one for one in good if one.left <= best + ALIKE or one in first)

    def independent(self) -> Equations:
        """The same without equations that only say again what the others say.

        They would count as degrees of freedom, which they are not. One that contradicts the
        others without any doubt is kept.
        """
        import numpy as np

        if not self._small or len(self.rows) < 2 or not self.sources:
            return self
        scales = np.linalg.norm(self.errors, axis=1)
        scales[scales == 0.0] = 1.0
        rows = self.errors / scales[:, None]
        left, sizes, _ = np.linalg.svd(rows, full_matrices=False)
        again = left[:, sizes < RANK * sizes[0]]
        for combo in again.T:
            weights = combo / scales
            misfit = float(weights @ self.misfit)
            if abs(misfit) <= EXACT * float(np.abs(weights * self.misfit).sum()) + EXACT**2:
                return self._without_row(int(np.abs(combo).argmax())).independent()
        return self

    def _without_row(self, row: int) -> Equations:
        kept = [at for at in range(len(self.rows)) if at != row]
        place = {old: new for new, old in enumerate(kept)}
        losses = []
        for loss in self.losses:
            left = {place[at]: size for at, size in loss.effect.items() if at in place}
            if left:
                losses.append(Loss(loss.nodes, left, loss.arc))
        return Equations([self.rows[at] for at in kept], losses)

    def free(self, effect: Mapping[int, float]) -> Equations:
        """What is left of the equations when a loss with this effect may be of any size.

        An equation that alone shows it is dropped; of several that show it, combinations in
        which it cancels are kept.
        """
        import numpy as np

        shown = sorted(effect)
        kept = [at for at in range(len(self.rows)) if at not in effect]
        direction = np.array([[effect[at] for at in shown]])
        combos = np.linalg.svd(direction)[2][1:]  # orthogonal to the effect
        mixed = [
            combined((float(f), self.rows[at]) for f, at in zip(combo, shown, strict=True))
            for combo in combos
        ]
        place = {old: new for new, old in enumerate(kept)}
        losses = []
        for loss in self.losses:
            left = {place[at]: size for at, size in loss.effect.items() if at in place}
            seen = combos @ np.array([loss.effect.get(at, 0.0) for at in shown])
            for at, size in enumerate(seen, start=len(kept)):
                if abs(size) > EXACT:
                    left[at] = float(size)
            if left:
                losses.append(Loss(loss.nodes, left, loss.arc))
        return Equations([*(self.rows[at] for at in kept), *mixed], losses)

    def estimates(self, losses: Sequence[Loss]) -> list[Uncertain]:
        """How large losses are that are free together, with all that the equations say besides.

        Equation: b = (Fᵀ S⁻¹ F)⁻¹ Fᵀ S⁻¹ d, with F the effects of the losses.
        """
        import numpy as np

        places = [self._loss_places[loss.nodes, loss.arc] for loss in losses]
        shown, weighted = (matrix[places] for matrix in self._loss_effects)
        block = np.linalg.pinv(shown @ weighted.T, hermitian=True)
        values = block @ (shown @ self._weighted_misfit)
        errors = block @ np.array([self.errors.T @ row for row in weighted])
        return [
            Uncertain(float(value), self._errors(row))
            for value, row in zip(values, errors, strict=True)
        ]

    @cached_property
    def _loss_places(self) -> dict[tuple[tuple[str, ...], str], int]:
        return {(loss.nodes, loss.arc): at for at, loss in enumerate(self.losses)}

    @cached_property
    def _loss_effects(self) -> tuple[Array, Array]:
        """Fᵀ, the effects of all losses as rows, and Fᵀ S⁻¹."""
        import numpy as np

        shown = np.zeros((len(self.losses), len(self.rows)))
        for at, loss in enumerate(self.losses):
            for row, size in loss.effect.items():
                shown[at, row] = size
        return shown, self._at_rows(shown)

    def _at_rows(self, shown: Array) -> Array:
        """Fᵀ S⁻¹, where most effects show in one equation alone."""
        import numpy as np

        weighted = np.zeros_like(shown)
        for at, loss in enumerate(self.losses):
            for row, size in loss.effect.items():
                weighted[at] += size * self._inverse[row]
        return weighted

    def _errors(self, row: Array) -> dict[Hashable, float]:
        """A row of errors by their sources, or packed where many of them matter."""
        import numpy as np

        largest = float(np.abs(row).max(initial=0.0))
        keep = np.nonzero(np.abs(row) > SMALLEST * largest)[0]
        if len(keep) > MANY:
            return {Packed(self._basis, row): 1.0}
        names = self._basis.names
        return {names[at]: float(row[at]) for at in keep}

    @cached_property
    def _basis(self) -> Basis:
        return Basis(self.sources)

    def adjusted(self, reading: Uncertain) -> Uncertain:
        """A reading moved by the best estimate of its errors, with the doubt that is left.

        Equation: x = y − e Bᵀ S⁻¹ d, with errors e − e Bᵀ S⁻¹ B. A reading that shares no
        source of error with the equations stays as it is.
        """
        import numpy as np

        errors = flat(reading.errors)
        own = {source: error for source, error in errors.items() if source in self.sources}
        if not own:
            return reading
        places = [self.sources[source] for source in own]
        weights = np.array(list(own.values()))
        shown: dict[int, float] = {}  # how the reading shows in each equation
        for source, error in own.items():
            for at, size in self._columns.get(source, ()):
                shown[at] = shown.get(at, 0.0) + error * size
        row = -self._traced(shown)
        row[places] += weights
        value = reading.value - float(weights @ self.shifts[places])
        others = {source: error for source, error in errors.items() if source not in own}
        return Uncertain(value, {**self._errors(row), **others})


def _direction(column: Sequence[tuple[int, float]]) -> tuple[tuple[int, float], ...]:
    """A signature without its size, so that two of the same direction are equal."""
    first = column[0][1]
    return tuple((at, round(error / first, 9)) for at, error in column)
