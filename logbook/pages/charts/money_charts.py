"""Every chart that shows money, in one place: a site that leaves money out makes none of them."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.results import BookFigures
from logbook.pages.addresses import Here
from logbook.pages.charts.cost_and_worth import cost_and_worth_chart
from logbook.pages.charts.view import ChartView
from logbook.pages.charts.where_money_went import where_money_went_chart


@dataclass(frozen=True, slots=True)
class MoneyCharts:
    """The charts of the page of money; None where the book gives nothing to draw."""

    account: ChartView | None
    runs: ChartView | None


def money_charts(figures: BookFigures, here: Here, currency: str) -> MoneyCharts:
    """Where the money went, and the cost of each run against its worth."""
    return MoneyCharts(
        account=where_money_went_chart(figures.costing.account, currency),
        runs=cost_and_worth_chart(figures, here, currency),
    )
