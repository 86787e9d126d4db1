"""Head grade by kind of scrap: the mean over its lots, and each lot, so that the spread shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from logbook.calculation.figure import Figure
from logbook.calculation.results.across import Lot, ScrapFigures, ScrapMetal
from logbook.pages.charts.fields import BAR_DOWN
from logbook.pages.charts.plain import (
    Axis,
    Cell,
    Chart,
    Panel,
    Point,
    Reach,
    Reaches,
    Row,
    Series,
)
from logbook.pages.charts.scales import number_axis, row_axis, tenfold_axis
from logbook.pages.charts.view import (
    LIMITS,
    ChartView,
    chart_view,
    figure_words,
    joined,
    number_cell,
)
from logbook.pages.figure_view import known_text
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import plural
from logbook.pages.wording import listed

TITLE = "Head grade by kind of scrap"
PERCENT = 100.0
LOTS_DOWN = 0.38  # of a row: the lots stand below their mean
FAR = 20.0  # times as rich, and the scale goes tenfold
NOTES = (
    "Mark: the mean over the lots of a kind, with one standard uncertainty each way. Strokes "
    "below it: the lots, each as assayed or as written, where there are several.",
    "Each metal has a scale of its own.",
)
TENFOLD = "On a scale that goes tenfold each line is ten times the one before it."
HEADINGS = ("kind of scrap", "metal", "mean head grade", "lots", "poorest lot", "richest lot")
Kind = tuple[ScrapFigures, ScrapMetal]


def head_grade_chart(scrap: Sequence[ScrapFigures]) -> ChartView | None:
    """Head grades by metal and kind; None where no metal is named in any scrap."""
    found: dict[str, list[Kind]] = {}
    for kind in scrap:
        for one in kind.metals:
            found.setdefault(one.metal, []).append((kind, one))
    drawn = {metal: kinds for metal, kinds in sorted(found.items()) if _tops(metal, kinds)}
    if not drawn:
        return None
    panels = tuple(_panel(metal, kinds) for metal, kinds in drawn.items())
    only_limits = any(_limits(metal, kind) for metal, kinds in drawn.items() for kind in kinds)
    return chart_view(
        Chart(
            name="head-grade",
            title=TITLE,
            sentence=_sentence(drawn),
            notes=joined(
                (
                    *NOTES,
                    TENFOLD if any(panel.across.tenfold for panel in panels) else None,
                    LIMITS if only_limits else None,
                )
            ),
            panels=panels,
            headings=HEADINGS,
            table=tuple(_row(*one) for kinds in found.values() for one in kinds),
        )
    )


def _grades(metal: str, lots: Sequence[Lot]) -> list[Figure]:
    return [figure for lot in lots for name, figure in lot.grades if name == metal]


def _limits(metal: str, kind: Kind) -> list[Figure]:
    """Grades of lots of which only limits are known."""
    grades = _grades(metal, kind[0].lots)
    return [one for one in grades if one.value is None and (one.low or one.high is not None)]


def _tops(metal: str, kinds: Sequence[Kind]) -> list[float]:
    """The upper ends of all that is to be drawn, in percent."""
    tops = []
    for kind in kinds:
        for one in (kind[1].grade.mean, *_grades(metal, kind[0].lots)):
            if one.value is not None:
                tops.append((one.value.value + one.value.u) * PERCENT)
            elif one.high is not None or one.low:
                tops.append(max(one.high or 0.0, one.low or 0.0) * PERCENT)
    return tops


def _panel(metal: str, kinds: Sequence[Kind]) -> Panel:
    """One row for each kind: the lots below, the mean on its line."""
    look = metal_mark(metal)
    across = _axis(_tops(metal, kinds), _known(metal, kinds))
    means = tuple(
        _point(row, one.grade.mean, f"{kind.kind}, mean: ")
        for row, (kind, one) in enumerate(kinds)
        if one.grade.mean.known
    )
    lots = tuple(
        replace(_point(row, grade, f"{kind.kind}, one lot: "), y=row + LOTS_DOWN, ux=0.0)
        for row, (kind, one) in enumerate(kinds)
        for grade in _grades(metal, kind.lots)
        if grade.known and len(kind.lots) > 1
    )
    limits = tuple(
        Reach(
            float(row),
            None if not one.low else one.low * PERCENT,
            None if one.high is None else one.high * PERCENT,
            f"{kind[0].kind}: {figure_words(one)}",
        )
        for row, kind in enumerate(kinds)
        for one in _limits(metal, kind)
    )
    stroke = replace(look, symbol="line-ns", outline="M0,-5V5")
    marks = (
        Reaches(f"{metal}, limits", look, limits),
        Series(f"{metal}, lots", stroke, (lots,), hollow=True),
        Series(f"{metal}, mean", look, (means,)),
    )
    rows = tuple(Row(kind.kind, figure_words(one.grade.mean)) for kind, one in kinds)
    shown = tuple(one for one in marks if one is not marks[0] or limits)
    return Panel(metal, across, row_axis(len(rows)), shown, rows)


def _known(metal: str, kinds: Sequence[Kind]) -> list[float]:
    """All known grades, in percent."""
    figures = [one for kind in kinds for one in (kind[1].grade.mean, *_grades(metal, kind[0].lots))]
    return [value.value * PERCENT for one in figures if (value := one.value) is not None]


def _axis(tops: Sequence[float], grades: Sequence[float]) -> Axis:
    """In equal steps; in tenfold ones where kinds lie so far apart that the poor would vanish.

    A grade of nothing has no place on a scale that goes tenfold.
    """
    title = "% of the weight"
    if grades and min(grades) > 0.0 and max(grades) > FAR * min(grades):
        return tenfold_axis(title, [*tops, *grades])
    return number_axis(title, tops)


def _point(row: int, figure: Figure, words: str) -> Point:
    assert figure.value is not None
    value = figure.value.times(PERCENT)
    return Point(value.value, row + BAR_DOWN, words + known_text(figure), ux=value.u)


def _row(kind: ScrapFigures, one: ScrapMetal) -> tuple[Cell, ...]:
    grades = _grades(one.metal, kind.lots)
    known = sorted(
        (grade for grade in grades if grade.value is not None),
        key=lambda grade: grade.value.value if grade.value is not None else 0.0,
    )
    ends = (known[0], known[-1]) if known else (one.grade.mean, one.grade.mean)
    return (
        Cell(kind.kind),
        Cell(one.metal),
        number_cell(one.grade.mean),
        Cell(f"{one.grade.runs} of {len(kind.lots)}", number=True),
        *(number_cell(end) for end in ends),
    )


def _sentence(found: dict[str, list[Kind]]) -> str:
    """The richest kind of each metal."""
    parts = []
    for metal, kinds in found.items():
        known = [
            (value.value, kind.kind, one)
            for kind, one in kinds
            if (value := one.grade.mean.value) is not None
        ]
        if not known:
            parts.append(f"how much {metal} there is in any scrap is not known")
            continue
        _, richest, one = max(known, key=lambda found: found[:2])
        parts.append(
            f"of {plural(len(kinds), 'kind')} with {metal} the richest was {richest}, with "
            f"{known_text(one.grade.mean)}"
        )
    words = listed(parts)
    return f"{words[0].upper()}{words[1:]}."
