"""Kinds of scrap, ranked by what the metal in a kilogram is worth, with what the work on them took.

A rank is no advice: it counts metal that has still to be won, at one price, from the lots that
happened to come. Everything that is not known says why.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.calculation.results import BookFigures
from logbook.calculation.results.across import Lot, ScrapFigures
from logbook.pages.addresses import SCRAP, Here, Link
from logbook.pages.charts.head_grade import head_grade_chart
from logbook.pages.charts.view import ChartView
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.frame import Frame, Site
from logbook.pages.like_view import SpreadView, spread_view
from logbook.pages.rounding import plural
from logbook.pages.slugs import run_slug


@dataclass(frozen=True, slots=True)
class GradeView:
    """The head grade of one metal over the lots of a kind, and what a kilogram of it brings."""

    metal: str
    grade: SpreadView
    worth: FigureView


@dataclass(frozen=True, slots=True)
class LotRow:
    """One lot: its label or its words, its weight, and its grades by metal."""

    lot: Link
    weight: FigureView
    grades: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class ScrapRow:
    """One kind of scrap. `note` is what sources.md says of it."""

    anchor: str
    kind: str
    rank: str
    note: str
    lots: tuple[LotRow, ...]
    count: str
    metals: tuple[GradeView, ...]
    worth: FigureView
    hours: SpreadView
    net: SpreadView
    runs: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ScrapView:
    """The page of all kinds of scrap."""

    frame: Frame
    summary: str
    rows: tuple[ScrapRow, ...]
    chart: ChartView | None


def scrap_view(figures: BookFigures, site: Site) -> ScrapView:
    """Every kind of scrap that came in, the richest first."""
    here = site.addresses.at(SCRAP)
    notes = {kind.name: kind.note for kind in figures.book.scrap}
    rows = tuple(_rows(figures.across.scrap, notes, here))
    lots = sum(len(one.lots) for one in figures.across.scrap)
    kinds = plural(len(rows), "kind")
    summary = f"{kinds} of scrap in {plural(lots, 'lot')}" if rows else "no scrap came in yet"
    chart = head_grade_chart(figures.across.scrap)
    return ScrapView(site.frame(here, "Kinds of scrap"), summary, rows, chart)


def kind_anchor(kind: str) -> str:
    """Where a kind of scrap stands on its page.

    >>> kind_anchor("relay contacts")
    'kind-relay-contacts--2522298328613ca2fe34'
    """
    return f"kind-{run_slug(kind)}"


def _rows(found: tuple[ScrapFigures, ...], notes: dict[str, str], here: Here) -> Iterator[ScrapRow]:
    for place, one in enumerate(found, 1):
        yield ScrapRow(
            anchor=kind_anchor(one.kind),
            kind=one.kind,
            rank=str(place) if one.worth.known else "",
            note=notes.get(one.kind, ""),
            lots=tuple(_lot(lot, here) for lot in one.lots),
            count=plural(len(one.lots), "lot"),
            metals=tuple(
                GradeView(m.metal, spread_view(m.grade, here), figure_view(m.worth, here))
                for m in one.metals
            ),
            worth=figure_view(one.worth, here, levels=3),
            hours=spread_view(one.hours_per_gram, here),
            net=spread_view(one.net_per_kilo, here),
            runs=tuple(here.run(name) for name in one.runs),
        )


def _lot(lot: Lot, here: Here) -> LotRow:
    return LotRow(
        lot=here.label(lot.label) if lot.label else Link("without a label"),
        weight=figure_view(lot.weight, here, levels=1),
        grades=tuple(figure_view(grade, here, name=metal) for metal, grade in lot.grades),
    )
