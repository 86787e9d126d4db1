"""Gases in air: how much room they take, how much air they spoil, and what limits are written.

What is worked out here is arithmetic of mixing and no design of a ventilation: air does not mix
evenly, and the place where somebody breathes is the worst of it. Nothing here says that
any amount may be breathed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import MissingError
from logbook.reference import load

GAS_CONSTANT = 8.314462618  # J/(mol K), exact in the SI since 2019
PRESSURE = 101325.0  # Pa, one standard atmosphere
ROOM_TEMPERATURE = 25.0  # C, at which limits in ppm are turned into mg/m3 (NIOSH)
ZERO_CELSIUS = 273.15  # K

MEAN, SHORT, CEILING = "8-hour mean", "short stay", "ceiling"
DANGEROUS, TENTH, BURNS = "immediately dangerous", "a tenth of what burns", "burns from"
KINDS = (MEAN, SHORT, CEILING, DANGEROUS, TENTH, BURNS)


def molar_volume(celsius: float = ROOM_TEMPERATURE) -> float:
    """The volume of a mole of any gas.

    Equation: V_m = R T / p [L/mol], the ideal gas at p = 101.325 kPa. Source: general chemistry;
    R = 8.314462618 J/(mol K) (SI). Gases of the bench differ from it by some per mille.

    CODATA gives 22.41397 L/mol at 0 C (from memory), and 24.45 is used for limits at 25 C (NIOSH):

    >>> round(molar_volume(0.0), 3), round(molar_volume(25.0), 2)
    (22.414, 24.47)
    """
    return GAS_CONSTANT * (celsius + ZERO_CELSIUS) / PRESSURE * 1000.0


def litres(formula: str, grams: float, celsius: float = ROOM_TEMPERATURE) -> float:
    """The volume of a gas.

    Equation: V = m V_m / M [L], at 101.325 kPa. Source: the ideal gas.

    64 g of copper in strong nitric acid give 2 moles of NO2, 92.01 g, and these 48.9 L (by
    hand: 2 × 24.465):

    >>> round(litres("NO2", 92.01), 1)
    48.9
    """
    return grams * molar_volume(celsius) / molar_mass(formula)


def parts_per_million(litres: float, room_m3: float) -> float:
    """What a gas makes of a closed room, evenly mixed and without any ventilation.

    Equation: c = V / V_room × 10⁶ [ppm by volume], the gas over the room. Source: the definition.

    One litre in a room of 30 m3 makes 33 ppm (by hand):

    >>> round(parts_per_million(1.0, 30.0), 1)
    33.3
    """
    return litres / (room_m3 * 1000.0) * 1e6


def air_to(limit_ppm: float, litres: float) -> float:
    """The air that a gas brings to a limit, evenly mixed. It is no amount to ventilate with.

    Equation: V_air = V / c [m3]. Source: the definition.

    One litre fills a thousand cubic metres up to 1 ppm (by hand):

    >>> round(air_to(1.0, 1.0))
    1000
    """
    return litres / limit_ppm * 1000.0


def milligrams_per_cubic_metre(formula: str, ppm: float) -> float:
    """A concentration by volume as one by mass, at 25 C and 101.325 kPa.

    Equation: β = c M / V_m [mg/m3]. Source: the ideal gas.

    NIOSH gives 24 mg/m3 for 13 ppm of NO2 (publication 2017-202):

    >>> round(milligrams_per_cubic_metre("NO2", 13.0))
    24
    """
    return ppm * molar_mass(formula) / molar_volume()


@dataclass(frozen=True, slots=True)
class Limit:
    """How much of a gas somebody has drawn a line at [ppm by volume]."""

    gas: str
    kind: str
    ppm: float
    body: str
    year: int
    source: str
    standing: str
    note: str

    @property
    def words(self) -> str:
        """The limit with who says so, and when.

        >>> limits("NO2").strictest(DANGEROUS).words
        '13 ppm, immediately dangerous (NIOSH, 2017)'
        """
        return f"{self.ppm:.6g} ppm, {self.kind}{self._by}"

    @property
    def short(self) -> str:
        """The limit without its kind.

        >>> limits("NO2").strictest(DANGEROUS).short
        '13 ppm (NIOSH, 2017)'
        """
        return f"{self.ppm:.6g} ppm{self._by}"

    @property
    def _by(self) -> str:
        said = [self.body, str(self.year)] if self.body else []
        said += [self.standing] if self.standing != "published" else []
        return f" ({', '.join(said)})" if said else ""


@dataclass(frozen=True, slots=True)
class Compared:
    """A limit that a gas is held against, by itself or as what it becomes in air."""

    gas: str  # that the limit is for
    moles: float  # of it from a mole of the gas
    limit: Limit
    itself: bool

    def air(self, litres: float) -> float:
        """The air that a volume of the gas brings to the limit [m3]."""
        return air_to(self.limit.ppm, litres * self.moles)

    @property
    def words(self) -> str:
        """The limit in words, with what it is compared as."""
        return self.limit.words if self.itself else f"{self.limit.words}, as {name_of(self.gas)}"


@dataclass(frozen=True, slots=True)
class ExposureLimits:
    """What is written of one gas. Without any limit, none was found: that is no leave."""

    gas: str
    name: str
    limits: tuple[Limit, ...]
    becomes: tuple[tuple[str, float], ...]  # what it turns into, and how many moles of it
    note: str

    def strictest(self, *kinds: str) -> Limit | None:
        """The lowest limit of some kinds, one that was read before one that is remembered."""
        found = [one for one in self.limits if one.kind in kinds]
        return min(found, key=lambda one: (one.ppm, one.standing != "published"), default=None)

    @property
    def short_stay(self) -> Limit | None:
        """The strictest limit of a short stay; else of a working day, else of what burns."""
        return (
            self.strictest(SHORT, CEILING) or self.strictest(MEAN) or self.strictest(TENTH, BURNS)
        )

    @property
    def danger(self) -> Limit | None:
        """What endangers life at once."""
        return self.strictest(DANGEROUS, BURNS)

    def held_against(self) -> Compared | None:
        """The limit of a short stay that the gas reaches first, also as what it becomes."""
        return _first(self, lambda one: one.short_stay)

    def dangerous_as(self) -> Compared | None:
        """The dangerous concentration that the gas reaches first, also as what it becomes."""
        return _first(self, lambda one: one.danger)


def _first(gas: ExposureLimits, pick: Callable[[ExposureLimits], Limit | None]) -> Compared | None:
    found = []
    for formula, moles in ((gas.gas, 1.0), *gas.becomes):
        limit = pick(limits(formula))
        if limit is not None:
            found.append(Compared(formula, moles, limit, formula == gas.gas))
    return min(found, key=lambda one: one.limit.ppm / one.moles, default=None)


def limits(formula: str) -> ExposureLimits:
    """What is written of a gas.

    Raises:
        MissingError: for a gas that exposure.toml does not know.

    >>> limits("NO").held_against().words
    '1 ppm, short stay (NIOSH, 1994), as nitrogen dioxide'
    >>> limits("NH2Cl").held_against() is None
    True
    """
    found = gases().get(formula)
    if found is None:
        raise MissingError(f"no limit of exposure was looked up for {formula}")
    return found


def name_of(formula: str) -> str:
    """A gas in words; its formula where it has no name here."""
    found = gases().get(formula)
    return found.name if found is not None else formula


@cache
def gases() -> Mapping[str, ExposureLimits]:
    """Every gas of exposure.toml, by its formula, in the order of the file."""
    data = load("exposure.toml")
    written: dict[str, list[Limit]] = {}
    for row in data["limit"]:
        written.setdefault(row["gas"], []).append(_limit(row, data["sources"]))
    return {
        row["formula"]: ExposureLimits(
            row["formula"],
            row["name"],
            tuple(written.get(row["formula"], ())),
            tuple((one["gas"], float(one["moles"])) for one in row.get("becomes", ())),
            row.get("note", ""),
        )
        for row in data["gas"]
    }


def local_rules() -> str:
    """The sentence that goes with every limit."""
    return str(load("exposure.toml")["meta"]["local"])


def _limit(row: Mapping[str, Any], sources: Mapping[str, str]) -> Limit:
    return Limit(
        row["gas"],
        row["kind"],
        float(row["ppm"]),
        row["body"],
        int(row["year"]),
        sources[row["source"]],
        row["standing"],
        row.get("note", ""),
    )
