"""Things while the book is walked: what is known of each, and where it has got to.

These records change as the walk goes on, and only then; `things.py` turns them into the
unchanging `Thing`. Nothing here works out a figure or raises on what a writer wrote.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from math import sqrt

from logbook.calculation.results import Fate, Role, StageKey
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Composition, Entry

WET_WORDS = frozenset({"damp", "wet"})
COUNTED = (Dimension.MASS, Dimension.VOLUME, Dimension.COUNT)
Estimate = tuple[float, float]  # a value and its variance


@dataclass(frozen=True, slots=True)
class Look:
    """One weighing or measuring of a thing. `part` is its share where several were weighed."""

    amount: Amount
    entry: Entry
    part: float = 1.0

    @property
    def wet(self) -> bool:
        """Whether the thing held water that is no part of it."""
        return self.entry.moisture in WET_WORDS


@dataclass(frozen=True, slots=True)
class Statement:
    """What an entry says a thing holds of one metal."""

    composition: Composition
    entry: Entry

    @property
    def by_method(self) -> bool:
        """Whether it was measured, rather than said."""
        return bool(self.entry.method) or self.entry.action == "assayed"


@dataclass(slots=True, eq=False)
class Holding:
    """One thing in one state.

    `parent` is what it was drawn from, `part` how much of what was left then (None where an
    amount was drawn, 1.0 for the rest) and `before` the draws ahead of it. `pool` is what it
    was poured into, `poured` what was poured into it. `gone` tells that nothing is left.
    `missing` is a reason why nothing can be said of its content. `handed_over` is what says that
    a waste container left the book.
    """

    key: str
    label: str
    what: str
    role: Role
    made_by: StageKey | None
    day: date | None
    fate: Fate = Fate.SHELF
    used_by: StageKey | None = None
    looks: list[Look] = field(default_factory=list)
    said: list[Statement] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    parent: Holding | None = None
    part: float | None = None
    before: int = 0
    draws: list[Holding] = field(default_factory=list)
    pool: Holding | None = None
    poured: list[Holding] = field(default_factory=list)
    samples: list[Holding] = field(default_factory=list)
    estimates: dict[Dimension, Estimate] = field(default_factory=dict)
    drawn: dict[Dimension, Estimate] = field(default_factory=dict)
    gone: bool = False
    as_product: bool = False
    provisional: bool = False
    missing: str = ""
    notes: list[str] = field(default_factory=list)
    handed_over: list[Entry] = field(default_factory=list)

    @property
    def at_hand(self) -> bool:
        """Whether something of it is still there to be taken."""
        return self.used_by is None and self.pool is None and not self.gone

    @property
    def title(self) -> str:
        """What to call it in a sentence.

        >>> Holding("F-21", "F-21", "filters", Role.SIDE, None, None).title
        '[F-21]'
        """
        inside = self.pool is not None and self.label == self.pool.label
        if self.label and not (inside and self.what):
            return f"[{self.label}]"
        if self.role is Role.LOSS:
            return f"what was lost ({self.what})" if self.what else "what was lost"
        if not self.what:
            return "the sample" if self.role is Role.SAMPLE else "a thing without a name"
        return f"the {self.what} in [{self.label}]" if inside else f"the {self.what}"

    def look(self, dimension: Dimension) -> Look | None:
        """The weighing or measuring to go by: the latest that was not damp, else the latest."""
        seen = [look for look in self.looks if look.amount.dimension is dimension]
        dry = [look for look in seen if not look.wet]
        known = [look for look in dry or seen if look.amount.known]
        best = known or dry or seen
        return best[-1] if best else None

    @property
    def wet(self) -> bool:
        """Whether its weight, as it is known, has water in it."""
        look = self.look(Dimension.MASS)
        if look is not None:
            return look.wet
        if self.poured:
            return any(part.wet for part in self.poured)
        return self.parent is not None and self.part is not None and self.parent.wet

    def held(self, dimension: Dimension) -> Estimate | None:
        """About how much of it is left; None where nobody can know.

        Good enough to tell a slip from a draw; the figures are worked out in `weights.py`.
        """
        start = self.at_first(dimension)
        if start is None and self.poured:
            parts = [part.at_first(dimension) for part in self.poured]
            known = [part for part in parts if part is not None]
            if len(known) == len(parts):
                start = sum(part[0] for part in known), sum(part[1] for part in known)
        if start is None:
            return None
        drawn = self.drawn.get(dimension, (0.0, 0.0))
        return start[0] - drawn[0], start[1] + drawn[1]

    def at_first(self, dimension: Dimension) -> Estimate | None:
        """About how much of it there was before anything was drawn from it."""
        look = self.look(dimension)
        if look is None:
            return self.estimates.get(dimension)
        amount = look.amount
        if amount.base_value is None:
            return None
        return amount.base_value * look.part, ((amount.base_u or 0.0) * look.part) ** 2

    def estimate(self, of: Holding, part: float) -> None:
        """Remember about how much this is: a part of what is left of something else."""
        for dimension in COUNTED:
            left = of.held(dimension)
            if left is not None:
                self.estimates[dimension] = left[0] * part, left[1] * part * part

    def settle(self, said: Holding) -> None:
        """Take over what a stage says it got at a label where one of its steps left this."""
        self.looks, self.said = self.looks + said.looks, self.said + said.said
        self.entries, self.provisional = self.entries + said.entries, False
        self.what, self.role = said.what or self.what, said.role

    def note_drawn(self, amount: Amount | None, part: float | None) -> None:
        """Keep count of what was drawn, by amount or by part of what was left."""
        if amount is not None and amount.base_value is not None:
            before = self.drawn.get(amount.dimension, (0.0, 0.0))
            variance = before[1] + (amount.base_u or 0.0) ** 2
            self.drawn[amount.dimension] = (before[0] + amount.base_value, variance)
        elif part is not None:
            for dimension in COUNTED:
                left = self.held(dimension)
                if left is not None:
                    before = self.drawn.get(dimension, (0.0, 0.0))
                    self.drawn[dimension] = (before[0] + left[0] * part, before[1])


def doubt_of(left: Estimate, amount: Amount) -> float:
    """Twice the standard uncertainty of what is left less what is drawn (JCGM 100, 5.1.2)."""
    return 2.0 * sqrt(left[1] + (amount.base_u or 0.0) ** 2)
