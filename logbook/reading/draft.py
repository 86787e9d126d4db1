"""An entry while it is read: the same fields as `Entry`, still open.

It exists only between the first word of an entry and its last clause.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from logbook.model.amount import Amount
from logbook.model.book import Scale
from logbook.model.entry import (
    Claim,
    Composition,
    Entry,
    Label,
    Portion,
    Price,
    SpotTest,
    When,
)
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
    remark_spans: list[tuple[int, int]] = field(default_factory=list)
    portions: tuple[Portion, ...] = ()
    supplies: list[Portion] = field(default_factory=list)
    sources: tuple[Label, ...] = ()
    destinations: tuple[Label, ...] = ()
    more_labels: list[Label] = field(default_factory=list)
    compositions: list[Composition] = field(default_factory=list)
    conditions: list[Amount] = field(default_factory=list)
    strength: Amount | None = None
    further: Amount | None = None  # a mass or volume in a clause of its own
    duration: Amount | None = None
    price: Price | None = None
    per: Amount | None = None
    metal: str = ""
    method: str = ""
    equipment: list[str] = field(default_factory=list)
    scale: Scale | None = None
    moisture: str = ""
    end_point: str = ""
    repeats: int | None = 1
    repeats_said: bool = False
    vessels: int = 1
    each: bool = False
    parts: tuple[float, ...] = ()
    in_all: bool = False
    as_product: bool = False
    tests: tuple[SpotTest, ...] = ()
    claim: Claim | None = None
    words: str = ""
    remarks: list[str] = field(default_factory=list)

    def finished(self) -> Entry:
        """The entry, as it will be kept."""
        return Entry(
            self.action.name,
            self.span,
            self.line,
            self.planned,
            self.when,
            self.portions,
            tuple(self.supplies),
            self.sources,
            self.destinations,
            tuple(self.compositions),
            tuple(self.conditions),
            self.duration,
            self.price,
            self.per,
            self.metal,
            self.method,
            tuple(self.equipment),
            self.moisture,
            self.end_point,
            self.repeats,
            self.vessels,
            self.in_all,
            self.as_product,
            self.tests,
            self.claim,
            self.words,
            tuple(self.remarks),
        )
