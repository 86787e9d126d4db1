"""What each use of an account cost, and the average it was counted at, as figures.

The doubt of a cost is that of the quantity that was used: the account itself counts quantities
as they were written, as a bottle is counted by its label.
"""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.sums import lowest, notes_of
from logbook.calculation.supplies.arrivals import MOST, Arrival, came_on
from logbook.calculation.supplies.moving_average import Taking
from logbook.calculation.supplies.names import supply_in_words
from logbook.calculation.supplies.shelving import Line, Shelf
from logbook.calculation.supplies.walked import After, Walked
from logbook.model.amount import ZERO, Uncertain

AT_AVERAGE = "used × average cost of what was there"


def missing(shelf: Shelf) -> str:
    """Why nobody knows what was used beyond what was there."""
    return f"more was used than was bought or had: a purchase of {shelf.words} is missing"


def average_figures(account: Walked, currency: str) -> list[Figure]:
    """The average cost of a unit after each line; one record for as long as it holds."""
    shelf = account.shelf
    name, unit = f"average cost of {shelf.words}", f"{currency}/{shelf.unit}"
    held = not_known(name, unit, f"no price of {shelf.words} was noted up to then")
    found = []
    for step in account.steps:
        if step.taking is None and step.average is not None and _priced(step):
            held = _average(step, name, unit, currency)
        found.append(held)
    return found


def _priced(step: After) -> bool:
    arrival = step.line.arrival
    return arrival is not None and arrival.paid.known and step.line.quantity.known


def _average(step: After, name: str, unit: str, currency: str) -> Figure:
    """Equation: (cost of what was left + paid) / (left + bought) [currency per unit]."""
    line, arrival = step.line, step.line.arrival
    assert arrival is not None and step.average is not None
    quantity, cost = step.before
    value = Uncertain(float(step.average))
    if not quantity:
        terms: tuple[Figure, ...] = (arrival.paid, line.quantity)
        return Figure(name, unit, value, "paid / bought", terms)
    left = Figure("left of it then", line.quantity.unit, Uncertain(float(quantity)))
    worth = Figure("cost of what was left", currency, Uncertain(float(cost)))
    terms = (worth, arrival.paid, left, line.quantity)
    words = "(cost of what was left + paid) / (left + bought)"
    return Figure(name, unit, value, words, terms)


def cost_figure(account: Walked, step: After, average: Figure, currency: str) -> Figure:
    """What a use cost: not known, and at least the part that is, where some has no price."""
    line, taking = step.line, step.taking
    assert line.use is not None and taking is not None
    shelf, quantity = account.shelf, line.quantity
    name = f"cost of {supply_in_words(line.use.portion)}"
    terms = (quantity, average) if average.known else (quantity,)
    cost = float(taking.cost)
    notes = (*quantity.notes, *_notes(line, taking, shelf))
    why = _why(shelf, quantity, taking)
    if why:
        return Figure(name, currency, None, AT_AVERAGE, terms, (), why, cost, None, notes)
    words = "free" if shelf.from_tap and not cost else AT_AVERAGE
    return Figure(name, currency, _with_doubt(cost, quantity), words, terms, notes=notes)


def _why(shelf: Shelf, quantity: Figure, taking: Taking) -> str:
    """Why a cost is not known; empty where it is."""
    if not quantity.known and (shelf.came or not shelf.from_tap):
        return quantity.why
    if lowest(quantity) >= MOST:
        return f"{quantity.name}: no such amount can be meant"
    if taking.priced:
        return ""
    reasons = [*taking.reasons, *([missing(shelf)] if taking.owed else [])]
    return "; ".join(dict.fromkeys(reasons))


def _with_doubt(cost: float, quantity: Figure) -> Uncertain:
    """A cost with the doubt of what was used, which is the same part of it."""
    used = quantity.value or ZERO
    if not used.errors or not used.value:
        return Uncertain(cost)
    return Uncertain(cost, used.times(cost / used.value).errors)


def _notes(line: Line, taking: Taking, shelf: Shelf) -> tuple[str, ...]:
    notes = (line.note,) if line.note else ()
    if shelf.from_tap:
        beyond = ", beyond what was bought" if shelf.came else ""
        notes = (*notes, f"{shelf.words} is counted as free{beyond}")
    if taking.late:
        days = dict.fromkeys(one for one in taking.late if isinstance(one, Arrival))
        came = " and ".join(came_on(one.step) for one in days)
        price = f"counted at the price of what was {came}"
        notes = (*notes, f"used before it was there: {price}")
    return notes


def estimate(shelf: Shelf, quantity: Figure, average: Figure, name: str, currency: str) -> Figure:
    """What a quantity would cost at an average: of a plan, which takes nothing from an account.

    Equation: cost = q a [currency]. Source: as for the account (`moving_average.py`).
    """
    if quantity.value is None or average.value is None:
        why = quantity.why or average.why
        low = lowest(quantity) * average.value.value if average.value is not None else None
        return Figure(name, currency, None, AT_AVERAGE, (quantity, average), (), why, low)
    cost = quantity.value.value * average.value.value
    value = _with_doubt(cost, quantity)
    figure = Figure(name, currency, value, AT_AVERAGE, (quantity, average))
    return replace(figure, notes=notes_of((quantity, average)))
