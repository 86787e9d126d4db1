"""The chart: a figure that plotly takes, a drawing that says the same, and colours that carry."""

from __future__ import annotations

import copy
import json
import re
from datetime import date
from itertools import combinations

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import MetalPoint
from logbook.model.amount import Uncertain
from logbook.pages.addresses import Addresses, Link
from logbook.pages.charts import fine_metal_chart
from logbook.pages.metal_marks import METAL_MARKS, OTHER

HERE = Addresses({"a": Link("<b>Run</b> a", "runs/a.html")}, {}, frozenset(), {}).at("index.html")


def point(day: date, metal: str, value: float | None, u: float) -> MetalPoint:
    """A point of the chart; not known where there is no value."""
    if value is None:
        so_far = not_known("so far", "g", "the fineness is not known")
    else:
        so_far = Figure("so far", "g", Uncertain.of(value, u, (day, metal)))
    return MetalPoint(day, "a", metal, so_far, so_far)


POINTS = (
    point(date(2025, 1, 10), "silver", 100.0, 2.0),
    point(date(2025, 3, 10), "gold", 1.5, 0.1),
    point(date(2025, 7, 10), "silver", 400.0, 5.0),
    point(date(2025, 8, 10), "gold", None, 0.0),
)


def test_plotly_takes_the_figure() -> None:
    """The types of plotly accept every property of the figure."""
    import plotly.graph_objects as go

    chart = fine_metal_chart(POINTS, HERE)
    assert chart is not None
    figure = go.Figure(copy.deepcopy(dict(chart.figure)))
    silver = next(trace for trace in figure.data if trace.name == "silver")
    assert list(silver.y) == [100.0, 400.0]
    assert list(silver.error_y.array) == [2.0, 5.0]
    assert figure.layout.yaxis2.title.text == "silver, g"


def test_the_figure_is_plain_data() -> None:
    """The figure can be written as JSON, and a run's title in it is text."""
    chart = fine_metal_chart(POINTS, HERE)
    assert chart is not None
    written = json.dumps(chart.figure)
    assert "&lt;b&gt;Run" in written
    assert "<b>Run" not in written


def test_the_drawing_holds_the_same_points() -> None:
    """Heights in the drawing are to the axis as the values are, by hand: 100 is 1/4 of 400."""
    chart = fine_metal_chart(POINTS, HERE)
    assert chart is not None
    silver = next(panel for panel in chart.drawing.panels if panel.metal == "silver")
    base = float(silver.base)
    first, last = (base - float(point.y) for point in silver.points)
    assert abs(last / first - 4.0) < 0.02
    assert [tick.text for tick in silver.ticks] == ["0", "200", "400", "600"]
    assert silver.title == "silver, g"
    low, high = sorted(float(y) for y in re.findall(r"M[\d.]+,([\d.]+)H", silver.points[1].bar))
    scale = (base - float(silver.points[1].y)) / 400.0
    assert abs((high - low) - 2 * 5.0 * scale) < 0.21  # one standard uncertainty each way


def test_what_is_not_known_is_no_point() -> None:
    """A product of unknown fineness is neither drawn nor counted in the sentence."""
    chart = fine_metal_chart(POINTS, HERE)
    assert chart is not None
    gold = next(panel for panel in chart.drawing.panels if panel.metal == "gold")
    assert len(gold.points) == 1
    assert chart.sentence.replace("\u00a0", " ") == (
        "By 10 July 2025 the bench had made 1.50 ± 0.10 g of fine gold in 1 run "
        "and 400.0 ± 5.0 g of fine silver in 2 runs."
    )
    assert len(chart.rows) == len(POINTS)


def test_no_point_no_chart() -> None:
    """A book without a product has no chart, rather than an empty one."""
    assert fine_metal_chart((), HERE) is None
    assert fine_metal_chart((point(date(2025, 8, 10), "gold", None, 0.0),), HERE) is None


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, definitions)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definitions)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def colours(scheme: str) -> dict[str, str]:
    """The named colours of the style sheet, for the light or the dark scheme."""
    from tests.pages.shown import THEME

    sheet = (THEME / "assets" / "bench.css").read_text(encoding="utf-8")
    light, dark = sheet.split("@media (prefers-color-scheme: dark)")
    block = light if scheme == "light" else dark.split("*, *::before")[0]
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", block))


def test_metals_can_be_told_apart_without_colour() -> None:
    """No two metals share a dash or a marker."""
    marks = [*METAL_MARKS.values(), OTHER]
    for one, other in combinations(marks, 2):
        assert one.dash != other.dash
        assert one.dashes != other.dashes
        assert one.symbol != other.symbol
        assert one.outline != other.outline


def test_metals_stand_out_from_both_papers() -> None:
    """Graphics keep a contrast of 3 to 1 (WCAG 2.2, 1.4.11)."""
    for scheme in ("light", "dark"):
        for mark in (*METAL_MARKS.values(), OTHER):
            assert contrast(mark.colour, colours(scheme)["paper"]) >= 3.0, (scheme, mark)


def test_text_can_be_read_in_both_schemes() -> None:
    """Text keeps a contrast of 4.5 to 1 on the paper it stands on (WCAG 2.2, 1.4.3)."""
    for scheme in ("light", "dark"):
        found = colours(scheme)
        pairs = [(ink, "paper") for ink in ("ink", "soft", "link", "danger", "warning")]
        pairs += [(ink, "danger-paper") for ink in ("ink", "soft", "danger", "link")]
        pairs += [(ink, "warning-paper") for ink in ("ink", "soft", "warning", "danger", "link")]
        pairs += [(ink, "here") for ink in ("ink", "soft", "link")] + [("ink", "sheet")]
        for ink, paper in pairs:
            assert contrast(found[ink], found[paper]) >= 4.5, (scheme, ink, paper)
