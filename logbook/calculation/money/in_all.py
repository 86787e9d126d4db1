"""Totals of all that led to a run: what was noted before lies inside them, the rest is loose.

`worked 8 h in all` and `spent 34 EUR in all` cover the run and those that it continues. What no
line accounts for is never spread over anything, and never becomes a thing that was bought.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.exchange import Exchange
from logbook.calculation.results import RunFigures
from logbook.calculation.schedule import continued_by
from logbook.calculation.sums import add_up, difference, lowest, zero
from logbook.calculation.weights import leaf
from logbook.findings import Finding, Weight
from logbook.model.entry import Entry
from logbook.model.run import Run

EARLIER = "the total covers earlier work, and no line Continues: tells which"
LESS_MONEY = "more was noted than was spent in all"
LESS_TIME = "more hours were noted than were worked in all"


def with_rests(runs: Mapping[str, RunFigures], exchange: Exchange) -> dict[str, RunFigures]:
    """The runs with what of their totals no line accounts for."""
    done = [one.run for one in runs.values() if not one.run.planned]
    found = dict(runs)
    for one in runs.values():
        if not one.run.planned and any(entry.in_all for entry in one.run.entries):
            chain = [found[run.name] for run in continued_by(one.run, done)]
            money, hours = money_rest(one, chain, exchange), hours_rest(one, chain)
            found[one.run.name] = replace(one, cost_unallocated=money, hours_unallocated=hours)
    return found


def money_rest(
    figures: RunFigures, chain: Sequence[RunFigures], exchange: Exchange
) -> Figure | None:
    """What of the money spent in all no other line accounts for; None without such a total.

    Equation: rest = total − Σ (scrap + reagents + energy + breakage + other) [currency], over the
    run and those that it continues; hours are no money spent. Source: the definition of a rest.
    """
    total = _total(figures.run, "spent")
    if total is None or total.price is None:
        return None
    name, currency = "not allocated", exchange.currency
    if not chain and not _stands_alone(figures):
        return Figure(name, currency, why=EARLIER, rests_on=(total.span,))
    whole = exchange.money("spent in all", total.price.amount, figures.run.day)
    rest = difference(
        name, currency, whole, add_up("noted before", currency, _spent(figures, chain))
    )
    if rest.value is not None and rest.value.value < 0.0:
        return zero(name, currency, LESS_MONEY)
    return replace(rest, low=max(rest.low or 0.0, 0.0) if not rest.known else None)


def hours_rest(figures: RunFigures, chain: Sequence[RunFigures]) -> Figure | None:
    """What of the hours worked in all no other line accounts for; None without such a total.

    Equation: rest = total − Σ t_i [h], over the run and those that it continues. Source: the
    definition of a rest.
    """
    total = _total(figures.run, "worked")
    if total is None or total.duration is None:
        return None
    name = "hours not allocated"
    if not chain and not _stands_alone(figures):
        return Figure(name, "h", why=EARLIER, rests_on=(total.span,))
    whole = leaf("worked in all", total.duration, "how long that was is not written")
    parts = list(_worked(figures, chain))
    if not parts:
        return replace(whole, name=name)
    noted = add_up("noted one by one", "h", parts)
    if whole.known and lowest(whole) < lowest(noted):
        return not_known(name, "h", LESS_TIME, whole, noted)
    rest = difference(name, "h", whole, noted)
    return rest if rest.known else replace(rest, low=max(rest.low or 0.0, 0.0))


def spent_in_all_findings(runs: Mapping[str, RunFigures], exchange: Exchange) -> Iterator[Finding]:
    """Say where more money was noted than was spent in all, in the runs it continues too."""
    done = [one.run for one in runs.values() if not one.run.planned]
    for one in runs.values():
        total = _total(one.run, "spent")
        if one.run.planned or total is None or total.price is None:
            continue
        chain = [runs[run.name] for run in continued_by(one.run, done)]
        if not chain and not _stands_alone(one):
            continue
        whole = exchange.money("spent in all", total.price.amount, one.run.day)
        noted = add_up("noted before", exchange.currency, _spent(one, chain))
        if whole.value is not None and lowest(noted) > whole.value.value + 0.005:
            yield Finding(
                "in-all-less",
                Weight.DOUBT,
                LESS_MONEY,
                total.price.amount.span,
                "the money noted line by line is counted",
                "correct the money in all, or one of the others",
            )


def _total(run: Run, action: str) -> Entry | None:
    """The last total of a run: it covers those before it."""
    totals = [one for one in run.entries if one.action == action and one.in_all]
    return totals[-1] if totals else None


def _stands_alone(figures: RunFigures) -> bool:
    """Whether nothing of an earlier run went in."""
    return not figures.run.continues and all(one.made_by is None for one in figures.things_in)


def _spent(figures: RunFigures, chain: Sequence[RunFigures]) -> list[Figure]:
    """What was noted as spent, with what earlier totals of the chain left loose."""
    each = (figures, *chain)
    noted = [line.amount for one in each for line in one.costs if line.kind != "labour"]
    loose = [_left_loose(one) for one in chain]
    return noted + [one for one in loose if one is not None]


def _left_loose(figures: RunFigures) -> Figure | None:
    """What a run that another continues left loose, where that is known."""
    rest = figures.cost_unallocated
    return rest if rest is not None and rest.known else None


def _worked(figures: RunFigures, chain: Sequence[RunFigures]) -> Iterator[Figure]:
    """The hours noted stage by stage in a run, and all those of the runs it continues."""
    for time in figures.stage_times:
        if any(
            entry.action == "worked" and not entry.in_all
            for entry in figures.run.stages[time.stage.index].entries
        ):
            yield time.hands_on
    for one in chain:
        if any(entry.action == "worked" for entry in one.run.entries):
            yield one.hands_on
