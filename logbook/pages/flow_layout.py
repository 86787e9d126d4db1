"""A metal flow → where each band, bar and word of its drawing stands. Pure geometry.

Time runs down the page, as in a log. Each station is a bar; what goes on to the next one runs
straight down, what skips stations runs down a lane on the left. What comes in from beside and
what leaves turns into a row of its own on the right, where its words stand, so that no words
can ever meet: a row is as high as its band or its words, whichever needs more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logbook.calculation.results import Standing
from logbook.pages.figure_view import NOT_KNOWN
from logbook.pages.flow import End, Flow, Missing, Stream
from logbook.pages.flow_lanes import Columns, Lanes, Scale, columns_of
from logbook.pages.flow_shapes import (
    TIP,
    Box,
    entering,
    leaving,
    pointing,
    torn,
    upright,
)
from logbook.pages.rounding import coordinate
from logbook.pages.text_width import cut_to, text_width

WIDTH = 400.0
EDGE = 3.0
REACH = 14.0  # from the widest bar to the edge of the rows, without the point
APART = 8.0  # from a row to its words
SIZE = 12.5  # of letters
LINE = 15.0  # from one line of words to the next
ROW_GAP = 6.0
BAR = 5.0
TITLE = 20.0  # height of the line on which a bar stands
STUB = 16.0  # of a torn band
AFTER = 10.0  # below a station
LOOKS = {
    Standing.MEASURED: "full",
    Standing.ADJUSTED: "full",
    Standing.DEDUCED: "hatched",
    Standing.BOUNDED: "dashed",
    Standing.UNKNOWN: "dashed",
}


@dataclass(frozen=True, slots=True)
class Band:
    """A band: its outline, its look (full, hatched, dashed), how wide it is, and of what."""

    outline: str
    look: str
    width: float
    name: str


@dataclass(frozen=True, slots=True)
class Tear:
    """A gap: a torn stump, and the line that leads from it to its words."""

    outline: str
    pointer: str
    width: float


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words, the place where it begins, and the box it keeps free."""

    x: str
    y: str
    text: str
    kind: str  # title, what, amount, gap
    box: Box


@dataclass(frozen=True, slots=True)
class Mark:
    """One line of the key: the look it explains, in a small box, and the words beside it."""

    look: str
    outline: str
    words: Words


@dataclass(frozen=True, slots=True)
class FlowDrawing:
    """Everything that a drawing holds, in the units of its own box."""

    width: str
    height: str
    bars: tuple[str, ...]
    links: tuple[str, ...]  # thin lines from a bar to its lanes and its title
    bands: tuple[Band, ...]
    tears: tuple[Tear, ...]
    words: tuple[Words, ...]
    key: tuple[Mark, ...]


class _Sheet:
    """A drawing while it is laid out from top to bottom."""

    def __init__(self, flow: Flow, scale: Scale, lanes: Lanes) -> None:
        self.flow, self.scale, self.lanes = flow, scale, lanes
        self.trunk = EDGE + lanes.width
        self.columns = [
            columns_of(flow, place, scale, self.trunk) for place in range(len(flow.stations))
        ]
        widest = max((columns.right for columns in self.columns), default=self.trunk)
        self.edge = widest + REACH + TIP
        self.y = EDGE
        self.bars: list[str] = []
        self.links: list[str] = []
        self.bands: list[Band] = []
        self.tears: list[Tear] = []
        self.words: list[Words] = []
        self.tops: list[float] = []  # of the bars
        self.bottoms: list[float] = []

    def say(self, text: str, kind: str, top: float, left: float = 0.0) -> Words:
        """A line of words whose letters hang from `top`."""
        x = left or self.edge + APART
        room = WIDTH - EDGE - x
        shown = cut_to(text, room, SIZE)
        box = Box(x, top, x + text_width(shown, SIZE), top + LINE)
        words = Words(coordinate(x), coordinate(top + SIZE - 1.0), shown, kind, box)
        self.words.append(words)
        return words

    def row(self, lines: Sequence[tuple[str, str]], width: float) -> Box:
        """A row as high as its band and its words, which are said here; where its band runs."""
        tall = max(width, LINE * len(lines))
        top = self.y + (tall - LINE * len(lines)) / 2
        for place, (text, kind) in enumerate(lines):
            self.say(text, kind, top + place * LINE)
        middle = self.y + tall / 2
        self.y += tall + ROW_GAP
        return Box(self.trunk, middle - width / 2, self.edge, middle + width / 2)

    def station(self, place: int) -> None:
        """One station: its rows in, its bar, its rows out, and what goes on."""
        columns = self.columns[place]
        rows = [
            (span, stream, self.row(_lines(stream, self.flow), span[1] - span[0]))
            for span, stream in columns.entering
        ]
        above = [(span, gap, self._gap_row(gap)) for span, gap in columns.torn_above]
        self.y += ROW_GAP
        top, bottom = self._bar(place, columns)
        for span, stream, row in rows:
            self._band(stream, entering(*span, top, row), span)
        for span, _, row in above:
            stump = Box(span[0], top - STUB, span[1], top)
            self._tear(stump, row, below=False)
        self.y += STUB if columns.torn_below else ROW_GAP
        for span, stream in columns.leaving:
            row = self.row(_lines(stream, self.flow), span[1] - span[0])
            self._band(stream, leaving(*span, bottom, row), span)
        for span, gap in columns.torn_below:
            stump = Box(span[0], bottom, span[1], bottom + STUB)
            self._tear(stump, self._gap_row(gap), below=True)
        for stream in columns.onward:
            self.row(_lines(stream, self.flow), 0.0)
        self.y += AFTER

    def _gap_row(self, gap: Missing) -> Box:
        return self.row([(words, "gap") for words in gap.words], 0.0)

    def _bar(self, place: int, columns: Columns) -> tuple[float, float]:
        top = self.y + (TITLE - BAR) / 2
        bottom = top + BAR
        trunk = [(self.trunk, columns.right)] if columns.right > self.trunk else []
        spans = [*trunk, *self.lanes.touching(place)]
        left = min((span[0] for span in spans), default=self.trunk)
        self.bars += [upright(Box(start, top, end, bottom)) for start, end in spans]
        self.links.append(
            f"M{coordinate(left)} {coordinate(top + BAR / 2)}H{coordinate(self.edge)}"
        )
        self.say(self.flow.stations[place].heading, "title", self.y + (TITLE - LINE) / 2)
        self.tops.append(top)
        self.bottoms.append(bottom)
        self.y += TITLE
        return top, bottom

    def _band(self, stream: Stream, outline: str, span: tuple[float, float]) -> None:
        self.bands.append(Band(outline, LOOKS[stream.standing], span[1] - span[0], stream.name))

    def _tear(self, stump: Box, row: Box, *, below: bool) -> None:
        middle = (stump.left + stump.right) / 2
        start = stump.bottom if below else stump.top
        line = pointing((middle, start), row.top, self.edge)
        self.tears.append(Tear(torn(stump, below=below), line, stump.right - stump.left))

    def between(self) -> None:
        """What runs from station to station: straight down, or along a lane."""
        for place in range(len(self.flow.stations)):
            for span, stream in self.scale.straight(self.flow, place, self.trunk):
                box = Box(span[0], self.bottoms[place], span[1], self.tops[place + 1])
                self._band(stream, upright(box), span)
        for stream, (left, right) in self.lanes.spans():
            if stream.source is not None and stream.target is not None:
                box = Box(left, self.bottoms[stream.source], right, self.tops[stream.target])
                self._band(stream, upright(box), (left, right))

    def key(self) -> tuple[Mark, ...]:
        """What each look means, below the drawing, as far as it was used; and the scale."""
        looks = {band.look for band in self.bands}
        marks = [(look, words) for look, words in KEY.items() if look in looks]
        marks += [("torn", TORN)] if self.tears else []
        marks += [("scale", f"this wide: {self.scale.words}")] if self.scale.ratio else []
        found = []
        self.y += ROW_GAP
        for look, text in marks:
            middle = self.y + LINE / 2
            wide = self.scale.mark if look == "scale" else 22.0
            tall = 4.0 if look == "scale" else 10.0
            box = Box(EDGE, middle - tall / 2, EDGE + wide, middle + tall / 2)
            words = self.say(text, "key", self.y, EDGE + max(wide, 22.0) + APART)
            self.words.remove(words)
            shape = torn(box, below=True) if look == "torn" else upright(box)
            found.append(Mark(look, shape, words))
            self.y += LINE + 3.0
        return tuple(found)


KEY = {
    "full": "measured or adjusted",
    "hatched": "deduced from what is around it",
    "dashed": "only limits known, or nothing",
}
TORN = "missing: a gap that nothing fills"


def lay_out(flow: Flow) -> FlowDrawing:
    """The drawing of a flow whose streams all lead onward (see `in_order`)."""
    scale, lanes = Scale.fit(flow)
    sheet = _Sheet(flow, scale, lanes)
    for place in range(len(flow.stations)):
        sheet.station(place)
    sheet.between()
    key = sheet.key()
    return FlowDrawing(
        width=coordinate(WIDTH),
        height=coordinate(sheet.y),
        bars=tuple(sheet.bars),
        links=tuple(sheet.links),
        bands=tuple(sheet.bands),
        tears=tuple(sheet.tears),
        words=tuple(sheet.words),
        key=key,
    )


def _lines(stream: Stream, flow: Flow) -> list[tuple[str, str]]:
    """The lines beside a band: two where it leaves the drawing, one where it goes on."""
    if stream.end is not End.INNER or stream.target is None:
        return [(f"{stream.end.value}: {stream.name}", "what"), (stream.words, "amount")]
    title = flow.stations[stream.target].title
    label = f"[{stream.label}]" if stream.label else ""
    name = label if label and label not in title else stream.what
    if stream.amount == NOT_KNOWN:
        return [(f"{name} to {title}: {NOT_KNOWN}", "amount")]
    return [(f"{stream.amount} in {name} to {title}", "amount")]
