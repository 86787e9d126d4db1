"""What an hour would have earned with one input lower or higher, all others as they are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.money.inputs import Inputs
from logbook.calculation.results import Swing
from logbook.calculation.sums import lowest
from logbook.model.amount import Uncertain

MOST = 8
USUAL = 0.1  # of a value: a change that is common enough to ask about (our choice, no source)
MATTERS = 0.01  # of a value: a doubt below it moves nothing that a keeper would see
OWN, COMMON = "twice its own standard uncertainty", "a change of 10 %"
KINDS = {
    "feed": "cost of the scrap",
    "reagent": "cost of reagents",
    "energy": "cost of energy",
    "breakage": "breakage",
    "fee": "fees",
    "lump": "lump sums",
    "other": "other costs",
}


@dataclass(frozen=True, slots=True)
class Lever:
    """One input: its name, value and unit, and what an hour earned as a function of its factor."""

    what: str
    value: float
    unit: str
    doubt: float  # one standard uncertainty, as a fraction of the value
    hourly: Callable[[float], float]


def levers_of(inputs: Inputs) -> tuple[Lever, ...] | None:
    """All inputs that can move an hour's earnings; None where there is nothing to move.

    Costs that are not known count with what is known of them.
    """
    hours = inputs.hours.value
    if inputs.worth.value is None or hours is None or hours.value <= 0.0:
        return None
    worth, time = inputs.worth.value.value, hours.value
    costs = {kind: one for kind, one in inputs.costs.items() if kind != "labour"}
    spent = sum(map(lowest, costs.values()))
    earned = worth - spent

    def more(of: float) -> Callable[[float], float]:
        return lambda factor: (earned + of * (factor - 1.0)) / time

    found = []
    for metal, one in inputs.metals.items():
        if one.worth.value is None or one.price.value is None or one.fine.value is None:
            continue
        price, fine = one.price.value, one.fine.value
        base = one.worth.value.value
        gross = base * price.value / (price.value - one.refining) if one.refining else base
        unit = f"{inputs.currency}/g"
        found.append(Lever(f"price of {metal}", price.value, unit, 0.0, more(gross)))
        doubt = fine.u / fine.value if fine.value else 0.0
        found.append(Lever(f"fine {metal} in the product", fine.value, "g", doubt, more(base)))
    found += [
        Lever(
            KINDS.get(kind, kind), lowest(one), inputs.currency, _relative(one), more(-lowest(one))
        )
        for kind, one in costs.items()
    ]
    rest = Lever(
        "hours of work", time, "h", hours.u / time, lambda factor: earned / (time * factor)
    )
    return (*found, rest)


def _relative(figure: Figure) -> float:
    value = figure.value
    return value.u / value.value if value is not None and value.value else 0.0


def swings_of(inputs: Inputs, levers: tuple[Lever, ...]) -> tuple[Swing, ...]:
    """The swings, the widest first: each input down and up by its doubt, or by a usual change.

    Source: one-at-a-time sensitivity, as in any text on project appraisal (common practice).
    """
    found = [_swing(lever, inputs) for lever in levers if lever.value > 0.0]
    wide = [(abs(_width(one)), one) for one in found if abs(_width(one)) > 0.0]
    wide.sort(key=lambda pair: -pair[0])
    return tuple(one for _, one in wide[:MOST])


def _width(swing: Swing) -> float:
    low, high = swing.low.value, swing.high.value
    return high.value - low.value if low is not None and high is not None else 0.0


def _swing(lever: Lever, inputs: Inputs) -> Swing:
    own = 2.0 * lever.doubt >= MATTERS
    by = min(2.0 * lever.doubt, 0.9) if own else USUAL
    unit = f"{inputs.currency}/h"
    low, high = (
        Figure(
            "an hour earned", unit, Uncertain(lever.hourly(factor)), f"with {lever.what} changed"
        )
        for factor in (1.0 - by, 1.0 + by)
    )
    return Swing(
        lever.what,
        _said(lever.value * (1.0 - by), lever.unit),
        _said(lever.value * (1.0 + by), lever.unit),
        low,
        high,
        OWN if own else COMMON,
    )


def _said(value: float, unit: str) -> str:
    """A value in three figures, as one says it."""
    text = f"{value:.3g}"
    return f"{float(text):,.0f} {unit}" if "e" in text else f"{text} {unit}"
