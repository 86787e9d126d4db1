"""What may be behind a gap, in words: which weighing or assay to look at again, or which spill.

A reading is named as it was written, with its day, and with what to do about it. Nothing here
decides which is likelier; that is done where the balance is tested.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.holdings import Holding, Look, Statement
from logbook.calculation.metal_network import Place
from logbook.calculation.network.arcs import OpenZone, Suspect
from logbook.calculation.products import holds_water
from logbook.calculation.results import Cause
from logbook.model.amount import Amount, Dimension
from logbook.model.book import Book
from logbook.model.days import day_in_words
from logbook.source import Span

MOST_NAMED = 3
MEASURED = {
    Dimension.MASS: ("weighing", "weigh it again"),
    Dimension.VOLUME: ("measuring", "measure it again"),
    Dimension.COUNT: ("count", "count it again"),
}


@dataclass(frozen=True, slots=True)
class Reading:
    """A weighing, an assay or a sampling that may be wrong. `rank` puts the likelier first."""

    of: str  # the thing, as it is called in a sentence
    words: str
    advice: str
    span: Span | None
    rank: int = 1


@dataclass(slots=True)
class Readings:
    """Every reading of a book by its source of error."""

    days: Mapping[int, date]
    titles: Mapping[str, str]  # run -> title
    book: Book
    read: dict[Hashable, tuple[Holding, Look | Statement]] = field(default_factory=dict)

    def add(self, held: Holding) -> None:
        """Note what was read of a thing."""
        for look in held.looks:
            self.read.setdefault(look.amount, (held, look))
        for statement in held.said:
            self.read.setdefault(statement.composition.amount, (held, statement))

    def reading(self, source: Hashable) -> Reading:
        """A source of error in words."""
        found = self.read.get(source)
        if found is None:
            return _unnamed(source)
        held, said = found
        return self._look(held, said) if isinstance(said, Look) else self._statement(held, said)

    def _look(self, held: Holding, look: Look) -> Reading:
        kind = look.amount.dimension
        dry = next((one for one in held.looks if one.entry.moisture == "dry"), None)
        word, advice = MEASURED.get(kind, ("amount", "look at it again"))
        words = f"the {word} of {held.title}{self._on(look.entry)}, {_written(look.amount)}"
        doubtful = kind is Dimension.MASS and look.entry.moisture != "dry"
        if doubtful and dry is not None:
            advice = (
                f"it was {_written(dry.amount)} dry{self._on(dry.entry)}, and that is counted: "
                "call this one damp, or correct it"
            )
            return Reading(held.title, f"{words}, not called dry", advice, look.amount.span, 0)
        if doubtful and holds_water(held.what):
            return Reading(held.title, words, f"dry it and {advice}", look.amount.span)
        return Reading(held.title, words, advice, look.amount.span, 2 if dry is look else 1)

    def _statement(self, held: Holding, statement: Statement) -> Reading:
        amount, metal = statement.composition.amount, statement.composition.metal
        if amount.dimension is Dimension.MASS:
            words = f"the {metal} said to be in {held.title}{self._on(statement.entry)}"
        elif statement.by_method:
            words = f"the assay of {metal} in {held.title}{self._on(statement.entry)}"
        else:
            words = f"the {metal} claimed for {held.title}{self._on(statement.entry)}"
        advice = "assay it again" if statement.by_method else "have it assayed"
        return Reading(held.title, f"{words}, {_written(amount)}", advice, amount.span)

    def _on(self, entry: object) -> str:
        day = self.days.get(id(entry))
        return "" if day is None or day in (date.min, date.max) else f" on {day_in_words(day)}"

    # Causes

    def causes(self, zone: OpenZone, places: Mapping[str, Place]) -> tuple[Cause, ...]:
        """The likeliest causes of a gap, those that fit alike one after another."""
        found = []
        for suspect in zone.named:
            cause = self._loss(suspect, places) if suspect.is_loss else self._reading(suspect)
            if cause is not None:
                found.append(cause)
        return tuple(found[:MOST_NAMED])

    def _reading(self, suspect: Suspect) -> Cause | None:
        """Readings that cannot be told apart, as one cause."""
        readings = sorted(
            (self.reading(source) for source in suspect.sources),
            key=lambda one: one.rank,
        )
        best = [one for one in readings if one.rank == readings[0].rank][:MOST_NAMED]
        words = ", or ".join(one.words for one in best)
        advice = "; ".join(dict.fromkeys(one.advice for one in best if one.advice))
        spans = tuple(one.span for one in best if one.span is not None)
        return Cause("reading", words, advice, spans, suspect.left)

    def _loss(self, suspect: Suspect, places: Mapping[str, Place]) -> Cause:
        names = list(dict.fromkeys(self.place_words(places[node]) for node in suspect.nodes))
        where = " or ".join(names[:MOST_NAMED])
        advice = "look for a spill, or for a filter, a rinse or a residue that was not written down"
        spans = tuple(self._spans(places[node] for node in suspect.nodes))[:MOST_NAMED]
        return Cause("loss", f"a loss {where}", advice, spans, suspect.left)

    def place_words(self, place: Place) -> str:
        """Where something happened: at a stage of a run, or in a jar."""
        if place.stage is not None:
            stage = self._stage(place)
            run = self.titles.get(place.stage.run, place.stage.run)
            return f'at "{stage}" of {run}' if stage else f"at the first stage of {run}"
        return f"from {place.thing.title}" if place.thing is not None else "outside"

    def _stage(self, place: Place) -> str:
        runs = {run.name: run for run in self.book.runs}
        if place.stage is None or place.stage.run not in runs:
            return ""
        return runs[place.stage.run].stages[place.stage.index].title

    def _spans(self, places: Iterable[Place]) -> Iterable[Span]:
        runs = {run.name: run for run in self.book.runs}
        for place in places:
            if place.stage is not None and place.stage.run in runs:
                yield runs[place.stage.run].stages[place.stage.index].span
            elif place.thing is not None and place.thing.entries:
                yield place.thing.entries[0].span


def _unnamed(source: Hashable) -> Reading:
    """A source of error that is no reading: the sampling of a lot."""
    if isinstance(source, tuple) and source[0] == "sampling":
        words = f"how far part {source[2] + 1} of [{source[1]}] differs from the lot"
        return Reading(str(source[1]), words, "assay what is left of that part", None, 2)
    if isinstance(source, Amount):
        return Reading("", f"the figure {_written(source)}", "look at it again", source.span, 2)
    return Reading("", "an error of no single reading", "", None, 3)


def _written(amount: Amount) -> str:
    return " ".join(amount.span.text.split())


def readings_of(holdings: Sequence[Holding], days: Mapping[int, date], book: Book) -> Readings:
    """Every reading of a book."""
    readings = Readings(days, {run.name: run.title for run in book.runs}, book)
    for held in holdings:
        readings.add(held)
    return readings
