"""The page of the metal: for each one its way through the whole book, drawn and as a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures
from logbook.calculation.sums import add_up, difference, zero
from logbook.pages.addresses import METAL, Here, Link
from logbook.pages.book_flow import BookFlow, Ways, book_flow, ways_of
from logbook.pages.content_view import STANDING_WORDS
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.flow import End, Flow
from logbook.pages.frame import Frame, Site
from logbook.pages.gap_view import GapView, gap_view, largest_first
from logbook.pages.metal_flow import FlowView, flow_view
from logbook.pages.rounding import plural
from logbook.pages.slugs import run_slug
from logbook.pages.wording import listed

MOST_ROWS = 300  # of a table; a longer one is given as it is drawn
TITLE = "Where the metal went"
ENDS = (
    (End.PRODUCT, "product, in stock or sold"),
    (End.SHELF, "on the shelf"),
    (End.WASTE, "in waste"),
    (End.LOST, "lost, as noted"),
)
END_WORDS = {
    End.PRODUCT: "product",
    End.SHELF: "on the shelf",
    End.WASTE: "in waste",
    End.LOST: "lost",
}


@dataclass(frozen=True, slots=True)
class FlowRow:
    """One stream in words: from where, what, to where, how much and how that is known."""

    source: Link
    what: Link
    target: Link
    amount: str
    standing: str


@dataclass(frozen=True, slots=True)
class MetalSection:
    """One metal in the whole book."""

    metal: str
    anchor: str
    flow: FlowView | None
    gaps: tuple[GapView, ...]
    figures: tuple[FigureView, ...]
    rows: tuple[FlowRow, ...]
    note: str


@dataclass(frozen=True, slots=True)
class MetalPageView:
    """The page of the metal."""

    frame: Frame
    summary: str
    sections: tuple[MetalSection, ...]


def metal_page_view(figures: BookFigures, site: Site) -> MetalPageView:
    """Where each metal of a book went."""
    here = site.addresses.at(METAL)
    ways = ways_of(figures)
    metals = metals_of(figures)
    return MetalPageView(
        frame=site.frame(here, TITLE),
        summary=f"The way of {listed(metals)} through all runs." if metals else "",
        sections=tuple(_section(metal, ways, here) for metal in metals),
    )


def metals_of(figures: BookFigures) -> list[str]:
    """The metals that have a balance in any run; those that runs are after come first."""
    found = {one.metal for run in figures.runs.values() for one in run.balances}
    aims = {metal for run in figures.runs.values() for metal in run.run.metals}
    return sorted(found, key=lambda metal: (metal not in aims, metal))


def _section(metal: str, ways: Ways, here: Here) -> MetalSection:
    flow = book_flow(ways, metal, here)
    gaps = largest_first(gap for gap in ways.figures.gaps if gap.metal == metal)
    short = len(flow.full.streams) <= MOST_ROWS
    whole = f"{plural(len(flow.full.streams), 'thing')} in all; each is in things.csv."
    return MetalSection(
        metal=metal,
        anchor=f"metal-{run_slug(metal)}",
        flow=_drawing(flow, metal),
        gaps=tuple(gap_view(gap, here) for gap in gaps),
        figures=tuple(_terms(flow.full, here)),
        rows=tuple(_rows(flow.full if short else flow.drawn)),
        note="" if short else whole,
    )


def _drawing(flow: BookFlow, metal: str) -> FlowView | None:
    if not flow.drawn.streams:
        return None
    left_out = (_unknown_in_words(flow.unknown, metal),) if flow.unknown else ()
    name = f"flow-{run_slug(metal)}"
    return flow_view(flow.drawn, f"Where the {metal} of this book went", metal, name, left_out)


def _unknown_in_words(count: int, metal: str) -> str:
    runs = plural(count, "run or jar", "runs or jars")
    return f"{runs} of which no content of {metal} is known stand in the table only."


def _terms(flow: Flow, here: Here) -> Iterator[FigureView]:
    """What came in and where it is now, over everything at the bounds of the book.

    What is not accounted for comes from the readings as they are: put into balance, as the
    others are, it would be nothing by construction.
    """
    ways = ((End.OUTSIDE, "came in"), *ENDS)
    found = {end: [one for one in flow.streams if one.end is end] for end, _ in ways}
    for end, name in ways:
        yield figure_view(_sum(name, [one.content for one in found[end]]), here, levels=1)
    into = _sum("came in, as read", [one.raw for one in found.pop(End.OUTSIDE)])
    out = _sum("found again, as read", [one.raw for ones in found.values() for one in ones])
    gap = difference("not accounted for", "g", into, out, "came in − found again, as read")
    yield figure_view(gap, here, levels=1)


def _sum(name: str, contents: Sequence[Figure]) -> Figure:
    if not contents:
        return zero(name, "g", "nothing of it was noted")
    return add_up(name, "g", contents, "sum over the book")


def _rows(flow: Flow) -> Iterator[FlowRow]:
    for one in flow.streams:
        source = _station(flow, one.source) or Link("outside the book")
        target = _station(flow, one.target) or Link(END_WORDS.get(one.end, one.end.value))
        what = Link(one.name, one.href)
        yield FlowRow(source, what, target, one.amount, STANDING_WORDS[one.standing])


def _station(flow: Flow, place: int | None) -> Link | None:
    if place is None:
        return None
    return Link(flow.stations[place].title, flow.stations[place].href)
