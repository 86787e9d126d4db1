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


def test_bars_poured_together_for_a_remelt_count_once() -> None:
    """Two bars of 10 g and 20 g melted to one of 29 g: 29 g of product, 60 g scrap of half."""
    first = melted("2026-01-05-a", 22.0, 10.0, label="A")
    second = melted("2026-02-05-b", 44.0, 20.0, label="B")
    took = entry("took", g(30.0), "bars", "A", "B", holds={"silver": part(1.0)})
    got = entry("got", g(29.0), "silver bar", holds={"silver": part(1.0)})
    figures = work_out(book(first, second, run("2026-03-05-c", stage("Melt", took, got))))
    every = total(figures, "all")
    assert value(every.head) == pytest.approx(33.0)
    assert value(every.product) == pytest.approx(29.0)
    assert value(figures.points[-1].so_far) == pytest.approx(29.0)


def test_a_bag_filled_inside_the_period_is_no_head() -> None:
    """Filters pooled from a run of January and taken in February are inside the year."""
    fill = run(
        "2026-01-05-a",
        stage(
            "Melt",
            entry("took", g(100.0), "scrap", holds={"silver": part(0.5)}),
            entry("kept", g(4.0), "filters", into="BAG", holds={"silver": part(0.25)}),
            entry("got", g(48.0), "silver bar", holds={"silver": part(1.0)}),
        ),
    )
    use = melted("2026-02-05-b", 0.0, 0.9, source="BAG")
    figures = work_out(book(fill, use))
    assert value(total(figures, "2026").head) == pytest.approx(50.0)
    assert value(total(figures, "2026-02").head) == pytest.approx(1.0)
    assert value(total(figures, "2026").product) == pytest.approx(48.9)


def test_a_log_in_which_no_metal_moves_does_not_spoil_the_sums() -> None:
    """A run that only notes hours or a price has no head, and none is asked of it."""
    only = run("2026-01-09-w", stage("Store", worked(1.0)))
    figures = work_out(book(melted("2026-01-05-a", 100.0, 48.0), only))
    assert value(total(figures, "all").recovery) == pytest.approx(0.96)


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


def test_the_gaps_of_a_period_add_up_and_the_shelf_is_its_stock() -> None:
    """Two runs of 100 g silver give 98 ± 2 and 97 ± 2 g: 5 g are not accounted for, by hand."""

    def made(day: str, grams: float) -> Run:
        took = entry("took", g(100.0), "scrap", holds={"silver": part(1.0)})
        got = entry("got", g(grams), "silver bar", holds={"silver": part(1.0, 2.0 / grams)})
        return run(day, stage("Melt", took, got))

    figures = work_out(book(made("2026-01-01-a", 98.0), made("2026-01-02-b", 97.0)))
    (whole,) = [one for one in figures.totals if one.period == "all"]
    assert whole.unaccounted is not None and whole.unaccounted.value is not None
    assert whole.unaccounted.value.value == pytest.approx(5.0)
    assert whole.unaccounted.value.u == pytest.approx(8.0**0.5)
    assert whole.stock is not None and whole.stock.value is not None
    (month,) = [one for one in figures.totals if one.period == "2026-01"]
    assert month.stock is not None and month.stock.value is not None
    assert month.stock.value.value == pytest.approx(whole.stock.value.value)  # nothing came after


def test_the_gap_of_a_period_is_not_known_where_that_of_a_run_is_not() -> None:
    """A filter that nobody measured leaves open whether anything was lost."""
    took = entry("took", g(100.0), "scrap", holds={"silver": part(1.0, 0.01)})
    got = entry("got", g(95.0), "silver bar", holds={"silver": part(1.0, 0.01)})
    only = run("2026-01-01-a", stage("Melt", took, entry("kept", None, "filter"), got))
    whole = next(one for one in work_out(book(only)).totals if one.period == "all")
    assert whole.unaccounted is not None
    assert not whole.unaccounted.known
    assert whole.unaccounted.why == "it is not known of 1 of 1"
