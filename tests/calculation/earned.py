"""Inputs of earnings made by hand, for tests that need no book."""

from __future__ import annotations

from collections.abc import Mapping

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.inputs import Inputs, MetalInput
from logbook.calculation.sums import add_up, difference, product, zero
from logbook.model.amount import Uncertain


def of(value: float, unit: str, u: float = 0.0, source: object = None) -> Figure:
    """A figure with a doubt of its own, or one that it shares with others of the same source."""
    name = f"{value:g} {unit}"
    return Figure(name, unit, Uncertain.of(value, u, source or object()))


def unknown(unit: str, low: float | None = None, high: float | None = None) -> Figure:
    """A figure of which at most limits are known."""
    return Figure("some", unit, why="it was not written", low=low, high=high)


def metal(
    fine: Figure,
    price: float | Figure,
    *,
    payable: Figure | None = None,
    refining: float | None = None,
    treatment: Figure | None = None,
    recovery: Figure | None = None,
) -> MetalInput:
    """A metal with what is paid for it, worked out here as a buyer's terms have it."""
    paid = payable if payable is not None else fine
    market = of(price, "EUR/g") if isinstance(price, float) else price
    charge = None if refining is None else of(refining, "EUR/g")
    rate = market if charge is None else difference("", "EUR/g", market, charge)
    worth = product("worth", "EUR", paid, rate)
    if treatment is not None:
        worth = difference("worth", "EUR", worth, treatment)
    return MetalInput(
        fine,
        paid,
        market,
        worth,
        recovery or not_known("recovery", "g/g", "no head is known"),
        charge,
        treatment,
    )


def made(
    metals: Mapping[str, MetalInput],
    costs: Mapping[str, Figure],
    hours: Figure,
    *,
    feed: Figure | None = None,
    received: Figure | None = None,
    run: str = "a",
) -> Inputs:
    """A run, or a book where `run` is empty, of some metals, costs and hours."""
    got = received or zero("received", "EUR")
    worth = add_up("worth", "EUR", [got, *(one.worth for one in metals.values())])
    weight = feed or not_known("feed", "g", "no feed was written")
    return Inputs(run, "EUR", metals, got, worth, costs, hours, weight)


def value(figure: Figure) -> float:
    """The value of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def doubt(figure: Figure) -> float:
    """The standard uncertainty of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.u
