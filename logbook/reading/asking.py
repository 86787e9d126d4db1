"""One question while it is read, and what a kind of question is made of."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from logbook.model.question import Kind, Question, Refusal
from logbook.reading.context import Reading
from logbook.reading.question_parts import Part, trimmed
from logbook.source import Span

Read = Question | Refusal | None


@dataclass(slots=True)
class Asking:
    """One question while it is read. `whole` is what is left of it without small talk."""

    reading: Reading
    whole: Part
    text: str
    form: Form | None = None
    span: Span = field(init=False)

    def __post_init__(self) -> None:
        self.span = self.reading.span(self.whole.start, self.whole.end)

    def words(self, part: Part) -> str:
        """The words of a stretch."""
        return " ".join(self.reading.text[part.start : part.end].split())

    def search(self, pattern: re.Pattern[str], part: Part | None = None) -> re.Match[str] | None:
        """Where a pattern stands in a stretch, or in the whole question."""
        part = part or self.whole
        return pattern.search(self.reading.text, part.start, part.end)

    def around(self, match: re.Match[str], part: Part | None = None) -> tuple[Part, Part]:
        """The stretches before and behind a match."""
        part = part or self.whole
        before = trimmed(self.reading, part.start, match.start())
        return before, trimmed(self.reading, match.end(), part.end)

    def without(self, part: Part) -> None:
        """Blank a stretch out: it was read, and is no part of anything else."""
        text = self.reading.text
        blank = " " * (part.end - part.start)
        self.reading.text = text[: part.start] + blank + text[part.end :]
        self.whole = trimmed(self.reading, self.whole.start, self.whole.end)

    def refusal(self, *missing: str, understood: str = "") -> Refusal:
        """A question that is of this kind and lacks something."""
        assert self.form is not None
        made = understood or f"it asks for: {self.form.kind.value}"
        return Refusal(self.text, self.span, made, missing, self.form.example)


@dataclass(frozen=True, slots=True)
class Form:
    """A kind of question: an example of it, what its answer tells, and its reader."""

    kind: Kind
    example: str
    says: str
    read: Callable[[Asking], Read]
