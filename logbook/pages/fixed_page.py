"""Supplies, prices and the bench itself: fixed pages as they were written, line by line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from logbook.findings import Finding
from logbook.model.book import Book, FixedPage
from logbook.model.entry import Entry
from logbook.model.run import Block
from logbook.pages.addresses import BENCH, Here, bench_prefix
from logbook.pages.block_view import Beside, BlockView, block_views
from logbook.pages.finding_view import finding_view
from logbook.pages.frame import Frame, Site
from logbook.pages.margin import entry_notes
from logbook.pages.privacy import shown
from logbook.pages.wording import listed
from logbook.source import Span


@dataclass(frozen=True, slots=True)
class FixedView:
    """A fixed page of the book: its prose and its entries, each line with an anchor."""

    frame: Frame
    title: str
    file: str
    blocks: tuple[BlockView, ...]


@dataclass(frozen=True, slots=True)
class SaidLine:
    """A line of bench.md, scales.md or sources.md: what it says of something."""

    words: str
    anchor: str


@dataclass(frozen=True, slots=True)
class Said:
    """A name, and every line that says something of it."""

    name: str
    lines: tuple[SaidLine, ...]


@dataclass(frozen=True, slots=True)
class BenchView:
    """The bench: on which terms the book is kept, its balances, its kinds of scrap."""

    frame: Frame
    title: str
    opening: tuple[BlockView, ...]
    facts: tuple[Said, ...]
    scales: tuple[Said, ...]
    scrap: tuple[Said, ...]


def fixed_view(page: FixedPage, path: str, findings: Iterable[Finding], site: Site) -> FixedView:
    """supplies.md or prices.md as a page."""
    here = site.addresses.at(path)
    by_line: dict[int, list[Finding]] = {}
    for finding in findings:
        by_line.setdefault(finding.span.line, []).append(finding)

    def beside(block: Block) -> Beside:
        last = block.span.line + block.span.text.rstrip().count("\n")
        found = [one for line in range(block.span.line, last + 1) for one in by_line.get(line, ())]
        notes = entry_notes(block) if isinstance(block, Entry) else ()
        views = tuple(finding_view(one, here) for one in found)
        return Beside(findings=views, notes=notes, line=block.span.line)

    return FixedView(
        frame=site.frame(here, page.title),
        title=page.title,
        file=page.source.path,
        blocks=block_views(shown(site.privacy, page.blocks), here, beside, site.book.pictures),
    )


def bench_view(book: Book, site: Site) -> BenchView:
    """bench.md, scales.md and sources.md on one page."""
    here = site.addresses.at(BENCH)
    shows = site.privacy.shows_span
    return BenchView(
        frame=site.frame(here, "The bench"),
        title=book.bench.title,
        opening=_opening(book, site, here),
        facts=_said((fact.word, fact.value, fact.span) for fact in book.bench.facts),
        scales=_said(
            (one.name, _line(one.span, one.name), one.span)
            for one in book.scales
            if shows(one.span)
        ),
        scrap=_said(
            (one.name, listed([*one.also, *([one.note] if one.note else [])], "and"), one.span)
            for one in book.scrap
            if shows(one.span)
        ),
    )


def _opening(book: Book, site: Site, here: Here) -> tuple[BlockView, ...]:
    blocks = shown(site.privacy, book.bench.opening)
    prefix = bench_prefix(blocks[0].span.source) if blocks else ""
    return block_views(blocks, here, lambda _: Beside(), book.pictures, prefix)


def _said(lines: Iterable[tuple[str, str, Span]]) -> tuple[Said, ...]:
    """Lines by what they name: of a kind of scrap that is told of twice, both."""
    by_name: dict[str, list[SaidLine]] = {}
    for name, words, span in lines:
        line = SaidLine(words, f"{bench_prefix(span.source)}{span.line}")
        by_name.setdefault(name, []).append(line)
    return tuple(Said(name, tuple(found)) for name, found in by_name.items())


def _line(span: Span, name: str) -> str:
    """The words of a line behind the name that it begins with."""
    words = " ".join(span.text.split())
    before, colon, after = words.partition(":")
    return after.strip() if colon and before.endswith(name) else words
