"""How strong a supply is: what is written of it, or what the trade sells under its name.

A strength is a range as soon as anything it follows from is one. Knows no log and no stage.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from logbook.chemistry import densities
from logbook.chemistry.ranges import MissingError, Range
from logbook.chemistry.written import concentration_of, gravity_of_baume, limits_of
from logbook.model.amount import Amount, Dimension
from logbook.reference import reagent_words, reagents


@dataclass(frozen=True, slots=True)
class Strength:
    """How much of a solution is the substance itself, at 20 C.

    `fraction` [g/g], `grams_per_litre` [g/L], `density` [g/mL]; `basis` says in words what it
    follows from, `notes` what else must be known.
    """

    fraction: Range
    grams_per_litre: Range
    density: Range
    basis: str
    sources: tuple[str, ...]
    notes: tuple[str, ...] = ()

    def moles_per_litre(self, molar_mass: float) -> Range:
        """The molarity [mol/L] of a substance of a molar mass [g/mol].

        Equation: c = β / M. Source: definition.
        """
        return self.grams_per_litre.times(1.0 / molar_mass)


@dataclass(frozen=True, slots=True)
class Sold:
    """In which strengths something is sold, or what a word of the trade means [g/g]."""

    reagent: str
    fraction: Range
    note: str
    sources: tuple[str, ...]


def strength(reagent: str, stated: Amount | None) -> Strength:
    """How strong a supply is.

    `reagent` is a name of reagents.toml, or a word of the trade ("battery acid"); `stated`
    the strength as it was read: a fraction, mol/L, g/L, g/mL, degrees Baumé or volumes of
    oxygen. Without one, everything that is sold under that word is meant.

    Raises:
        MissingError: where no table and no trade tells.

    Concentrated laboratory acids are 36.5 to 38 % and lie inside what the trade calls so:

    >>> strength("concentrated hydrochloric acid", None).fraction
    Range(low=0.31, high=0.38)
    """
    formula = named(reagent)[1]
    if stated is None:
        trade = sold(reagent)
        return of_fraction(formula, trade.fraction, basis_of(trade), trade.sources, notes_of(trade))
    limits = limits_of(stated)
    basis, notes = f"{stated.span.text}, as written", _notes(stated)
    if stated.dimension is Dimension.FRACTION:
        return of_fraction(formula, limits, basis, (), notes)
    if stated.dimension in (Dimension.BAUME, Dimension.DENSITY):
        fraction, sources = _weighed(formula, stated.dimension, limits)
        return of_fraction(formula, fraction, basis, sources, notes)
    concentration = concentration_of(formula, stated.dimension, limits)
    fraction = densities.fractions_of_concentration(formula, concentration)
    table = densities.density_table(formula)
    density = densities.densities_between(formula, fraction)
    return Strength(fraction, concentration, density, basis, table.sources, notes)


def fraction_of(reagent: str, stated: Amount | None) -> Range:
    """The mass fraction alone [g/g], known even where no table of densities is needed.

    Raises:
        MissingError: as `strength`.
    """
    if stated is not None and stated.dimension is Dimension.FRACTION:
        return _at_most_all(limits_of(stated))
    if stated is None:
        return sold(reagent).fraction
    return strength(reagent, stated).fraction


def named(words: str) -> tuple[str, str]:
    """The reagent that some words name, and its formula.

    Raises:
        MissingError: where no reagent has that name, or no formula is known of it.

    >>> named("muriatic acid")
    ('hydrochloric acid', 'HCl')
    """
    name = reagent_words().get(words.lower().strip(), words)
    if name not in reagents():
        raise MissingError(f'"{words}" is no reagent of the data')
    formula = reagents()[name].formula
    if not formula:
        raise MissingError(f"no formula of {name} is in the data")
    return name, formula


@cache
def _trade() -> dict[str, Sold]:
    data = densities.strengths_data()
    usual = data["meta"]["defaults"]["low"]["source"]
    rows = [((row["reagent"],), row) for row in data["sold"]]
    rows += [(tuple(row["words"]), row) for row in data["trade"]]
    found = {}
    for words, row in rows:
        named_by = row.get("source", usual)
        keys = [named_by] if isinstance(named_by, str) else named_by
        limits = Range(row["low"] / 100, row["high"] / 100)
        sources = tuple(data["sources"][key] for key in keys)
        for word in words:
            found[word] = Sold(row["reagent"], limits, row.get("note", ""), sources)
    return found


def sold(words: str) -> Sold:
    """In which strengths something is sold under a name of the trade.

    Raises:
        MissingError: where nobody says.
    """
    name, _ = named(words)
    found = _trade().get(words.lower().strip()) or _trade().get(name)
    if found is None:
        raise MissingError(f"the strength of the {name} is not written")
    return found


def word_of_trade(what: str, reagent: str) -> str:
    """The words of a log, where the trade sells another strength under them, else the reagent.

    >>> word_of_trade("Battery acid", "sulfuric acid"), word_of_trade("acid", "nitric acid")
    ('battery acid', 'nitric acid')
    """
    words = what.lower().strip()
    known = _trade().get(words)
    return words if known is not None and known.reagent == reagent else reagent


def basis_of(trade: Sold) -> str:
    """What a strength of the trade follows from, in words."""
    return (
        "no strength is written: sold between "
        f"{100 * trade.fraction.low:g} and {100 * (trade.fraction.high or 1.0):g} %"
    )


def notes_of(trade: Sold) -> tuple[str, ...]:
    """What else the trade says, in words."""
    return (trade.note,) if trade.note else ()


def _weighed(formula: str, dimension: Dimension, limits: Range) -> tuple[Range, tuple[str, ...]]:
    """The mass fraction from a hydrometer's degrees at 60 F, or from a density at 20 C."""
    if limits.high is None:
        raise MissingError("the strength has no upper limit")
    if dimension is Dimension.DENSITY:
        return densities.fractions_of_density(formula, limits.times(0.001)), ()
    table = densities.density_table(formula)
    water = densities.strengths_data()["meta"]["water_60F"]
    ends = [
        gravity_of_baume(end, lighter=table.lighter) * water for end in (limits.low, limits.high)
    ]
    at_sixty = Range(min(ends), max(ends))
    return densities.fractions_at_sixty(formula, at_sixty), table.sixty_sources


def _notes(stated: Amount) -> tuple[str, ...]:
    if stated.unit == "vol %":
        return ("per cent by volume is taken as per cent by mass: see the problem that was noted",)
    if stated.dimension is Dimension.BAUME:
        return ("degrees Baumé hold at 60 F; how the density changes up to 20 C widens the range",)
    if stated.dimension is Dimension.DENSITY:
        return ("the density is taken to be that at 20 C",)
    return ()


def _at_most_all(fraction: Range) -> Range:
    if fraction.low > 1.0:
        raise MissingError("a strength above 100 % is none")
    high = 1.0 if fraction.high is None else min(1.0, fraction.high)
    return Range(fraction.low, high)


def of_fraction(
    formula: str,
    limits: Range,
    basis: str = "",
    sources: tuple[str, ...] = (),
    notes: tuple[str, ...] = (),
) -> Strength:
    """A strength from its mass fraction [g/g], by the table or by loose limits of a density.

    Raises:
        MissingError: where neither is in the data.

    Battery acid of 35 % holds 441 g/L (CRC: 0.35 × 1260.15):

    >>> round(of_fraction("H2SO4", Range.exactly(0.35)).grams_per_litre.low)
    441
    """
    fraction = _at_most_all(limits)
    loose = _loose().get(formula)
    if loose is not None:
        density = Range(loose["low"], loose["high"])
        known: tuple[str, ...] = (_source(loose["source"]),)
        taken = f"its density is taken as {density.low:g} to {density.high:g} g/mL"
        notes = (*notes, taken, loose["note"])
        held = (fraction * density).times(1000.0)
    else:
        table = densities.density_table(formula)
        density, known = densities.densities_between(formula, fraction), table.sources
        ends = fraction.low, fraction.high or 0.0
        held = Range(
            1000.0 * ends[0] * table.least(ends[0]), 1000.0 * ends[1] * table.most(ends[1])
        )
    return Strength(fraction, held, density, basis, (*sources, *known), notes)


@cache
def _loose() -> dict[str, dict[str, Any]]:
    return {row["formula"]: row for row in densities.strengths_data()["loose"]}


def _source(key: str) -> str:
    return str(densities.strengths_data()["sources"][key])
