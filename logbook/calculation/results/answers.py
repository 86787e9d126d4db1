"""An answer to a question: one sentence with figures in it, and everything they rest on.

Words and figures are kept apart, because only the pages round. No answer says that a step
should be taken: it says what an equation, a table or the book gives.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.cautions.wrong_advice import WrongAdvice
from logbook.calculation.figure import Figure


@dataclass(frozen=True, slots=True)
class Warned:
    """A rule of cautions.toml that a question meets."""

    rule: str
    signal: str  # danger, warning
    text: str
    do: str
    source: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What there is to say to a question.

    `sentence` is words and figures in turn; it is empty where there is no answer, and
    `missing` then says what is lacking. `figures` are shown with their working, `form` is an
    example of the nearest question that is understood. A question that rests on a wrong belief
    has no answer but `wrong`: what is true instead.
    """

    question: str
    kind: str
    sentence: tuple[str | Figure, ...] = ()
    figures: tuple[Figure, ...] = ()
    sources: tuple[str, ...] = ()
    cautions: tuple[Warned, ...] = ()
    notes: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    form: str = ""
    wrong: tuple[WrongAdvice, ...] = ()

    @property
    def answered(self) -> bool:
        """Whether there is an answer."""
        return bool(self.sentence)
