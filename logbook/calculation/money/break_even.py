"""The price of a metal, and the grade of the feed, at which worth just covers all costs."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.inputs import Inputs, MetalInput
from logbook.calculation.money.quotient import over
from logbook.calculation.sums import add_up, difference, product, ratio

PRICE_WORDS = "cost to be covered / payable metal"
GRADE_WORDS = "cost to be covered / (recovery × paid for a gram × weight of the scrap)"
COVERED = "all else covers the cost already"


def break_even_price(inputs: Inputs, metal: str) -> Figure:
    """The market price at which worth equals cost, the keeper's hours among it.

    Equation: p* = (C + t − V) / m + r [currency/g], with C all costs, V what was received and
    what the other metals are worth at their price, t the treatment charge [all in currency], m
    the payable metal [g] and r the refining charge [currency/g]. Source: cost-volume-profit
    analysis, the price at which revenue equals total cost, and settlement by a buyer's terms
    (texts named in the tests).

    200 g fine that cost 150 EUR break even at 0.75 EUR/g, by hand:

    >>> from logbook.calculation.sums import zero
    >>> from logbook.model.amount import Uncertain
    >>> def of(value, unit): return Figure("", unit, Uncertain(value))
    >>> grams, worth = of(200.0, "g"), of(250.0, "EUR")
    >>> silver = MetalInput(grams, grams, of(1.25, "EUR/g"), worth, of(0.9, "g/g"))
    >>> costs = {"feed": of(90.0, "EUR"), "labour": of(60.0, "EUR")}
    >>> none = zero("", "EUR")
    >>> made = Inputs(
    ...     "", "EUR", {"silver": silver}, none, worth, costs, of(2.0, "h"), of(400.0, "g")
    ... )
    >>> break_even_price(made, "silver").value.value
    0.75
    """
    name, unit = f"break-even price of {metal}", f"{inputs.currency}/g"
    one, needed = inputs.metals[metal], _needed(inputs, metal)
    if _covered(needed):
        return not_known(name, unit, COVERED, needed)
    found = _not_below_nothing(over(name, unit, needed, one.payable, PRICE_WORDS))
    if one.refining is None:
        return found
    return add_up(name, unit, [found, one.refining], f"{PRICE_WORDS} + refining charge")


def break_even_grade(inputs: Inputs, metal: str) -> Figure:
    """The head grade at which worth equals cost, with recovery, weight and price as they were.

    Equation: g* = (C + t − V) / (R s (p − r) F) [g/g], with C, t, V, r as for the price, R the
    recovery, s the share of the fine metal that is paid for, p the price [currency/g] and F the
    weight of the scrap [g]. Source: break-even cut-off grade, the grade at which what is
    recovered pays for all costs (texts named in the tests).

    Costs of 150 EUR on 400 g of scrap, of which nine tenths are won at 1.25 EUR/g, are covered
    by a third of metal in it: 150 / (0.9 × 1.25 × 400), by hand:

    >>> from logbook.calculation.sums import zero
    >>> from logbook.model.amount import Uncertain
    >>> def of(value, unit): return Figure("", unit, Uncertain(value))
    >>> grams, worth = of(200.0, "g"), of(250.0, "EUR")
    >>> silver = MetalInput(grams, grams, of(1.25, "EUR/g"), worth, of(0.9, "g/g"))
    >>> costs = {"feed": of(90.0, "EUR"), "labour": of(60.0, "EUR")}
    >>> none = zero("", "EUR")
    >>> made = Inputs(
    ...     "", "EUR", {"silver": silver}, none, worth, costs, of(2.0, "h"), of(400.0, "g")
    ... )
    >>> round(break_even_grade(made, "silver").value.value, 4)
    0.3333
    """
    name = f"break-even grade in {metal}"
    one, needed = inputs.metals[metal], _needed(inputs, metal)
    if _covered(needed):
        return not_known(name, "g/g", COVERED, needed)
    gram = _paid_for_a_gram(one, f"{inputs.currency}/g")
    won = product("won and paid for", gram.unit, one.recovery, gram)
    whole = product("of scrap that is all metal", inputs.currency, won, inputs.feed)
    return _not_below_nothing(over(name, "g/g", needed, whole, GRADE_WORDS))


def _needed(inputs: Inputs, metal: str) -> Figure:
    """What this metal has to bring: all costs, less what all else is worth."""
    one, name = inputs.metals[metal], "cost to be covered"
    cost = inputs.cost
    if one.treatment is not None:
        cost = add_up("cost with treatment", inputs.currency, [cost, one.treatment])
    others = [other.worth for key, other in inputs.metals.items() if key != metal]
    rest = [inputs.received, *others]
    if all(part.value is not None and not part.value.value for part in rest):
        return cost
    return difference(name, inputs.currency, cost, add_up("all else", inputs.currency, rest))


def _covered(needed: Figure) -> bool:
    return needed.value is not None and needed.value.value <= 0.0


def _paid_for_a_gram(one: MetalInput, unit: str) -> Figure:
    """What is paid for a gram of fine metal, before what the treatment costs."""
    rate = one.price
    if one.refining is not None:
        rate = difference("price less refining", unit, one.price, one.refining)
    if one.payable is one.fine:
        return rate
    share = ratio("share that is paid for", "g/g", one.payable, one.fine)
    return product("paid for a gram", unit, share, rate)


def _not_below_nothing(figure: Figure) -> Figure:
    """A figure that cannot be negative: a lower limit that says no more than that is left out."""
    if figure.low is None or figure.low > 0.0:
        return figure
    return replace(figure, low=None)
