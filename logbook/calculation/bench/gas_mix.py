"""What stands together in a stage as its gas is looked for: substances by kind, and the heat.

What went into solution earlier still holds its nitrate or chloride: an upper limit of it counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from logbook.calculation.bench.demand import DISSOLVE
from logbook.calculation.bench.gas_bounds import share, summed, there
from logbook.calculation.bench.substances import merged, within
from logbook.calculation.figure import Figure
from logbook.calculation.results import StageChemistry, Substance
from logbook.chemistry.air import name_of
from logbook.chemistry.formulas import molar_mass
from logbook.chemistry.ranges import Range
from logbook.chemistry.releases import gram_of, helpers

OXIDES = frozenset({"NO", "NO2"})


@dataclass(frozen=True, slots=True)
class Setting:
    """What is done in a stage, as far as a gas depends on it.

    `dried` is whatever ends dry (boiled down, dried, melted, burnt), `fire` what is melted or
    burnt, `earlier` what acid earlier stages put in, which may stand there as a salt.
    """

    heated: bool = False
    dried: bool = False
    fire: bool = False
    dissolves: bool = False
    earlier: tuple[Substance, ...] = ()


@dataclass(frozen=True, slots=True)
class Mix:
    """A stage with its substances by formula."""

    chemistry: StageChemistry
    setting: Setting
    substances: Mapping[str, Substance] = field(default_factory=dict)

    def of_kind(self, kind: str) -> list[Substance]:
        """What of a kind is there, and what acid was put in earlier where that is of the kind."""
        found = [self.substances[one] for one in helpers(kind) if one in self.substances]
        return found + [one for one in self.earlier() if kind != "acid" and _is(kind, one)]

    def earlier(self) -> tuple[Substance, ...]:
        """What acid of earlier stages may be there as a salt."""
        return self.setting.earlier

    def allowed(self, kind: str, gas: str, moles: float) -> list[Figure]:
        """The most of a gas that each substance of a kind gives, so many moles a unit [g]."""
        return [
            share(
                f"{name_of(gas)} that {one.formula} allows",
                there(one),
                gram_of(kind, one.formula, gas, moles),
            )
            for one in self.of_kind(kind)
        ]

    def nitrogen(self, gas: str) -> Figure | None:
        """The most of an oxide that all the nitrate and nitrite can leave as [g]."""
        parts = [*self.allowed("nitrate", gas, 1.0), *self.allowed("nitrite", gas, 1.0)]
        return summed(f"{name_of(gas)} that all the nitrate allows", parts) if parts else None

    @property
    def dissolves(self) -> bool:
        """Whether metal of the charge is there as metal that may go into solution."""
        ways = self.chemistry.reactions
        return self.setting.dissolves or any(one.work == DISSOLVE for one in ways)

    @property
    def open_rest(self) -> bool:
        """Whether part of the charge is not told of."""
        rest = self.chemistry.rest
        return rest is None or within(rest).high != 0

    def as_mixed(self) -> Mix:
        """With nitric acid as a nitrate salt makes it in any acid."""
        salts = [one for one in self.of_kind("nitrate") if one.formula != "HNO3"]
        if not salts or not self.of_kind("acid"):
            return self
        acid = [self.substances["HNO3"]] if "HNO3" in self.substances else []
        made = merged([*acid, *(_as_nitric(one) for one in salts)])
        return Mix(self.chemistry, self.setting, {**self.substances, "HNO3": made[0]})


def mix_of(chemistry: StageChemistry, setting: Setting) -> Mix:
    """The mix of a stage."""
    return Mix(chemistry, setting, {one.formula: one for one in chemistry.substances})


def _is(kind: str, substance: Substance) -> bool:
    return substance.formula in helpers(kind)


def _as_nitric(salt: Substance) -> Substance:
    per = helpers("nitrate")[salt.formula] * molar_mass("HNO3") / molar_mass(salt.formula)
    grams = salt.grams * Range.exactly(per)
    return Substance("HNO3", grams, f"{salt.words} with acid", salt.spans, salt.notes)
