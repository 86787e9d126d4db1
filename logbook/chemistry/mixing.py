"""Diluting a solution, mixing two strengths of it, and acids mixed by parts.

Masses add up; volumes do not: the volume of what was mixed follows from the table of
densities. Nothing here says that two things may be mixed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from logbook.chemistry.densities import strengths_data
from logbook.chemistry.ranges import MissingError, Range, added
from logbook.chemistry.strengths import Strength, named, of_fraction, strength
from logbook.chemistry.supplies import pure_per_unit
from logbook.chemistry.written import limits_of
from logbook.model.amount import Amount, Dimension

VOLUMES = "volumes do not add up: that of the solution follows from its density at 20 C"


@dataclass(frozen=True, slots=True)
class Poured:
    """An amount of a solution: its mass [g], its volume at 20 C [L], and how strong it is."""

    formula: str
    strength: Strength
    grams: Range
    litres: Range

    @property
    def pure(self) -> Range:
        """Grams of the substance itself."""
        return self.grams * self.strength.fraction


@dataclass(frozen=True, slots=True)
class Diluted:
    """So much of a supply and so much water [g and L at 20 C] give a solution."""

    supply: Poured
    water_grams: Range
    water_litres: Range
    result: Poured
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cross:
    """How much of a strong and of a weak solution a wanted one takes, in 1 g and in 1 L of it."""

    strong_share: Range  # g/g
    weak_share: Range  # g/g
    strong_litres: Range  # L/L
    weak_litres: Range  # L/L
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One acid of a mixture by parts: litres of it, and grams of pure substance, in a litre."""

    formula: str
    litres: Range
    grams: Range
    notes: tuple[str, ...]


def poured(reagent: str, amount: Amount, stated: Amount | None) -> Poured:
    """An amount of a supply, weighed or measured, of a strength that is written or sold.

    Equation: V = m / ρ, m = V ρ. Source: definition.

    Raises:
        MissingError: where the strength, the amount or the table lacks.
    """
    found, formula, limits = strength(reagent, stated), named(reagent)[1], limits_of(amount)
    if amount.dimension is Dimension.MASS:
        return Poured(formula, found, limits, _litres(limits, found))
    if amount.dimension is Dimension.VOLUME:
        return Poured(formula, found, (limits * found.density).times(1000.0), limits)
    raise MissingError(f'"{amount.span.text}" is no mass and no volume')


def poured_water(formula: str, litres: Range) -> Poured:
    """Some water [L], as a solution of nothing, to be mixed with a solution of a substance."""
    none = of_fraction(formula, Range.exactly(0.0), "water")
    return Poured(formula, none, (litres * none.density).times(1000.0), litres)


def dilute(of: Poured, to: Strength) -> Diluted:
    """How much water brings a solution down to a strength, and how much that makes.

    Equation: m_water = m (w / w' - 1), m' = m w / w', V' = m' / ρ(w'); m [g] of w [g/g] to
    w' [g/g]. Source: conservation of the substance.

    Raises:
        MissingError: where the strength wanted is above that of the supply.
    """
    strong, weak = of.strength.fraction, to.fraction
    if not weak.low or weak.high is None or strong.high is None:
        raise MissingError("no strength to dilute to is known")
    if strong.high < weak.low:
        raise MissingError(f"water makes no stronger solution: {_asked(strong, weak)}")
    times = Range(max(1.0, strong.low / weak.high), strong.high / weak.low)
    water = of.grams * Range(times.low - 1.0, (times.high or 1.0) - 1.0)
    grams = of.grams * times
    result = Poured(of.formula, to, grams, _litres(grams, to))
    return Diluted(of, water, _of_water(water), result, _notes(of.formula, strong, weak))


def prepare(formula: str, wanted: Range, supply: Strength, to: Strength) -> Diluted:
    """How much of a supply and of water makes so many litres of a solution.

    Equation: m = V' β' / w, m_water = V' ρ' - m; V' [L] `wanted` of w' with β' [g/L] and
    ρ' [g/L], from a supply of w [g/g]. Source: conservation of the substance.

    Raises:
        MissingError: where the strength wanted is above that of the supply.

    A litre of 10 % nitric acid takes 110 mL of 68 % (by hand: 105.43 g / 955.3 g/L, with
    Perry's 1.4048 g/mL):

    >>> strong, weak = (of_fraction("HNO3", Range.exactly(w)) for w in (0.68, 0.10))
    >>> acid = prepare("HNO3", Range.exactly(1.0), strong, weak).supply.litres
    >>> round(acid.low, 2), round(acid.high or 0.0, 2)
    (0.11, 0.11)
    """
    strong, weak = supply.fraction, to.fraction
    if strong.high is None or strong.high < weak.low:
        raise MissingError(f"water makes no stronger solution: {_asked(strong, weak)}")
    supply_grams = wanted * to.grams_per_litre / strong
    total = (wanted * to.density).times(1000.0)
    share = Range(weak.low / strong.high, min(1.0, (weak.high or 1.0) / strong.low))
    water = total * Range(1.0 - (share.high or 1.0), 1.0 - share.low)
    taken = Poured(formula, supply, supply_grams, _litres(supply_grams, supply))
    result = Poured(formula, to, total, wanted)
    return Diluted(taken, water, _of_water(water), result, _notes(formula, strong, weak))


def mix(*solutions: Poured) -> Poured:
    """What comes of pouring solutions of one substance together.

    Equation: w = Σ m_i w_i / Σ m_i, V = Σ m_i / ρ(w). Source: conservation of mass and of the
    substance.

    Raises:
        MissingError: for two substances: what comes of those no table tells.

    100 g of 60 % and 300 g of 20 % are 400 g of 30 % (by hand: (60 + 60) / 400):

    >>> one, other = (of_fraction("H2SO4", Range.exactly(w)) for w in (0.60, 0.20))
    >>> strong = Poured("H2SO4", one, Range.exactly(100.0), Range.exactly(0.0667))
    >>> weak = Poured("H2SO4", other, Range.exactly(300.0), Range.exactly(0.2632))
    >>> round(mix(strong, weak).strength.fraction.low, 9)
    0.3
    """
    formula = solutions[0].formula
    others = {one.formula for one in solutions} - {formula}
    if others:
        raise MissingError(f"what {formula} and {others.pop()} make together no table tells")
    masses = [one.grams for one in solutions]
    lows = [one.strength.fraction.low for one in solutions]
    highs = [_high(one.strength.fraction) for one in solutions]
    least = min(_mean(corner, lows) for corner in _corners(masses))
    most = max(_mean(corner, highs) for corner in _corners(masses))
    found = of_fraction(formula, Range(least, most), "mixed", (), (VOLUMES, *_order(formula)))
    grams = added(masses)
    return Poured(formula, found, grams, _litres(grams, found))


def cross(formula: str, strong: Strength, weak: Strength, wanted: Strength) -> Cross:
    """How much of two strengths makes a wanted one between them: the mixing cross.

    Equation: m_strong : m_weak = (w' - w_weak) : (w_strong - w'), by mass; V_i = m_i ρ' / ρ_i
    for a litre of w'. Source: conservation of the substance; the rule is old trade usage.

    Raises:
        MissingError: where the wanted strength is not between the two.

    96 % acid and water make 20 % as 20 parts to 76 (worked example of a school collection,
    kudo.tips): 0.208 of it is acid.

    >>> acid, aim = (of_fraction("H2SO4", Range.exactly(w)) for w in (0.96, 0.20))
    >>> water = of_fraction("H2SO4", Range.exactly(0.0))
    >>> round(cross("H2SO4", acid, water, aim).strong_share.low, 3)
    0.208
    """
    a, b, to = strong.fraction, weak.fraction, wanted.fraction
    if _high(a) < to.low or b.low > _high(to) or a.low <= _high(b):
        raise MissingError("the strength wanted is not between the two")
    low = _between(_high(a), _high(b), to.low)
    high = _between(a.low, b.low, _high(to))
    share, rest = Range(low, high), Range(1.0 - high, 1.0 - low)
    dense = wanted.density
    return Cross(
        share,
        rest,
        share * dense / strong.density,
        rest * dense / weak.density,
        (VOLUMES, *_order(formula)),
    )


def parts(acids: Sequence[tuple[str, Amount | None, float]]) -> tuple[Part, ...]:
    """What a litre of acids measured out by parts holds, before anything has reacted.

    Equation: V_i = n_i / Σ n [L], m_i = V_i β_i [g], for reagents with their strengths and
    their numbers of parts by volume. A litre is a litre as it was measured out: mixed and warm
    it is another volume. Source: definition.

    Three parts of hydrochloric and one of nitric acid of unknown strength are limits only, and
    a quarter of a litre is the nitric acid:

    >>> [part.litres.low for part in parts((("hcl", None, 3), ("hno3", None, 1)))]
    [0.75, 0.25]
    """
    whole = sum(number for _, _, number in acids)
    if whole <= 0.0:
        raise MissingError("no parts are written")
    found = []
    for reagent, stated, number in acids:
        per_litre = pure_per_unit(reagent, Dimension.VOLUME, stated)
        litres = Range.exactly(number / whole)
        formula = named(reagent)[1]
        found.append(Part(formula, litres, per_litre.grams * litres, per_litre.notes))
    return tuple(found)


def _high(fraction: Range) -> float:
    return 1.0 if fraction.high is None else fraction.high


def _corners(masses: Sequence[Range]) -> Iterator[tuple[float, ...]]:
    """Every choice of least and most: a mean of strengths is at its limits at one of them."""
    if any(one.high is None for one in masses):
        raise MissingError("how much of one of them there is, is not known")
    return product(*((one.low, one.high or 0.0) for one in masses))


def _mean(masses: Sequence[float], fractions: Sequence[float]) -> float:
    if not sum(masses):
        raise MissingError("there is nothing to mix")
    pairs = zip(masses, fractions, strict=True)
    return sum(mass * fraction for mass, fraction in pairs) / sum(masses)


def _between(strong: float, weak: float, wanted: float) -> float:
    return min(1.0, max(0.0, (wanted - weak) / (strong - weak)))


def _litres(grams: Range, found: Strength) -> Range:
    return grams.times(0.001) / found.density


def _of_water(grams: Range) -> Range:
    """Litres of water at 20 C."""
    return grams.times(0.001 / strengths_data()["meta"]["water_20C"])


def _asked(strong: Range, weak: Range) -> str:
    return f"{100 * weak.low:.4g} % was asked for, of {100 * _high(strong):.4g} % at most"


def _notes(formula: str, strong: Range, weak: Range) -> tuple[str, ...]:
    over = _high(weak) > strong.low
    doubt = "the supply may be no stronger than what is wanted: then no water is needed"
    return (*((doubt,) if over else ()), VOLUMES, *_order(formula))


def _order(formula: str) -> tuple[str, ...]:
    """In which order to pour, in words."""
    rows = strengths_data()["pouring"]
    return tuple(row["text"] for row in rows if formula in row["formulas"])
