"""The money and hours that a thing carries, and what it is worth, beside the thing itself.

A share of a cost is a convention: the rule by which it was shared always stands with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, HeldWorth, ThingCost
from logbook.pages.addresses import Here
from logbook.pages.figure_view import FigureView, figure_view, known_text
from logbook.pages.rounding import between

WHOLE_RULES = ("all of it", "nothing")  # how a rule begins that shares nothing out


@dataclass(frozen=True, slots=True)
class ThingMoney:
    """What every thing of a book carries and is worth, by its key."""

    costs: Mapping[str, ThingCost]
    held: Mapping[str, HeldWorth]

    def brief(self, key: str, here: Here) -> Brief:
        """The same in a few words, for a list that leads to the page of each label."""
        if not here.money:
            return Brief(None, "")
        cost, held = self.costs.get(key), self.held.get(key)
        return Brief(
            worth=figure_view(held.worth, here, levels=1, name="worth") if held else None,
            carries=_in_words(cost) if cost is not None else "",
        )

    def of(self, key: str, here: Here) -> CarriedView | None:
        """What one thing carries and is worth; None where nothing is told of it."""
        cost, held = self.costs.get(key), self.held.get(key)
        if not here.money or (cost is None and held is None):
            return None
        return CarriedView(
            figures=tuple(_figures(cost, held, here)),
            rule=rule_words(cost.rule) if cost is not None else "",
        )


@dataclass(frozen=True, slots=True)
class CarriedView:
    """What a thing carries, and by which rule it was shared."""

    figures: tuple[FigureView, ...]
    rule: str


@dataclass(frozen=True, slots=True)
class Brief:
    """What a thing is worth, and in words what it carries."""

    worth: FigureView | None
    carries: str


def thing_money(figures: BookFigures) -> ThingMoney:
    """What the things of a book carry and are worth."""
    held = {one.thing: one for one in figures.held_worth.things}
    return ThingMoney(figures.costing.things, held)


def _in_words(cost: ThingCost) -> str:
    """What a thing carries, with the rule.

    >>> from logbook.model.amount import Uncertain
    >>> money = Figure("cost", "EUR", Uncertain(45.0))
    >>> hours = Figure("hours", "h", why="no line tells", low=2.0)
    >>> _in_words(ThingCost("A", money, money, hours, {}, None, "mass")).replace("\u00a0", " ")
    'carries 45.00 EUR and at least 2 h, shared by mass'
    """
    if cost.rule.startswith(WHOLE_RULES[1]):
        return f"carries {cost.rule}"
    amounts = f"carries {_amount(cost.cost)} and {_amount(cost.hours)}"
    rule = cost.rule if cost.rule.startswith(WHOLE_RULES) else f"shared by {cost.rule}"
    return f"{amounts}, {rule}" if cost.rule else amounts


def _amount(figure: Figure) -> str:
    """An amount in a sentence, or its limits; a part of which nothing is known is not known."""
    limits = "" if figure.known else between(figure.low, figure.high, figure.unit)
    return limits or known_text(figure)


def rule_words(rule: str) -> str:
    """The rule by which a thing got its share, as words that follow a figure.

    >>> rule_words("mass"), rule_words("all of it: nothing else was kept"), rule_words("")
    ('money and hours shared by mass', 'carries all of it: nothing else was kept', '')
    """
    if rule.startswith(WHOLE_RULES):
        return f"carries {rule}"
    return f"money and hours shared by {rule}" if rule else ""


def _figures(cost: ThingCost | None, held: HeldWorth | None, here: Here) -> Iterator[FigureView]:
    if held is not None:
        yield figure_view(held.worth, here, levels=1, name="worth at the latest price")
    if cost is None:
        return
    yield figure_view(cost.cost, here, levels=1, name="carries in money")
    if cost.cost_without_feed != cost.cost:
        name = "of it without the scrap"
        yield figure_view(cost.cost_without_feed, here, levels=1, name=name)
    yield figure_view(cost.hours, here, levels=1, name="carries in hours")
