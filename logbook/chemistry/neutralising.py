"""How much base an acid takes, what gas and heat that gives, and what dissolved metals take more.

What is worked out is what the equations ask for, never a recipe: the last of an acid goes by
pH. Nothing here says that anything may be treated, mixed or poured away.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from logbook.chemistry.air import litres
from logbook.chemistry.formulas import atomic_weights, atoms, molar_mass
from logbook.chemistry.ranges import MissingError, Range, added
from logbook.chemistry.reactions import Reaction, reactions
from logbook.chemistry.waste_data import waste_data

ACIDS = ("HNO3", "HCl", "H2SO4")
SOLID = "NaOH"  # the base whose dissolving gives most heat of those a page speaks of
BASES = ("NaOH", "Na2CO3", "NaHCO3", "Ca(OH)2", "CaCO3")


@dataclass(frozen=True, slots=True)
class Neutralising:
    """What neutralising takes and gives: grams of base, grams of CO2, kilojoules of heat.

    The lower limit of the heat is that of thin acid with a dissolved base, the upper that of
    strong acid with solid lye.
    """

    base: str
    grams: Range
    carbon_dioxide: Range
    heat: Range


def neutralising(
    base: str, acids: Mapping[str, Range], metals: Mapping[str, Range] | None = None
) -> Neutralising:
    """Base for some acids [g of each], and for metals dissolved beside them [g of each].

    Equation: m = Σ m_a r_a + Σ n_OH M_b / z_b [g], r_a from the equations of reactions.toml, n_OH
    of `hydroxide_moles`. CO2 and heat are those of the acids alone [g, kJ]. Source: general
    chemistry; the equations.

    Raises:
        MissingError: for an acid, a base or a metal that is not in the data.

    100 mL of nitric acid of 70 %, 98.938 g of HNO3, takes 83.207 g of soda and gives off
    34.55 g of CO2 (by hand: 98.938 × 105.99 / (2 × 63.012), × 44.009 / (2 × 63.012)):

    >>> found = neutralising("Na2CO3", {"HNO3": Range(98.938, 98.938)})
    >>> round(found.grams.low, 2), round(found.carbon_dioxide.low, 2)
    (83.21, 34.55)
    """
    moles = added(hydroxide_moles(metal, grams) for metal, grams in (metals or {}).items())
    return Neutralising(
        base,
        base_for_acids(base, acids) + grams_of_base(base, moles),
        added(
            grams.times(_reaction(acid, base).given("CO2"))
            for acid, grams in acids.items()
            if "CO2" in _reaction(acid, base).gases
        ),
        Range(heat(acids).low, _most_heat(acids, moles).high),
    )


def base_for_acids(base: str, acids: Mapping[str, Range]) -> Range:
    """Grams of a base that some acids [g of each] take.

    Battery acid: 28 mL of sulfuric acid of 6.2 mol/L (0.1736 mol, 17.03 g) takes 29 g of
    bicarbonate (a common textbook exercise; by hand 0.1736 × 2 × 84.006 = 29.17):

    >>> round(base_for_acids("NaHCO3", {"H2SO4": Range.exactly(0.1736 * 98.072)}).low, 1)
    29.2
    """
    return added(grams.times(_reaction(acid, base).asked(base)) for acid, grams in acids.items())


def grams_of_base(base: str, moles: Range) -> Range:
    """Grams of a base that take up so many moles of acid hydrogen, or give so much hydroxide.

    Equation: m = n M / z [g], z the moles of HCl that a mole of the base takes.

    >>> round(grams_of_base("Ca(OH)2", Range.exactly(2.0)).low, 2)
    74.09
    """
    return moles.times(molar_mass("HCl") * _reaction("HCl", base).asked(base))


def carbon_dioxide_litres(base: str, grams: float | None) -> float | None:
    """Litres of CO2 that a carbonate gives once all of it is used up, at 25 C and 101.325 kPa.

    Equation: V = n V_m m / M [L], n the carbon in the formula of the base. Source: the ideal gas
    (air.py).

    131.9 g of bicarbonate, 1.570 mol, give 38.4 L (by hand: 1.570 × 24.465):

    >>> round(carbon_dioxide_litres("NaHCO3", 131.9), 1), carbon_dioxide_litres("NaOH", 5.0)
    (38.4, 0.0)
    """
    if grams is None:
        return None if atoms(base).get("C") else 0.0
    carbon = atoms(base).get("C", 0)
    return litres("CO2", grams * carbon / molar_mass(base) * molar_mass("CO2"))


def acid_for_base(acid: str, base: str, grams: Range) -> Range:
    """Grams of an acid that a base could take up before it is spent: a measure of its danger.

    It is no advice to pour acid into a base: that heats, spits and sets gases free.

    40 g of NaOH would take 36.5 g of HCl (by hand: 39.997 / 36.458 g of base a gram):

    >>> round(acid_for_base("HCl", "NaOH", Range.exactly(40.0)).low, 1)
    36.5
    """
    return grams.times(1.0 / _reaction(acid, base).asked(base))


def hydroxide_moles(metal: str, grams: Range) -> Range:
    """Moles of hydroxide that a dissolved metal takes to fall.

    Equation: n = z m / M [mol], z the highest usual charge of the metal (waste.toml), `metal`
    its symbol. Source: general chemistry, from memory.

    Raises:
        MissingError: for a metal without a charge in the data.

    63.546 g of copper are one mole and take two:

    >>> round(hydroxide_moles("Cu", Range.exactly(63.546)).low, 6)
    2.0
    """
    charge = _charges().get(metal)
    if charge is None:
        raise MissingError(f"the charge of dissolved {metal} is not in the data")
    return grams.times(charge / atomic_weights()[metal])


def acidity(formula: str) -> int | None:
    """Moles of base that a mole of a substance takes at most; below 0 for a base; None unknown.

    >>> acidity("H2SO4"), acidity("NaHCO3"), acidity("NaCl"), acidity("Xe")
    (2, -1, 0, None)
    """
    return _acidities().get(formula)


def heat(acids: Mapping[str, Range]) -> Range:
    """Heat that thin acids give when a dissolved strong base takes them up [kJ].

    A carbonate gives less. Strong acid and solid base give more: `thinning`,
    `heat_of_dissolving`.

    Equation: Q = 57.62 kJ/mol × n, n the moles of acid hydrogen. Source: waste.toml.

    A mole of HCl, 36.458 g:

    >>> round(heat({"HCl": Range.exactly(36.458)}).low, 2)
    57.62
    """
    each = float(waste_data()["heat"]["kilojoules_per_mole"])
    return added(
        grams.times(each * (acidity(acid) or 0) / molar_mass(acid)) for acid, grams in acids.items()
    )


def heat_of_base(*formulas: str) -> float | None:
    """The most that a mole of base gives off with any of these substances [kJ/mol].

    None where the heat of one of them is not in the data. Source: waste.toml.

    >>> heat_of_base("HCl"), heat_of_base("HCl", "NaHSO4"), heat_of_base("HF")
    (57.62, 79.0, None)
    """
    strong = float(waste_data()["heat"]["kilojoules_per_mole"])
    known = {**dict.fromkeys(ACIDS, strong), **_heats("base_heat")}
    found = [known.get(formula) for formula in formulas]
    return None if None in found else max((one for one in found if one is not None), default=strong)


def thinning(acids: Mapping[str, Range]) -> Range:
    """Heat that acids give off in much water [kJ]: from nothing, to the strongest that is met.

    Equation: Q = Σ m q / M [kJ], q the heat of dilution [kJ/mol]. Source: waste.toml.

    A mole of sulfuric acid, 98.072 g, gives off 95.28 kJ (by hand: 909.27 − 813.99):

    >>> round(thinning({"H2SO4": Range.exactly(98.072)}).high, 2)
    95.28
    """
    most = added(
        grams.times(_heats("dilution_heat")[acid] / molar_mass(acid))
        for acid, grams in acids.items()
    )
    return Range(0.0, most.high)


def heat_of_dissolving(base: str, moles: Range) -> Range:
    """Heat that a solid base gives off while it dissolves [kJ].

    Equation: Q = n q [kJ]. Source: waste.toml.

    >>> round(heat_of_dissolving("NaOH", Range.exactly(2.0)).high, 2)
    89.02
    """
    return moles.times(_heats("dissolving_heat")[base])


def _most_heat(acids: Mapping[str, Range], hydroxide: Range) -> Range:
    """The heat of strong acids with solid lye, what falls as hydroxide counted as acid."""
    each = float(waste_data()["heat"]["kilojoules_per_mole"])
    moles = hydroxide + added(
        grams.times((acidity(acid) or 0) / molar_mass(acid)) for acid, grams in acids.items()
    )
    return moles.times(each) + thinning(acids) + heat_of_dissolving(SOLID, moles)


@cache
def _heats(table: str) -> Mapping[str, float]:
    return {row["formula"]: row["kilojoules_per_mole"] for row in waste_data()[table]}


@cache
def _reaction(acid: str, base: str) -> Reaction:
    for reaction in reactions().values():
        if reaction.work == "neutralise" and reaction.basis == acid and base in reaction.asks:
            return reaction
    raise MissingError(f"no reaction of {acid} with {base} is in the data")


@cache
def _charges() -> Mapping[str, int]:
    return {row["metal"]: row["charge"] for row in waste_data()["charge"]}


@cache
def _acidities() -> Mapping[str, int]:
    return {row["formula"]: row["equivalents"] for row in waste_data()["acidity"]}
