"""Drawings of money as outlines and words for an SVG, made at build time; no script is needed.

Each says in text what it draws. What would be told apart by colour is told apart by fill as
well, so that print in black does. It gets figures that are worked out and texts that are rounded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

from logbook.pages.charts.scales import nice_step
from logbook.pages.rounding import coordinate, tick
from logbook.pages.text_width import cut_to, text_width

WIDTH, SIZE = 360.0, 12.5  # of the box and of its letters, in the box's own units
SIDE = 60.0  # at least left and right of a scale, for the words at the ends of its bars
WORDS, AFTER, HEAD = 17.0, 9.0, 22.0
HALF = 11.0  # height of one of the two bars of an input
BOX = 16.0
TICKS = 3
GAP = 5.0


@dataclass(frozen=True, slots=True)
class Outline:
    """A line or a bar. `look` is its class: solid, hollow, line, present, nothing, grid."""

    look: str
    path: str


@dataclass(frozen=True, slots=True)
class Words:
    """A text and where it stands; `anchor` is start, middle or end."""

    x: str
    y: str
    text: str
    anchor: str = "start"
    kind: str = "what"


@dataclass(frozen=True, slots=True)
class MoneyDrawing:
    """A whole drawing. Places are in units of its own box."""

    width: str
    height: str
    outlines: tuple[Outline, ...]
    words: tuple[Words, ...]


@dataclass(frozen=True, slots=True)
class SwingBar:
    """What an hour would have earned with one input lower and higher, as numbers and in words."""

    name: str
    values: str
    low: float
    high: float
    low_words: str
    high_words: str


@dataclass(frozen=True, slots=True)
class _Scale:
    """A stretch of an axis: values from `low` to `high` on places from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a value."""
        if self.high == self.low:
            return self.start
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def draw_swings(present: float, words: str, bars: Sequence[SwingBar]) -> MoneyDrawing | None:
    """Bars around what an hour earned, one pair for each input: lower hollow, higher filled."""
    if not bars:
        return None
    values = [present, *(value for bar in bars for value in (bar.low, bar.high))]
    side = _side(text for bar in bars for text in (bar.low_words, bar.high_words))
    scale = _Scale(min(values), max(values), side, WIDTH - side)
    top = 2 * HEAD
    height = top + len(bars) * (WORDS + 2 * HALF + AFTER)
    outlines = [*_axis(scale, top, height)]
    texts = [_around(scale.at(present), SIZE + 2.0, words, "title"), *_key(HEAD + SIZE)]
    for place, bar in enumerate(bars):
        y = top + place * (WORDS + 2 * HALF + AFTER)
        texts += _input(bar, y + SIZE)
        for value, text, look, at in (
            (bar.low, bar.low_words, "hollow", y + WORDS),
            (bar.high, bar.high_words, "solid", y + WORDS + HALF),
        ):
            outlines.append(Outline(look, _bar(scale, present, value, at + 1.0, HALF - 2.0)))
            texts.append(_at_end(scale, present, value, text, at + HALF - 1.5))
    outlines += [Outline(look, path) for look, path in _key_marks(HEAD + SIZE)]
    x = coordinate(scale.at(present))
    outlines.append(Outline("present", f"M{x},{coordinate(top)}V{coordinate(height)}"))
    texts += _ticks(scale, height + SIZE + 2.0)
    return MoneyDrawing(coordinate(WIDTH), coordinate(height + HEAD), tuple(outlines), tuple(texts))


def _input(bar: SwingBar, y: float) -> list[Words]:
    """An input with the two values it was given, as far as both have room."""
    name = cut_to(bar.name, WIDTH - text_width(bar.values, SIZE) - 2 * GAP, SIZE)
    if not name.rstrip("…"):
        return [Words("0", coordinate(y), cut_to(bar.name, WIDTH, SIZE))]
    return [
        Words("0", coordinate(y), name),
        Words(coordinate(WIDTH), coordinate(y), bar.values, "end", "soft"),
    ]


def _key(y: float) -> list[Words]:
    """What a hollow and a filled bar mean."""
    return [
        Words(coordinate(18.0), coordinate(y), "with the lower value", kind="soft"),
        Words(coordinate(WIDTH / 2 + 18.0), coordinate(y), "with the higher value", kind="soft"),
    ]


def _key_marks(y: float) -> Iterator[tuple[str, str]]:
    for look, x in (("hollow", 1.0), ("solid", WIDTH / 2 + 1.0)):
        yield look, _box(x, x + 12.0, y - 9.0, 9.0)


def _at_end(scale: _Scale, present: float, value: float, text: str, y: float) -> Words:
    """Words at the free end of a bar, outside of it."""
    at = scale.at(value)
    if value < present:
        return Words(coordinate(at - 4.0), coordinate(y), text, "end", "amount")
    return Words(coordinate(at + 4.0), coordinate(y), text, "start", "amount")


def draw_spread(quantiles: Mapping[int, float], words: Mapping[int, str]) -> MoneyDrawing | None:
    """A line from the 5th to the 95th of a hundred draws, a bar over the middle half, a mark."""
    five, quarter, half, most, last = (quantiles[one] for one in (5, 25, 50, 75, 95))
    if not five < last:
        return None
    side = _side(words[one] for one in (5, 25, 75, 95))
    scale = _Scale(five, last, side, WIDTH - side)
    top = 2 * WORDS + 4.0
    base, middle = top + BOX, coordinate(top + BOX / 2)
    x = {one: scale.at(value) for one, value in quantiles.items()}
    outlines = [
        *_axis(scale, top - 3.0, base + 3.0),
        Outline("line", f"M{coordinate(x[5])},{middle}H{coordinate(x[95])}"),
        *(_mark("line", x[one], top + 3.0, base - 3.0) for one in (5, 95)),
        Outline("hollow", _bar(scale, quarter, most, top, BOX)),
        _mark("present", scale.at(half), top - 3.0, base + 3.0),
    ]
    texts = [
        _around(x[50], SIZE, words[50], "title"),
        Words(coordinate(x[25]), coordinate(top - 6.0), words[25], "end", "amount"),
        Words(coordinate(x[75]), coordinate(top - 6.0), words[75], "start", "amount"),
        Words(coordinate(x[5] - 4.0), coordinate(base - 4.0), words[5], "end", "amount"),
        Words(coordinate(x[95] + 4.0), coordinate(base - 4.0), words[95], "start", "amount"),
        *_ticks(scale, base + HEAD - 4.0),
    ]
    return MoneyDrawing(coordinate(WIDTH), coordinate(base + HEAD), tuple(outlines), tuple(texts))


def _side(texts: Iterable[str]) -> float:
    """Room beside a scale for the longest of the words at its ends."""
    longest = max((text_width(text, SIZE) for text in texts), default=0.0)
    return min(max(SIDE, longest + 2 * GAP), WIDTH / 3)


def _mark(look: str, x: float, top: float, base: float) -> Outline:
    return Outline(look, f"M{coordinate(x)},{coordinate(top)}V{coordinate(base)}")


def _axis(scale: _Scale, top: float, base: float) -> Iterator[Outline]:
    """Fine lines at round values, and a line of its own where nothing was earned or lost."""
    for value, _ in _round_values(scale):
        if value:
            yield _mark("grid", scale.at(value), top, base)
    if scale.low < 0.0 < scale.high:
        yield _mark("nothing", scale.at(0.0), top, base)


def _ticks(scale: _Scale, y: float) -> list[Words]:
    return [
        Words(coordinate(scale.at(value)), coordinate(y), text, "middle", "tick")
        for value, text in _round_values(scale)
    ]


def _round_values(scale: _Scale) -> list[tuple[float, str]]:
    """Round values within a scale, with their digits."""
    if scale.high == scale.low:
        return []
    step = nice_step((scale.high - scale.low) / TICKS)
    first, last = ceil(scale.low / step), floor(scale.high / step)
    return [(count * step, tick(count * step, step)) for count in range(first, last + 1)]


def _around(x: float, y: float, text: str, kind: str) -> Words:
    """Words around a place, kept within the box."""
    half = text_width(text, SIZE) / 2
    kept = min(max(x, half), max(half, WIDTH - half))
    return Words(coordinate(kept), coordinate(y), text, "middle", kind)


def _bar(scale: _Scale, start: float, end: float, top: float, height: float) -> str:
    first, last = sorted((scale.at(start), scale.at(end)))
    return _box(first, last, top, height)


def _box(left: float, right: float, top: float, height: float) -> str:
    x, y = coordinate(left), coordinate(top)
    return f"M{x},{y}H{coordinate(right)}V{coordinate(top + height)}H{x}Z"
