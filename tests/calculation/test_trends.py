"""Totals by month, year and over all, and the fine metal made so far."""

from __future__ import annotations

import subprocess
import sys

import pytest
from build import book, entry, g, part, run, stage, worked

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, PeriodTotal
from logbook.model.run import Run


def value(figure: Figure) -> float:
    """The value of a figure that must be known."""
    assert figure.value is not None, figure.why
    return figure.value.value


def total(figures: BookFigures, period: str, metal: str = "silver") -> PeriodTotal:
    """The total of one period and metal."""
    (found,) = [one for one in figures.totals if (one.period, one.metal) == (period, metal)]
    return found


def melted(name: str, feed: float, bar: float, label: str = "", source: str = "") -> Run:
    """A run that melts scrap of half silver, or a labelled thing, to pure silver."""
    took = (
        entry("took", None, "", source)
        if source
        else entry("took", g(feed), "scrap", holds={"silver": part(0.5)})
    )
    names = (label,) if label else ()
    got = entry("got", g(bar), "silver bar", *names, holds={"silver": part(1.0)})
    return run(name, stage("Melt", took, worked(1.0), got))


def test_months_years_and_all_are_summed() -> None:
    """100 g and 60 g of scrap at 50 %, 48 g and 27 g of bars: by hand 80 g in, 75 g out."""
    runs = melted("2026-01-05-a", 100.0, 48.0), melted("2026-02-05-b", 60.0, 27.0)
    figures = work_out(book(*runs))
    assert [one.period for one in figures.totals] == ["2026", "2026-01", "2026-02", "all"]
    assert value(total(figures, "2026-01").recovery) == pytest.approx(48.0 / 50.0)
    assert value(total(figures, "2026").head) == pytest.approx(80.0)
    assert value(total(figures, "all").product) == pytest.approx(75.0)
    assert value(total(figures, "all").hours) == pytest.approx(2.0)


def test_metal_that_one_run_hands_to_another_counts_once() -> None:
    """A bar of 48 g refined to 47 g in the same year is 47 g of product out of 50 g of head."""
    first = melted("2026-01-05-a", 100.0, 48.0, label="BAR")
    second = melted("2026-02-05-b", 0.0, 47.0, source="BAR")
    figures = work_out(book(first, second))
    year = total(figures, "2026")
    assert value(year.head) == pytest.approx(50.0)
    assert value(year.product) == pytest.approx(47.0)
    assert value(total(figures, "2026-01").product) == pytest.approx(48.0)
    assert value(total(figures, "2026-02").head) == pytest.approx(48.0)
    assert [value(point.so_far) for point in figures.points] == [48.0, pytest.approx(47.0)]


def test_a_product_of_unknown_fineness_is_left_out_of_the_points_and_told() -> None:
    """The line of fine metal goes on, and says how many runs are not in it."""
    unknown = run("2026-01-01-u", stage("Melt", entry("got", g(9.0), "silver bar")))
    figures = work_out(book(unknown, melted("2026-01-05-a", 100.0, 48.0)))
    (point,) = figures.points
    assert value(point.so_far) == 48.0
    assert point.so_far.notes[0].startswith("1 run")


def test_findings_come_without_pandas() -> None:
    """What only a whole book can show is found without importing pandas, plotly or scipy."""
    code = (
        "import sys; from logbook.calculation.book_figures import whole_book_findings; "
        "heavy = {'pandas', 'plotly', 'scipy'} & set(sys.modules); "
        "sys.exit(1 if heavy else 0)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
