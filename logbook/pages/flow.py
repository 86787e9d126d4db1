"""What a metal flow is made of: stations in a row, streams of metal between them, and gaps.

Plain records. A station is a stage, a run, or a month of runs; a stream comes from outside or
from an earlier station, and goes to a later one or to an end. Nothing is drawn here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from logbook.calculation.figure import Figure
from logbook.calculation.results import Standing
from logbook.calculation.sums import add_up
from logbook.pages.content_view import STANDING_WORDS, amount_words
from logbook.pages.figure_view import known_text
from logbook.pages.rounding import plural


class End(StrEnum):
    """Where a stream comes from or goes to, beside a station. The words stand in drawings."""

    OUTSIDE = "in"
    EARLIER = "from earlier"  # a stream that could not be drawn as one band, taken up again
    INNER = "on to"
    PRODUCT = "product"
    SHELF = "kept"
    WASTE = "waste"
    LOST = "lost"
    SMALL = "small"  # several small ones that leave in different ways


@dataclass(frozen=True, slots=True)
class Station:
    """A place where metal comes in and goes out; `href` leads to it where there is a page.

    `note` says what stands for several at once.
    """

    title: str
    href: str = ""
    note: str = ""

    @property
    def heading(self) -> str:
        """The title with its note."""
        return f"{self.title}, {self.note}" if self.note else self.title


@dataclass(frozen=True, slots=True)
class Stream:
    """Some metal on its way. `source` and `target` are places of stations, None for an end.

    `count` things make it up, of which `unknown` have no known content; `content` is the sum
    of the others where some are not known. `raw` is the content as it was read, before the
    whole book was put into balance. `href` leads to the label of a single thing.
    """

    source: int | None
    target: int | None
    end: End
    what: str
    label: str
    content: Figure
    raw: Figure
    standing: Standing
    count: int = 1
    unknown: int = 0
    href: str = ""

    @property
    def name(self) -> str:
        """What flows, with its label."""
        return f"{self.what} [{self.label}]" if self.label else self.what

    @property
    def grams(self) -> float | None:
        """How much it is, where that is known [g]."""
        return None if self.content.value is None else self.content.value.value

    @property
    def amount(self) -> str:
        """How much it is, in words."""
        if 0 < self.unknown < self.count:
            return f"{known_text(self.content)}, and {self.unknown} not known"
        return amount_words(self.content)

    @property
    def words(self) -> str:
        """How much it is, and how that is known."""
        if self.content.value is None:
            return self.amount
        return f"{self.amount}, {STANDING_WORDS[self.standing]}"


@dataclass(frozen=True, slots=True)
class Missing:
    """A balance that does not close at a station: what went in less what came out [g].

    `words` are the two lines beside it. `above` tells that it stands where things come in.
    """

    station: int
    missing: Figure
    words: tuple[str, str]
    above: bool = False

    @property
    def grams(self) -> float:
        """How much is missing or too much [g]."""
        return 0.0 if self.missing.value is None else abs(self.missing.value.value)


@dataclass(frozen=True, slots=True)
class Flow:
    """One metal on its way through stations that stand in order of time."""

    stations: tuple[Station, ...]
    streams: tuple[Stream, ...]
    gaps: tuple[Missing, ...] = ()


def joined(streams: Sequence[Stream], what: str) -> Stream:
    """Several streams of one way as a single one; what is not known of them is counted."""
    if len(streams) == 1:
        return streams[0]
    known = [stream.content for stream in streams if stream.content.known]
    content = add_up(what, "g", known or [stream.content for stream in streams])
    standings = [stream.standing for stream in streams if stream.content.known or not known]
    return replace(
        streams[0],
        what=what,
        label="",
        content=content,
        raw=add_up(what, "g", [stream.raw for stream in streams]),
        standing=max(standings, key=list(Standing).index),
        count=sum(stream.count for stream in streams),
        unknown=sum(
            stream.unknown or (stream.count if not stream.content.known else 0)
            for stream in streams
        ),
        href="",
    )


def by_size(streams: Iterable[Stream]) -> list[Stream]:
    """Streams with the largest first; what is not known comes after all that is."""
    return sorted(streams, key=lambda one: -1.0 if one.grams is None else one.grams, reverse=True)


def grouped(streams: Iterable[Stream], most: int) -> tuple[Stream, ...]:
    """Streams of which each station shows no more than `most` on each side; the rest are joined.

    The smallest of a side are joined by their kind of end, as "3 more"; streams between
    stations stay as they are.
    """
    kept: list[Stream] = []
    for side in _sides(streams).values():
        if side[0].end is End.INNER or len(side) <= most:
            kept.extend(side)
            continue
        large = set(map(id, by_size(side)[: most - 1]))
        kept.extend(stream for stream in side if id(stream) in large)
        kept.extend(_rest([stream for stream in side if id(stream) not in large]))
    return tuple(kept)


def _sides(streams: Iterable[Stream]) -> dict[tuple[int | None, int | None, bool], list[Stream]]:
    sides: dict[tuple[int | None, int | None, bool], list[Stream]] = {}
    for stream in streams:
        key = (stream.source, stream.target, stream.end is End.INNER)
        sides.setdefault(key, []).append(stream)
    return sides


def _rest(streams: Sequence[Stream]) -> Iterator[Stream]:
    ends: dict[End, list[Stream]] = {}
    for stream in streams:
        ends.setdefault(stream.end, []).append(stream)
    for found in ends.values():
        yield joined(found, f"{sum(stream.count for stream in found)} more")


def fewer_between(flow: Flow, most: int) -> tuple[Flow, int]:
    """A flow with only the largest streams from station to station, and how many it lacks."""
    between = [stream for stream in flow.streams if stream.end is End.INNER]
    kept = set(map(id, by_size(between)[:most]))
    streams = [one for one in flow.streams if one.end is not End.INNER or id(one) in kept]
    return replace(flow, streams=tuple(streams)), len(between) - len(kept)


def merged(flow: Flow, place_of: Callable[[int], int], stations: Sequence[Station]) -> Flow:
    """The same metal through fewer stations, each of which stands for several.

    What stays within one of them is no longer shown; what goes one way is joined.
    """
    ways: dict[tuple[int | None, int | None, End], list[Stream]] = {}
    for stream in flow.streams:
        source = None if stream.source is None else place_of(stream.source)
        target = None if stream.target is None else place_of(stream.target)
        if source is None or source != target:
            moved = replace(stream, source=source, target=target)
            ways.setdefault((source, target, stream.end), []).append(moved)
    streams = [
        joined(found, plural(sum(stream.count for stream in found), "thing"))
        for found in ways.values()
    ]
    gaps = tuple(replace(gap, station=place_of(gap.station)) for gap in flow.gaps)
    return Flow(tuple(stations), tuple(streams), gaps)


def in_order(flow: Flow) -> Flow:
    """A flow in which every stream leads onward: one that leads back is shown at both ends."""
    streams: list[Stream] = []
    for stream in flow.streams:
        back = stream.source is not None and stream.target is not None
        if back and (stream.target or 0) <= (stream.source or 0):
            streams.append(replace(stream, target=None, end=End.SHELF))
            streams.append(replace(stream, source=None, end=End.EARLIER))
        else:
            streams.append(stream)
    return replace(flow, streams=tuple(streams))


def compact(flow: Flow) -> Flow:
    """A flow without the stations at which nothing comes in, goes out or is missing."""
    used = {gap.station for gap in flow.gaps}
    for stream in flow.streams:
        used.update(place for place in (stream.source, stream.target) if place is not None)
    places = {old: new for new, old in enumerate(sorted(used))}
    return Flow(
        tuple(flow.stations[old] for old in places),
        tuple(
            replace(
                stream,
                source=None if stream.source is None else places[stream.source],
                target=None if stream.target is None else places[stream.target],
            )
            for stream in flow.streams
        ),
        tuple(replace(gap, station=places[gap.station]) for gap in flow.gaps),
    )
