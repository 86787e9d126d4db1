"""What the things in a stage can give of each gas, at most: from metals, from salts, by heat.

Only upper limits come from here, never a value: which way an acid goes, and how far, nobody
knows beforehand. Each source is bounded by what there is to work on and by every supply that
it asks for. Where one limit lacks, the others still hold; where all lack, nothing is known.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from logbook.calculation.bench.demand import DISSOLVE
from logbook.calculation.bench.gas_bounds import (
    most,
    share,
    summed,
    there,
    tightest,
    total,
    unlimited,
)
from logbook.calculation.bench.gas_freed import (
    NITRIC,
    OPEN_CHARGE,
    GasPart,
    counted_here,
    freed_parts,
)
from logbook.calculation.bench.gas_mix import OXIDES, Mix, Setting, mix_of
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageChemistry
from logbook.calculation.sums import notes_of
from logbook.chemistry.air import name_of
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.reactions import GASES, Reaction, reactions

VOLATILE = ("HCl", "HNO3", "NH3", "HBr", "HF")
"""What leaves its solution in heat."""
LET_IN = GASES | {"Br2"}
CHARGE = "the charge"
GREASE, GREASE_WORDS = "CH2", "grease or plastic (CH2)"
"""What gives more of an oxide a gram than any metal: six electrons, CH2 to CO2 and water."""
GREASE_MOLES = {"NO2": 6.0, "NO": 2.0}
ALL_OF_IT = "no more can leave than there is nitrate and nitrite"


def gas_parts(chemistry: StageChemistry, setting: Setting) -> Iterator[GasPart]:
    """Each gas that each thing in a stage can give, with the most of it [g]."""
    mix = mix_of(chemistry, setting)
    by_gas: dict[str, list[Figure]] = {}
    for gas, figure in _uncapped(mix):
        by_gas.setdefault(gas, []).append(figure)
    for gas, parts in by_gas.items():
        yield from ((gas, one) for one in _capped(gas, parts, mix))


def _uncapped(mix: Mix) -> Iterator[GasPart]:
    mixed = mix.as_mixed()
    yield from _Metals(mixed, frozenset(_in_charge(mixed))).parts()
    yield from _from_substances(mixed)
    yield from freed_parts(mix)
    yield from _driven_off(mix)


def _capped(gas: str, parts: list[Figure], mix: Mix) -> list[Figure]:
    """Of an oxide of nitrogen no more than all the nitrate and nitrite, however many sources."""
    cap = mix.nitrogen(gas) if gas in OXIDES and gas not in mix.substances else None
    if cap is None or cap.high is None or cap.high >= total(parts):
        return parts
    notes = (ALL_OF_IT, *notes_of(parts))
    return [most(f"{name_of(gas)} from all the nitrate", [cap], notes)]


def _in_charge(mix: Mix) -> Iterator[str]:
    """The reactions that may go on with the metal of the charge."""
    for one in mix.chemistry.reactions:
        if one.metal and mix.substances.keys() >= set(one.asks):
            yield one.name
    for one in reactions().values() if mix.setting.dissolves else ():
        possible = one.work == DISSOLVE and mix.substances.keys() >= set(one.asks)
        if possible and (one.metal in mix.chemistry.metals or (one.metal and mix.open_rest)):
            yield one.name


@dataclass(frozen=True, slots=True)
class _Metals:
    """The metals of a stage with what dissolves them; `in_charge` are ways of the charge's own."""

    mix: Mix
    in_charge: frozenset[str]

    def parts(self) -> Iterator[GasPart]:
        """Each gas of all the metals together."""
        by_gas: dict[str, list[Reaction]] = {}
        for reaction in self._ways():
            for gas in _gases_of(reaction):
                by_gas.setdefault(gas, []).append(reaction)
        for gas, ways in by_gas.items():
            yield gas, self._least_of(gas, ways)

    def _ways(self) -> Iterator[Reaction]:
        """The ways of the charge, and those of a metal that was put in and meets acid left."""
        there = self.mix.substances.keys()
        for one in reactions().values():
            meets = one.metal and one.basis in there and there >= set(one.asks)
            if one.name in self.in_charge or (meets and one.work == DISSOLVE):
                yield one

    def _least_of(self, gas: str, ways: Collection[Reaction]) -> Figure:
        """The tightest of the limits that the charge, and each supply it is worked with, set.

        Ways that ask for the same supplies are bounded together, by the charge or by one of the
        supplies; the sum of such limits is a limit, whichever is chosen.
        """
        alike: dict[tuple[str, ...], list[Reaction]] = {}
        for way in ways:
            alike.setdefault(way.asks, []).append(way)
        best: list[Figure] = []
        every: dict[str, Figure] = {}
        for payers in product(*((CHARGE, *asks) for asks in alike)):
            groups: dict[str, list[Reaction]] = {}
            for payer, found in zip(payers, alike.values(), strict=True):
                groups.setdefault(payer, []).extend(found)
            bounds = [self._bound(payer, gas, found) for payer, found in groups.items()]
            every |= {bound.name: bound for bound in bounds}
            if not best or total(bounds) < total(best):
                best = bounds
        notes = dict.fromkeys(note for way in ways for note in _told(way))
        name = f"{name_of(gas)} from metal"
        if total(best) == float("inf"):
            return unlimited(name, every.values())
        return most(name, best, notes)

    def _bound(self, payer: str, gas: str, ways: Iterable[Reaction]) -> Figure:
        if payer == CHARGE:
            return self._charge_bound(gas, ways)
        nitrogen = self.mix.nitrogen(gas) if payer == NITRIC and gas in OXIDES else None
        if nitrogen is not None and len(self.mix.of_kind("acid")) > 1:
            return nitrogen  # another acid can bring the acid hydrogen
        ratio = max(way.given(gas) / way.asked(payer) for way in ways)
        return share(
            f"{name_of(gas)} that {payer} allows", there(self.mix.substances[payer]), ratio
        )

    def _charge_bound(self, gas: str, ways: Iterable[Reaction]) -> Figure:
        """What all the metal allows: what is told of it, what may be in the rest, what came in."""
        found, substances = list(ways), self.mix.substances
        per: dict[tuple[str, str], float] = {}
        for way in found:
            key = way.metal, way.basis
            per[key] = max(per.get(key, 0.0), way.given(gas))
        parts = []
        for (metal, symbol), ratio in per.items():
            name = f"{name_of(gas)} from {metal}"
            if metal in self.mix.chemistry.metals:
                parts.append(share(name, self.mix.chemistry.metals[metal], ratio))
            if symbol in substances:
                parts.append(share(name, there(substances[symbol]), ratio))
        dissolving = {
            one.metal: one.given(gas)
            for one in found
            if one.name in self.in_charge and one.work == DISSOLVE
        }
        if dissolving and self.mix.open_rest:
            parts.append(self._rest(gas, dissolving))
        return summed(f"{name_of(gas)} that the metal allows", parts)

    def _rest(self, gas: str, metals: Mapping[str, float]) -> Figure:
        """What no line tells of the charge, as what gives most of the gas a gram."""
        per = dict(metals)
        if gas in OXIDES:
            per[GREASE_WORDS] = GREASE_MOLES[gas] * molar_mass(gas) / molar_mass(GREASE)
        rest = self.mix.chemistry.rest or Figure("the rest of the charge", "g", why=OPEN_CHARGE)
        worst = max(per, key=lambda name: per[name])
        note = f"what no line tells of the charge is taken as {worst}, which gives most"
        return share(f"{name_of(gas)} from the rest", rest, per[worst], note)


def _gases_of(reaction: Reaction) -> tuple[str, ...]:
    """The gases that are looked for here: hydrogen of an acid is counted for all acids at once.

    Hydrogen chloride stays in water, but not where a salt is burnt.
    """
    burnt = reaction.work == "calcine" and "HCl" in reaction.equation.out
    gases = (*reaction.gases, "HCl") if burnt else reaction.gases
    return tuple(gas for gas in gases if gas != "H2" or not _counted_by_kind(reaction, gas))


def _counted_by_kind(reaction: Reaction, gas: str) -> bool:
    return any((formula, gas) in counted_here() for formula in reaction.equation.into)


def _from_substances(mix: Mix) -> Iterator[GasPart]:
    """What supplies give with each other; what is counted by its kind comes from gas_freed.py."""
    substances = mix.substances
    for reaction in reactions().values():
        present = reaction.basis in substances and substances.keys() >= set(reaction.asks)
        if reaction.metal or reaction.work == "step" or not present:
            continue
        for gas in reaction.gases:
            if not _counted_by_kind(reaction, gas):
                ratios = {reaction.basis: reaction.given(gas)}
                ratios |= {one: reaction.given(gas) / reaction.asked(one) for one in reaction.asks}
                bounds = [
                    share(f"{name_of(gas)} that {one} allows", there(substances[one]), ratio)
                    for one, ratio in ratios.items()
                ]
                name = f"{name_of(gas)} from {reaction.basis}"
                yield gas, tightest(name, bounds, _told(reaction))


def _driven_off(mix: Mix) -> Iterator[GasPart]:
    """What is a gas by itself, and what heat drives out of its solution: all of it."""
    for formula, substance in mix.substances.items():
        gas = formula in LET_IN and formula not in VOLATILE
        if gas or (mix.setting.heated and formula in VOLATILE):
            how = "as it was let in" if gas else "driven off by heat"
            name = f"{name_of(formula)} {how}"
            yield formula, most(name, [there(substance)], (f"as if all of it were {how}",))


def _told(reaction: Reaction) -> Iterator[str]:
    note = f"; {reaction.note}" if reaction.note else ""
    yield f"{reaction.equation.text} ({reaction.standing}: {reaction.source}){note}"
