"""What metal is worth: a buyer's terms, the age of prices, and what is held."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure
from logbook.model.entry import Entry


@dataclass(frozen=True, slots=True)
class BuyerTerms:
    """What a buyer pays for of a metal, from its day on: share, deduction and charges.

    `payable` [g/g] is the share of the fine metal that is paid for, `deduction` [g/g] the least
    that is kept back of the fineness, whichever pays less. `treatment` is a charge per gram of
    material, `refining` per gram of payable metal, `lot` for each lot that is handed in.
    """

    metal: str
    day: date
    payable: Figure
    deduction: Figure | None
    treatment: Figure | None
    refining: Figure | None
    lot: Figure | None
    entry: Entry


@dataclass(frozen=True, slots=True)
class PriceAge:
    """The latest price of a metal and how old it is on the newest day of the book."""

    metal: str
    price: Figure
    day: date
    days: int
    stale: bool
    words: str


@dataclass(frozen=True, slots=True)
class HeldWorth:
    """What one thing that is held is worth at the latest prices.

    It has limits where its content has limits only. `kind` is product, shelf (side streams and
    charges) or scrap.
    """

    thing: str
    kind: str
    worth: Figure
    by_metal: Mapping[str, Figure]


@dataclass(frozen=True, slots=True)
class Holdings:
    """Everything that is held: thing by thing, and the sum of each kind."""

    things: tuple[HeldWorth, ...] = ()
    sums: Mapping[str, Figure] | None = None  # product, shelf, scrap
    ages: tuple[PriceAge, ...] = ()
    terms: tuple[BuyerTerms, ...] = ()
