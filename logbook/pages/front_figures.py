"""The few figures of the front page that speak of the whole book.

Each is a sum or a ratio of figures that were worked out before.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.worth import net_in_sums
from logbook.calculation.results import BookFigures, RunFigures
from logbook.calculation.sums import add_up, product, ratio
from logbook.model.amount import total
from logbook.pages.rounding import plural

ALL = "all"
WORTH = "worth of it at the latest price"


def fine_to_date(figures: BookFigures) -> tuple[Figure, ...]:
    """The fine metal that the book's runs made and that stays, one figure for each metal."""
    return tuple(
        replace(one.product, name=one.metal) for one in figures.totals if one.period == ALL
    )


def worth_to_date(figures: BookFigures) -> Figure:
    """What that metal is worth at the latest price of each metal."""
    latest = {price.metal: price.price for price in figures.prices}
    parts = []
    for fine in fine_to_date(figures):
        if fine.value is not None and not fine.value.value:
            continue
        price = latest.get(fine.name)
        if price is None:
            why = f"no price of {fine.name} is noted"
            price = not_known(f"price of {fine.name}", f"{_currency(figures)}/g", why)
        parts.append(product(f"worth of {fine.name}", _currency(figures), fine, price))
    if not parts:
        return not_known(WORTH, _currency(figures), "no product is in the book yet")
    return add_up(WORTH, _currency(figures), parts, "Σ fine metal × its latest price")


def net_per_hour(figures: BookFigures) -> Figure:
    """What an hour at the bench left, over all runs that were done.

    Where net or hours of some runs are not known it is not known: those that are known are
    no fair sample. What they gave stands in the working.
    """
    done = [one for one in figures.runs.values() if not one.run.planned]
    known = [one for one in done if net_in_sums(one).known and one.hands_on.known]
    unit = f"{_currency(figures)}/h"
    if not done:
        return not_known("net per hour", unit, "no run is in the book yet")
    count = plural(len(done), "run")
    why = f"net or hours are not known of {len(done) - len(known)} of {count}"
    if not known:
        return not_known("net per hour", unit, why)
    hours = add_up("hours", "h", [_named(one, one.hands_on) for one in known], "sum over runs")
    hourly = ratio("net per hour", unit, _net(known), hours, "net / hours hands-on")
    if len(known) == len(done):
        return hourly
    some = replace(hourly, name=f"net per hour of the {len(known)} where both are known")
    return not_known("net per hour", unit, why, some)


def _net(runs: Sequence[RunFigures]) -> Figure:
    terms = tuple(_named(one, net_in_sums(one)) for one in runs)
    values = [term.value for term in terms if term.value is not None]
    return Figure("net", terms[0].unit, total(values), "sum over runs", terms)


def _named(run: RunFigures, figure: Figure) -> Figure:
    return replace(figure, name=f"{figure.name} of {run.run.title}")


def _currency(figures: BookFigures) -> str:
    return next(iter(_currencies(figures)), "")


def _currencies(figures: BookFigures) -> Iterable[str]:
    return (one.net.unit for one in figures.runs.values())
