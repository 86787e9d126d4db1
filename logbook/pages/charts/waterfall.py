"""One metal of one run step by step down: what went in, less each way it went, to what is left.

Each bar begins where the one before it ended. A way that is not known has no bar: a dotted line
shows its limits, and the next bar begins as if it were nothing, which the notes then say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import MetalBalance
from logbook.pages.charts.plain import Axis, Bar, Bars, Cell, Chart, Panel, Reach, Reaches, Row
from logbook.pages.charts.scales import number_axis, row_axis
from logbook.pages.charts.view import (
    LIMITS,
    ChartView,
    chart_view,
    figure_words,
    joined,
    number_cell,
)
from logbook.pages.metal_marks import metal_mark
from logbook.pages.wording import listed

IN_HAND, GONE = "filled", "hollow"
PANEL = "what went in, less each way it went"
HEADINGS = ("step", "grams")
NOTES = (
    "Filled: what went in, the product, and what was kept. Hollow: what went to waste, was lost, "
    "or is not accounted for.",
    "The fine line at the end of a bar: one standard uncertainty each way.",
)
AS_NOTHING = (
    "A bar below something that is not known begins as if that were nothing, so that it stands "
    "too far to the right by as much."
)


@dataclass(frozen=True, slots=True)
class _Step:
    """One row: its figure, from where to where its bar goes, and whether it is filled."""

    name: str
    figure: Figure
    start: float
    end: float
    kind: str

    @property
    def nothing(self) -> bool:
        """Whether it is known to be exactly nothing: then there is no step to draw."""
        value = self.figure.value
        return value is not None and not value.value and not value.u


def waterfall(balance: MetalBalance, place: int) -> ChartView | None:
    """The steps of one metal; None where what went in is not known, or is nothing."""
    head = _went_in(balance)
    if head.value is None or head.value.value <= 0.0:
        return None
    steps = _steps(balance, head)
    across = number_axis(f"grams of {balance.metal}", _ends(steps))
    unknown = any(not step.figure.known for step in steps[:-1])
    limits = any(not step.figure.known for step in steps)
    metal = balance.metal
    return chart_view(
        Chart(
            name=f"steps-{place}",
            title=f"The {metal} of the run, step by step",
            sentence=_sentence(metal, steps),
            notes=joined((*NOTES, LIMITS if limits else None, AS_NOTHING if unknown else None)),
            panels=(_panel(metal, [step for step in steps if not step.nothing], across),),
            headings=HEADINGS,
            table=tuple((Cell(step.name), number_cell(step.figure)) for step in steps),
        )
    )


def _went_in(balance: MetalBalance) -> Figure:
    """What went in as it was assayed, so that a gap shows; else the head there is."""
    assayed = balance.assayed_head
    return assayed if assayed is not None and assayed.known else balance.head


def _steps(balance: MetalBalance, head: Figure) -> list[_Step]:
    ways = (
        ("product", balance.product, IN_HAND),
        ("kept", balance.shelf, IN_HAND),
        ("to waste", balance.waste, GONE),
        ("lost", balance.lost, GONE),
    )
    level = head.value.value if head.value is not None else 0.0
    basis = "assayed" if head is balance.assayed_head else balance.head_basis
    steps = [_Step(f"went in, {basis}", head, 0.0, level, IN_HAND)]
    for name, figure, kind in ways:
        taken = figure.value.value if figure.value is not None else 0.0
        steps.append(_Step(name, figure, level, level - taken, kind))
        level -= taken
    gap = balance.unaccounted
    taken = gap.value.value if gap.value is not None else 0.0
    steps.append(_Step("not accounted for", gap, taken, 0.0, GONE))
    return steps


def _ends(steps: Sequence[_Step]) -> Iterator[float]:
    """All ends of bars with their doubt: limits widen no axis."""
    for step in steps:
        u = step.figure.value.u if step.figure.value is not None else 0.0
        yield from (step.start, step.end, step.end - u, step.end + u)


def _panel(metal: str, steps: Sequence[_Step], across: Axis) -> Panel:
    look = metal_mark(metal)
    marks: list[Bars | Reaches] = [
        Bars(f"{metal}, {kind}", look, tuple(_bars(steps, kind)), hollow=kind == GONE)
        for kind in (IN_HAND, GONE)
    ]
    limits = tuple(
        _limits(row, step, across) for row, step in enumerate(steps) if not step.figure.known
    )
    marks += [Reaches(f"{metal}, limits", look, limits)] if limits else []
    rows = tuple(Row(step.name, figure_words(step.figure)) for step in steps)
    return Panel(PANEL, across, row_axis(len(rows)), tuple(marks), rows)


def _bars(steps: Sequence[_Step], kind: str) -> Iterator[Bar]:
    for row, step in enumerate(steps):
        if step.kind == kind and step.figure.value is not None:
            words = f"{step.name}: {figure_words(step.figure)}"
            yield Bar(float(row), step.start, step.end, words, step.figure.value.u)


def _limits(row: int, step: _Step, across: Axis) -> Reach:
    """The limits of a way, to the left of where it would begin; of a gap, from nothing."""
    low, high = step.figure.low, step.figure.high
    words = f"{step.name}: {figure_words(step.figure)}"
    if step.name == "not accounted for":
        return Reach(row, _inside(low, across), _inside(high, across), words)
    far = None if high is None else _inside(step.start - high, across)
    return Reach(row, far, step.start - (low or 0.0), words)


def _inside(value: float | None, across: Axis) -> float | None:
    """A limit that the axis can show; beyond it the end is drawn open."""
    return value if value is not None and across.low <= value <= across.high else None


def _sentence(metal: str, steps: Sequence[_Step]) -> str:
    """Every step that is not exactly nothing, in words."""
    first, *ways = steps
    told = [f"{figure_words(step.figure)} {_told(step.name)}" for step in ways if not step.nothing]
    words = f"Of {figure_words(first.figure)} of {metal} that went in"
    return f"{words}, {listed(told)}." if told else f"{words}, nothing is told."


def _told(name: str) -> str:
    return {
        "product": "became product",
        "kept": "was kept",
        "to waste": "went to waste",
        "lost": "was lost",
        "not accounted for": "is not accounted for",
    }[name]
