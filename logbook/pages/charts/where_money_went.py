"""Where the money of a book came in, and where it stands: both sides to one scale, one sum."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from logbook.calculation.results import BookAccount, BookLine
from logbook.pages.charts.plain import Axis, Bar, Bars, Cell, Chart, Panel, Reach, Reaches, Row
from logbook.pages.charts.scales import number_axis, row_axis
from logbook.pages.charts.view import ChartView, chart_view, joined
from logbook.pages.cost_view import COST_WORDS
from logbook.pages.metal_marks import METAL_MARKS
from logbook.pages.money_account import CAME_IN, STANDS
from logbook.pages.rounding import rounded
from logbook.pages.wording import listed, sentence

TITLE = "Where the money went"
LOOK = METAL_MARKS["silver"]
STUB = 0.05  # of the axis: an arrow where only the least is known
NOTES = (
    "Filled: where it came in. Hollow: where it stands. Both sides have one scale and one sum.",
    "The fine line at the end of a bar: one standard uncertainty each way.",
)
AT_LEAST = "An arrow: at least so much, because some of it is not known."
HEADINGS = ("side", "what", "amount")


def where_money_went_chart(account: BookAccount | None, currency: str) -> ChartView | None:
    """The two sides of the account; None where no money was counted."""
    if account is None:
        return None
    sides = {CAME_IN: _lines(account.came_in), STANDS: _lines(account.stands)}
    lines = [line for side in sides.values() for line in side]
    if not lines:
        return None
    unit = currency or "in the book's currency"
    across = number_axis(unit, [_amount(line) + _doubt(line) for line in lines])
    open_ended = any(not line.figure.known for line in lines)
    return chart_view(
        Chart(
            name="where-money-went",
            title=TITLE,
            sentence=" ".join(_told(name, side, currency) for name, side in sides.items() if side),
            notes=joined((*NOTES, AT_LEAST if open_ended else None)),
            panels=tuple(
                _panel(name, side, across, currency, hollow=name == STANDS)
                for name, side in sides.items()
                if side
            ),
            headings=HEADINGS,
            table=tuple(
                (Cell(name), Cell(_name(line)), Cell(_words(line, currency), number=True))
                for name, side in sides.items()
                for line in side
            ),
        )
    )


def _lines(lines: Sequence[BookLine]) -> list[BookLine]:
    return [line for line in lines if line.cents]


def _amount(line: BookLine) -> float:
    return line.cents / 100


def _doubt(line: BookLine) -> float:
    return line.figure.value.u if line.figure.value is not None else 0.0


def _name(line: BookLine) -> str:
    return COST_WORDS.get(line.name, line.name)


def _words(line: BookLine, currency: str) -> str:
    text = rounded(_amount(line), 0.0, currency).text
    return text if line.figure.known else f"at least {text}"


def _panel(
    name: str, lines: Sequence[BookLine], across: Axis, currency: str, *, hollow: bool
) -> Panel:
    bars = tuple(
        Bar(float(row), 0.0, _amount(line), _words(line, currency), _doubt(line))
        for row, line in enumerate(lines)
    )
    arrows = tuple(_arrows(lines, across, currency))
    marks: list[Bars | Reaches] = [Bars(name, LOOK, bars, hollow=hollow)]
    marks += [Reaches(f"{name}, at least", LOOK, arrows)] if arrows else []
    rows = tuple(Row(_name(line), _words(line, currency)) for line in lines)
    return Panel(name, across, row_axis(len(rows)), tuple(marks), rows)


def _arrows(lines: Sequence[BookLine], across: Axis, currency: str) -> Iterator[Reach]:
    for row, line in enumerate(lines):
        if not line.figure.known:
            start = _amount(line)
            stub = min(across.high, start + (across.high - across.low) * STUB)
            yield Reach(float(row), start, None, _words(line, currency), stub)


def _told(name: str, lines: Sequence[BookLine], currency: str) -> str:
    """A side in words, the largest first."""
    ordered = sorted(lines, key=lambda line: -abs(line.cents))
    return sentence(f"{name}: {listed([f'{_name(o)} {_words(o, currency)}' for o in ordered])}")
