"""One entry of a log: what was done, to how much of what, and under which conditions."""

from __future__ import annotations

from datetime import date, time
from typing import TYPE_CHECKING

from logbook.model.amount import Amount
from logbook.record import record
from logbook.source import Span

MINUTES_OF_A_DAY = 24 * 60

if TYPE_CHECKING:
    from logbook.model.question import Question, Refusal  # which is made of what stands here


@record(frozen=True, slots=True)
class When:
    """A date, a time of day, or both, as far as the writer gave them."""

    span: Span
    day: date | None = None
    clock: time | None = None


@record(frozen=True, slots=True)
class Label:
    """A name in square brackets: what is written on the jar."""

    span: Span
    name: str


@record(frozen=True, slots=True)
class Composition:
    """What the writer says a thing holds of one metal, and on what evidence.

    `amount` is a fraction, a concentration (g/L) or, for a stated content, a mass.
    """

    span: Span
    metal: str  # name in metals.toml
    amount: Amount


@record(frozen=True, slots=True)
class Portion:
    """Some amount of one thing.

    `amount` is None where none was written: all of a labelled thing, an unknown amount
    of anything else. `share` is the part of a labelled thing that was meant: 0.5 for
    "half of"; 1.0 for "all of" or for a label without an amount.
    """

    span: Span
    amount: Amount | None = None
    what: str = ""
    labels: tuple[Label, ...] = ()
    share: float | None = None
    strength: Amount | None = None
    reagent: str = ""  # name in reagents.toml, where the thing is known there
    second: Amount | None = None  # a volume said beside a mass, or the other way round


@record(frozen=True, slots=True)
class Price:
    """Money that belongs to an entry."""

    amount: Amount
    would_cost: bool = False  # "would cost $20": counts only in the cost with feed


@record(frozen=True, slots=True)
class SpotTest:
    """What a spot test showed: `tested THING with TEST: what was seen`."""

    span: Span
    thing: str
    labels: tuple[Label, ...]
    test: str
    seen: str
    finding: str  # none, faint, clear, strong, unclear


@record(frozen=True, slots=True)
class Claim:
    """A figure the writer worked out: `reckoned WHAT VALUE [of X] [at $52 per g]`."""

    span: Span
    what: str
    amount: Amount
    of: str = ""
    at: Amount | None = None
    labels: tuple[Label, ...] = ()  # of what: reckoned worth 240 EUR of [AG-2]


@record(frozen=True, slots=True)
class Terms:
    """A buyer's terms: the share that is paid for, and what is kept back or charged.

    `payable` and `deduction` are fractions; `treatment` is money per weight of material,
    `refining` per weight of payable metal, `lot` for each lot.
    """

    span: Span
    payable: Amount | None = None
    deduction: Amount | None = None
    treatment: Amount | None = None
    refining: Amount | None = None
    lot: Amount | None = None


@record(frozen=True, slots=True)
class ClockTimes:
    """From one time of day to another; an end before the start is on the next day."""

    span: Span
    start: time
    end: time

    @property
    def begins(self) -> int:
        """The minute of the day at which it began."""
        return self.start.hour * 60 + self.start.minute

    @property
    def minutes(self) -> int:
        """How long it was, in minutes."""
        return (self.end.hour * 60 + self.end.minute - self.begins) % MINUTES_OF_A_DAY


@record(frozen=True, slots=True)
class Entry:
    """A list item that begins with an action.

    `action` is the past form of actions.toml ("took"); `planned` tells that the plain form
    was written ("take"). `line` is the line of the log on which the entry starts.
    """

    action: str
    span: Span
    line: int
    planned: bool = False
    when: When | None = None
    portions: tuple[Portion, ...] = ()
    supplies: tuple[Portion, ...] = ()  # after "with": rinsed with 200 mL water
    sources: tuple[Label, ...] = ()  # from [X]
    destinations: tuple[Label, ...] = ()  # into [X]
    compositions: tuple[Composition, ...] = ()
    conditions: tuple[Amount, ...] = ()  # at 70 C, at 12 V; for `read`, what was read
    duration: Amount | None = None  # for 2 h; for `worked` and `waited`, how long
    price: Price | None = None
    per: Amount | None = None  # for `priced`: a price per unit
    metal: str = ""  # for `priced`
    method: str = ""  # by density
    equipment: tuple[str, ...] = ()  # on the hotplate
    moisture: str = ""  # damp, wet, dry
    end_point: str = ""  # until clear
    repeats: int | None = 1  # None: at least one, not known how many
    vessels: int = 1  # in 3 beakers
    in_all: bool = False
    as_product: bool = False
    tests: tuple[SpotTest, ...] = ()
    claim: Claim | None = None
    words: str = ""  # what was found, broken, asked, or noted in private
    remarks: tuple[str, ...] = ()
    sampling: Amount | None = None  # how a drawn part may differ from its lot: one u, a fraction
    immersed: str = ""  # the liquid it hung in while it was weighed: no mass of the thing
    question: Question | Refusal | None = None  # for `ask`
    money: str = ""  # for `priced`: the currency whose rate is given, as its ISO 4217 code
    terms: Terms | None = None  # for `priced`: what a buyer pays for and keeps
    fee: Amount | None = None  # for `sold`: what the sale itself cost
    clock_times: tuple[ClockTimes, ...] = ()  # from 9:00 to 11:30
