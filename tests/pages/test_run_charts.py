"""Charts over whole runs, of figures made by hand: hours for a gram, and cost against worth."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, RunFigures
from logbook.model.amount import Uncertain
from logbook.pages.addresses import Addresses, Link
from logbook.pages.charts.cost_and_worth import cost_and_worth_chart
from logbook.pages.charts.hours_per_gram import hours_chart
from logbook.pages.charts.view import ChartView
from tests.pages.shown import small_pages
from tests.pages.small_book import contacts, small_book

LINKS = {name: Link(f"Run {name}", f"runs/{name}.html") for name in "abcd"}
HERE = Addresses(LINKS, {}, frozenset(), {}).at("trends.html")
NO_PRICE = "no price was noted"


def known(unit: str, value: float, u: float = 0.0) -> Figure:
    """A figure with a value."""
    return Figure("figure", unit, Uncertain.of(value, u, object()))


def ran(name: str, day: date, cost: Figure, worth: Figure, hours: Figure) -> RunFigures:
    """A run that made 200 g of silver."""
    figures = work_out(small_book())
    base = figures.runs[contacts().name]
    balance = replace(base.balances[0], product=known("g", 200.0))
    return replace(
        base,
        run=replace(base.run, name=name, day=day),
        end=day,
        balances=(balance,),
        cost_with_feed=cost,
        worth=worth,
        hands_on=hours,
        costing=None,
    )


def book(*runs: RunFigures) -> BookFigures:
    """A book of these runs."""
    return replace(work_out(small_book()), runs={one.run.name: one for one in runs})


def four_runs() -> BookFigures:
    """One pays, one does not, of one only the least cost is known, of one nothing is."""
    least = Figure("cost", "EUR", why=NO_PRICE, low=50.0)
    nothing = Figure("cost", "EUR", why=NO_PRICE)
    late = Figure("hours", "h", why="nobody wrote them down")
    return book(
        ran(
            "a", date(2026, 1, 5), known("EUR", 100.0, 5.0), known("EUR", 150.0, 2.0), known("h", 2)
        ),
        ran("b", date(2026, 2, 5), known("EUR", 120.0), known("EUR", 90.0), known("h", 4.0, 0.2)),
        ran("c", date(2026, 3, 5), least, known("EUR", 80.0), late),
        ran("d", date(2026, 4, 5), nothing, known("EUR", 80.0), known("h", 1.0)),
    )


def drawn(chart: ChartView | None) -> ChartView:
    """A chart that must be there."""
    assert chart is not None
    return chart


def test_each_run_stands_at_its_cost_and_its_worth() -> None:
    """Squares above the line, triangles below; a cost of which nothing is known is not drawn."""
    chart = drawn(cost_and_worth_chart(four_runs(), HERE, "EUR"))
    traces = {one["name"]: one for one in chart.figure["data"]}
    assert (traces["worth more"]["x"], traces["worth more"]["y"]) == ([100.0], [150.0])
    assert traces["worth more"]["error_x"]["array"] == [5.0]
    assert traces["worth more"]["error_y"]["array"] == [2.0]
    assert (traces["worth less"]["x"], traces["worth less"]["y"]) == ([120.0], [90.0])
    everywhere = [x for one in chart.figure["data"] for x in one["x"] if x is not None]
    assert min(everywhere) > 0.0  # not known is never drawn as nothing
    assert any(note.startswith("1 run is not drawn") for note in chart.notes)
    assert len(chart.rows) == 4
    assert chart.rows[0][2].text == "not known"


def test_a_cost_of_which_only_the_least_is_known_is_hollow_with_an_arrow() -> None:
    """At least 50 EUR: the mark stands there, and an arrow points to where it may be."""
    chart = drawn(cost_and_worth_chart(four_runs(), HERE, "EUR"))
    at_least = [one for one in chart.figure["data"] if one["name"] == "worth more, cost at least"]
    arrow = next(one for one in at_least if one["mode"] == "lines+markers")
    assert arrow["x"][0] == 50.0
    assert arrow["marker"]["symbol"][1] == "triangle-right-open"
    mark = next(one for one in at_least if one["mode"] == "markers")
    assert mark["marker"]["symbol"] == "square-open"


def test_the_sentence_counts_what_can_be_told() -> None:
    """Three runs are drawn: one above, one below, one that nobody can tell."""
    chart = drawn(cost_and_worth_chart(four_runs(), HERE, "EUR"))
    assert chart.sentence == (
        "Of 3 runs with a product of known worth 1 made what is worth more than it cost, 1 what "
        "is worth less. Of 1 only the least of the cost is known, and the worth is above it."
    )


def test_hours_for_a_gram_by_hand() -> None:
    """2 h / 200 g = 0.01 h/g, 4 h / 200 g = 0.02 ± 0.001 h/g, 1 h / 200 g = 0.005 h/g."""
    chart = drawn(hours_chart(four_runs(), HERE))
    silver, unknown = chart.figure["data"]
    assert silver["y"] == [0.01, 0.02, 0.005]
    assert silver["error_y"]["array"] == [0.0, 0.001, 0.0]
    assert silver["x"] == ["2026-01-05", "2026-02-05", "2026-04-05"]
    assert unknown["x"] == ["2026-03-05"]
    assert unknown["y"][0] < 0.0
    assert chart.rows[1][3].text == "not known"


def test_the_trends_of_a_small_book() -> None:
    """The page has what the book gives, and links to the charts that stand elsewhere."""
    view = small_pages()["trends.html"].view
    assert [chart.name for chart in view.charts] == ["recovery", "hours-per-gram", "fine-metal"]
    assert [link.href for link in view.elsewhere] == ["scrap.html", "metal.html", "money.html"]
