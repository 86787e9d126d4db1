"""Amounts as they were written, and the values with doubt that calculations make of them.

An `Amount` is made once, by the reader, and carries the words it came from.
It is compared by identity: two weighings that happen to read the same are two weighings,
and one weighing used twice is correlated with itself.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from logbook.model.errors import length, shared, total_of
from logbook.record import record
from logbook.source import Span


class Dimension(StrEnum):
    """What kind of thing a unit measures. The comment gives the base unit."""

    __hash__ = str.__hash__  # an Enum's own works the same name out anew at every look-up

    MASS = "mass"  # g
    VOLUME = "volume"  # L
    TIME = "time"  # h
    COUNT = "count"  # 1
    LENGTH = "length"  # m
    AREA = "area"  # m2
    TEMPERATURE = "temperature"  # degC
    FRACTION = "fraction"  # g/g
    CONCENTRATION = "concentration"  # g/L
    MOLARITY = "molarity"  # mol/L
    PEROXIDE = "peroxide strength"  # volumes of oxygen
    BAUME = "degrees Baumé"  # °Bé
    DENSITY = "density"  # g/L
    PH = "pH"  # 1
    VOLTAGE = "voltage"  # V
    CURRENT = "current"  # A
    POWER = "power"  # W
    ENERGY = "energy"  # kWh
    MONEY = "money"  # the currency written
    PRICE = "price"  # currency per base unit of what is priced


BASE_UNITS: Mapping[Dimension, str] = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "L",
    Dimension.TIME: "h",
    Dimension.COUNT: "1",
    Dimension.LENGTH: "m",
    Dimension.AREA: "m2",
    Dimension.TEMPERATURE: "degC",
    Dimension.FRACTION: "g/g",
    Dimension.CONCENTRATION: "g/L",
    Dimension.MOLARITY: "mol/L",
    Dimension.PEROXIDE: "vol",
    Dimension.BAUME: "°Bé",
    Dimension.DENSITY: "g/L",
    Dimension.PH: "1",
    Dimension.VOLTAGE: "V",
    Dimension.CURRENT: "A",
    Dimension.POWER: "W",
    Dimension.ENERGY: "kWh",
}


@record(frozen=True, slots=True, eq=False)
class Amount:
    """One amount as written.

    `value` is in `unit`, as the writer put it; `base_value` and `base_u` (one standard
    uncertainty) are in the base unit of the dimension. A `value` of None means that
    something was used and nobody knows how much. `low` and `high` (base unit) are set where
    the writer gave limits only: a range, or a reading below what the balance can show.
    `u_basis` says in words where the uncertainty comes from.
    """

    span: Span
    dimension: Dimension
    unit: str
    value: float | None
    base_value: float | None
    base_u: float | None = None
    u_basis: str = ""
    low: float | None = None
    high: float | None = None
    currency: str = ""  # ISO 4217 code, for money and prices
    per: str = ""  # for a price: the base unit of what is priced ("g", "L", "h", "1")
    times: int = 1  # "3 x 30 mL": value is the total, 90 mL
    scale: str = ""  # the balance or measure of scales.md that gave the reading
    also: tuple[Amount, ...] = ()  # the same amount said again in another unit
    note: str = ""  # why the value is not known, or which of two readings was used

    @property
    def known(self) -> bool:
        """Whether a value was given."""
        return self.base_value is not None

    @property
    def base_unit(self) -> str:
        """The unit of `base_value`."""
        if self.dimension is Dimension.MONEY:
            return self.currency
        if self.dimension is Dimension.PRICE:
            return f"{self.currency}/{self.per}"
        return BASE_UNITS[self.dimension]


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A value and, for each source of error behind it, one standard error with its sign.

    Propagation is of the first order (JCGM 100:2008, 5.1.2 and 5.2.2). Because every error
    keeps the identity of its source, a reading used twice is correlated with itself.

    >>> weighing = Uncertain.of(10.0, 0.3, "the weighing")
    >>> (weighing - weighing).u
    0.0
    >>> other = Uncertain.of(10.0, 0.4, "another")
    >>> round((weighing - other).u, 3)
    0.5
    """

    value: float
    errors: Mapping[Hashable, float] = field(default_factory=dict)

    @staticmethod
    def of(value: float, u: float, source: Hashable) -> Uncertain:
        """A value with standard uncertainty `u` from a single source of error."""
        return Uncertain(value, {source: u} if u else {})

    @staticmethod
    def reading(amount: Amount) -> Uncertain | None:
        """The value of an amount in its base unit; None where it is not known."""
        if amount.base_value is None:
            return None
        return Uncertain.of(amount.base_value, amount.base_u or 0.0, amount)

    @property
    def u(self) -> float:
        """The combined standard uncertainty, in the unit of the value."""
        return length(self.errors)

    def covariance(self, other: Uncertain) -> float:
        """The covariance with another value, from the sources of error they share."""
        return shared(self.errors, other.errors)

    def _combined(self, value: float, by: float, other: Uncertain, other_by: float) -> Uncertain:
        return Uncertain(value, total_of(((by, self.errors), (other_by, other.errors))))

    def __add__(self, other: Uncertain) -> Uncertain:
        return self._combined(self.value + other.value, 1.0, other, 1.0)

    def __sub__(self, other: Uncertain) -> Uncertain:
        return self._combined(self.value - other.value, 1.0, other, -1.0)

    def __mul__(self, other: Uncertain) -> Uncertain:
        return self._combined(self.value * other.value, other.value, other, self.value)

    def __truediv__(self, other: Uncertain) -> Uncertain:
        quotient = self.value / other.value
        return self._combined(quotient, 1.0 / other.value, other, -quotient / other.value)

    def times(self, factor: float) -> Uncertain:
        """The value times an exact number."""
        return Uncertain(
            self.value * factor, {source: error * factor for source, error in self.errors.items()}
        )


ZERO = Uncertain(0.0)


def combined(terms: Iterable[tuple[float, Uncertain]]) -> Uncertain:
    """A sum of values, each times an exact number, correlated where they share a source."""
    parts = list(terms)
    value = sum((factor * term.value for factor, term in parts), 0.0)
    return Uncertain(value, total_of((factor, term.errors) for factor, term in parts))


def total(values: Iterable[Uncertain]) -> Uncertain:
    """The sum of values, correlated where they share a source of error."""
    return combined((1.0, value) for value in values)
