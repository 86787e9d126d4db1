"""What is left out of the site: private notes, and every finding that would quote one.

A finding on a line that a private note shares is left out whole, headline and all: its
words may be the note's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.entry import Entry
from logbook.model.run import Block, Prose
from logbook.source import Span


@dataclass(frozen=True, slots=True)
class Privacy:
    """What may be shown. `hidden` are the lines of private notes, by path of the source."""

    hidden: Mapping[str, frozenset[int]]
    elsewhere: frozenset[str] = frozenset()  # labels that logs outside of the edition gave

    def shows(self, block: Block) -> bool:
        """Whether a block may stand on a page."""
        return self.shows_span(block.span)

    def shows_span(self, span: Span) -> bool:
        """Whether words may be quoted: no line of theirs is part of a private note."""
        hidden = self.hidden.get(span.path)
        return hidden is None or hidden.isdisjoint(_lines(span))

    def shows_finding(self, finding: Finding) -> bool:
        """Whether a finding may be told: what the edition leaves out is no mistake of a log."""
        label = finding.span.text.strip("[]") if finding.code.startswith("label-") else ""
        return label not in self.elsewhere and self.shows_span(finding.span)


def privacy_of(book: Book, *, with_private: bool) -> Privacy:
    """Which lines of a book are private; none where the keeper asks for all."""
    hidden: dict[str, set[int]] = {}
    for block in () if with_private else every_block(book):
        if is_private(block):
            hidden.setdefault(block.span.path, set()).update(_lines(block.span))
    elsewhere = book.edition.elsewhere
    return Privacy({path: frozenset(lines) for path, lines in hidden.items()}, elsewhere)


def is_private(block: Block) -> bool:
    """Whether a block is a private note."""
    if isinstance(block, Entry):
        return block.action == "private"
    return isinstance(block, Prose) and block.private


def every_block(book: Book) -> Iterator[Block]:
    """The blocks of every log and fixed page."""
    yield from book.bench.opening
    for page in (book.supplies, book.prices):
        yield from page.blocks if page is not None else ()
    for run in book.runs:
        yield from run.opening
        for stage in run.stages:
            yield from stage.blocks


def shown(privacy: Privacy, blocks: Iterable[Block]) -> tuple[Block, ...]:
    """The blocks that may stand on a page."""
    return tuple(block for block in blocks if privacy.shows(block))


def _lines(span: Span) -> range:
    """The lines a span covers. Line ends at its end are no line of their own."""
    words = span.text.rstrip()
    return range(span.line, span.line + words.count("\n") + 1)
