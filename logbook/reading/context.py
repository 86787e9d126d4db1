"""What every part of the reader of one file shares: its text, the bench's customs, the findings.

This is the only record of the reader that changes while a file is read; it goes no further.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from logbook.findings import Finding, Weight
from logbook.model.book import Customs
from logbook.source import SourceText, Span


@dataclass(slots=True)
class Reading:
    """One file while it is read."""

    source: SourceText
    customs: Customs
    near: date | None = None  # the date that a day without a year is near to
    findings: list[Finding] = field(default_factory=list)
    broken: bool = False  # set while an entry is read, where it cannot be used
    speaks_of_private: bool = False  # whether the word stands anywhere in the file
    heard: set[tuple[int, int]] = field(default_factory=set)  # amounts of the entry so far
    hidden: list[Span] = field(default_factory=list)  # private lines among the facts
    text: str = ""  # the text to match against: as the source, remarks of an entry blanked out

    def __post_init__(self) -> None:
        self.text = self.source.text
        self.speaks_of_private = "privat" in self.text.lower()

    def span(self, start: int, end: int) -> Span:
        """A span of the file."""
        return Span(self.source, start, end)

    def unhear(self, start: int, end: int) -> None:
        """Forget the amounts heard between two offsets: they became nothing after all."""
        self.heard = {one for one in self.heard if not start <= one[0] < end}

    def doubt(self, code: str, start: int, end: int, headline: str, used: str, hint: str) -> None:
        """Report what was used, in the reading that is shown."""
        span = self.span(start, end)
        self.findings.append(Finding(code, Weight.DOUBT, headline, span, used, hint))

    def error(self, code: str, start: int, end: int, headline: str, hint: str) -> None:
        """Report what could not be used: the entry that is being read is left out."""
        understood = "nothing: this entry is left out of every figure"
        span = self.span(start, end)
        self.findings.append(Finding(code, Weight.ERROR, headline, span, understood, hint))
        self.broken = True

    def refuse(
        self, code: str, start: int, end: int, headline: str, instead: str, hint: str
    ) -> None:
        """Report what is impossible and costs only itself: the rest of its entry counts."""
        finding = Finding(code, Weight.ERROR, headline, self.span(start, end), instead, hint)
        if finding not in self.findings:  # some words are looked at twice
            self.findings.append(finding)
