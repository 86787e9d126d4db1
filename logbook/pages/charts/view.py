"""A chart as a page shows it: live figure, drawing, table and sentence, which say the same."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from logbook.calculation.figure import Figure
from logbook.pages.addresses import Link
from logbook.pages.charts.drawing import Drawing, draw
from logbook.pages.charts.finite import drawable
from logbook.pages.charts.plain import Cell, Chart
from logbook.pages.charts.plotly_figure import plotly_figure
from logbook.pages.figure_view import known_text
from logbook.pages.metal_marks import Look
from logbook.pages.rounding import between

UNKNOWN = Look("#868888", "dot", "2 4", "x-thin", "M-4,-4L4,4M-4,4L4,-4")
DOUBT = "Bars on a mark: one standard uncertainty each way."
LIMITS = "A dotted line stands where only limits are known; an arrow where there is none."
NOT_KNOWN = "A cross beside the question mark below nothing: not known."


@dataclass(frozen=True, slots=True)
class ChartView:
    """A chart in its four forms."""

    name: str
    title: str
    sentence: str
    notes: tuple[str, ...]
    drawing: Drawing
    figure: Mapping[str, Any]
    headings: tuple[tuple[str, bool], ...]  # of the table, and whether numbers stand below
    rows: tuple[tuple[Cell, ...], ...]


def chart_view(chart: Chart) -> ChartView:
    """All forms of a chart."""
    chart = drawable(chart)
    numbers = [cell.number for cell in chart.table[0]] if chart.table else []
    return ChartView(
        name=chart.name,
        title=chart.title,
        sentence=chart.sentence,
        notes=chart.notes,
        drawing=draw(chart),
        figure=plotly_figure(chart),
        headings=tuple(zip(chart.headings, numbers, strict=True)),
        rows=chart.table,
    )


def number_cell(figure: Figure) -> Cell:
    """A figure in a table: in words, or its limits, or that it is not known."""
    return Cell(figure_words(figure), number=True)


def link_cell(link: Link) -> Cell:
    """A link in a table."""
    return Cell(link.text, link)


def figure_words(figure: Figure) -> str:
    r"""A figure in a few words: its value, else its limits, else that it is not known.

    >>> figure_words(Figure("silver", "g", low=0.2, high=1.4))
    'between 0.2 and 1.4\xa0g'
    """
    if figure.value is not None:
        return known_text(figure)
    return between(figure.low, figure.high, figure.unit) or known_text(figure)


def joined(notes: Iterable[str | None]) -> tuple[str, ...]:
    """Notes that are there, each once."""
    return tuple(dict.fromkeys(note for note in notes if note))
