"""What the search looks through: every name of the site, and every line of the logs that is shown.

Plain lists, ready to be written as JSON. A private note is in none of them: what may not stand
on a page is not looked at here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logbook.calculation.results import BookFigures
from logbook.model.run import Block, Picture, Run
from logbook.pages.addresses import SEARCH
from logbook.pages.frame import Site
from logbook.pages.privacy import shown
from logbook.pages.search_page import index_entries
from logbook.source import Span

LONGEST = 4000  # letters of one paragraph that are looked through
Line = tuple[Span, str]


def search_index(figures: BookFigures, site: Site) -> dict[str, Any]:
    """The whole index.

    `names` are [name, kind, what more there is to say, link]; `sources` are [title, link, what
    the anchors of its lines begin with]; `lines` are [place in sources, line of the anchor, text].
    """
    here = site.addresses.at(SEARCH)
    names = [[one.name, one.kind, one.more, one.href] for one in index_entries(figures, site, here)]
    order = sorted(site.addresses.sources)
    places = {path: place for place, path in enumerate(order)}
    found = [site.addresses.sources[path] for path in order]
    lines = []
    for span, words in _lines(figures, site):
        source = site.addresses.sources.get(span.path)
        text = " ".join(words[:LONGEST].split())
        anchor = source.anchor(span.line) if source is not None else ""
        if source is not None and anchor and text:
            lines.append([places[span.path], int(anchor.removeprefix(source.prefix)), text])
    return {
        "names": sorted(names),
        "sources": [[one.title, here.to(one.path), one.prefix] for one in found],
        "lines": lines,
    }


def _lines(figures: BookFigures, site: Site) -> Iterator[Line]:
    """Every line that is shown, with the words in it."""
    book = figures.book
    for run in book.runs:
        yield from _of_run(run, site)
    for block in shown(site.privacy, book.bench.opening):
        yield from _of_block(block)
    for page in (book.supplies, book.prices):
        for block in shown(site.privacy, page.blocks) if page is not None else ():
            yield from _of_block(block)
    for kind in book.scrap:
        if site.privacy.shows_span(kind.span):
            yield kind.span, kind.span.text


def _of_run(run: Run, site: Site) -> Iterator[Line]:
    for fact in run.facts:
        if site.privacy.shows_span(fact.span):
            yield fact.span, f"{fact.word}: {fact.value}"
    for block in shown(site.privacy, run.opening):
        yield from _of_block(block)
    for stage in run.stages:
        if stage.title and site.privacy.shows_span(stage.span):
            yield stage.span, stage.title
        for block in shown(site.privacy, stage.blocks):
            yield from _of_block(block)


def _of_block(block: Block) -> Iterator[Line]:
    yield block.span, block.caption if isinstance(block, Picture) else block.span.text
