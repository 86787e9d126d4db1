"""Which gases metals give off as they dissolve, at most, as figures and in a sentence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from logbook.calculation.answers.premises import Charge
from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure
from logbook.chemistry.air import litres, name_of
from logbook.chemistry.reactions import Reaction, reactions

OXIDES = ("NO", "NO2")
STATE = "volumes at 25 C and 101.325 kPa; warm gas takes more room"
AT_MOST = "as much as the equations can give, nothing of it held back"
Given = dict[str, float]  # gas -> grams at most


def dissolving(of: Charge, formulas: frozenset[str]) -> Iterator[Reaction]:
    """The ways in which some supplies dissolve the metals of a charge, or its open rest."""
    open_rest = of.rest is not None and within(of.rest).high != 0
    for way in reactions().values():
        possible = way.work == "dissolve" and way.asks and formulas.issuperset(way.asks)
        if possible and (way.metal in of.metals or open_rest):
            yield way


def given_by_metals(of: Charge, ways: Sequence[Reaction]) -> Given:
    """Grams of each gas at most: for each metal the way that gives most of it."""
    found: Given = {}
    for gas in dict.fromkeys(gas for way in ways for gas in way.gases):
        grams = 0.0
        for metal, figure in of.metals.items():
            most = max((way.given(gas) for way in ways if way.metal == metal), default=0.0)
            grams += (within(figure).high or 0.0) * most
        if of.rest is not None:
            most = max((way.given(gas) for way in ways if way.work == "dissolve"), default=0.0)
            grams += (within(of.rest).high or 0.0) * most
        if grams:
            found[gas] = grams
    return found


def gas_figures(given: Given) -> tuple[Figure, ...]:
    """Each gas by its volume, at most."""
    return tuple(
        Figure(
            name_of(gas),
            "L",
            formula="grams at most × molar volume / molar mass",
            terms=(Figure(f"{name_of(gas)} by weight", "g", why=AT_MOST, high=grams),),
            why=AT_MOST,
            high=litres(gas, grams),
        )
        for gas, grams in given.items()
    )


def said(figures: Sequence[Figure]) -> list[str | Figure]:
    """Gases in a sentence; the oxides of nitrogen are one or the other."""
    words: list[str | Figure] = []
    oxides = {name_of(gas) for gas in OXIDES}
    for place, figure in enumerate(figures):
        before = figures[place - 1].name if place else ""
        joint = " or " if {before, figure.name} == oxides else " and "
        words += [joint if place else "", figure, f" of {figure.name}"]
    return words
