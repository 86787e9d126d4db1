"""Arithmetic on figures: what is known, what is only bounded, and why."""

from __future__ import annotations

import pytest
from build import g

from logbook.calculation.figure import Figure
from logbook.calculation.sums import add_up, difference, product, ratio
from logbook.calculation.weights import leaf
from logbook.model.amount import Uncertain


def known(name: str, value: float, u: float = 0.0) -> Figure:
    """A figure with a value."""
    return Figure(name, "g", Uncertain.of(value, u, name))


def bounded(name: str, low: float | None, high: float | None) -> Figure:
    """A figure with limits only."""
    return Figure(name, "g", low=low, high=high, why=f"{name} was not weighed")


def test_a_sum_with_an_unknown_term_is_unknown_and_at_least_the_rest() -> None:
    """2 g + 3 g + unknown is at least 5 g, with no upper limit, and says what is missing."""
    figure = add_up("sum", "g", [known("a", 2.0), known("b", 3.0), bounded("c", None, None)])
    assert figure.value is None
    assert (figure.low, figure.high) == (5.0, None)
    assert figure.why == "c was not weighed"


def test_a_sum_of_bounded_terms_has_both_limits() -> None:
    """2 g + (1 to 4 g) lies between 3 g and 6 g."""
    figure = add_up("sum", "g", [known("a", 2.0), bounded("b", 1.0, 4.0)])
    assert (figure.low, figure.high) == (3.0, 6.0)


def test_a_difference_of_a_known_and_a_bounded_figure_has_limits() -> None:
    """10 g less (1 to 4 g) lies between 6 g and 9 g."""
    figure = difference("gap", "g", known("in", 10.0), bounded("out", 1.0, 4.0))
    assert figure.value is None
    assert (figure.low, figure.high) == (6.0, 9.0)


def test_a_product_of_limits_has_limits() -> None:
    """(1 to 4 g) times 0.5 lies between 0.5 g and 2 g."""
    share = Figure("share", "1", Uncertain(0.5))
    figure = product("part", "g", bounded("whole", 1.0, 4.0), share)
    assert (figure.low, figure.high) == (0.5, 2.0)


def test_nothing_is_divided_by_nothing() -> None:
    """A ratio to zero is not known, and says that the lower figure is nothing."""
    figure = ratio("recovery", "g/g", known("product", 1.0), known("head", 0.0))
    assert figure.value is None
    assert figure.why == "head is nothing"


def test_many_reasons_are_named_once_and_counted() -> None:
    """Of five different reasons three are named; a reason that comes twice counts once."""
    terms = [bounded(str(k), None, None) for k in (1, 2, 3, 4, 5, 1)]
    words = add_up("sum", "g", terms).why
    assert words == "1 was not weighed; 2 was not weighed; 3 was not weighed; and 2 more"


def test_the_working_leads_to_the_terms() -> None:
    """A figure keeps the figures it was made of, in the order of its formula."""
    one, two = known("a", 1.0), known("b", 2.0)
    assert add_up("sum", "g", [one, two]).terms == (one, two)
    assert ratio("r", "1", one, two).formula == "a / b"


def test_a_shared_term_is_walked_once() -> None:
    """Sixty doublings of one weighing rest on one place, found without 2^60 steps."""
    amount = g(1.0, 0.1)
    figure = leaf("weighing", amount, "")
    for _ in range(60):
        figure = add_up("double", "g", [figure, figure])
    assert list(figure.leaves()) == [amount.span]
    assert figure.value is not None
    assert figure.value.value == 2.0**60
    assert figure.value.u == pytest.approx(0.1 * 2.0**60)  # one error, counted with itself
