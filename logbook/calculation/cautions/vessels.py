"""What is in each labelled vessel while a book goes by, for cautions only.

A jar, a bottle or a waste container keeps what went into it until all of that was taken or
discarded elsewhere, over every run and page of the book. Nothing is ever taken to be gone because
time passed, and no rule is known here: which meetings are dangers is decided in cautions.py.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.cautions.rules import Signs
from logbook.calculation.cautions.unread import UNREAD
from logbook.calculation.schedule import names_itself
from logbook.model.days import day_in_words
from logbook.model.entry import Entry, Portion

INTO_LABEL = frozenset({"got", "kept", "left", "sampled"})
"""Actions that put a thing under the label that stands beside it."""

ENTERS = frozenset({"took", "added"})
"""Actions whose labelled things may come from outside the book under their own name."""

COMES = frozenset({"bought", "had"})
"""Actions by which a bottle comes to the bench: nothing meets anything yet."""

LOOKS = frozenset({"weighed", "measured", "assayed", "tested", "found", "read"})
"""Actions that leave a vessel as it is."""

LEAVES = frozenset({"discarded", "lost", "sold"})
"""Actions by which a labelled thing goes away, or waste comes under a label of its own."""


@dataclass(frozen=True, slots=True)
class Deposit:
    """What one entry put into a vessel. `run` is empty for an entry of a fixed page."""

    signs: Signs
    entry: Entry
    run: str
    day: date | None

    def since(self, run: str) -> str:
        """When it went in and where that is written, as it is told in a run.

        >>> from logbook.source import SourceText, Span
        >>> entry = Entry("kept", Span(SourceText("runs/a.md", "- kept"), 2, 6), 1)
        >>> Deposit(frozenset(), entry, "2026-03-01-a", date(2026, 3, 1)).since("2026-05-02-b")
        'on 1 March 2026 (2026-03-01-a, line 1)'
        """
        day = "before" if self.day is None else f"on {day_in_words(self.day)}"
        where = self.run or self.entry.span.path
        place = f"line {self.entry.line}" if where == run else f"{where}, line {self.entry.line}"
        return f"{day} ({place})"


@dataclass(slots=True)
class Vessels:
    """Every labelled vessel of a book, as far as it has been read. Changes as that goes on."""

    _held: dict[str, tuple[Deposit, ...]] = field(default_factory=dict)
    _emptied: set[str] = field(default_factory=set)

    def copy(self) -> Vessels:
        """The same vessels, for a plan to look at: what it means to do has not been done."""
        return Vessels(dict(self._held), set(self._emptied))

    def deposits(self, label: str) -> tuple[Deposit, ...]:
        """What was put into a vessel, also where it was emptied and nothing came after.

        Who takes of a vessel that was emptied says that something was left in it.
        """
        return self._held.get(label, ())

    def standing(self, label: str) -> tuple[Deposit, ...]:
        """What is in a vessel when something is poured to it: nothing, if it was emptied."""
        return () if label in self._emptied else self.deposits(label)

    def put(self, label: str, deposit: Deposit) -> None:
        """Something goes into a vessel; into an emptied one it goes alone."""
        self._held[label] = (*self.standing(label), deposit)
        self._emptied.discard(label)

    def empty(self, labels: Iterable[str]) -> None:
        """All that was in some vessels is taken out."""
        self._emptied.update(labels)


def signs_of(deposits: Iterable[Deposit]) -> Signs:
    """Everything that deposits are."""
    return frozenset().union(*(deposit.signs for deposit in deposits))


def first_with(deposits: Iterable[Deposit], signs: Signs) -> Deposit | None:
    """The earliest deposit that holds one of some signs."""
    having = [deposit for deposit in deposits if not signs.isdisjoint(deposit.signs)]
    return min(having, key=_by_day, default=None)


def _by_day(deposit: Deposit) -> date:
    return deposit.day or date.min


def drawn(entry: Entry) -> Iterator[str]:
    """The labels whose content takes part in what an entry tells."""
    if entry.action not in (*INTO_LABEL, *COMES, *LOOKS):
        yield from _labels(entry.portions)
    yield from _labels(entry.supplies)
    yield from (label.name for label in entry.sources)


def filled(entry: Entry) -> Iterator[str]:
    """The labels into which an entry puts something."""
    yield from (label.name for label in entry.destinations)
    if entry.action in INTO_LABEL:
        yield from _labels(entry.portions)
    elif entry.action in LEAVES:
        yield from _labels(portion for portion in entry.portions if names_itself(entry, portion))


def named(entry: Entry) -> Iterator[tuple[str, Portion]]:
    """The labels under which an entry names a thing for itself, as on a bottle."""
    for portion in entry.portions:
        if entry.action in COMES or (entry.action in ENTERS and names_itself(entry, portion)):
            yield from ((label.name, portion) for label in portion.labels)


def emptied(entry: Entry) -> Iterator[str]:
    """The labels of which an entry takes all there is."""
    moves = entry.action in (*ENTERS, *LEAVES) or bool(entry.destinations)
    if not moves or entry.action in INTO_LABEL or entry.words == UNREAD:
        return
    for portion in entry.portions:
        if portion.amount is None and portion.share == 1.0:
            yield from _labels((portion,))
    if not entry.portions:
        yield from (label.name for label in entry.sources)


def _labels(portions: Iterable[Portion]) -> Iterator[str]:
    for portion in portions:
        yield from (label.name for label in portion.labels)
