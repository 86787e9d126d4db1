"""What an hour would have earned with one input lower or higher, all others as they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor, log10

from logbook.calculation.figure import Figure
from logbook.calculation.money.inputs import LABOUR, Inputs, MetalInput
from logbook.calculation.results import Swing
from logbook.calculation.sums import lowest, reasons
from logbook.model.amount import ZERO, Uncertain, combined

MOST = 8
USUAL = 0.1  # of a value: a change that is common enough to ask about (our choice, no source)
POINTS = 0.05  # of recovery: likewise
POINT = 0.01  # of the share that is paid for: likewise
MATTERS = 0.01  # of a value: a doubt below it moves nothing that a keeper would see
OWN, COMMON = "twice its own standard uncertainty", "a change of 10 %"
BY_POINTS, BY_POINT = "a change of 5 points of a hundred", "a change of 1 point of a hundred"
KINDS = {
    "feed": "cost of the scrap",
    "reagent": "cost of reagents",
    "energy": "cost of energy",
    "breakage": "cost of breakage",
    "fee": "fees",
    "lump": "lump sums",
    "other": "other costs",
}


@dataclass(frozen=True, slots=True)
class Lever:
    """One input: its name, value and unit, how far it is moved, and what of the money it moves.

    `moves` is the part of what was earned that changes with it in proportion [currency]; None
    for the hours. `doubt` is one standard uncertainty as a fraction of the value, and `own`
    tells that it is moved by that; its part is then exact once its value is.
    """

    what: str
    value: float
    unit: str
    doubt: float
    moves: Uncertain | None
    low: float  # factors on the value
    high: float
    by: str

    @property
    def own(self) -> bool:
        """Whether it is moved by its own doubt."""
        return self.by == OWN


def known_worth(inputs: Inputs) -> bool:
    """Whether worth and hours are known, so that something can be moved or drawn."""
    hours = inputs.hours.value
    return inputs.worth.value is not None and hours is not None and hours.value > 0.0


def earned_at_most(inputs: Inputs) -> Uncertain:
    """What was earned where costs that are not known are left out."""
    spent = [known_part(one) for kind, one in inputs.costs.items() if kind != LABOUR]
    worth = inputs.worth.value or ZERO
    return combined([(1.0, worth), *((-1.0, one) for one in spent)])


def known_part(cost: Figure) -> Uncertain:
    """A cost, or of one that is not known what is known of it."""
    return cost.value if cost.value is not None else Uncertain(lowest(cost))


def levers_of(inputs: Inputs) -> tuple[Lever, ...]:
    """All inputs that can move an hour's earnings; none where worth or hours are not known."""
    if not known_worth(inputs):
        return ()
    found = [lever for name, one in inputs.metals.items() for lever in _of_metal(name, one)]
    for kind, one in inputs.costs.items():
        cost = known_part(one)
        if kind != LABOUR and cost.value > 0.0:
            found.append(_doubted(KINDS.get(kind, kind), inputs.currency, cost, cost.times(-1.0)))
    hours = inputs.hours.value
    assert hours is not None
    return (*found, _doubted("hours of work", "h", hours, None))


def _of_metal(metal: str, one: MetalInput) -> Iterator[Lever]:
    """The levers of one metal: its price, its weight, its recovery, and what is paid for of it."""
    price, payable, fine = one.price.value, one.payable.value, one.fine.value
    if price is None or payable is None or fine is None or fine.value <= 0.0:
        return
    refining = one.refining.value if one.refining is not None else None
    gross = payable * price
    net = gross - payable * refining if refining is not None else gross
    yield _doubted(f"price of {metal}", one.price.unit, price, gross)
    doubt = _relative(fine)
    if doubt:
        by = min(2.0 * doubt, 0.9)
        what = f"fine {metal} in the product"
        yield Lever(what, fine.value, "g", doubt, net, 1.0 - by, 1.0 + by, OWN)
    recovery = one.recovery.value
    if recovery is not None and recovery.value > POINTS:
        yield _by_points(f"recovery of {metal}", recovery.value, POINTS, net, BY_POINTS)
    if one.payable is not one.fine:
        share = payable.value / fine.value
        yield _by_points(f"share of {metal} that is paid for", share, POINT, net, BY_POINT)


def _doubted(what: str, unit: str, value: Uncertain, moves: Uncertain | None) -> Lever:
    """A lever that is moved by its own doubt, or where that is small by a usual change."""
    doubt = _relative(value)
    own = 2.0 * doubt >= MATTERS
    by = min(2.0 * doubt, 0.9) if own else USUAL
    return Lever(what, value.value, unit, doubt, moves, 1.0 - by, 1.0 + by, OWN if own else COMMON)


def _by_points(what: str, value: float, points: float, moves: Uncertain, by: str) -> Lever:
    """A share that is moved by points of a hundred, no further up than all of it."""
    top = max(min(value + points, 1.0), value)
    words = by if top == value + points else f"{by}, to no more than all of it"
    low = max(value - points, 0.0)
    return Lever(what, value, "g/g", 0.0, moves, low / value, top / value, words)


def _relative(value: Uncertain) -> float:
    return value.u / value.value if value.value > 0.0 else 0.0


def swings_of(inputs: Inputs, levers: Sequence[Lever]) -> tuple[Swing, ...]:
    """The swings, the widest first: each input down and up by its doubt, or by a usual change.

    Where some cost is not known, what an hour would have earned has an upper limit only.
    Source: one-at-a-time sensitivity, as in any text on project appraisal (common practice).
    """
    if not levers:
        return ()
    earned, hours = earned_at_most(inputs), inputs.hours.value
    assert hours is not None
    unknown = reasons(one for kind, one in inputs.costs.items() if kind != LABOUR)
    wide = []
    for lever in levers:
        low, high = (_end(lever, by, earned, hours) for by in (lever.low, lever.high))
        if low.value != high.value:
            unit = f"{inputs.currency}/h"
            ends = (_hourly(low, unit, unknown), _hourly(high, unit, unknown))
            wide.append((abs(high.value - low.value), _swing(lever, *ends)))
    wide.sort(key=lambda pair: -pair[0])
    return tuple(swing for _, swing in wide[:MOST])


def _end(lever: Lever, by: float, earned: Uncertain, hours: Uncertain) -> Uncertain:
    """What an hour would have earned with a lever at a factor of its value.

    Equation: y = (E + k (f − 1)) / t [currency/h], with E what was earned, k the part of it that
    moves with the lever, f the factor and t the hours; the errors of a lever that is moved by
    its own doubt are left out, as its value is given.
    """
    time, moves = hours.value, lever.moves
    if moves is None:
        return earned.times(1.0 / (time * by))
    value = (earned.value + moves.value * (by - 1.0)) / time
    share = -1.0 if lever.own else by - 1.0
    terms = ((1.0 / time, earned), (share / time, moves), (-value / time, hours))
    return Uncertain(value, combined(terms).errors)


def _hourly(value: Uncertain, unit: str, unknown: str) -> Figure:
    words = "what was earned with this changed / hours"
    if unknown:
        return Figure("an hour earned", unit, formula=words, why=unknown, high=value.value)
    return Figure("an hour earned", unit, value, words)


def _swing(lever: Lever, low: Figure, high: Figure) -> Swing:
    half = lever.value * (lever.high - lever.low) / 2.0
    low_at, high_at = (
        said(lever.value * factor, half, lever.unit) for factor in (lever.low, lever.high)
    )
    return Swing(lever.what, low_at, high_at, low, high, lever.by)


def said(value: float, half: float, unit: str) -> str:
    """A value as one says it, to the place of the second figure of half its change.

    >>> said(1.1178, 0.1242, "EUR/g"), said(0.931, 0.05, "g/g"), said(2030.1, 225.6, "EUR")
    ('1.12 EUR/g', '93.1 %', '2,030 EUR')
    """
    if unit == "g/g":
        value, half, unit = value * 100.0, half * 100.0, "%"
    place = 1 - floor(log10(half)) if half > 0.0 else 2
    return f"{round(value, place):,.{max(place, 0)}f} {unit}"
