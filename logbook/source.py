"""A log's text and the places in it.

Everything the program says about a log points back into its text through a `Span`.
This module knows nothing of what the words mean.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from pathlib import PurePosixPath

from logbook.record import record


@dataclass(frozen=True, slots=True, eq=False)
class SourceText:
    r"""The text of one file of a book, with its path from the book's folder.

    >>> log = SourceText("runs/2026-03-14-contacts.md", "# Contacts\n- took 12 g")
    >>> log.position(13)
    (2, 3)
    >>> log.line(2)
    '- took 12 g'
    """

    path: str
    text: str
    line_starts: tuple[int, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        starts = [0]
        find = self.text.find
        at = find("\n")
        while at >= 0:
            starts.append(at + 1)
            at = find("\n", at + 1)
        object.__setattr__(self, "line_starts", tuple(starts))

    @property
    def name(self) -> str:
        """The file's name without folder and ending: what a run is called."""
        return PurePosixPath(self.path).stem

    @property
    def line_count(self) -> int:
        """How many lines the text has; an empty text has one."""
        return len(self.line_starts)

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both counted from 1."""
        line = bisect_right(self.line_starts, offset)
        return line, offset - self.line_starts[line - 1] + 1

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its line end."""
        start = self.line_starts[number - 1]
        end = self.line_starts[number] if number < len(self.line_starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")


@record(frozen=True, slots=True)
class Span:
    """A stretch of a source text: from offset `start` up to, not including, `end`.

    >>> log = SourceText("runs/a.md", "- took 12 g")
    >>> span = Span(log, 7, 11)
    >>> span.text, span.line, span.column
    ('12 g', 1, 8)
    """

    source: SourceText = field(repr=False)
    start: int
    end: int

    @property
    def text(self) -> str:
        """The words the span covers, exactly as written."""
        return self.source.text[self.start : self.end]

    @property
    def line(self) -> int:
        """The line on which the span starts, counted from 1."""
        return self.source.position(self.start)[0]

    @property
    def column(self) -> int:
        """The column at which the span starts, counted from 1."""
        return self.source.position(self.start)[1]

    @property
    def path(self) -> str:
        """The path of the file, from the book's folder."""
        return self.source.path
