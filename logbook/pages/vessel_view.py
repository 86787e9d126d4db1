"""The vessels of a plan's stages as its sheet shows them: every limit rounded up.

A size that is shown smaller than it was worked out would be a vessel that runs over.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from logbook.calculation.figure import Figure
from logbook.calculation.results.plans import VesselLoad
from logbook.pages.addresses import Here, Link
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.rounding import between, plural, rounded


@dataclass(frozen=True, slots=True)
class VesselRow:
    """The vessels of one stage."""

    stage: Link
    vessels: str
    liquid: FigureView
    least: FigureView
    beaker: str
    fill: str


def vessel_row(row: VesselLoad, stage: Link, here: Here) -> VesselRow:
    """The vessels of a stage, whatever it is called."""
    beaker = figure_view(row.beaker, here).text if row.beaker is not None else ""
    return VesselRow(
        stage=stage,
        vessels=plural(row.vessels, "vessel"),
        liquid=limit_view(row.liquid, here),
        least=limit_view(row.least, here),
        beaker=beaker,
        fill=f"at most {rounded(row.share, 0.0, 'g/g').text} full: {row.reason}",
    )


def limit_view(figure: Figure, here: Here) -> FigureView:
    """A figure that must not be rounded down."""
    shown = figure_view(figure, here)
    if figure.value is None:
        return shown
    text = between(None, figure.value.value, figure.unit).removeprefix("at most ")
    unit = text.split()[-1]
    return replace(shown, text=text, value=text.removesuffix(unit).rstrip(), doubt="", unit=unit)
