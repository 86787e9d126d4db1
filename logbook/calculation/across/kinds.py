"""Kinds of scrap: what sources.md calls the things that came in, and which lots there are.

Words that no line of sources.md knows are a kind of their own, as they were written.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from logbook.calculation.feed import is_feed, weight_of
from logbook.calculation.figure import Figure
from logbook.calculation.results import Role, RunFigures, Thing
from logbook.calculation.results.across import Lot
from logbook.calculation.sums import add_up, ratio
from logbook.model.book import ScrapKind


class Kinds:
    """The kinds of scrap of a book, by all that they are called.

    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/sources.md", ""), 0, 0)
    >>> kinds = Kinds([ScrapKind(place, "Relay contacts", ("contacts",), "")])
    >>> kinds.named("contacts"), kinds.named("Old  Coins")
    ('Relay contacts', 'old coins')
    """

    def __init__(self, known: Iterable[ScrapKind]) -> None:
        self._names: dict[str, str] = {}
        for kind in known:
            for name in (kind.name, *kind.also):
                self._names.setdefault(_plain(name), kind.name)

    def named(self, words: str) -> str:
        """The kind that some words name."""
        plain = _plain(words)
        return self._names.get(plain, plain)

    def of_run(self, figures: RunFigures) -> tuple[str, ...]:
        """The kinds of scrap that a run took from outside the book, in order of use."""
        taken = (self.named(one.what) for one in figures.things_in if from_outside(one))
        return tuple(dict.fromkeys(taken))

    def alone(self, figures: RunFigures) -> bool:
        """Whether a run worked on one kind of scrap from outside, and on nothing else."""
        feed = [one for one in figures.things_in if is_feed(figures.run, one)]
        return len(self.of_run(figures)) == 1 and all(from_outside(one) for one in feed)

    def lots(self, things: Sequence[Thing]) -> dict[str, list[Lot]]:
        """The lots of each kind, in the order in which they came."""
        by_lot: dict[tuple[str, str], list[Thing]] = {}
        for thing in things:
            if from_outside(thing) and not thing.part_of:
                by_lot.setdefault((self.named(thing.what), thing.label or thing.key), []).append(
                    thing
                )
        found: dict[str, list[Lot]] = {}
        for (kind, _), parts in by_lot.items():
            found.setdefault(kind, []).append(_lot(parts))
        return found


def from_outside(thing: Thing) -> bool:
    """Whether a thing is scrap that no run made. One that was never there is none."""
    absent = thing.what == f"[{thing.label}]"
    made = thing.made_by is not None or bool(thing.pooled_from)
    return thing.role is Role.FEED and bool(thing.what) and not made and not absent


def _lot(parts: Sequence[Thing]) -> Lot:
    weight = weight_of("weight of the lot", parts)
    metals = dict.fromkeys(metal for part in parts for metal in part.contents)
    grades = []
    for metal in metals:
        held = add_up(metal, "g", [_read(one, metal) for one in parts if metal in one.contents])
        grades.append((metal, ratio("head grade", "g/g", held, weight, f"{metal} / weight")))
    return Lot(parts[0].key, parts[0].label, weight, tuple(grades))


def _read(thing: Thing, metal: str) -> Figure:
    """What was assayed or written of a thing: a head built up from its product is no assay."""
    content = thing.held.get(metal)
    return thing.contents[metal] if content is None else content.measured


def _plain(words: str) -> str:
    return " ".join(words.split()).lower()
