"""Running figures over months and years, and the fine metal made so far.

pandas groups the runs; the sums keep their working and their doubt. A period is one whole:
what one of its runs made and another took is inside it and counts neither as head nor as
product. pandas is imported only where it is used, so that reading a book stays fast.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.in_stock import ALL, Stay, stays, stock_at_ends
from logbook.calculation.money.nets import net_over
from logbook.calculation.origins import Origins, maker, origins_of
from logbook.calculation.results import (
    MetalBalance,
    MetalPoint,
    PeriodTotal,
    Role,
    RunFigures,
    Thing,
)
from logbook.calculation.sums import add_up, difference, ratio, zero
from logbook.model.amount import ZERO, Uncertain, combined, total
from logbook.model.book import Book

SharedGap = tuple[str, str, float]  # a metal, the name of a gap, and how much it is [g]


def period_totals(
    runs: Mapping[str, RunFigures], things: Sequence[Thing], book: Book
) -> tuple[PeriodTotal, ...]:
    """Totals by month, by year and over all, for each metal that a run made its aim."""
    import pandas as pd

    rows = [
        {"period": period, "metal": metal, "run": name}
        for name, figures in runs.items()
        if not figures.run.planned
        for metal in figures.run.metals
        for period in _periods(figures)
    ]
    if not rows:
        return ()
    origins = origins_of(things)
    groups = pd.DataFrame(rows).groupby(["period", "metal"], sort=True)["run"]
    periods = {
        (str(period), str(metal)): [runs[str(name)] for name in names]
        for (period, metal), names in groups
    }
    stock, shared = _stocks(periods, stays(things, book)), _shared_gaps(runs.values())
    return tuple(
        replace(_total(period, metal, found, origins, shared), stock=stock[period, metal])
        for (period, metal), found in periods.items()
    )


def _stocks(
    periods: Iterable[tuple[str, str]], found: Sequence[Stay]
) -> dict[tuple[str, str], Figure]:
    """The stock at the end of each period, for each metal."""
    by_metal: dict[str, list[str]] = {}
    for period, metal in periods:
        by_metal.setdefault(metal, []).append(period)
    return {
        (period, metal): figure
        for metal, names in by_metal.items()
        for period, figure in stock_at_ends(metal, names, found).items()
    }


def _periods(figures: RunFigures) -> tuple[str, ...]:
    day = _day(figures)
    if day is None:
        return (ALL,)
    return f"{day.year:04}-{day.month:02}", f"{day.year:04}", ALL


def _total(
    period: str,
    metal: str,
    runs: Sequence[RunFigures],
    origins: Origins,
    shared: Mapping[SharedGap, set[str]],
) -> PeriodTotal:
    inside = {figures.run.name for figures in runs}
    head = head_of(metal, runs, inside, origins)
    product = product_of(metal, runs, inside, origins)
    unaccounted = _unaccounted(metal, runs, shared)
    return PeriodTotal(
        period=period,
        metal=metal,
        head=head,
        product=product,
        recovery=ratio("recovery", "g/g", product, head),
        cost=_sum("cost", [figures.cost for figures in runs]),
        hours=_sum("hours", [figures.hands_on for figures in runs]),
        net=net_over(runs),
        unaccounted=unaccounted,
        accountability=_accountability(head, unaccounted),
    )


def _unaccounted(
    metal: str, runs: Sequence[RunFigures], shared: Mapping[SharedGap, set[str]]
) -> Figure:
    """What is not accounted for over some runs, each gap once; not known where one is not.

    The first term is then the sum of those that are known.
    """
    terms = _gaps(metal, runs, shared)
    known = [figure for figure in terms if figure.value is not None]
    sum_of_known = total([figure.value for figure in known if figure.value is not None])
    words = f"sum of {len(terms)} gaps, one that several runs have counted once"
    if terms and len(known) == len(terms):
        return Figure("unaccounted", "g", sum_of_known, words, tuple(terms))
    if not terms:
        return not_known("unaccounted", "g", f"no {metal} went in or came out")
    why = f"it is not known of {len(terms) - len(known)} of {len(terms)}"
    part = Figure("unaccounted where that is known", "g", sum_of_known, terms=tuple(known))
    first = (part,) if known else ()
    others = tuple(figure for figure in terms if figure.value is None)
    return Figure("unaccounted", "g", formula=words, terms=(*first, *others), why=why)


def _gaps(
    metal: str, runs: Sequence[RunFigures], shared: Mapping[SharedGap, set[str]]
) -> list[Figure]:
    """The gap of each run in which metal moved; one that several of them share only once."""
    found: list[Figure] = []
    seen: set[SharedGap] = set()
    inside = {figures.run.name for figures in runs}
    for figures in runs:
        balance = _balance(figures, metal)
        if balance is None or not (figures.things_in or figures.things_out):
            continue
        gap = balance.unaccounted
        if gap.value is not None and balance.gap_group:
            key = metal, balance.gap_group, gap.value.value
            if key in seen:
                continue
            seen.add(key)
            others = shared[key] - inside
            if others:
                why = f"its gap is one with that of {', '.join(sorted(others))}"
                gap = not_known(gap.name, "g", why, gap)
        found.append(gap)
    return found


def _shared_gaps(runs: Iterable[RunFigures]) -> dict[SharedGap, set[str]]:
    """The runs that have one and the same gap, by metal, group and grams."""
    found: dict[SharedGap, set[str]] = {}
    for figures in runs:
        for one in figures.balances:
            if one.gap_group and one.unaccounted.value is not None:
                key = one.metal, one.gap_group, one.unaccounted.value.value
                found.setdefault(key, set()).add(one.run)
    return found


def _accountability(head: Figure, unaccounted: Figure) -> Figure | None:
    """What can be pointed to over the head, (H − U) / H [g/g]; none where one is not known.

    Source: common practice, no source.
    """
    if not (head.known and unaccounted.known):
        return None
    found = difference("accounted for", "g", head, unaccounted)
    accountability = ratio("accountability", "g/g", found, head, "(head − unaccounted) / head")
    return accountability if accountability.known else None


def _sum(name: str, figures: Sequence[Figure]) -> Figure:
    return add_up(name, figures[0].unit, figures, f"sum of {len(figures)} runs")


def head_of(metal: str, runs: Sequence[RunFigures], names: set[str], origins: Origins) -> Figure:
    """What came into the period: assayed, or built up for a run that took nothing from it."""
    parts: list[Figure] = []
    for figures in runs:
        balance = _balance(figures, metal)
        if balance is None or not (figures.things_in or figures.things_out):
            continue
        makers = {maker(leaf) for thing in figures.things_in for leaf in origins.leaves(thing)}
        if makers & names:
            for thing in figures.things_in:
                parts.extend(origins.from_outside(thing, names, metal))
        else:
            parts.append(balance.head)
    if not parts:
        return not_known("head", "g", f"no {metal} was written to go in")
    return add_up("head", "g", parts, "sum of what came in from outside the period")


def product_of(metal: str, runs: Sequence[RunFigures], names: set[str], origins: Origins) -> Figure:
    """What the runs made and none of them took in again."""
    parts = [
        thing.contents[metal]
        for figures in runs
        for thing in figures.things_out
        if thing.role is Role.PRODUCT
        and metal in thing.contents
        and origins.user(thing) not in names
    ]
    if not parts:
        return zero("product", "g", f"no product of {metal}")
    return add_up("product", "g", parts, "sum of the products that stay")


def _balance(figures: RunFigures, metal: str) -> MetalBalance | None:
    return next((one for one in figures.balances if one.metal == metal), None)


@dataclass(slots=True)
class _SoFar:
    """A running sum that keeps what its terms share."""

    sum: Uncertain = ZERO
    left_out: int = 0

    def add(self, term: Uncertain, sign: float) -> None:
        """Add a term, or take one off."""
        self.sum = combined(((1.0, self.sum), (sign, term)))

    @property
    def uncertain(self) -> Uncertain:
        """The sum with its standard uncertainty as one error of its own."""
        return Uncertain.of(self.sum.value, self.sum.u, object())


def metal_points(runs: Iterable[RunFigures], things: Iterable[Thing]) -> tuple[MetalPoint, ...]:
    """Fine metal made so far, after each run that made some, in order of day.

    A product that a later run takes in again is taken off there, so that it counts once.
    Products whose fineness is not known are left out, and `so_far` says how many.
    """
    origins = origins_of(things)
    points: list[MetalPoint] = []
    sums: dict[str, _SoFar] = {}
    done = [figures for figures in runs if not figures.run.planned]
    for figures in sorted(done, key=lambda one: (str(_day(one) or "9"), one.run.name)):
        for metal in figures.run.metals:
            point = _point(figures, metal, sums.setdefault(metal, _SoFar()), origins)
            if point is not None:
                points.append(point)
    return tuple(points)


def _day(figures: RunFigures) -> date | None:
    return figures.end or figures.run.day


def _point(figures: RunFigures, metal: str, so_far: _SoFar, origins: Origins) -> MetalPoint | None:
    for thing in figures.things_in:
        for part in origins.leaves(thing) if thing.pooled_from else (thing,):
            content = part.contents.get(metal)
            if part.role is Role.PRODUCT and content is not None and content.value is not None:
                so_far.add(content.value, -1.0)
    balance, day = _balance(figures, metal), _day(figures)
    made = any(thing.role is Role.PRODUCT for thing in figures.things_out)
    if balance is None or day is None or not made:
        return None
    if balance.product.value is None:
        so_far.left_out += 1
        return None
    so_far.add(balance.product.value, 1.0)
    words = "fine metal before + this run's product"
    figure = Figure(f"fine {metal} so far", "g", so_far.uncertain, words, (balance.product,))
    if so_far.left_out:
        plural = "run is" if so_far.left_out == 1 else "runs are"
        note = f"{so_far.left_out} {plural} left out: the fineness of the product is not known"
        figure = replace(figure, notes=(note,))
    return MetalPoint(day, figures.run.name, metal, balance.product, figure)
