"""What supplies cost: the average price paid for each reagent and strength up to a day.

Opening stock counts at the price that is written for it; without one it has none and is left
out of the average. Nothing here knows which run used what; see `uses.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.schedule import distinct_runs, steps_of_page, steps_of_run
from logbook.calculation.walk import Step
from logbook.model.amount import Amount, Dimension, Uncertain
from logbook.model.book import Book
from logbook.model.entry import Portion
from logbook.reference import metal_words, metals, reagents
from logbook.source import Span

Strength = tuple[Dimension, float] | None
PAID = frozenset({"bought", "had"})
GIVEN = frozenset({"got", "kept", "left", "sampled"})
FREE = frozenset({"water", "tap water", "rain water"})
QUANTITIES = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})


@dataclass(frozen=True, slots=True)
class Purchase:
    """A priced quantity of one supply. `quantity` is in the base unit of its dimension."""

    day: date
    dimension: Dimension
    quantity: float
    paid: float
    span: Span


@dataclass(slots=True)
class PriceList:
    """Purchases by supply and strength; `bottles` tells what stands behind a bottle's label.

    `strengths` are those in which a supply was had or bought, at whatever price; `made` are the
    labels of things that runs gave, which are no supplies.
    """

    currency: str
    bought: dict[str, dict[Strength, list[Purchase]]] = field(default_factory=dict)
    bottles: dict[str, Portion] = field(default_factory=dict)
    strengths: dict[str, dict[Strength, Amount | None]] = field(default_factory=dict)
    made: set[str] = field(default_factory=set)

    def only_strength(self, portion: Portion) -> Amount | None:
        """The strength in which a supply was bought, where there is one and none without."""
        found = tuple(self.strengths.get(supply_name(portion), {}).values())
        return found[0] if len(found) == 1 else None

    def unit_price(self, portion: Portion, dimension: Dimension, day: date) -> Figure:
        """The average price of a supply on a day, per base unit.

        Equation: p = Σ paid / Σ bought [currency per g, L or piece], over the purchases of
        the same supply and strength up to that day. Source: weighted average cost (common
        practice, no source).

        1 L for 3.00 EUR and 3 L for 15.00 EUR are 4 L for 18.00 EUR, 4.50 EUR/L by hand:

        >>> from logbook.source import SourceText
        >>> place = Span(SourceText("runs/supplies.md", ""), 0, 0)
        >>> acid, new_year = Portion(place, reagent="nitric acid"), date(2026, 1, 1)
        >>> paid = [(1.0, 3.0), (3.0, 15.0)]
        >>> found = [Purchase(new_year, Dimension.VOLUME, *one, place) for one in paid]
        >>> prices = PriceList("EUR", {"nitric acid": {None: found}})
        >>> prices.unit_price(acid, Dimension.VOLUME, new_year).value.value
        4.5
        """
        name = f"price of {supply_in_words(portion)}"
        unit = f"{self.currency}/{dimension_unit(dimension)}"
        kinds = self.bought.get(supply_name(portion), {})
        found, note = _of_strength(kinds, strength_of(portion))
        usable = [one for one in found if one.dimension is dimension and one.day <= day]
        quantity = sum(one.quantity for one in usable)
        if not usable or not quantity:
            why = f"no purchase of {supply_in_words(portion)} was noted up to that day"
            if any(one.dimension is not dimension for one in found):
                why = f"{supply_in_words(portion)} was bought in another kind of unit"
            return not_known(name, unit, why)
        return Figure(
            name,
            unit,
            Uncertain(sum(one.paid for one in usable) / quantity),
            f"paid / bought, average of {len(usable)} purchases up to that day",
            rests_on=tuple(one.span for one in usable),
            notes=(note,) if note else (),
        )


def dimension_unit(dimension: Dimension) -> str:
    """The base unit in which a supply is counted."""
    return {Dimension.MASS: "g", Dimension.VOLUME: "L"}.get(dimension, "1")


def supply_name(portion: Portion) -> str:
    """The name under which a supply is counted: one for filter and filters.

    A bar, a wire and a pipe of one metal are one supply; a powder is another.

    >>> from logbook.source import SourceText
    >>> place = Span(SourceText("runs/supplies.md", ""), 0, 0)
    >>> [supply_name(Portion(place, what=what)) for what in ("copper pipe", "copper powder")]
    ['copper', 'copper powder']
    """
    metal = bulk_metal(portion)
    if metal and not _POWDER.search((portion.reagent or portion.what).lower()):
        return metal
    return portion.reagent or portion.what.lower().removesuffix("s")


def bulk_metal(portion: Portion) -> str:
    """The metal that a supply is, and nothing else: a reagent of one metal, or its bare name.

    What is called after two metals, or as something made of a metal, is no such supply.
    """
    reagent = reagents().get(portion.reagent)
    if reagent is not None:
        return _metals_by_symbol().get(reagent.formula, "")
    words = _WORD.findall(portion.what.lower())
    named = [metal_words()[word] for word in words if word in metal_words()]
    shapes = [word for word in words if word not in metal_words()]
    return named[0] if len(named) == 1 and all(map(_SHAPE.fullmatch, shapes)) else ""


@cache
def _metals_by_symbol() -> Mapping[str, str]:
    return {metal.symbol: metal.name for metal in metals().values()}


_WORD = re.compile(r"[^\W\d_]+")
_POWDER = re.compile(r"\b(powder|dust|sponge|fines)\b")
_SHAPE = re.compile(
    r"(old|new|clean|bright|pure|scrap|bare|small|thin|thick|fresh|more|some)"
    r"|(bar|wire|pipe|tube|sheet|strip|foil|plate|rod|shot|granule|pellet|turning|shaving"
    r"|piece|bit|chip|lump|powder|dust|metal|sponge|clipping|filing|bus)s?"
)
"""Words that leave a supply of one metal what it is."""


def strength_of(portion: Portion) -> Strength:
    """The strength of a supply, as a key: 68 % and 0.68 g/g are one."""
    strength = portion.strength
    if strength is None or strength.base_value is None:
        return None
    return strength.dimension, round(strength.base_value, 6)


def strength_in_words(portion: Portion) -> str:
    """The strength of a supply in the writer's words; empty where none is written."""
    return portion.strength.span.text if portion.strength is not None else ""


def supply_in_words(portion: Portion) -> str:
    """A supply with its strength, for a sentence."""
    name = portion.reagent or portion.what
    return f"{name} {strength_in_words(portion)}".strip()


def _of_strength(
    kinds: Mapping[Strength, list[Purchase]], strength: Strength
) -> tuple[list[Purchase], str]:
    """Purchases of one strength; of the only one there is where one side names none."""
    if strength in kinds:
        return kinds[strength], ""
    if len(kinds) == 1:
        ((only, found),) = kinds.items()
        if only is None or strength is None:
            return found, "taken to be the one strength that was bought"
    return [], ""


def price_list(book: Book, currency: str) -> PriceList:
    """Every priced purchase or opening stock of a supply, from supplies.md and from the logs."""
    prices = PriceList(currency, made=_labels_made(book))
    for step in purchases(book):
        entry = step.entry
        for portion in entry.portions:
            for label in portion.labels if portion.reagent else ():
                prices.bottles.setdefault(label.name, portion)
            of_supply = prices.strengths.setdefault(supply_name(portion), {})
            of_supply.setdefault(strength_of(portion), portion.strength)
        if entry.price is None or len(entry.portions) != 1 or entry.compositions:
            continue
        _note_purchase(prices, step, entry.portions[0], entry.price.amount)
    return prices


def _labels_made(book: Book) -> set[str]:
    return {
        label.name
        for run in book.runs
        for entry in run.entries
        if entry.action in GIVEN
        for portion in entry.portions
        for label in portion.labels
    }


def purchases(book: Book) -> Iterator[Step]:
    """Every entry that buys supplies, or tells what stood there when the book began."""
    if book.supplies is not None:
        yield from (step for step in steps_of_page(book.supplies) if step.entry.action in PAID)
    for run in distinct_runs(book):
        if not run.planned:
            yield from (step for step in steps_of_run(run) if step.entry.action in PAID)


def _note_purchase(prices: PriceList, step: Step, portion: Portion, paid: Amount) -> None:
    if paid.base_value is None or paid.currency not in ("", prices.currency):
        return
    for amount in (portion.amount, portion.second):
        if amount is None or amount.base_value is None or amount.dimension not in QUANTITIES:
            continue
        purchase = Purchase(
            step.day, amount.dimension, amount.base_value, paid.base_value, step.entry.span
        )
        kinds = prices.bought.setdefault(supply_name(portion), {})
        kinds.setdefault(strength_of(portion), []).append(purchase)
