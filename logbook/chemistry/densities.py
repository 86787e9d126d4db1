"""How dense a solution is at its strength, and how strong it is at its density, at 20 C.

Nothing is worked out beyond the ends of a table. How far tables differ goes with each of them
and widens every limit that is worked out from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from logbook.chemistry.curves import Curve, Value, crossings, line, places_between, smooth
from logbook.chemistry.ranges import MissingError, Range
from logbook.reference import load

ROUNDING = 1e-12
"""How far beyond an end an error of rounding may lead."""


@dataclass(frozen=True, slots=True)
class DensityTable:
    """Densities [g/mL] of one solution at 20 C by mass fraction [g/g], as a smooth curve.

    `within` is how far other tables are from this one, as a part of the density; `sixty` how
    much denser the solution is at 60 F [g/mL], least and most, None where nobody says.
    """

    formula: str
    curve: Curve
    within: Value
    sixty: tuple[Value, Value] | None
    sources: tuple[str, ...]
    sixty_sources: tuple[str, ...]

    @property
    def strongest(self) -> float:
        """The last mass fraction of the table [g/g]."""
        return self.curve.xs[-1]

    def density(self, fraction: float) -> float:
        """The density [g/mL] at a mass fraction [g/g]; raises MissingError outside the table."""
        if not 0.0 <= fraction <= self.strongest + ROUNDING:
            raise MissingError(f"the {self.extent}, not to {100 * fraction:.4g} %")
        return self.curve(min(fraction, self.strongest))

    def limits(self, fraction: float) -> Range:
        """The density [g/mL] with what tables differ by."""
        density, within = self.density(fraction), self.within(fraction)
        return Range(density * (1.0 - within), density * (1.0 + within))

    def least(self, fraction: float) -> float:
        """The least density [g/mL] that tables give."""
        return self.limits(fraction).low

    def most(self, fraction: float) -> float:
        """The greatest density [g/mL] that tables give."""
        return self.limits(fraction).high or 0.0

    @property
    def lighter(self) -> bool:
        """Whether the solution is lighter than water."""
        return self.curve.ys[-1] < self.curve.ys[0]

    @property
    def extent(self) -> str:
        """From where to where the table goes, in words."""
        return f"density table of {self.formula} goes from 0 to {100 * self.strongest:g} %"


@cache
def strengths_data() -> Mapping[str, Any]:
    """The content of strengths.toml."""
    return load("strengths.toml")


@cache
def density_table(formula: str) -> DensityTable:
    """The table of a solution.

    Raises:
        MissingError: where there is none.
    """
    data = strengths_data()
    rows = [row for row in data["density"] if row["formula"] == formula]
    if not rows:
        raise MissingError(f"no density table of {formula} is in the data")
    points = [(w / 100, density, row["within"]) for row in rows for w, density in row["points"]]
    fractions, densities, withins = zip(*points, strict=True)
    warm = [row for row in data["sixty"] if row["formula"] == formula]
    return DensityTable(
        formula,
        smooth(fractions, densities),
        line(fractions, withins),
        _sixty(warm[0]["points"]) if warm else None,
        _sources(data, rows),
        _sources(data, warm),
    )


def _sources(data: Mapping[str, Any], rows: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    """The sources of some rows, in full, each once."""
    named = [row["source"] for row in rows]
    keys = [key for one in named for key in ([one] if isinstance(one, str) else one)]
    return tuple(data["sources"][key] for key in dict.fromkeys(keys))


def _sixty(points: Iterable[tuple[float, float, float]]) -> tuple[Value, Value]:
    percents, least, most = zip(*points, strict=True)
    fractions = [percent / 100 for percent in percents]
    return line(fractions, least), line(fractions, most)


def density(formula: str, fraction: float) -> float:
    """The density of a solution at 20 C.

    Equation: ρ(w) [g/mL], a smooth curve through the table; `fraction` w [g/g], from 0 to the
    end of the table. Source: strengths.toml, CRC Handbook 2021 for most.

    Raises:
        MissingError: outside the table, or where there is none.

    CRC gives 1.1593 for hydrochloric acid of 32 % in one edition and 1.1594 in another:

    >>> round(density("HCl", 0.32), 4)
    1.1594
    """
    return density_table(formula).density(fraction)


def fraction_at(formula: str, grams_per_millilitre: float) -> float:
    """The mass fraction of a solution that has a density at 20 C.

    Equation: ρ(w) = ρ solved for w [g/g]; `grams_per_millilitre` ρ [g/mL].
    Source: as for `density`.

    Raises:
        MissingError: outside the table, or where two strengths have the same density, as
            sulfuric acid above 93 %.

    >>> round(fraction_at("HNO3", 1.1801), 4)
    0.3
    """
    table = density_table(formula)
    found = sorted(
        {round(x, 9) for x in crossings(table.curve.xs, table.curve, grams_per_millilitre)}
    )
    if not found:
        raise MissingError(
            f"a density of {grams_per_millilitre:g} g/mL is outside: the {table.extent}"
        )
    if len(found) > 1:
        percents = " and ".join(f"{100 * one:.1f} %" for one in found)
        raise MissingError(f"{formula} has that density at more than one strength: {percents}")
    return found[0]


def grams_per_litre(formula: str, fraction: float) -> float:
    """The mass concentration of a solution at 20 C.

    Equation: c = 1000 w ρ(w) [g/L]; `fraction` w [g/g].
    Source: definition; ρ as for `density`.

    Half way from 36 % to 38 %, hydrochloric acid holds 438 g/L (0.37 × 1183.85, by hand):

    >>> round(grams_per_litre("HCl", 0.37))
    438
    """
    return 1000.0 * fraction * density(formula, fraction)


def fraction_holding(formula: str, concentration: float) -> float:
    """The mass fraction of a solution that holds so many grams a litre at 20 C.

    Equation: 1000 w ρ(w) = c solved for w [g/g]; `concentration` c [g/L].
    Source: as for `grams_per_litre`.

    Hydrochloric acid of 10 % holds 104.76 g/L (CRC: 2.873 mol/L × 36.458 g/mol):

    >>> round(fraction_holding("HCl", 104.76), 5)
    0.1
    """
    table = density_table(formula)
    curve = crossings(table.curve.xs, lambda w: 1000.0 * w * table.curve(w), concentration)
    found = next(curve, None)
    if found is None:
        raise MissingError(f"{concentration:.4g} g/L is outside: the {table.extent}")
    return found


@cache
def fractions_of_density(formula: str, at_20: Range) -> Range:
    """Every mass fraction [g/g] that may have a density [g/mL] within limits at 20 C."""
    table = density_table(formula)
    return _found(table, places_between(table.curve.xs, table.least, table.most, at_20))


@cache
def fractions_of_concentration(formula: str, concentration: Range) -> Range:
    """Every mass fraction [g/g] that may hold so many grams a litre [g/L] at 20 C."""
    table = density_table(formula)

    def least(fraction: float) -> float:
        return 1000.0 * fraction * table.least(fraction)

    def most(fraction: float) -> float:
        return 1000.0 * fraction * table.most(fraction)

    return _found(table, places_between(table.curve.xs, least, most, concentration))


@cache
def fractions_at_sixty(formula: str, at_60_fahrenheit: Range) -> Range:
    """Every mass fraction [g/g] that may have a density [g/mL] at 60 F (15.56 C)."""
    table = density_table(formula)
    if table.sixty is None:
        raise MissingError(f"how the density of {formula} changes with warmth is not in the data")
    little, much = table.sixty

    def least(fraction: float) -> float:
        return table.least(fraction) + little(fraction)

    def most(fraction: float) -> float:
        return table.most(fraction) + much(fraction)

    return _found(table, places_between(table.curve.xs, least, most, at_60_fahrenheit))


def _found(table: DensityTable, fractions: Range | None) -> Range:
    if fractions is None:
        raise MissingError(f"no strength in the data fits: the {table.extent}")
    return fractions


def densities_between(formula: str, fractions: Range) -> Range:
    """The densities [g/mL] at 20 C of all strengths within limits, with what tables differ by."""
    table = density_table(formula)
    high = table.strongest if fractions.high is None else fractions.high
    inner = [x for x in table.curve.xs if fractions.low < x < high]
    found = [table.limits(x) for x in (fractions.low, *inner, high)]
    return Range(min(one.low for one in found), max(one.high or 0.0 for one in found))
