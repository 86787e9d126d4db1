"""The price of a metal, and the grade of the feed, at which worth just covers all costs."""

from __future__ import annotations

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.inputs import Inputs, MetalInput
from logbook.calculation.sums import add_up, difference, notes_of, product, ratio, reasons
from logbook.model.amount import Uncertain

PRICE_WORDS = "price × (cost − worth of all else) / worth of this metal"
GRADE_WORDS = "head grade × (cost − worth of all else) / worth of this metal"
COVERED = "all else covers the cost already"


def _needed(inputs: Inputs, metal: str) -> Figure:
    """What of the cost this metal has to bring: all of it less what all else is worth."""
    others = [one.worth for name, one in inputs.metals.items() if name != metal]
    rest = add_up("worth of all else", inputs.currency, [inputs.received, *others])
    return difference("cost to be covered", inputs.currency, inputs.cost, rest)


def break_even_price(inputs: Inputs, metal: str) -> Figure:
    """The market price at which worth equals cost, the keeper's hours among it.

    Equation: with no charge of the buyer p* = p C / W [currency/g], with C the cost that the
    metal has to cover and W what it is worth at price p. A refining charge r for each gram that
    is paid for stays as it is: p* = r + (p − r) C / W. Source: cost-volume-profit analysis, price
    at which revenue equals total cost (textbooks of managerial accounting).

    200 g fine that cost 150 EUR break even at 0.75 EUR/g, by hand:

    >>> from logbook.calculation.sums import zero
    >>> fine, price = Figure("fine", "g", Uncertain(200.0)), Figure("", "EUR/g", Uncertain(1.25))
    >>> worth, cost = (Figure("", "EUR", Uncertain(one)) for one in (250.0, 150.0))
    >>> silver = MetalInput(fine, price, worth, not_known("grade", "g/g", "not assayed"))
    >>> hours = Figure("", "h", Uncertain(1.0))
    >>> made = Inputs("", "EUR", {"silver": silver}, zero("", "EUR"), worth, {"feed": cost}, hours)
    >>> break_even_price(made, "silver").value.value
    0.75
    """
    one = inputs.metals[metal]
    name, unit = f"break-even price of {metal}", f"{inputs.currency}/g"
    net_price = _less_charge(one, unit)
    found = _scaled(name, unit, net_price, inputs, metal, PRICE_WORDS)
    if found.value is None or not one.refining:
        return found
    whole = Uncertain(found.value.value + one.refining, found.value.errors)
    words = f"refining charge + {PRICE_WORDS}"
    return Figure(name, unit, whole, words, found.terms, notes=found.notes)


def _less_charge(one: MetalInput, unit: str) -> Figure:
    if one.price.value is None or not one.refining:
        return one.price
    value = Uncertain(one.price.value.value - one.refining, one.price.value.errors)
    return Figure("price less refining charge", unit, value, terms=(one.price,))


def break_even_grade(inputs: Inputs, metal: str) -> Figure:
    """The head grade at which worth equals cost, with recovery, weight and price as they were.

    Equation: g* = g C / W [g/g], the same as C / (recovery × price × feed weight): a break-even
    grade, in mining the grade at which the value of the metal pays for all costs. Source: common
    practice in mining, see the tests for a published example.
    """
    one = inputs.metals[metal]
    return _scaled(f"break-even grade in {metal}", "g/g", one.grade, inputs, metal, GRADE_WORDS)


def _scaled(name: str, unit: str, of: Figure, inputs: Inputs, metal: str, words: str) -> Figure:
    needed, worth = _needed(inputs, metal), inputs.metals[metal].worth
    if needed.value is not None and needed.value.value <= 0.0:
        return not_known(name, unit, COVERED, needed)
    share = ratio("cost to be covered / worth", "1", needed, worth)
    if of.value is None or share.value is None:
        low = _lowest(of, needed, worth)
        terms = (of, needed, worth)
        return Figure(name, unit, formula=words, terms=terms, why=reasons(terms), low=low)
    found = product(name, unit, of, share, words)
    return Figure(name, unit, found.value, words, (of, needed, worth), notes=notes_of(found.terms))


def _lowest(of: Figure, needed: Figure, worth: Figure) -> float | None:
    """Where only a part of the cost is known: it is at least this."""
    if of.value is None or worth.value is None or not worth.value.value or needed.low is None:
        return None
    return max(of.value.value * needed.low / worth.value.value, 0.0) or None
