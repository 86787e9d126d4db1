"""How much there is of each thing: weight, volume, count, and its share of what it came from.

A figure comes from a weighing or measuring, from the sum of what was poured together, or
from what is left after draws. Nothing is guessed: what was not weighed is not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.holdings import Holding, Look
from logbook.calculation.sums import add_up, difference, part_of, ratio
from logbook.model.amount import BASE_UNITS, Amount, Dimension, Uncertain

WORDS: Mapping[Dimension, tuple[str, str]] = {
    Dimension.MASS: ("weight", "weighed"),
    Dimension.VOLUME: ("volume", "measured"),
    Dimension.COUNT: ("count", "counted"),
}
WHOLE = Figure("all of it", "1", Uncertain(1.0), "the whole")


def in_dependency(holdings: Iterable[Holding]) -> Iterator[Holding]:
    """Things in such an order that what a thing came from is before it."""
    done: set[int] = set()
    for first in holdings:
        stack = [first]
        while stack:
            held = stack[-1]
            awaited = [one for one in _came_from(held) if id(one) not in done]
            if awaited:
                stack.extend(awaited)
                continue
            stack.pop()
            if id(held) not in done:
                done.add(id(held))
                yield held


def _came_from(held: Holding) -> list[Holding]:
    if held.parent is None:
        return held.poured
    return [held.parent, *(held.parent.draws[: held.before] if held.part else ())]


def leaf(name: str, amount: Amount, why: str, notes: tuple[str, ...] = ()) -> Figure:
    """A figure as it was read in a log, with where its uncertainty comes from."""
    basis = f"; uncertainty: {amount.u_basis}" if amount.u_basis else ""
    value = Uncertain.reading(amount)
    low, high = (amount.low, amount.high) if value is None else (None, None)
    if value is not None and amount.note:
        notes = (*notes, f"{amount.span.text}: {amount.note}")
    return Figure(
        name,
        amount.base_unit,
        value,
        formula=f"as written{basis}",
        rests_on=(amount.span,),
        why="" if value is not None else amount.note or why,
        low=low,
        high=high,
        notes=notes,
    )


@dataclass(slots=True)
class Weights:
    """Weights, volumes and counts of things, worked out one after another."""

    found: dict[tuple[int, Dimension], Figure] = field(default_factory=dict)
    shares: dict[int, Figure] = field(default_factory=dict)

    def of(self, held: Holding, dimension: Dimension) -> Figure:
        """How much there is of a thing."""
        key = id(held), dimension
        if key not in self.found:
            self.found[key] = self._work_out(held, dimension)
        return self.found[key]

    def _work_out(self, held: Holding, dimension: Dimension) -> Figure:
        word, done = WORDS[dimension]
        name = f"{word} of {held.title}"
        look = held.look(dimension)
        if look is not None:
            why = f"how much of {held.title} there was is not written"
            figure = leaf(name, look.amount, why, _notes(held, look, done))
            return figure if look.part == 1.0 else part_of(name, figure, look.part, "its share")
        if held.poured:
            parts = [self.of(part, dimension) for part in held.poured]
            return add_up(name, BASE_UNITS[dimension], parts, "sum of what was poured together")
        if held.parent is not None and held.part is not None:
            left = self._left(held.parent, held.before, dimension)
            return part_of(name, left, held.part, f"{held.part:g} of {left.name}")
        unit = BASE_UNITS[dimension]
        notes = tuple(held.notes)
        return Figure(name, unit, why=f"{held.title} was never {done}", notes=notes)

    def _left(self, held: Holding, before: int, dimension: Dimension) -> Figure:
        """What was left of a thing after its first draws."""
        whole = self.of(held, dimension)
        if not before:
            return whole
        unit = BASE_UNITS[dimension]
        drawn = [self.of(piece, dimension) for piece in held.draws[:before]]
        gone = add_up(f"drawn from {held.title}", unit, drawn, "sum of the draws before")
        return difference(f"rest of {held.title}", unit, whole, gone)

    def share(self, piece: Holding) -> Figure:
        """The part of a lot that a draw is.

        Equation: p = m / M [g/g], or the part that was said; the rest is 1 − Σ p of the
        draws before it. Source: the definition of a mass share; propagation JCGM 100:2008,
        5.1.2 (from memory).

        Of a lot, half is drawn, and then a quarter of what is left: 0.5 × 0.25 by hand.

        >>> from logbook.calculation.results import Role
        >>> lot, half, next_one = (Holding("", "", "", Role.FEED, None, None) for _ in range(3))
        >>> half.parent, half.part, next_one.parent, next_one.part = lot, 0.5, lot, 0.25
        >>> next_one.before, lot.draws = 1, [half, next_one]
        >>> Weights().share(next_one).value.value
        0.125
        """
        if id(piece) not in self.shares:
            self.shares[id(piece)] = self._share(piece)
        return self.shares[id(piece)]

    def _share(self, piece: Holding) -> Figure:
        lot = piece.parent
        if lot is None:
            return WHOLE
        if piece.part is None or piece.looks:
            return self._share_by_amount(piece, lot)
        if not piece.before:
            return part_of("share", WHOLE, piece.part, "the part that was said")
        drawn = [self.share(one) for one in lot.draws[: piece.before]]
        gone = add_up(f"shares drawn from {lot.title}", "1", drawn, "sum of the draws before")
        left = difference(f"share left of {lot.title}", "1", WHOLE, gone)
        return part_of("share", left, piece.part, f"{piece.part:g} of what was left")

    def _share_by_amount(self, piece: Holding, lot: Holding) -> Figure:
        for dimension in (Dimension.MASS, Dimension.VOLUME, Dimension.COUNT):
            if piece.look(dimension) is not None:
                whole = self.of(lot, dimension)
                return ratio("share", "1", self.of(piece, dimension), whole)
        return not_known("share", "1", f"how much of {lot.title} was taken is not written")


def _notes(held: Holding, chosen: Look, done: str) -> tuple[str, ...]:
    """What qualifies a weighing: damp, or one of several."""
    notes = list(held.notes)
    if chosen.wet:
        notes.append(f"{held.title} was {done} {chosen.entry.moisture}: dry, it is less")
    kind = chosen.amount.dimension
    others = [look for look in held.looks if look.amount.dimension is kind and look is not chosen]
    if others:
        read = ", ".join(_as_read(look) for look in others)
        which = "the latest dry one" if any(look.wet for look in others) else "the latest one"
        notes.append(
            f"{held.title} was {done} {len(others) + 1} times: {which}, "
            f"{_as_read(chosen)}, is used, not {read}"
        )
    return tuple(notes)


def _as_read(look: Look) -> str:
    moisture = f" {look.entry.moisture}" if look.entry.moisture else ""
    return f"{look.amount.span.text}{moisture}"
