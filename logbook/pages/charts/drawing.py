"""A chart as lines and places for an SVG, made at build time; no script is needed for it.

It holds just what the live figure holds, in the same places, colours, dashes and markers. The
templates write the SVG; here are only the numbers, already as text.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from logbook.pages.charts.fields import GAP, LETTER, NAME_UP, RULE_NAME, WIDTH, lay_out
from logbook.pages.charts.outlines import Group, Mark, Place, outlines
from logbook.pages.charts.plain import Chart
from logbook.pages.rounding import coordinate
from logbook.pages.text_width import cut_to, text_width


@dataclass(frozen=True, slots=True)
class Words:
    """A text and where it stands; `anchor` is start, middle or end."""

    x: str
    y: str
    text: str
    kind: str
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Drawing:
    """The whole drawing. Places are in units of its own box."""

    width: str
    height: str
    groups: tuple[Group, ...]
    words: tuple[Words, ...]


def draw(chart: Chart) -> Drawing:
    """The drawing of a chart, one panel below another."""
    layout = lay_out(chart)
    places = [Place(panel, field) for panel, field in zip(chart.panels, layout.fields, strict=True)]
    return Drawing(
        width=coordinate(WIDTH),
        height=coordinate(layout.height),
        groups=tuple(group for place in places for group in _groups(place) if group.marks),
        words=tuple(words for place in places for words in _words(place)),
    )


def _groups(place: Place) -> Iterator[Group]:
    yield Group("grid", tuple(_grid(place)))
    for rule in place.panel.rules:
        start, end = (
            f"{coordinate(place.x(x))},{coordinate(place.y(y))}"
            for x, y in zip(rule.x, rule.y, strict=True)
        )
        yield Group("rule", (Mark(f"M{start}L{end}"),), dashes="3 4")
    for marks in place.panel.marks:
        yield from outlines(marks, place)


def _grid(place: Place) -> Iterator[Mark]:
    """A fine line at each value that is named; for days on the upward axis alone."""
    field = place.field
    for tick in place.panel.up.ticks:
        yield Mark(f"M{coordinate(field.left)},{coordinate(place.y(tick.value))}H{field.right:g}")
    if place.panel.across.days:
        return
    for tick in place.panel.across.ticks:
        yield Mark(f"M{coordinate(place.x(tick.value))},{field.top:g}V{coordinate(field.bottom)}")


def _words(place: Place) -> Iterator[Words]:
    panel, field = place.panel, place.field
    left, right = coordinate(field.left), coordinate(field.right)
    yield Words(left, coordinate(field.top - 10.0), panel.title, "title")
    for tick in panel.up.ticks:
        y = coordinate(place.y(tick.value) + 5.0)
        yield Words(coordinate(field.left - GAP), y, tick.text, "tick", "end")
    for at, row in enumerate(panel.rows):
        y = coordinate(place.y(at - NAME_UP) + 5.0)
        room = field.right - field.left - text_width(row.words, LETTER) - GAP
        yield Words(left, y, cut_to(row.name, room, LETTER), "name")
        yield Words(right, y, row.words, "amount", "end")
    for rule in panel.rules:
        x = coordinate(place.x(rule.x[1]) - RULE_NAME)
        yield Words(x, coordinate(place.y(rule.y[1]) + 14.0), rule.words, "tick", "end")
    if field.named:
        yield from _below(place)


def _below(place: Place) -> Iterable[Words]:
    """The names of the axis across, kept within the box."""
    panel, field = place.panel, place.field
    below = field.bottom + 20.0
    for tick in panel.across.ticks:
        half = text_width(tick.text, LETTER) / 2
        x = min(max(place.x(tick.value), half), WIDTH - half)
        yield Words(coordinate(x), coordinate(below), tick.text, "tick", "middle")
    if panel.across.title:
        right = coordinate(field.right)
        yield Words(right, coordinate(below + 22.0), panel.across.title, "title", "end")
