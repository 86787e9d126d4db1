"""How wide each band of a metal flow is, and in which column or lane it runs. Pure geometry.

All widths of a drawing stand in one ratio to grams; only what would be too thin to be seen is
drawn a little wider, and what has no known content as wide as its upper limit, where that
is small enough to mean anything.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from logbook.pages.charts.scales import nice_step
from logbook.pages.flow import End, Flow, Missing, Stream
from logbook.pages.rounding import rounded

REACH = 80.0  # the widest bar
NARROW = 50.0  # the same where there are so many stations that the drawing grows too high
MANY = 9
ROOM = 140.0  # for bars and lanes together
THINNEST = 1.6
DASHED = 6.0  # a band of which too little is known for a width of its own
LANE_GAP = 3.0
SHRINK = 0.85
MOST_SHRINKS = 11  # down to a sixth
NOTHING = 1e-9  # g; a drawing of less than that has no scale
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """Grams as widths. `most` is the largest known sum at a station [g]."""

    ratio: float  # units for each gram
    most: float

    @classmethod
    def fit(cls, flow: Flow) -> tuple[Scale, Lanes]:
        """The scale at which bars and lanes have room, and the lanes at that scale."""
        most = max(_loads(flow), default=0.0)
        reach = REACH if len(flow.stations) < MANY else NARROW
        scale = cls(reach / most if most > NOTHING else 0.0, most)
        lanes = Lanes.of(flow, scale)
        for _ in range(MOST_SHRINKS):
            if lanes.width + scale.reach <= ROOM:
                break
            scale = cls(scale.ratio * SHRINK, most)
            lanes = Lanes.of(flow, scale)
        return scale, lanes

    @property
    def reach(self) -> float:
        """How far the widest bar may reach."""
        return max(self.ratio * self.most, REACH / 4)

    def width(self, stream: Stream) -> float:
        """The width of a stream's band."""
        if stream.grams is not None:
            return max(THINNEST, stream.grams * self.ratio)
        high = stream.content.high
        if high is not None and 0.0 < high <= self.most:
            return max(DASHED / 2, high * self.ratio)
        return DASHED

    def gap(self, missing: Missing) -> float:
        """The width of a torn stump."""
        return max(DASHED, missing.grams * self.ratio)

    @property
    def step(self) -> float:
        """The grams that the mark of scale stands for."""
        return nice_step(self.most / 5.0)

    @property
    def mark(self) -> float:
        """The width of the mark of scale."""
        return self.step * self.ratio

    @property
    def words(self) -> str:
        """What the mark of scale stands for, in words."""
        return rounded(self.step, 0.0, "g").text

    def straight(self, flow: Flow, place: int, left: float) -> list[tuple[Span, Stream]]:
        """The bands from a station to the next one, beside each other from the left."""
        streams = [s for s in flow.streams if s.source == place and s.target == place + 1]
        return _beside(streams, self, left)


def _loads(flow: Flow) -> Iterator[float]:
    """What goes into each station and what comes out of it, as far as known [g]."""
    for place in range(len(flow.stations)):
        gaps = [gap for gap in flow.gaps if gap.station == place]
        into = sum(s.grams or 0.0 for s in flow.streams if s.target == place)
        out = sum(s.grams or 0.0 for s in flow.streams if s.source == place)
        yield into + sum(gap.grams for gap in gaps if gap.above)
        yield out + sum(gap.grams for gap in gaps if not gap.above)


def _beside(streams: Sequence[Stream], scale: Scale, left: float) -> list[tuple[Span, Stream]]:
    found = []
    for stream in streams:
        right = left + scale.width(stream)
        found.append(((left, right), stream))
        left = right
    return found


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns at one station's bar, each with its place from left to right.

    `entering` and `leaving` are in the order of their rows from top to bottom; `onward` are
    the streams to later stations that have words of their own.
    """

    entering: tuple[tuple[Span, Stream], ...]
    leaving: tuple[tuple[Span, Stream], ...]
    onward: tuple[Stream, ...]
    torn_above: tuple[tuple[Span, Missing], ...]
    torn_below: tuple[tuple[Span, Missing], ...]
    right: float


def columns_of(flow: Flow, place: int, scale: Scale, trunk: float) -> Columns:
    """The columns of a station.

    What came from the station before stands leftmost; rows in follow from the left, so that
    an upper row turns down left of a lower one; rows out are taken off from the right.
    """
    above = scale.straight(flow, place - 1, trunk)
    into = [s for s in flow.streams if s.target == place and s.source is None]
    entering = _beside(into, scale, _end(above, trunk))
    gaps = [gap for gap in flow.gaps if gap.station == place]
    upper, lower = [gap for gap in gaps if gap.above], [gap for gap in gaps if not gap.above]
    torn_above = _torn(upper, scale, _end(entering, _end(above, trunk)))
    below = scale.straight(flow, place, trunk)
    torn_below = _torn(lower, scale, _end(below, trunk))
    out = [s for s in flow.streams if s.source == place and s.target is None]
    leaving = _beside(out[::-1], scale, _end(torn_below, _end(below, trunk)))
    ends = [span[1] for span, _ in (*above, *entering, *torn_above, *below, *torn_below, *leaving)]
    return Columns(
        entering=tuple(entering),
        leaving=tuple(leaving[::-1]),
        onward=tuple(s for s in flow.streams if s.source == place and _told(s)),
        torn_above=tuple(torn_above),
        torn_below=tuple(torn_below),
        right=max(ends, default=trunk),
    )


def _told(stream: Stream) -> bool:
    """Whether a stream between stations has words: where it is known, or has a name."""
    inner = stream.end is End.INNER and stream.target is not None
    return inner and (stream.content.known or bool(stream.label) or stream.count > 1)


def _torn(gaps: Sequence[Missing], scale: Scale, left: float) -> list[tuple[Span, Missing]]:
    found = []
    for gap in gaps:
        found.append(((left, left + scale.gap(gap)), gap))
        left += scale.gap(gap)
    return found


def _end(columns: Sequence[tuple[Span, Stream | Missing]], start: float) -> float:
    return columns[-1][0][1] if columns else start


@dataclass(frozen=True, slots=True)
class Lanes:
    """The lanes left of the bars, for streams that skip stations. Places are from the left."""

    runs: tuple[tuple[Stream, Span], ...]
    width: float

    @classmethod
    def of(cls, flow: Flow, scale: Scale) -> Lanes:
        """Short ways next to the bars, long ones farther out; none over another."""
        skipping = [s for s in flow.streams if _skips(s)]
        lanes: list[list[Stream]] = []
        for stream in sorted(skipping, key=_length):
            free = next(
                (lane for lane in lanes if not any(_overlap(stream, o) for o in lane)), None
            )
            if free is None:
                lanes.append([stream])
            else:
                free.append(stream)
        widths = [max(scale.width(stream) for stream in lane) for lane in lanes]
        whole = sum(widths) + LANE_GAP * (len(widths) + 1 if widths else 0)
        runs, right = [], whole - LANE_GAP
        for lane, width in zip(lanes, widths, strict=True):
            runs += [(stream, (right - scale.width(stream), right)) for stream in lane]
            right -= width + LANE_GAP
        return cls(tuple(runs), whole)

    def spans(self) -> Iterator[tuple[Stream, Span]]:
        """Each stream with its place."""
        yield from self.runs

    def touching(self, place: int) -> list[Span]:
        """The lanes that begin or end at a station."""
        return [span for stream, span in self.runs if place in (stream.source, stream.target)]


def _skips(stream: Stream) -> bool:
    return _length(stream) > 1


def _length(stream: Stream) -> int:
    if stream.source is None or stream.target is None:
        return 0
    return stream.target - stream.source


def _overlap(one: Stream, other: Stream) -> bool:
    """Whether two streams run past the same station."""
    first, last = one.source or 0, one.target or 0
    return first < (other.target or 0) and (other.source or 0) < last
