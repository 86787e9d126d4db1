"""The charts: a figure that plotly takes, a drawing that says the same, a table and a sentence."""

from __future__ import annotations

import copy
import json
import re
from datetime import date
from typing import Any

import pytest

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import (
    BookAccount,
    BookLine,
    MetalBalance,
    MetalPoint,
    MonthRecovery,
)
from logbook.calculation.results.across import Lot, ScrapFigures, ScrapMetal
from logbook.calculation.results.plans import Spread
from logbook.model.amount import Uncertain
from logbook.pages.addresses import Addresses, Link
from logbook.pages.charts.fine_metal import fine_metal_chart
from logbook.pages.charts.head_grade import head_grade_chart
from logbook.pages.charts.recovery import recovery_chart
from logbook.pages.charts.view import ChartView
from logbook.pages.charts.waterfall import waterfall
from logbook.pages.charts.where_money_went import where_money_went_chart

HERE = Addresses({"a": Link("<b>Run</b> a", "runs/a.html")}, {}, frozenset(), {}).at("index.html")


def known(value: float, u: float = 0.0, unit: str = "g") -> Figure:
    """A figure with a value."""
    return Figure("figure", unit, Uncertain.of(value, u, object()))


def point(day: date, metal: str, value: float | None, u: float) -> MetalPoint:
    """A point of fine metal; not known where there is no value."""
    so_far = not_known("so far", "g", "no fineness") if value is None else known(value, u)
    return MetalPoint(day, "a", metal, so_far, so_far)


POINTS = (
    point(date(2025, 1, 10), "silver", 100.0, 2.0),
    point(date(2025, 3, 10), "gold", 1.5, 0.1),
    point(date(2025, 7, 10), "silver", 400.0, 5.0),
    point(date(2025, 8, 10), "gold", None, 0.0),
)
SPILT = not_known("recovery", "g/g", "it was spilt")
MONTHS = (
    MonthRecovery("2025-11", "silver", known(0.9, 0.01, "g/g"), None, ("a",)),
    MonthRecovery("2025-12", "silver", known(0.8, 0.02, "g/g"), None, ("b",)),
    MonthRecovery("2026-02", "silver", known(0.7, 0.0, "g/g"), None, ("c",), (), ("x", "y")),
    MonthRecovery(
        "2026-02", "gold", None, not_known("recovery", "g/g", "it was spilt"), (), ("d",)
    ),
)


def balance(**more: Any) -> MetalBalance:
    """Of 100 g of silver 60 g came out, 25 g were kept, 5 g went to waste, 2 g were lost."""
    parts: dict[str, Figure] = {
        "head": known(100.0, 1.0),
        "product": known(60.0, 0.5),
        "shelf": known(25.0, 0.5),
        "waste": known(5.0),
        "lost": known(2.0),
        "unaccounted": known(8.0, 1.5),
    }
    nothing = not_known("recovery", "g/g", "")
    return MetalBalance(
        run="a",
        metal="silver",
        head_basis="assayed",
        recovery=nothing,
        accountability=nothing,
        closes="unknown",
        **(parts | more),
    )


def kind_of_scrap(kind: str, lots: tuple[Lot, ...], metal: ScrapMetal) -> ScrapFigures:
    """A kind of scrap with one metal, of which no run and no worth is known."""
    unknown = not_known("worth", "EUR/kg", "no price")
    return ScrapFigures(kind, lots, (), (), (metal,), unknown, Spread(unknown), Spread(unknown))


def scrap() -> tuple[ScrapFigures, ...]:
    """Two lots of contacts with 70 and 80 % of silver, and links of which nothing is known."""
    unknown = not_known("grade", "g/g", "never assayed")
    spread = Spread(unknown)
    grades = [known(0.7, 0.02, "g/g"), known(0.8, 0.02, "g/g")]
    lots = tuple(Lot(str(one), "", known(1.0), (("silver", one),)) for one in grades)
    mean = Spread(known(0.75, 0.05, "g/g"), 0.7, 0.8, None, 2, 2)
    links = Lot("l", "", known(1.0), (("silver", unknown),))
    return tuple(
        ScrapFigures(
            kind, of, (), (), (ScrapMetal("silver", grade, unknown),), unknown, spread, spread
        )
        for kind, of, grade in (("contacts", lots, mean), ("links <i>", (links,), spread))
    )


def account() -> BookAccount:
    """Of 100 EUR for scrap and at least 20 EUR for acid, 110 EUR stand in products."""
    least = Figure("acid", "EUR", why="one bottle has no price", low=20.0)
    return BookAccount(
        came_in=(
            BookLine("feed", 10000, known(100.0, 3.0, "EUR")),
            BookLine("reagent", 2000, least),
        ),
        stands=(
            BookLine("in products held", 11000, known(110.0, 3.0, "EUR")),
            BookLine("written off", 1000, known(10.0, 0.0, "EUR")),
        ),
        total_cents=12000,
    )


def every_chart() -> dict[str, ChartView]:
    """One of each chart that needs no whole book."""
    limits = balance(
        shelf=Figure("shelf", "g", why="never measured", low=1.0, high=30.0),
        unaccounted=Figure("gap", "g", why="never measured", high=30.0),
    )
    found = {
        "fine metal": fine_metal_chart(POINTS, HERE),
        "recovery": recovery_chart(MONTHS),
        "head grade": head_grade_chart(scrap()),
        "waterfall": waterfall(balance(), 1),
        "waterfall with limits": waterfall(limits, 2),
        "where the money went": where_money_went_chart(account(), "EUR"),
    }
    charts = {name: chart for name, chart in found.items() if chart is not None}
    assert charts.keys() == found.keys()
    return charts


def plotted(chart: ChartView) -> Any:
    """The figure as plotly's own types take it; they raise where a property is not theirs."""
    import plotly.graph_objects as go

    return go.Figure(copy.deepcopy(dict(chart.figure)))


@pytest.mark.parametrize("name", every_chart())
def test_plotly_takes_the_figure(name: str) -> None:
    """The types of plotly accept every property, and give it back as it was."""
    chart = every_chart()[name]
    whole = plotted(chart).to_plotly_json()
    given = json.loads(json.dumps(chart.figure))
    assert len(whole["data"]) == len(given["data"]) > 0
    kept = {name for name, value in given["layout"].items() if value != []}
    assert whole["layout"].keys() - {"template"} == kept


@pytest.mark.parametrize("name", every_chart())
def test_every_form_says_something(name: str) -> None:
    """A chart is a drawing, a table with as many headings as cells, a sentence and notes."""
    chart = every_chart()[name]
    assert chart.sentence.endswith(".")
    assert any("standard uncertainty" in note for note in chart.notes)
    assert all(len(row) == len(chart.headings) for row in chart.rows)
    assert chart.rows
    assert any(group.kind in ("spot", "ring", "block", "frame") for group in chart.drawing.groups)


@pytest.mark.parametrize("name", every_chart())
def test_axes_have_units(name: str) -> None:
    """Each panel names its unit, above it or below."""
    units = re.compile(r", g$|, % recovered$|% of the weight|grams of |^EUR$|, EUR$|, h/g$")
    for panel in _named_axes(every_chart()[name]):
        assert any(units.search(text) for text in panel), panel


def _named_axes(chart: ChartView) -> list[list[str]]:
    """The names beside each panel of the live figure."""
    notes = [one for one in chart.figure["layout"]["annotations"] if "domain" in one["yref"]]
    axes = dict.fromkeys(one["yref"] for one in notes)
    return [
        [re.sub("</?b>", "", one["text"]) for one in notes if one["yref"] == axis] for axis in axes
    ]


def test_the_figure_is_plain_data() -> None:
    """The figure can be written as JSON, and a run's title in it is text."""
    for chart in every_chart().values():
        written = json.dumps(chart.figure)
        assert "<b>Run" not in written
        assert "<i>" not in written
    assert "&lt;b&gt;Run" in json.dumps(every_chart()["fine metal"].figure)


def heights(chart: ChartView, kind: str, place: int = 0) -> list[tuple[float, float]]:
    """The places of the marks of one kind in the drawing, the first group of them."""
    group = [one for one in chart.drawing.groups if one.kind == kind][place]
    return [(float(x), float(y)) for x, y in (mark.at.split() for mark in group.marks)]


def test_the_drawing_is_to_scale() -> None:
    """Silver stands in the second panel: 400 g is four times as high as 100 g, by hand."""
    chart = every_chart()["fine metal"]
    ticks = {word.text: float(word.y) for word in chart.drawing.words if word.kind == "tick"}
    base = ticks["0"] - 5.0  # letters stand 5 units below their line
    (_, low), (_, high) = heights(chart, "spot", 1)
    assert (base - high) / (base - low) == pytest.approx(4.0, abs=0.02)
    assert [text for text in ticks if text.isdigit()] == ["0", "100", "200", "300", "400"]
    error = [one for one in chart.drawing.groups if one.kind == "error"][1].marks[1].path
    ends = sorted(float(y) for y in re.findall(r"M[\d.]+,([\d.]+)H", error))
    assert ends[1] - ends[0] == pytest.approx(2 * 5.0 * (base - high) / 400.0, abs=0.21)


def test_the_live_figure_lies_where_the_drawing_lies() -> None:
    """Margins and domains give each mark the same height as the drawing has, to a unit."""
    chart = every_chart()["fine metal"]
    layout = chart.figure["layout"]
    margin, height = layout["margin"], layout["height"]
    inner = height - margin["t"] - margin["b"]
    trace = next(one for one in chart.figure["data"] if one["name"] == "silver")
    axis = layout["yaxis2"]
    low, high = axis["range"]
    for value, (_, y) in zip(trace["y"], heights(chart, "spot", 1), strict=True):
        share = axis["domain"][0] + (value - low) / (high - low) * (
            axis["domain"][1] - axis["domain"][0]
        )
        assert height - margin["b"] - share * inner == pytest.approx(y, abs=0.1)


def test_what_is_not_known_is_no_point() -> None:
    """A product of unknown fineness is neither drawn nor counted in the sentence."""
    chart = every_chart()["fine metal"]
    assert len(heights(chart, "spot", 0)) == 1
    assert chart.sentence.replace("\u00a0", " ") == (
        "By 10 July 2025 the bench had made 1.50 ± 0.10 g of fine gold in 1 run "
        "and 400.0 ± 5.0 g of fine silver in 2 runs."
    )
    assert len(chart.rows) == len(POINTS)
    assert chart.rows[0][-1].text == "not known"


def test_no_figure_no_chart() -> None:
    """A book without figures has no chart, rather than an empty one."""
    assert fine_metal_chart((), HERE) is None
    assert fine_metal_chart((point(date(2025, 8, 10), "gold", None, 0.0),), HERE) is None
    assert recovery_chart(()) is None
    assert head_grade_chart(()) is None
    assert waterfall(balance(head=not_known("head", "g", "never assayed")), 1) is None
    assert where_money_went_chart(None, "EUR") is None


def test_months_without_a_run_are_gaps() -> None:
    """November and December are joined; January has no run, and the line stops before it."""
    chart = every_chart()["recovery"]
    trace = next(one for one in chart.figure["data"] if one["name"] == "silver, closes")
    assert trace["y"] == [90.0, 80.0, None, 70.0]
    assert trace["connectgaps"] is False
    (line,) = [one for one in chart.drawing.groups if one.kind == "line"]
    assert [mark.path.count("L") for mark in line.marks] == [1]  # a month alone has no line


def test_a_recovery_that_is_not_known_is_a_cross_and_never_nothing() -> None:
    """It stands on the place of the question mark, below the scale, and says why."""
    chart = every_chart()["recovery"]
    cross = next(one for one in chart.figure["data"] if one["name"] == "not known")
    assert cross["customdata"] == ["February 2026: not known, because it was spilt"]
    axis = chart.figure["layout"]["yaxis"]
    place = axis["tickvals"][axis["ticktext"].index("?")]
    assert cross["y"] == [place]
    assert place < min(value for value in axis["tickvals"] if value != place)
    assert "a share of gold that is not known" in chart.sentence


def test_the_steps_go_down_to_what_is_not_accounted_for() -> None:
    """100 − 60 = 40, − 25 = 15, − 5 = 10, − 2 = 8: by hand, and the gap ends at nothing."""
    chart = every_chart()["waterfall"]
    bars = {}
    for trace in chart.figure["data"]:
        for row, start, length in zip(trace["y"], trace["base"], trace["x"], strict=True):
            bars[round(row)] = (start, start + length)
    assert bars == {
        0: (0.0, 100.0),
        1: (100.0, 40.0),
        2: (40.0, 15.0),
        3: (15.0, 10.0),
        4: (10.0, 8.0),
        5: (8.0, 0.0),
    }
    assert chart.sentence.replace("\u00a0", " ") == (
        "Of 100.0 ± 1.0 g of silver that went in, 60.00 ± 0.50 g became product, 25.00 ± 0.50 g "
        "was kept, 5 g went to waste, 2 g was lost and 8.0 ± 1.5 g is not accounted for."
    )


def test_a_way_that_is_exactly_nothing_has_no_row() -> None:
    """No loss was noted: the table says 0 g, and the drawing has one row less."""
    chart = waterfall(balance(lost=known(0.0)), 1)
    assert chart is not None
    names = [word.text for word in chart.drawing.words if word.kind == "name"]
    assert names == ["went in, assayed", "product", "kept", "to waste", "not accounted for"]
    assert [row[1].text for row in chart.rows if row[0].text == "lost"] == ["0\u00a0g"]


def test_limits_have_no_bar() -> None:
    """Kept between 1 and 30 g below 40 g: a line from 10 to 39, and no bar in that row."""
    chart = every_chart()["waterfall with limits"]
    rows = {
        round(row) for trace in chart.figure["data"] if trace["type"] == "bar" for row in trace["y"]
    }
    assert rows == {0, 1, 3, 4}
    lines = next(one for one in chart.figure["data"] if one["name"] == "silver, limits")
    assert lines["x"][:2] == [10.0, 39.0]
    assert lines["marker"]["symbol"][3] == "triangle-left-open"  # a gap with no lower limit
    assert any("begins as if that were nothing" in note for note in chart.notes)


def test_head_grades_show_their_lots() -> None:
    """Two lots stand below their mean; a kind that was never assayed has a row and no mark."""
    chart = every_chart()["head grade"]
    by_name = {one["name"]: one for one in chart.figure["data"]}
    assert by_name["silver, lots"]["x"] == [70.0, 80.0]
    assert by_name["silver, mean"]["x"] == [75.0]
    assert by_name["silver, mean"]["error_x"]["array"] == [5.0]
    assert ("links <i>", "not known") in [
        (one.text, other.text)
        for one, other in zip(chart.drawing.words, chart.drawing.words[1:], strict=False)
    ]


def test_poor_scrap_beside_rich_is_on_a_tenfold_scale_and_says_so() -> None:
    """0.8 % beside 60 %: equal steps would hide it, so the axis and the notes name the other."""
    figures = [(0.008, "sweeps"), (0.6, "links")]
    unknown = not_known("worth", "EUR/kg", "no price")
    kinds = []
    for share, kind in figures:
        grade = known(share, 0.0, "g/g")
        lot = Lot(kind, "", known(1.0), (("gold", grade),))
        kinds.append(kind_of_scrap(kind, (lot,), ScrapMetal("gold", Spread(grade), unknown)))
    chart = head_grade_chart(kinds)
    assert chart is not None
    axis = chart.figure["layout"]["xaxis"]
    assert axis["type"] == "log"
    assert axis["range"] == [-1.0, 2.0]
    assert any("ten times" in note for note in chart.notes)
    assert any(word.text.endswith("tenfold") for word in chart.drawing.words)
    left, right = (x for x, _ in heights(chart, "spot"))
    # lg 60 − lg 0.8 = 1.875 of 3 powers of ten, over 480 − 14 − 16 = 450 units of width
    assert right - left == pytest.approx(1.875 / 3 * 450.0, abs=0.5)


def test_a_sum_of_which_only_the_least_is_known_has_an_arrow() -> None:
    """Acid cost at least 20 EUR: the words say so, and an arrow points on."""
    chart = every_chart()["where the money went"]
    arrow = next(one for one in chart.figure["data"] if "at least" in one["name"])
    assert arrow["x"][0] == 20.0
    assert arrow["marker"]["symbol"][1] == "triangle-right-open"
    assert "at least 20.00 EUR" in chart.sentence.replace("\u00a0", " ")


def test_a_grade_of_nothing_is_drawn_as_nothing() -> None:
    """An assay may say that there is none: equal steps again, and the mark stands at zero."""
    unknown = not_known("worth", "EUR/kg", "no price")
    kinds = []
    for share, kind in ((0.0, "brass"), (0.6, "links")):
        grade = known(share, 0.0, "g/g")
        lot = Lot(kind, "", known(1.0), (("gold", grade),))
        kinds.append(kind_of_scrap(kind, (lot,), ScrapMetal("gold", Spread(grade), unknown)))
    chart = head_grade_chart(kinds)
    assert chart is not None
    assert chart.figure["layout"]["xaxis"]["type"] == "linear"
    assert heights(chart, "spot")[0][0] == 14.0  # the left end of the field


def test_a_lot_of_which_only_limits_are_known_is_a_dotted_line() -> None:
    """Between 50 and 60 % of silver: a line, and no mark."""
    limits = Figure("grade", "g/g", why="read off a table", low=0.5, high=0.6)
    lot = Lot("l", "", known(1.0), (("silver", limits),))
    unknown = not_known("worth", "EUR/kg", "no price")
    metal = ScrapMetal("silver", Spread(limits), unknown)
    chart = head_grade_chart([kind_of_scrap("links", (lot,), metal)])
    assert chart is not None
    line = next(one for one in chart.figure["data"] if one["name"] == "silver, limits")
    assert line["x"] == [50.0, 60.0, None]
    assert line["line"]["dash"] == "dot"
    assert not any(group.kind == "spot" for group in chart.drawing.groups)


@pytest.mark.parametrize("huge", [float("inf"), float("nan"), 1e308])
def test_a_figure_too_large_for_a_number_does_not_stop_a_chart(huge: float) -> None:
    """It is left out of the drawing, and the rest is drawn; JSON has no word for it."""
    too_large = MonthRecovery("2026-03", "silver", known(huge, huge, "g/g"), None, ("a",))
    lot = Lot("l", "", known(1.0), (("silver", known(huge, 0.0, "g/g")),))
    metal = ScrapMetal("silver", Spread(known(huge, 0.0, "g/g")), known(1.0))
    charts = (
        fine_metal_chart((*POINTS, point(date(2025, 9, 1), "silver", huge, huge)), HERE),
        waterfall(balance(shelf=known(huge, huge)), 1),
        recovery_chart((*MONTHS, too_large)),
        head_grade_chart([*scrap(), kind_of_scrap("gap", (lot,), metal)]),
    )
    for chart in charts:
        assert chart is not None
        json.dumps(chart.figure, allow_nan=False)
