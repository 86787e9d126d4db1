"""Recovery by month: the product of a month's runs over their head, where both can be trusted.

A month is one whole, as in `trends.py`: what one of its runs made and another took counts once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from logbook.calculation.figure import Figure
from logbook.calculation.origins import Origins, origins_of
from logbook.calculation.results import MetalBalance, MonthRecovery, RunFigures, Thing
from logbook.calculation.sums import highest, lowest, ratio
from logbook.calculation.trends import head_of, product_of

FORMULA = "product of the month / head of the month"


def monthly_recovery(
    runs: Mapping[str, RunFigures], things: Sequence[Thing]
) -> tuple[MonthRecovery, ...]:
    """The recovery of each metal in each month in which a run worked on it, by metal and month.

    Equation: R = Σ P / Σ H [g/g] over the runs of a month; u²(R) counts a reading that stands
    in several of them once. Only runs with an assayed head count: a head built up from what
    came out would make its own recovery. Runs whose balance closes are kept apart from those
    of which that is not known. One that does not close is in neither, nor is one that set more
    of the metal aside for later than it made, or may have. Source: the definition
    of a recovery (common practice, no source); JCGM 100:2008, 5.2.2 (from memory).
    """
    months: dict[tuple[str, str], list[tuple[RunFigures, MetalBalance]]] = {}
    for figures in runs.values():
        day = figures.end or figures.run.day
        if figures.run.planned or day is None:
            continue
        for one in figures.balances:
            if one.metal in figures.run.metals and one.head_basis == "assayed":
                month = f"{day.year:04}-{day.month:02}"
                months.setdefault((one.metal, month), []).append((figures, one))
    origins = origins_of(things)
    return tuple(_month(*key, found, origins) for key, found in sorted(months.items()))


def _month(
    metal: str, month: str, found: Sequence[tuple[RunFigures, MetalBalance]], origins: Origins
) -> MonthRecovery:
    counted = {
        standing: [one for one, balance in found if _standing(balance) == standing]
        for standing in ("yes", "unknown", "")
    }
    return MonthRecovery(
        month=month,
        metal=metal,
        closing=_recovery(metal, counted["yes"], origins),
        untested=_recovery(metal, counted["unknown"], origins),
        closing_runs=_names(counted["yes"]),
        untested_runs=_names(counted["unknown"]),
        left_out=_names(counted[""]),
    )


def _standing(balance: MetalBalance) -> str:
    """Whether a balance closes: yes, unknown, or empty where the run is not to be counted."""
    set_aside = highest(balance.shelf)
    if balance.product.known and set_aside and set_aside > lowest(balance.product):
        return ""  # most of the work on this metal is still to come
    return balance.closes if balance.closes in ("yes", "unknown") else ""


def _recovery(metal: str, runs: Sequence[RunFigures], origins: Origins) -> Figure | None:
    if not runs:
        return None
    names = {one.run.name for one in runs}
    product, head = (of(metal, runs, names, origins) for of in (product_of, head_of))
    return ratio("recovery", "g/g", product, head, FORMULA)


def _names(runs: Sequence[RunFigures]) -> tuple[str, ...]:
    return tuple(one.run.name for one in runs)
