"""Cost against worth, run by run: above the line a run is worth more than it cost."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures
from logbook.pages.addresses import Here
from logbook.pages.charts.plain import (
    Axis,
    Cell,
    Chart,
    Panel,
    Point,
    Reach,
    Reaches,
    Rule,
    Series,
)
from logbook.pages.charts.scales import number_axis
from logbook.pages.charts.view import (
    DOUBT,
    ChartView,
    chart_view,
    figure_words,
    joined,
    link_cell,
    number_cell,
)
from logbook.pages.metal_marks import METAL_MARKS
from logbook.pages.money_runs import cost_taken_over
from logbook.pages.rounding import plural
from logbook.pages.wording import day_text

TITLE = "Cost against worth"
STUB = 0.05  # of the axis: an arrow where a cost has no upper limit
MORE, LESS = METAL_MARKS["silver"], METAL_MARKS["copper"]
NOTES = (
    "One mark for each run: its cost, with what it took over from earlier runs, against what its "
    "product was worth at the price of its last day.",
    "Squares, above the line: worth more than it cost. Triangles, below it: worth less. Hollow: "
    "the cost is at least so much, and the dotted arrow points to where it may be.",
    DOUBT,
)
HEADINGS = ("day", "run", "cost", "worth")


@dataclass(frozen=True, slots=True)
class _Run:
    """The cost and the worth of a run, and its least cost as a number."""

    day: date | None
    name: str
    cost: Figure
    worth: Figure
    least: float

    @property
    def can_be_drawn(self) -> bool:
        """Whether it made something of known worth, at a cost of which anything is known."""
        made = self.worth.value is not None and self.worth.value.value > 0.0
        return made and (self.cost.known or self.least > 0.0)

    @property
    def pays(self) -> bool:
        """Whether it is worth more than the least that it cost."""
        return self.worth.value is not None and self.worth.value.value >= self.least


def cost_and_worth_chart(figures: BookFigures, here: Here, currency: str) -> ChartView | None:
    """Cost against worth; None where no run has both a worth and at least a lower limit of cost."""
    runs = [
        _Run(one.run.day, one.run.name, cost, one.worth, _least(cost))
        for one in figures.runs.values()
        if not one.run.planned
        for cost in (cost_taken_over(one),)
    ]
    drawn = [one for one in runs if one.can_be_drawn]
    if not drawn:
        return None
    rest = len(runs) - len(drawn)
    are = "is" if rest == 1 else "are"
    left_out = (
        f"{plural(rest, 'run')} {are} not drawn: nothing made there has a known worth, or "
        "nothing is known of the cost."
    )
    return chart_view(
        Chart(
            name="cost-and-worth",
            title=TITLE,
            sentence=_sentence(drawn),
            notes=joined((*NOTES, left_out if rest else None)),
            panels=(_panel(drawn, here, currency),),
            headings=HEADINGS,
            table=tuple(_row(one, here) for one in reversed(runs)),
        )
    )


def _least(cost: Figure) -> float:
    return cost.value.value if cost.value is not None else cost.low or 0.0


def _panel(runs: Sequence[_Run], here: Here, currency: str) -> Panel:
    unit = f", {currency}" if currency else ""
    points = [_point(one, here) for one in runs]
    across = number_axis(f"cost{unit}", [one.x + one.ux for one in points])
    up = number_axis(f"worth{unit}", [one.y + one.uy for one in points])
    end = min(across.high, up.high)
    marks: list[Series | Reaches] = []
    for pays, look, name in ((True, MORE, "worth more"), (False, LESS, "worth less")):
        own = [one for one in runs if one.pays is pays]
        marks.append(Reaches(f"{name}, cost at least", look, tuple(_arrows(own, across))))
        for known in (True, False):
            found = tuple(_point(one, here) for one in own if one.cost.known is known)
            told = name if known else f"{name}, cost at least"
            marks.append(Series(told, look, (found,), hollow=not known))
    shown = tuple(one for one in marks if (one.points if isinstance(one, Series) else one.reaches))
    rule = Rule((0.0, end), (0.0, end), "worth = cost")
    return Panel(f"worth{unit}", across, up, shown, rules=(rule,), tall=True)


def _arrows(runs: Iterable[_Run], across: Axis) -> list[Reach]:
    """From the least cost to the most; a short arrow where there is no most."""
    return [
        Reach(
            at=one.worth.value.value,
            low=one.least,
            high=one.cost.high,
            words=figure_words(one.cost),
            stub=min(across.high, one.least + (across.high - across.low) * STUB),
        )
        for one in runs
        if one.worth.value is not None and not one.cost.known
    ]


def _point(one: _Run, here: Here) -> Point:
    worth = one.worth.value
    assert worth is not None
    doubt = one.cost.value.u if one.cost.value is not None else 0.0
    cost = figure_words(one.cost)
    words = f"{here.run(one.name).text}: cost {cost}, worth {figure_words(one.worth)}"
    return Point(one.least, worth.value, words, ux=doubt, uy=worth.u)


def _row(one: _Run, here: Here) -> tuple[Cell, ...]:
    return (
        Cell(day_text(one.day)),
        link_cell(here.run(one.name)),
        number_cell(one.cost),
        number_cell(one.worth),
    )


def _sentence(runs: Sequence[_Run]) -> str:
    """How many runs were worth more than they cost, and of how many that is not known."""
    more = sum(one.pays and one.cost.known for one in runs)
    less = sum(not one.pays for one in runs)
    open_ended = len(runs) - more - less
    words = (
        f"Of {plural(len(runs), 'run')} with a product of known worth {more} made what is worth "
        f"more than it cost, {less} what is worth less."
    )
    if not open_ended:
        return words
    return (
        f"{words} Of {open_ended} only the least of the cost is known, and the worth is above it."
    )
