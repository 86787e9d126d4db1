"""The money and hours that a thing carries, and what it is worth, beside the thing itself.

A share of a cost is a convention: the rule by which it was shared always stands with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from logbook.calculation.results import BookFigures, HeldWorth, ThingCost
from logbook.pages.addresses import Here
from logbook.pages.figure_view import FigureView, figure_view

WHOLE_RULES = ("all of it", "nothing")  # how a rule begins that shares nothing out


@dataclass(frozen=True, slots=True)
class ThingMoney:
    """What every thing of a book carries and is worth, by its key."""

    costs: Mapping[str, ThingCost]
    held: Mapping[str, HeldWorth]

    def of(self, key: str, here: Here, *, brief: bool = False) -> CarriedView | None:
        """What one thing carries and is worth; None where nothing is told of it.

        In a list, `brief`, what it carries without the scrap is left to the page of its label.
        """
        cost, held = self.costs.get(key), self.held.get(key)
        if cost is None and held is None:
            return None
        return CarriedView(
            figures=tuple(_figures(cost, held, here, brief=brief)),
            rule=rule_words(cost.rule) if cost is not None else "",
        )


@dataclass(frozen=True, slots=True)
class CarriedView:
    """What a thing carries, and by which rule it was shared."""

    figures: tuple[FigureView, ...]
    rule: str


def thing_money(figures: BookFigures) -> ThingMoney:
    """What the things of a book carry and are worth."""
    held = {one.thing: one for one in figures.held_worth.things}
    return ThingMoney(figures.costing.things, held)


def rule_words(rule: str) -> str:
    """The rule by which a thing got its share, as words that follow a figure.

    >>> rule_words("mass"), rule_words("all of it: nothing else was kept"), rule_words("")
    ('money and hours shared by mass', 'carries all of it: nothing else was kept', '')
    """
    if rule.startswith(WHOLE_RULES):
        return f"carries {rule}"
    return f"money and hours shared by {rule}" if rule else ""


def _figures(
    cost: ThingCost | None, held: HeldWorth | None, here: Here, *, brief: bool
) -> Iterator[FigureView]:
    if held is not None:
        yield figure_view(held.worth, here, levels=1, name="worth at the latest price")
    if cost is None:
        return
    yield figure_view(cost.cost, here, levels=1, name="carries in money")
    if not brief and cost.cost_without_feed != cost.cost:
        name = "of it without the scrap"
        yield figure_view(cost.cost_without_feed, here, levels=1, name=name)
    yield figure_view(cost.hours, here, levels=1, name="carries in hours")
