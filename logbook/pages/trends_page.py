"""How the bench does over time: metal made, recovery, hours; and where the other charts stand."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.results import BookFigures
from logbook.pages.addresses import METAL, MONEY, SCRAP, TRENDS, Link
from logbook.pages.charts.fine_metal import fine_metal_chart
from logbook.pages.charts.hours_per_gram import hours_chart
from logbook.pages.charts.recovery import recovery_chart
from logbook.pages.charts.view import ChartView
from logbook.pages.frame import Frame, Site

TITLE = "Trends"


@dataclass(frozen=True, slots=True)
class TrendsView:
    """The charts over time, and links to those that stand on other pages."""

    frame: Frame
    charts: tuple[ChartView, ...]
    elsewhere: tuple[Link, ...]


def trends_view(figures: BookFigures, site: Site) -> TrendsView:
    """The charts of a book over time; those for which it has nothing yet are left out."""
    here = site.addresses.at(TRENDS)
    charts = (
        recovery_chart(figures.months),
        hours_chart(figures, here),
        fine_metal_chart(figures.points, here),
    )
    elsewhere = [
        Link("Head grade by kind of scrap", here.to(SCRAP)),
        Link("Where each metal went", here.to(METAL)),
    ]
    if here.money:
        elsewhere.append(Link("Cost against worth, and where the money went", here.to(MONEY)))
    return TrendsView(
        frame=site.frame(here, TITLE),
        charts=tuple(chart for chart in charts if chart is not None),
        elsewhere=tuple(elsewhere),
    )
