"""Which steps of the order in waste.toml concern a container. It gives no leave to take them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure
from logbook.calculation.results import Content, WasteStep
from logbook.chemistry.waste_data import waste_data
from logbook.reference import metals

BASIC, NEUTRAL = 9.0, 7.0
"""pH from which a liquid is taken as caustic, and up to which as acid (no source)."""


@dataclass(frozen=True, slots=True)
class Kind:
    """What is known of a container, as far as the order of handling it goes.

    `as_it_is`: something is in it that must not be treated. `known`: every supply and liquid
    that went in can be counted.
    """

    liquid: bool
    ph: Figure
    takes: float | None
    caustic: bool
    contents: Mapping[str, Content]
    may_hold: Sequence[str]
    as_it_is: bool = False
    known: bool = True

    @property
    def may_be_acid(self) -> bool:
        """Whether acid may be in it: no pH above the middle was read, and some was put in."""
        least = self.ph.value.value if self.ph.value is not None else self.ph.low
        return self.liquid and self.takes != 0.0 and (least is None or least < NEUTRAL)

    @property
    def may_be_caustic(self) -> bool:
        """Whether caustic may be in it: some was put in, or the pH tells."""
        most = self.ph.value.value if self.ph.value is not None else self.ph.high
        if most is not None:
            return self.liquid and most >= BASIC
        return self.liquid and self.caustic

    def may_hold_metal(self, *, precious: bool) -> bool:
        """Whether a metal of one kind is in it, or may be."""
        noble = {metal.name for metal in metals().values() if metal.precious}
        spoken = [name for name, content in self.contents.items() if within(content.best).high != 0]
        return any((name in noble) is precious for name in (*spoken, *self.may_hold))

    def meets(self, need: str) -> bool:
        """Whether a step that is for something concerns it."""
        return {
            "any": True,
            "liquid": self.liquid,
            "solid": not self.liquid,
            "acid": self.may_be_acid,
            "base": self.may_be_caustic,
            "metals": self.liquid,
            "dissolved": self.liquid and self.takes != 0.0,
            "precious": self.may_be_acid and self.may_hold_metal(precious=True),
            "copper": self.may_be_acid and self.known,
            "as it is": self.as_it_is,
        }[need]


def steps_for(kind: Kind) -> tuple[WasteStep, ...]:
    """The steps that concern a container, in their order; none that treats what must not be."""
    rows = {row["id"]: row for row in waste_data()["step"]}
    return tuple(
        step
        for step in every_step()
        if kind.meets(rows[step.name]["for"]) and (rows[step.name].get("kept") or not kind.as_it_is)
    )


@cache
def every_step() -> tuple[WasteStep, ...]:
    """The whole order of waste.toml."""
    data = waste_data()
    return tuple(
        WasteStep(row["id"], row["text"], _sources(row["source"], data["sources"]), row["standing"])
        for row in data["step"]
    )


def _sources(named: str | list[str], sources: Mapping[str, str]) -> str:
    return "; ".join(sources[one] for one in ([named] if isinstance(named, str) else named))
