"""All texts of a folder become one book. A broken text costs itself, never the others."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import PurePosixPath

from logbook.findings import Finding
from logbook.model.book import Bench, Book, Customs, FixedPage, Scale, ScrapKind
from logbook.model.kept import Kept
from logbook.model.run import Run
from logbook.reading.context import Reading
from logbook.reading.fixed_pages import (
    read_customs_and_bench,
    read_page,
    read_scales,
    read_scrap,
)
from logbook.reading.read_log import read_log
from logbook.source import SourceText

FIXED_PAGES = ("bench", "scales", "sources", "supplies", "prices")


def read_book(
    texts: Mapping[str, str], other_files: Iterable[str] = (), kept: Kept | None = None
) -> Book:
    r"""The book in some texts, by their paths from the book's folder ("runs/bench.md").

    `other_files` are the paths of what lies beside them: pictures and the like. A log that is
    as it was before, read under the same customs, is taken from `kept`.

    >>> book = read_book({"runs/2026-03-14-contacts.md": "# Contacts\n\n- took 12 g contacts"})
    >>> [run.name for run in book.runs], book.runs[0].entries[0].portions[0].what
    (['2026-03-14-contacts'], 'contacts')
    """
    sources = {path: SourceText(path, _clean(text)) for path, text in sorted(texts.items())}
    fixed = _fixed_pages(sources)
    findings: list[Finding] = []

    def page(name: str, customs: Customs) -> Reading | None:
        return Reading(fixed[name], customs) if name in fixed else None

    customs, bench = Customs(), Bench()
    if reading := page("bench", customs):
        customs, bench = read_customs_and_bench(reading)
        findings += reading.findings
    scales: tuple[Scale, ...] = ()
    scrap: tuple[ScrapKind, ...] = ()
    if reading := page("scales", customs):
        scales = read_scales(reading)
        findings += reading.findings
    customs = replace(customs, scales=scales)
    if reading := page("sources", customs):
        scrap = read_scrap(reading)
        findings += reading.findings
    supplies: FixedPage | None = None
    prices: FixedPage | None = None
    if reading := page("supplies", customs):
        supplies = read_page(reading)
        findings += reading.findings
    if reading := page("prices", customs):
        prices = read_page(reading)
        findings += reading.findings
    used = set(fixed.values())
    logs = [source for source in sources.values() if source not in used]
    runs = _runs(logs, customs, findings, kept if kept is not None else Kept())
    return Book(
        bench,
        customs,
        runs,
        supplies,
        prices,
        scales,
        scrap,
        tuple(sorted(findings, key=lambda finding: finding.sort_key)),
        frozenset(other_files),
    )


def customs_in(bench: str) -> Customs:
    """How a bench writes, from the text of its bench.md alone."""
    return read_customs_and_bench(Reading(SourceText("runs/bench.md", _clean(bench)), Customs()))[0]


def _clean(text: str) -> str:
    """The text without a byte order mark; characters that are none become the usual sign."""
    return text.removeprefix("\ufeff").replace("\0", "\ufffd")


def _fixed_pages(sources: Mapping[str, SourceText]) -> dict[str, SourceText]:
    found: dict[str, SourceText] = {}
    for path, source in sources.items():
        at = PurePosixPath(path)
        if at.parent == PurePosixPath("runs") and at.stem.lower() in FIXED_PAGES:
            found.setdefault(at.stem.lower(), source)
    return found


def _runs(
    sources: list[SourceText], customs: Customs, findings: list[Finding], kept: Kept
) -> tuple[Run, ...]:
    manner = _manner(customs)
    runs: list[Run] = []
    names: set[str] = set()
    for source in sources:
        same = ("log", source.path, source.text, manner)
        run, found = kept.made(same, partial(read_log, source, customs))
        if run.name in names:
            # Two folders may hold logs of one name: the path from runs/ tells them apart.
            run = replace(run, name="-".join(PurePosixPath(source.path).with_suffix("").parts[1:]))
        names.add(run.name)
        runs.append(run)
        findings += found
    runs.sort(key=lambda run: (run.day or date.max, run.name))
    return tuple(runs)


def _manner(customs: Customs) -> Hashable:
    """All of the customs that a log is read by, without the places they were written."""
    scales = tuple(
        (one.name, one.reads, one.repeats, one.capacity, one.volume) for one in customs.scales
    )
    return customs.decimal_comma, customs.currency, scales
