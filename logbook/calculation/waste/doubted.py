"""What waste holds of each metal, with the doubt of the readings behind it in its limits.

A balance gives limits as if every reading were exact. Here, where a limit may mean danger, they
are set apart by the doubt of every reading that they can rest on. A limit without a doubt that
can be told is no limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import prod

from logbook.calculation.bench.substances import DOUBTS, within
from logbook.calculation.book_balance import FROM_BALANCE
from logbook.calculation.figure import Figure
from logbook.calculation.results import Content, StageKey, Standing, Thing
from logbook.chemistry.ranges import Range, added

WIDENED = "limits as if nothing was lost unseen, with the doubt of the readings behind them"
UNTOLD = "how far the readings behind its limits may be out cannot be told: none is given"
LOST_AS_WELL = "making"
LOST_LATER = "use"
MINUS = "−"


@dataclass(slots=True)
class Doubts:
    """The things of a book, and how much the readings around each of them leave open."""

    things: Mapping[str, Thing]
    _beside: dict[StageKey, list[Thing]] = field(default_factory=dict)
    _drawn: dict[str, list[Thing]] = field(default_factory=dict)
    _poured: dict[str, list[Thing]] = field(default_factory=dict)
    _around: dict[tuple[str, str], float | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for thing in self.things.values():
            for stage in (thing.made_by, thing.used_by):
                if stage is not None:
                    self._beside.setdefault(stage, []).append(thing)
            if thing.part_of:
                self._drawn.setdefault(thing.part_of, []).append(thing)
            for key in thing.pooled_from:
                self._poured.setdefault(key, []).append(thing)

    def contents(self, thing: Thing) -> Mapping[str, Content]:
        """What a thing holds of each metal: values as they are, limits with their doubt."""
        return {metal: self._content(thing, metal) for metal in thing.held}

    def _content(self, thing: Thing, metal: str) -> Content:
        content = thing.held[metal]
        if content.best.value is not None:
            return content
        limits = self._limits(thing, metal)
        if (limits.low, limits.high) == (content.best.low or 0.0, content.best.high):
            return content
        told = UNTOLD if limits.high is None and not limits.low else WIDENED
        notes = tuple(told if note == FROM_BALANCE else note for note in content.best.notes)
        best = replace(content.best, low=limits.low, high=limits.high, notes=notes)
        standing = Standing.UNKNOWN if limits.high is None else Standing.BOUNDED
        words = content.words.replace(FROM_BALANCE, told)
        return replace(content, best=best, standing=standing, words=words)

    def _limits(self, thing: Thing, metal: str) -> Range:
        """The limits of a content that has no value.

        Equation: from the readings it is made of, m (1 ± Σ 2u(x)/x); from the balance,
        m ± Σ 2u(x) over the readings around it [g]; the tighter of both. Source: interval
        arithmetic; a limit of a balance is a sum and difference of some of these readings.
        """
        own, best = self._own(thing, metal), thing.held[metal].best
        measured = thing.held[metal].measured
        doubt = self._of_balance(thing, metal)
        low, high = own.low, own.high
        if doubt is not None and (best.low or 0.0) > (measured.low or 0.0):
            low = max(low, (best.low or 0.0) - doubt)
        if doubt is not None and best.high is not None:
            tighter = measured.high is None or best.high < measured.high
            if tighter and (high is None or best.high + doubt < high):
                high = best.high + doubt
        return Range(low if high is None else min(low, high), high)

    def _own(self, thing: Thing, metal: str) -> Range:
        """The limits by what was read of a thing itself, or of what was poured together."""
        if not thing.pooled_from:
            return widened(thing.held[metal].measured)
        return added(self._of_part(part, metal) for part in self._parts(thing))

    def _of_part(self, part: Thing, metal: str) -> Range:
        content = part.held.get(metal)
        if content is None:
            return Range(0.0, None)
        return surely(content) if content.best.value is not None else widened(content.measured)

    def _parts(self, thing: Thing) -> Iterator[Thing]:
        """What was poured together, through jars that were poured into jars."""
        stack, seen = [thing.key], {thing.key}
        while stack:
            one = self.things[stack.pop()]
            fresh = [key for key in one.pooled_from if key in self.things and key not in seen]
            seen.update(fresh)
            stack.extend(fresh)
            if not one.pooled_from:
                yield one

    def _of_balance(self, thing: Thing, metal: str) -> float | None:
        """Twice the doubts of all readings of a metal around a thing [g]; None: none is told.

        Around it is whatever hangs together with it through things that were not read. Where
        a share of something unread was drawn, a reading may count many times over.
        """
        if (thing.key, metal) not in self._around:
            found, doubt = self._flood(thing, metal)
            self._around.update(dict.fromkeys(((key, metal) for key in found), doubt))
        return self._around[thing.key, metal]

    def _flood(self, start: Thing, metal: str) -> tuple[Iterable[str], float | None]:
        found, read = {start.key}, dict[str, float]()
        stack, shared = [start], False
        while stack:
            one = stack.pop()
            shared = shared or bool(one.part_of) or one.key in self._drawn
            for other in self._neighbours(one):
                content = other.held.get(metal)
                if content is None or other.key in found:
                    continue
                if content.measured.value is not None:
                    read[other.key] = DOUBTS * content.measured.value.u
                else:
                    found.add(other.key)
                    stack.append(other)
        return found, sum(read.values()) if read and not shared else None

    def _neighbours(self, thing: Thing) -> Iterator[Thing]:
        for stage in (thing.made_by, thing.used_by):
            if stage is not None:
                yield from self._beside[stage]
        yield from self._drawn.get(thing.key, ())
        yield from self._poured.get(thing.key, ())
        for key in (*thing.pooled_from, thing.part_of):
            if key in self.things:
                yield self.things[key]


def surely(content: Content) -> Range:
    """What a content may be: a loss that is counted in may have gone, or gone from it later."""
    limits = within(content.best)
    if content.best.value is None:
        return limits
    low = 0.0 if content.side == LOST_AS_WELL else limits.low
    return Range(low, None if content.side == LOST_LATER else limits.high)


def widened(figure: Figure) -> Range:
    """The limits of a figure, widened by the doubt of every reading it is worked out from.

    Between 4 and 8 g by 2.0 ± 0.1 L, of which twice 0.1 L is a tenth (by hand):

    >>> from logbook.model.amount import Uncertain
    >>> litres = Figure("volume", "L", Uncertain.of(2.0, 0.1, "the jug"))
    >>> found = widened(Figure("silver", "g", terms=(litres,), low=4.0, high=8.0))
    >>> round(found.low, 6), round(found.high, 6)
    (3.6, 8.8)
    """
    if figure.value is not None:
        return within(figure)
    apart = _apart(figure)
    if apart is None:
        return Range(0.0, None)
    low = (figure.low or 0.0) * max(0.0, 1.0 - sum(apart))
    high = None if figure.high is None else figure.high * prod(1.0 + one for one in apart)
    return Range(low, high)


def _apart(figure: Figure) -> list[float] | None:
    """The relative doubts behind a sum or product, each twice; None where they say nothing.

    So it is with a reading of nothing, and with a difference that is no value.
    """
    seen: set[int] = set()
    stack, found = [figure], list[float]()
    while stack:
        term = stack.pop()
        if id(term) in seen:
            continue
        seen.add(id(term))
        if term.value is None:
            if MINUS in term.formula:
                return None
            stack.extend(term.terms)
        elif term.value.u:
            if not term.value.value:
                return None
            found.append(DOUBTS * term.value.u / abs(term.value.value))
    return found
