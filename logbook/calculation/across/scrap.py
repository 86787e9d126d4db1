"""Kinds of scrap against each other: what is in them, what that is worth, what it took.

The worth of a kilogram is that of the metal in it at the latest price, before anything is lost
or spent; the net is what runs on that scrap alone left. Neither says that a lot is like those
before it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from logbook.calculation.across.kinds import Kinds
from logbook.calculation.across.measures import hours_per_gram
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.lot_worth import rate_as_metal
from logbook.calculation.money.markets import Market
from logbook.calculation.plans.likeness import spread
from logbook.calculation.results import RunFigures, Thing
from logbook.calculation.results.across import Lot, ScrapFigures, ScrapMetal
from logbook.calculation.results.plans import Spread
from logbook.calculation.sums import add_up, product, ratio
from logbook.model.amount import Uncertain
from logbook.model.book import ScrapKind

KILO = Figure("a kilogram", "g", Uncertain(1000.0), "exactly")


def scrap_figures(
    known: Sequence[ScrapKind],
    runs: Mapping[str, RunFigures],
    things: Sequence[Thing],
    market: Market,
) -> tuple[ScrapFigures, ...]:
    """Every kind of scrap of the book; what a kilogram is worth most first, unknown ones last."""
    kinds = Kinds(known)
    lots = kinds.lots(things)
    done = [figures for figures in runs.values() if not figures.run.planned]
    took = {figures.run.name: kinds.of_run(figures) for figures in done}
    found = [
        _kind(kind, of, [one for one in done if kind in took[one.run.name]], kinds, market)
        for kind, of in lots.items()
    ]
    return tuple(sorted(found, key=_rank))


def _rank(one: ScrapFigures) -> tuple[bool, float, str]:
    value = one.worth.value
    return (value is None, 0.0 if value is None else -value.value, one.kind)


def _kind(
    kind: str, lots: Sequence[Lot], runs: Sequence[RunFigures], kinds: Kinds, market: Market
) -> ScrapFigures:
    metals = tuple(
        _metal(metal, lots, market)
        for metal in dict.fromkeys(metal for lot in lots for metal, _ in lot.grades)
    )
    alone = [one for one in runs if kinds.alone(one)]
    return ScrapFigures(
        kind=kind,
        lots=tuple(lots),
        runs=tuple(one.run.name for one in runs),
        alone=tuple(one.run.name for one in alone),
        metals=metals,
        worth=_worth(metals, market),
        hours_per_gram=_over(alone, "hours per gram", "h/g", [hours_per_gram(o) for o in alone]),
        net_per_kilo=_over(
            alone,
            "net per kilogram of scrap",
            f"{market.currency}/kg",
            [net_per_kilo(one) for one in alone],
        ),
    )


def _over(runs: Sequence[RunFigures], name: str, unit: str, figures: Sequence[Figure]) -> Spread:
    if not runs:
        return Spread(not_known(name, unit, "no run worked on this scrap alone"))
    return spread(name, unit, figures, len(runs))


def _metal(metal: str, lots: Sequence[Lot], market: Market) -> ScrapMetal:
    grades = [figure for lot in lots for name, figure in lot.grades if name == metal]
    grade = spread(f"head grade, {metal}", "g/g", grades, len(lots))
    return ScrapMetal(metal, grade, metal_per_kilo(metal, grade.mean, market))


def metal_per_kilo(metal: str, grade: Figure, market: Market) -> Figure:
    """What the metal in a kilogram of scrap is worth, at the latest price and terms.

    Equation: v = w × 1000 g × p [currency/kg], with w the head grade [g/g] and p what is paid
    for a gram of the pure metal, see `price_as_metal`. Source: the definition of a grade.
    """
    held = product(f"{metal} in a kilogram", "g", grade, KILO)
    rate = rate_as_metal(metal, market, None)
    return product(f"worth of the {metal}", f"{market.currency}/kg", held, rate)


def _worth(metals: Sequence[ScrapMetal], market: Market) -> Figure:
    name, unit = "worth of a kilogram, as metal", f"{market.currency}/kg"
    if not metals:
        return not_known(name, unit, "no metal is named that it holds")
    return add_up(name, unit, [one.worth for one in metals])


def net_per_kilo(figures: RunFigures) -> Figure:
    """What a run left for each kilogram of its scrap [currency/kg]: net / feed."""
    name, unit = "net per kilogram of scrap", f"{figures.net.unit}/kg"
    made = [one.product for one in figures.balances if one.metal in figures.run.metals]
    if all(one.value is not None and not one.value.value for one in made):
        return not_known(name, unit, "the run made no product")
    if figures.feed.value is None:
        return ratio(name, unit, figures.net, figures.feed)
    value = figures.feed.value.times(0.001)
    kilos = Figure("feed", "kg", value, "in kilograms", (figures.feed,), notes=figures.feed.notes)
    return ratio(name, unit, figures.net, kilos)
