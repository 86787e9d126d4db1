"""Errors by their sources, added up, and packed where a value rests on very many of them.

A sum over a whole book can rest on thousands of readings. Then its errors are kept as one row
of numbers over a list of sources, so that adding them costs no more than adding two rows.
Nothing here knows what the sources are.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping
from math import sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Row = NDArray[np.float64]

Errors = Mapping[Hashable, float]
MANY = 64  # sources, above which errors are packed
ROUNDING = 1e-12  # of the largest of them: what is left of errors that cancel


class Basis:
    """A list of sources to which more may be added; each keeps its place."""

    __slots__ = ("names", "places")

    def __init__(self, names: Iterable[Hashable] = ()) -> None:
        self.names = list(dict.fromkeys(names))
        self.places = {name: at for at, name in enumerate(self.names)}

    def place(self, name: Hashable) -> int:
        """The place of a source, which is added where it is new."""
        at = self.places.get(name)
        if at is None:
            at = self.places[name] = len(self.names)
            self.names.append(name)
        return at


class Packed:
    """Many errors that stand as one source: the error of each source of a basis, in a row.

    It is compared by identity, as every other source is.
    """

    __slots__ = ("_square", "basis", "row")

    def __init__(self, basis: Basis, row: Row) -> None:
        self.basis = basis
        self.row = row
        self._square: float | None = None

    @property
    def square(self) -> float:
        """The sum of the squares of the errors."""
        if self._square is None:
            self._square = float(self.row @ self.row)
        return self._square

    def error(self, name: Hashable) -> float:
        """The error from one source."""
        at = self.basis.places.get(name)
        return float(self.row[at]) if at is not None and at < len(self.row) else 0.0


def total_of(terms: Iterable[tuple[float, Errors]]) -> dict[Hashable, float]:
    """The errors of a sum, each term times an exact number; packed where there are many.

    What is left of an error that cancels is rounding, and is left out.
    """
    errors: dict[Hashable, float] = {}
    shared: dict[Hashable, float] = {}  # of sources in several terms, the largest error met
    for factor, term in terms:
        for source, error in term.items():
            size = error * factor
            before = errors.get(source)
            if before is None:
                errors[source] = size
                continue
            errors[source] = before + size
            shared[source] = max(shared.get(source, 0.0), abs(before), abs(size))
    for source, largest in shared.items():
        if abs(errors[source]) <= ROUNDING * largest:
            del errors[source]
    return errors if len(errors) <= MANY else packed(errors)


def packed(errors: Errors) -> dict[Hashable, float]:
    """Errors as one row over the basis of the first packed ones among them, or a new one."""
    basis = next((one.basis for one in errors if type(one) is Packed), None) or Basis()
    return {Packed(basis, _row(errors, basis)): 1.0}


def _row(errors: Errors, basis: Basis) -> Row:
    """Errors as a row over a basis, to which their sources are added."""
    import numpy as np

    plain: list[tuple[int, float]] = []
    rows: list[tuple[float, Row]] = []
    for source, error in errors.items():
        if type(source) is not Packed:
            plain.append((basis.place(source), error))
        elif source.basis is basis:
            rows.append((error, source.row))
        else:
            own = _named(source)
            plain.extend((basis.place(name), error * size) for name, size in own)
    row = np.zeros(len(basis.names))
    for factor, part in rows:
        row[: len(part)] += factor * part
    for place, error in plain:
        row[place] += error
    return row


def _named(source: Packed) -> Iterator[tuple[Hashable, float]]:
    """The errors of a packed source by their names."""
    names, row = source.basis.names, source.row
    return ((names[at], float(row[at])) for at in row.nonzero()[0])


def flat(errors: Errors) -> Errors:
    """Errors by their own sources, nothing packed."""
    if not any(type(source) is Packed for source in errors):
        return errors
    found: dict[Hashable, float] = {}
    for source, error in errors.items():
        own = _named(source) if type(source) is Packed else ((source, 1.0),)
        for name, size in own:
            found[name] = found.get(name, 0.0) + error * size
    return found


def length(errors: Errors) -> float:
    """The square root of the sum of the squares: the combined standard uncertainty."""
    if not any(type(source) is Packed for source in errors):
        return sqrt(sum(error * error for error in errors.values()))
    found = _one_row_each(errors)
    return sqrt(max(_products(found, found), 0.0))


def shared(one: Errors, other: Errors) -> float:
    """The sum of the products of errors from the same source: a covariance."""
    return _products(_one_row_each(one), _one_row_each(other))


def _one_row_each(errors: Errors) -> Errors:
    """The same errors with no more than one row over each basis."""
    rows = [source for source in errors if type(source) is Packed]
    if len(rows) < 2:
        return errors
    import numpy as np

    found: dict[Hashable, float] = {s: e for s, e in errors.items() if type(s) is not Packed}
    bases = {id(source.basis): source.basis for source in rows}
    for basis in bases.values():
        row = np.zeros(len(basis.names))
        for source in rows:
            if source.basis is basis:
                row[: len(source.row)] += errors[source] * source.row
        found[Packed(basis, row)] = 1.0
    return found


def _products(one: Errors, other: Errors) -> float:
    return sum(error * _with(source, other) for source, error in one.items())


def _with(source: Hashable, errors: Errors) -> float:
    """The covariance of a source of one standard deviation with errors."""
    if type(source) is Packed:
        return sum(error * _rows(source, beside) for beside, error in errors.items())
    rows = sum(
        error * beside.error(source) for beside, error in errors.items() if type(beside) is Packed
    )
    return errors.get(source, 0.0) + rows


def _rows(source: Packed, beside: Hashable) -> float:
    """The covariance of packed errors with another source."""
    if type(beside) is not Packed:
        return source.error(beside)
    if beside is source:
        return source.square
    if beside.basis is source.basis:
        least = min(len(source.row), len(beside.row))
        return float(source.row[:least] @ beside.row[:least])
    return sum(size * beside.error(name) for name, size in _named(source))
