"""A book: every log and fixed page of a folder, read, with what there is to say about them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from logbook.findings import Finding
from logbook.model.amount import Amount
from logbook.model.edition import MONEY_ALONE, WHOLE, Edition, KeptBack
from logbook.model.entry import Entry
from logbook.model.run import Block, Fact, Run
from logbook.model.site_picture import SitePicture
from logbook.source import SourceText, Span


@dataclass(frozen=True, slots=True)
class Scale:
    """A balance or measure of scales.md. Masses in grams, volumes in litres."""

    span: Span
    name: str
    reads: float  # readability: the step of the last digit
    repeats: float  # repeatability: one standard deviation
    capacity: float | None
    volume: bool = False  # a cylinder, burette or pipette rather than a balance


@dataclass(frozen=True, slots=True)
class ScrapKind:
    """A kind of scrap of sources.md: other names for it, and what the keeper notes of it."""

    span: Span
    name: str
    also: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Customs:
    """How this bench writes: what the reader must know before it reads a log."""

    decimal_comma: bool = False
    currency: str = ""  # ISO 4217 code; empty where bench.md names none
    scales: tuple[Scale, ...] = ()


@dataclass(frozen=True, slots=True)
class Bench:
    """runs/bench.md: who keeps the book and on which terms. None where nothing is said."""

    title: str = "A bench without a name"
    keeper: str = ""
    currency: str = ""
    hour: Amount | None = None  # worth of an hour
    tariff: Amount | None = None  # price of a kilowatt-hour
    facts: tuple[Fact, ...] = ()
    opening: tuple[Block, ...] = ()
    room: Amount | None = None  # L; the room in which the work is done
    theme: str = "bench"  # how the site looks
    kept_back: KeptBack = MONEY_ALONE
    address: str = ""  # of the site on the web, without a slash at its end


@dataclass(frozen=True, slots=True)
class FixedPage:
    """supplies.md, prices.md, scales.md or sources.md: its prose and its entries in order."""

    source: SourceText
    title: str
    blocks: tuple[Block, ...]

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries of the page, in the order they were written."""
        return tuple(block for block in self.blocks if isinstance(block, Entry))


@dataclass(frozen=True, slots=True)
class Book:
    """Everything read from a folder. Runs are in order of date, then of name."""

    bench: Bench
    customs: Customs
    runs: tuple[Run, ...]
    supplies: FixedPage | None = None
    prices: FixedPage | None = None
    scales: tuple[Scale, ...] = ()
    scrap: tuple[ScrapKind, ...] = ()
    findings: tuple[Finding, ...] = ()
    files: frozenset[str] = field(default_factory=frozenset)  # other files beside the logs
    pictures: Mapping[str, SitePicture] = field(default_factory=dict)  # those that the site has
    edition: Edition = WHOLE

    @property
    def newest_day(self) -> date | None:
        """The newest date in the book: ages are counted from it, never from a clock."""
        days = [run.day for run in self.runs if run.day is not None and not run.planned]
        days += [
            entry.when.day
            for run in self.runs
            if not run.planned
            for stage in run.stages
            for entry in stage.entries
            if entry.when is not None and entry.when.day is not None
        ]
        days += [
            stage.when.day
            for run in self.runs
            if not run.planned
            for stage in run.stages
            if stage.when is not None and stage.when.day is not None
        ]
        return max(days, default=None)
