"""The runs of a book as a feed: what a reader who follows the site is told of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from logbook.calculation.results import BookFigures
from logbook.pages.addresses import run_path
from logbook.pages.descriptions import description
from logbook.pages.frame import on_the_web
from logbook.pages.gap_view import gaps_by_run
from logbook.pages.verdict import verdict

NEWEST = 30  # runs in the feed


@dataclass(frozen=True, slots=True)
class FeedEntry:
    """One run: where it stands on the web, its title, its last day, and what it gave."""

    address: str
    title: str
    day: date
    summary: str


@dataclass(frozen=True, slots=True)
class Feed:
    """The feed of a book. Its days are those of the logs: nothing in it tells of today."""

    address: str
    title: str
    author: str
    entries: tuple[FeedEntry, ...]


def feed_of(figures: BookFigures) -> Feed | None:
    """The newest runs that were done; None where the book has no address, or no dated run."""
    bench = figures.book.bench
    entries = sorted(_entries(figures), key=lambda one: (one.day, one.address), reverse=True)
    if not bench.address or not entries:
        return None
    author = bench.keeper or bench.title
    return Feed(bench.address, bench.title, author, tuple(entries[:NEWEST]))


def _entries(figures: BookFigures) -> Iterator[FeedEntry]:
    gaps, money = gaps_by_run(figures.gaps), figures.book.edition.money
    for run in figures.book.runs:
        own = figures.runs.get(run.name)
        day = (own.end if own is not None else None) or run.day
        if run.planned or day is None:
            continue
        said = verdict(run, own, gaps.get(run.name, ()), money=money)
        page = run_path(run.name)
        yield FeedEntry(
            address=on_the_web(figures.book.bench.address, page),
            title=run.title,
            day=day,
            summary=description(page, run.title, said),
        )
