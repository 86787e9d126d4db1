"""What one run shows for a comparison: recovery, hours and cost for each gram that it made.

Hours and cost are those of what was made, as the costing follows them: with what came in, and
without what was set aside. Where a run made several metals nothing tells whose they were.
"""

from __future__ import annotations

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import MetalBalance, RunFigures
from logbook.calculation.sums import add_up, ratio, zero

RECOVERY, SO_FAR = "recovery in the run", "recovery so far"
HOURS, COST = "hours per gram", "cost per gram"
MEASURES = (RECOVERY, SO_FAR, HOURS, COST)


def measures_of(figures: RunFigures, balance: MetalBalance) -> dict[str, Figure]:
    """The measures of one run for one of its metals. Recovery is of an assayed head alone."""
    recovery, so_far = balance.recovery, balance.so_far or balance.recovery
    if recovery.known and balance.head_basis != "assayed":
        why = f"its head is {balance.head_basis}, and such a recovery means something else"
        recovery = not_known(RECOVERY, "g/g", why)
        so_far = not_known(SO_FAR, "g/g", why)
    return {
        RECOVERY: recovery,
        SO_FAR: so_far,
        HOURS: hours_per_gram(figures),
        COST: cost_per_gram(figures),
    }


def hours_per_gram(figures: RunFigures) -> Figure:
    """Hands-on hours for each gram of fine metal [h/g]: hours of what was made / product."""
    return _per_gram(HOURS, "h/g", hours_of_made(figures), figures)


def cost_per_gram(figures: RunFigures) -> Figure:
    """Cost for each gram of fine metal, with the scrap [currency/g].

    Equation: c = C / m, with C the cost of what was made and m the product [g].
    """
    costing, unit = figures.costing, figures.cost_with_feed.unit
    made = figures.cost_with_feed
    if costing is not None:
        made = add_up("cost of what was made", unit, [costing.in_products, costing.written_off])
    return _per_gram(COST, f"{unit}/g", made, figures)


def hours_of_made(figures: RunFigures) -> Figure:
    """The hours that a run's products must bear [h]."""
    costing = figures.costing
    if costing is None:
        return figures.hands_on
    lost = costing.hours_written_off or zero("hours written off", "h")
    return add_up("hours of what was made", "h", [costing.hours_in_products, lost])


def _per_gram(name: str, unit: str, above: Figure, figures: RunFigures) -> Figure:
    own = [one for one in figures.balances if one.metal in figures.run.metals]
    if len(own) != 1:
        why = "it made several metals, and nothing tells which share is whose"
        return not_known(name, unit, why if own else "the run names no metal")
    return ratio(name, unit, above, own[0].product)
