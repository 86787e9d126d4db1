"""A question as it was put: what is asked for, of what, and which amounts were named.

Nothing is answered here; a question that was not understood says what is missing from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from logbook.model.amount import Amount
from logbook.model.entry import Composition, Label, Portion
from logbook.source import Span


class Kind(StrEnum):
    """What is asked. The value is how a kind is called before its reader."""

    DISSOLVE = "acid to dissolve"
    DROP = "precipitant to drop"
    CEMENT = "metal to cement"
    DESTROY = "reagent to destroy"
    NEUTRALISE = "base to neutralise"
    CONVERT = "reagent to convert"
    DILUTE = "diluting"
    MIX = "mixing two strengths"
    STRENGTH = "one strength in other units"
    PARTS = "acids measured out by parts"
    SATURATION = "what a solution can hold"
    GAS = "gas given off"
    WEIGHINGS = "fineness from two weighings"
    DENSITY = "fineness from a density"
    FINENESS = "how fine a labelled thing is"
    INQUART = "silver to inquart"
    PLATING = "metal of a plating"
    FILLED = "gold of gold filled"
    CELL = "metal from a cell"
    OUNCES = "one weight in another unit"
    WORTH = "worth"
    CONTENT = "what is in a jar"
    STOCK = "what is left of a supply"
    ENOUGH = "whether there is enough"
    PLAN = "plan for another amount"


@dataclass(frozen=True, slots=True)
class Material:
    """What is worked on: a portion, and what the question says it holds."""

    portion: Portion
    holds: tuple[Composition, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """A question that was understood.

    `asked` are the supplies it speaks of, `of` what they work on. `amounts` are the others, by
    the part they play ("in air", "room", "to"). `run` is the log that a plan is to be like, and
    `unit` the one that a weight is to be told in. `unread` are words that became nothing.
    """

    kind: Kind
    text: str
    span: Span
    asked: tuple[Portion, ...] = ()
    of: tuple[Material, ...] = ()
    metals: tuple[str, ...] = ()
    amounts: tuple[tuple[str, Amount], ...] = ()
    labels: tuple[Label, ...] = ()
    run: str = ""
    unit: str = ""
    unread: tuple[str, ...] = ()

    def amount(self, part: str) -> Amount | None:
        """The amount that plays a part; None where none was named for it."""
        return next((amount for name, amount in self.amounts if name == part), None)


@dataclass(frozen=True, slots=True)
class Refusal:
    """A question that was not understood, or lacks something.

    `understood` says what was made of it, `missing` what is lacking, `form` is the example of
    the nearest kind of question.
    """

    text: str
    span: Span
    understood: str
    missing: tuple[str, ...]
    form: str = ""
