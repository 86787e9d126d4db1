"""An entry while it is read: the same fields as `Entry`, still open.

It exists only between the first word of an entry and its last clause.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.model.amount import Amount
from logbook.model.book import Scale
from logbook.model.entry import (
    Claim,
    ClockTimes,
    Composition,
    Entry,
    Label,
    Portion,
    Price,
    SpotTest,
    Terms,
    When,
)
from logbook.model.question import Question, Refusal
from logbook.reading.plating import Layer
from logbook.reference import Action
from logbook.source import Span


@dataclass(slots=True)
class Draft:
    """What has been read of an entry so far."""

    action: Action
    span: Span
    line: int
    planned: bool
    when: When | None
    head: tuple[int, int]
    remark_spans: tuple[tuple[int, int], ...] = ()
    portions: tuple[Portion, ...] = ()
    supplies: tuple[Portion, ...] = ()
    sources: tuple[Label, ...] = ()
    destinations: tuple[Label, ...] = ()
    more_labels: tuple[Label, ...] = ()
    compositions: tuple[Composition, ...] = ()
    conditions: tuple[Amount, ...] = ()
    strength: Amount | None = None  # in a clause of its own
    strength_of: str = ""  # the words behind it
    further: Amount | None = None  # a mass or volume in a clause of its own
    duration: Amount | None = None
    price: Price | None = None
    per: Amount | None = None
    metal: str = ""
    method: str = ""
    equipment: tuple[str, ...] = ()
    scale: Scale | None = None
    moisture: str = ""
    end_point: str = ""
    repeats: int | None = 1
    repeats_said: bool = False
    vessels: int = 1
    each: bool = False
    price_each: bool = False  # the price is that of one of several
    cases: int = 0  # the outer packages, where there are packages in packages
    parts: tuple[float, ...] = ()
    latest: str = ""  # the word that opened the clause before, apart from commas
    in_all: bool = False
    as_product: bool = False
    tests: tuple[SpotTest, ...] = ()
    claim: Claim | None = None
    words: str = ""
    remarks: tuple[str, ...] = ()
    sampling: Amount | None = None
    immersed: str = ""
    layer: Layer | None = None  # of plating, until the area is read
    plated: Composition | None = None
    question: Question | Refusal | None = None
    money: str = ""
    terms: Terms | None = None
    fee: Amount | None = None
    clock_times: tuple[ClockTimes, ...] = ()

    def finished(self) -> Entry:
        """The entry, as it will be kept."""
        return Entry(
            self.action.name,
            self.span,
            self.line,
            self.planned,
            self.when,
            self.portions,
            self.supplies,
            self.sources,
            self.destinations,
            self.compositions,
            self.conditions,
            self.duration,
            self.price,
            self.per,
            self.metal,
            self.method,
            self.equipment,
            self.moisture,
            self.end_point,
            self.repeats,
            self.vessels,
            self.in_all,
            self.as_product,
            self.tests,
            self.claim,
            self.words,
            self.remarks,
            self.sampling,
            self.immersed,
            self.question,
            self.money,
            self.terms,
            self.fee,
            self.clock_times,
        )
