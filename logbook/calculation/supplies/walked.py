"""One account walked through in the order of days: what each purchase and each use did to it.

Only the exact arithmetic and what follows from it; figures, words and findings are made of it
elsewhere, where they are asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from math import sqrt

from logbook.calculation.figure import Figure
from logbook.calculation.money.exact import NOTHING, exact
from logbook.calculation.sums import lowest
from logbook.calculation.supplies.arrivals import MOST, Arrival
from logbook.calculation.supplies.moving_average import MovingAverage, Taking
from logbook.calculation.supplies.shelving import Line, Shelf

DOUBTS = 2.0
"""Less than this many standard uncertainties beyond what was there is no missing purchase."""


@dataclass(slots=True)
class After:
    """How an account stood after a line: what was there, by how much it is in doubt, and more.

    `before` is what was there and what it had cost before a purchase.
    """

    line: Line
    amount: Decimal  # what is known of the quantity of the line
    taking: Taking | None
    there: Decimal
    doubt: float
    average: Decimal | None
    owing: bool
    at_most: bool  # a use before was not known
    at_least: bool  # a purchase before was not known
    before: tuple[Decimal, Decimal] = (NOTHING, NOTHING)


@dataclass(slots=True)
class Shortage:
    """Uses that began before there was enough: the first, how much in all, and what came next."""

    line: Line
    first: Decimal
    whole: Decimal
    came: Arrival | None = None
    made_up: bool = False  # whether all of it came later


@dataclass(slots=True)
class Walked:
    """An account after all of its lines."""

    shelf: Shelf
    stock: MovingAverage
    steps: list[After] = field(default_factory=list)
    shortages: list[Shortage] = field(default_factory=list)

    @property
    def uses(self) -> Iterator[After]:
        """How the account stood after each use."""
        return (step for step in self.steps if step.taking is not None)


def walked(shelf: Shelf) -> Walked:
    """Walk through an account. One from the tap is never short of anything."""
    account = Walked(shelf, MovingAverage())
    variance = slack = 0.0  # of all readings; of those of the bench, as a bottle holds its label
    at_most = at_least = False
    for line in shelf.lines:
        value, amount = line.quantity.value, known_part(line.quantity)
        square = value.u**2 if value is not None and value.errors else 0.0
        variance += square
        slack += 0.0 if line.kind == "bought" else square
        before, taking = (account.stock.quantity, account.stock.cost), None
        if line.arrival is not None:
            _arrive(account, line, line.arrival, amount)
            at_least = at_least or not line.quantity.known
        else:
            taking = _take(account, line, amount, DOUBTS * sqrt(slack))
            at_most = at_most or not line.quantity.known
        stock = account.stock
        now = stock.there, sqrt(variance), stock.average, bool(stock.owing), at_most, at_least
        account.steps.append(After(line, amount, taking, *now, before))
    return account


def known_part(figure: Figure) -> Decimal:
    """What is known of a quantity, exactly; nothing of one that no sum should carry."""
    least = lowest(figure)
    return exact(least) if 0.0 < least < MOST else NOTHING


def _arrive(account: Walked, line: Line, arrival: Arrival, quantity: Decimal) -> None:
    priced = line.quantity.known and arrival.paid.value is not None
    paid = exact(arrival.paid.value.value) if priced and arrival.paid.value else NOTHING
    why = arrival.paid.why if line.quantity.known else line.quantity.why
    if quantity:
        account.stock.arrive(quantity, paid if priced else None, why, arrival)
    if not line.quantity.known and line.quantity.high is None:
        account.stock.had_unknown(line.quantity.why)
    if account.shortages and not account.shortages[-1].made_up:
        short = account.shortages[-1]
        short.came = short.came or arrival
        short.made_up = not account.stock.owing


def _take(account: Walked, line: Line, quantity: Decimal, slack: float) -> Taking:
    shelf, stock = account.shelf, account.stock
    if shelf.from_tap or not shelf.came:
        taking = stock.take(min(quantity, stock.there))
        if quantity and not shelf.from_tap:
            taking.reasons.append(_never_bought(shelf))
        return taking
    taking = stock.take(quantity, within=slack)
    if taking.owed:
        _note_shortage(account, line, taking.owed)
    return taking


def _never_bought(shelf: Shelf) -> str:
    if shelf.several:
        return f"of which strength the {shelf.words} was is not written"
    return f"no purchase of {shelf.words} was noted"


def _note_shortage(account: Walked, line: Line, owed: Decimal) -> None:
    open_one = account.shortages[-1] if account.shortages else None
    if open_one is None or open_one.made_up:
        account.shortages.append(Shortage(line, owed, owed))
    else:
        open_one.whole += owed
