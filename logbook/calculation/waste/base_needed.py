"""The acid that may be left in a waste container, and the base that it takes at most.

The upper limit for the base is what all acid and salt that was put in can take: it counts what
the acid dissolved as well, since that has to fall as hydroxide. The lower limit is what is
surely there. Between them nothing is known, and the last of an acid goes by pH.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from logbook.calculation.figure import Figure
from logbook.calculation.results import BaseNeed, Content, StageChemistry
from logbook.calculation.sums import add_up
from logbook.calculation.waste.acids import AcidHeld
from logbook.calculation.waste.doubted import surely
from logbook.chemistry.neutralising import (
    acidity,
    base_for_acids,
    carbon_dioxide_litres,
    grams_of_base,
    heat_of_base,
    heat_of_dissolving,
    hydroxide_moles,
    thinning,
)
from logbook.chemistry.ranges import NOTHING, Range, added
from logbook.reference import metals
from logbook.source import Span

SUITABLE = ("NaOH", "Na2CO3", "NaHCO3", "Ca(OH)2")
WORDS = {"HNO3": "nitric acid", "HCl": "hydrochloric acid", "H2SO4": "sulfuric acid"}
BASE_WORDS = {
    "NaOH": "sodium hydroxide",
    "Na2CO3": "sodium carbonate, free of water",
    "NaHCO3": "sodium bicarbonate",
    "Ca(OH)2": "slaked lime",
}
STRONG = frozenset({"NaOH", "KOH", "Ca(OH)2", "CaO"})
LIMITS_ONLY = "how much of it was used up, and which way it went, is known between limits only"
HEAT = "heat of neutralising, of thinning strong acid and of dissolving solid lye"
NO_OTHER_HEAT = "what else reacts is not in it, such as peroxide that breaks down"
NO_STRENGTH = "how much of what was put in is not known"


def acids_left(held: AcidHeld, sources: Sequence[StageChemistry]) -> tuple[Figure, ...]:
    """The most and the least that may be left of each acid [g]."""
    return tuple(
        Figure(
            WORDS[name],
            "g",
            formula="put in − used up, at most and at least; pure acid",
            rests_on=_spans(sources, (name,)),
            why=LIMITS_ONLY if grams.high is not None else NO_STRENGTH,
            low=grams.low,
            high=grams.high,
        )
        for name, grams in held.acids.items()
    )


def base_needs(
    contents: Mapping[str, Content], held: AcidHeld, sources: Sequence[StageChemistry]
) -> tuple[BaseNeed, ...]:
    """What each of some bases would have to be there for, as limits [g], with the CO2 [L].

    Equation: m_high = n M_b / z_b [g], n the moles of base that all that was put in takes;
    m_low = Σ m_a r_a + Σ n_OH M_b / z_b over the acid and the metals that are surely there.
    Source: neutralising.py. Nothing is needed where nothing was put in that takes base.
    """
    if held.takes == 0.0 or (not held.reach and not held.doubts):
        return ()
    return tuple(_need(base, contents, held, sources) for base in SUITABLE)


def _need(
    base: str,
    contents: Mapping[str, Content],
    held: AcidHeld,
    sources: Sequence[StageChemistry],
) -> BaseNeed:
    most = _most(held)
    high = grams_of_base(base, most).high
    sure = {name: Range(grams.low, grams.low) for name, grams in held.acids.items()}
    metal = added(_metal_moles(contents))
    low = base_for_acids(base, sure) + grams_of_base(base, Range(metal.low, metal.low))
    least = low.low if high is None else min(low.low, high)
    why = _why(held)
    grams = Figure(
        BASE_WORDS[base],
        "g",
        formula="moles of base that acid and dissolved metal take × molar mass / equivalents",
        rests_on=_spans(sources, _brought(sources)),
        why=why,
        low=least,
        high=high,
    )
    gas = Figure(
        "carbon dioxide",
        "L",
        formula="one mole for each mole of carbonate, at 25 °C and 101.325 kPa",
        why=why,
        low=0.0,
        high=carbon_dioxide_litres(base, high),
    )
    return BaseNeed(base, grams, gas)


def heat_of(held: AcidHeld, sources: Sequence[StageChemistry]) -> Figure:
    """The heat of taking up the acid, at most [kJ]: of neutralising, thinning and dissolving.

    Equation: Q = n q + Σ m_a q_a / M_a + n q_b [kJ], n the moles of base that it takes at most,
    q what a mole of it gives off at most, m_a the most of each acid, q_a its heat of dilution,
    q_b the heat of dissolving solid sodium hydroxide. Source: neutralising.py.
    """
    most, why = _most(held), _why(held)
    brought = _brought(sources)
    unknown = [one for one in brought if heat_of_base(one) is None]
    each = heat_of_base(*brought)
    why = f"the heat of {unknown[0]} with a base is not in the data" if unknown else why
    taken = most.times(each) if each is not None else Range(0.0, None)
    parts = (
        ("the acid with a dissolved base", "moles of base × the heat of one", taken),
        ("thinning the acid", "each acid, as strong as there is", thinning(held.acids)),
        ("dissolving solid lye", "moles of base × its heat", heat_of_dissolving("NaOH", most)),
    )
    terms = [
        Figure(f"heat of {name}", "kJ", formula=words, why=why, low=0.0, high=heat.high)
        for name, words, heat in parts
    ]
    return replace(add_up(HEAT, "kJ", terms), notes=(NO_OTHER_HEAT,))


def caustic(held: AcidHeld, sources: Sequence[StageChemistry]) -> Figure | None:
    """The strong base that was put in, as grams of NaOH at most; None where none was."""
    strong = [one for source in sources for one in source.added if one.formula in STRONG]
    if not strong:
        return None
    high = None if held.base is None else grams_of_base("NaOH", Range(0.0, held.base)).high
    return Figure(
        "caustic that may be left",
        "g",
        formula="base that was put in, as sodium hydroxide",
        rests_on=tuple(dict.fromkeys(span for one in strong for span in one.spans)),
        why="how much of it was used up is not known",
        low=0.0,
        high=high,
    )


def _most(held: AcidHeld) -> Range:
    return NOTHING if held.takes == 0.0 else Range(0.0, held.takes)


def _why(held: AcidHeld) -> str:
    if held.doubts:
        return "; ".join(held.doubts)
    return NO_STRENGTH if held.takes is None else LIMITS_ONLY


def _metal_moles(contents: Mapping[str, Content]) -> Iterable[Range]:
    """The hydroxide that metals which are surely there take."""
    symbols: Mapping[str, str] = {metal.name: metal.symbol for metal in metals().values()}
    for metal, content in contents.items():
        sure = max(0.0, surely(content).low)
        yield hydroxide_moles(symbols[metal], Range(sure, sure))


def _brought(sources: Sequence[StageChemistry]) -> tuple[str, ...]:
    """The formulas of what takes base."""
    found = (one.formula for source in sources for one in source.added)
    return tuple(formula for formula in found if (acidity(formula) or 0) > 0)


def _spans(sources: Sequence[StageChemistry], formulas: Sequence[str]) -> tuple[Span, ...]:
    wanted = set(formulas)
    spans = (
        span
        for source in sources
        for one in source.added
        if one.formula in wanted
        for span in one.spans
    )
    return tuple(dict.fromkeys(spans))
