"""What all runs of a book tell together: kinds of scrap, and methods."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from logbook.calculation.across.methods import method_figures
from logbook.calculation.across.scrap import scrap_figures
from logbook.calculation.money.markets import Market
from logbook.calculation.results import RunFigures, Thing
from logbook.calculation.results.across import Across
from logbook.model.book import Book


def across_runs(
    book: Book, runs: Mapping[str, RunFigures], things: Sequence[Thing], market: Market
) -> Across:
    """The figures across the runs of a book."""
    methods, differences = method_figures(book.scrap, runs)
    return Across(scrap_figures(book.scrap, runs, things, market), methods, differences)
