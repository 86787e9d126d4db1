"""What was worked out in money: costs, prices, sales."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure
from logbook.model.entry import Entry


@dataclass(frozen=True, slots=True)
class CostLine:
    """One kind of cost of a run: feed, reagent, labour, energy, breakage, lump, fee, other."""

    kind: str
    amount: Figure


@dataclass(frozen=True, slots=True)
class Sale:
    """A sale: what was received for a labelled thing."""

    run: str
    day: date | None
    label: str
    metal: str
    gross: Figure
    fine: Figure
    received: Figure
    estimated: Figure
    entry: Entry


@dataclass(frozen=True, slots=True)
class DayPrice:
    """The price of a metal on a day, per gram, in the book's currency."""

    metal: str
    day: date
    price: Figure
    entry: Entry
