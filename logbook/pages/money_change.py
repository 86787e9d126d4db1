"""What would change most what an hour earned, and how far it spreads: drawn, and as words.

Each input is changed alone; in the spread all of them are drawn at once. What could not be
worked out stands in the table with its reason, and is not drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from logbook.calculation.results import Earnings, Spread, Swing
from logbook.pages.cost_view import SwingRow
from logbook.pages.figure_view import bare_figure, known_text
from logbook.pages.money_drawing import MoneyDrawing, SwingBar, draw_spread, draw_swings
from logbook.pages.rounding import NO_BREAK, plural, rounded, tick

MOST_DRAWN = 10


@dataclass(frozen=True, slots=True)
class ChangeView:
    """Inputs one at a time, then all together; `spread_why` says why there is no spread."""

    rows: tuple[SwingRow, ...]
    drawing: MoneyDrawing | None
    desc: str
    spread: str
    spread_drawing: MoneyDrawing | None
    varied: tuple[str, ...]
    spread_why: str


def change_view(earnings: Earnings) -> ChangeView:
    """What would change most what an hour earned."""
    swings = widest_first(earnings.swings)
    spread, unit = earnings.spread, earnings.per_hour.unit
    return ChangeView(
        rows=tuple(_row(swing) for swing in swings),
        drawing=_drawing(earnings, swings),
        desc=_in_words(swings),
        spread=_sentence(spread, unit) if spread is not None else "",
        spread_drawing=_spread_drawing(spread, unit) if spread is not None else None,
        varied=spread.varied if spread is not None else (),
        spread_why=earnings.spread_why,
    )


def widest_first(swings: Sequence[Swing]) -> list[Swing]:
    """Swings by how far apart their ends are; those that are not known come last."""

    def width(swing: Swing) -> float:
        ends = _ends(swing)
        return -1.0 if ends is None else _width(ends)

    return sorted(swings, key=width, reverse=True)


def _ends(swing: Swing) -> tuple[float, float] | None:
    """What an hour would have earned at the lower and at the higher value; None if unknown."""
    if swing.low.value is None or swing.high.value is None:
        return None
    return swing.low.value.value, swing.high.value.value


def _width(ends: tuple[float, float]) -> float:
    return abs(ends[1] - ends[0])


def _row(swing: Swing) -> SwingRow:
    return SwingRow(
        what=swing.what,
        low_at=swing.low_at,
        low=bare_figure(swing.low),
        high_at=swing.high_at,
        high=bare_figure(swing.high),
        by=swing.by,
    )


def _drawing(earnings: Earnings, swings: Sequence[Swing]) -> MoneyDrawing | None:
    present = earnings.per_hour.value
    if present is None:
        return None
    words = f"as it is: {known_text(earnings.per_hour)}"
    return draw_swings(present.value, words, list(_bars(swings))[:MOST_DRAWN])


def _bars(swings: Sequence[Swing]) -> Iterator[SwingBar]:
    for swing in swings:
        ends = _ends(swing)
        if ends is None or not _width(ends):
            continue
        values = f"{swing.low_at} to {swing.high_at}" if swing.low_at and swing.high_at else ""
        low, high = (bare_figure(one).value for one in (swing.low, swing.high))
        yield SwingBar(swing.what, values, *ends, low, high)


def _in_words(swings: Sequence[Swing]) -> str:
    """The drawing for those who do not see it."""
    return " ".join(
        f"With the {swing.what} at {swing.low_at} an hour would have earned "
        f"{known_text(swing.low)}, at {swing.high_at} {known_text(swing.high)}."
        for swing in swings[:MOST_DRAWN]
        if _ends(swing) is not None
    )


def _quantiles(spread: Spread, unit: str) -> dict[int, str]:
    """The quantiles in words, to the digits that half the width of their spread allows."""
    doubt = (spread.quantiles[95] - spread.quantiles[5]) / 2
    return {at: rounded(value, doubt, unit).value for at, value in spread.quantiles.items()}


def _sentence(spread: Spread, unit: str) -> str:
    """How far what an hour earned spreads, with the number of draws and their seed."""
    at = {place: f"{value}{NO_BREAK}{unit}" for place, value in _quantiles(spread, unit).items()}
    draws = plural(spread.draws, "draw")
    return (
        f"In {draws} of all inputs at once (seed {spread.seed}), half gave between {at[25]} and "
        f"{at[75]}, and 90 of 100 between {at[5]} and {at[95]}; the middle one gave {at[50]}. "
        f"{_loss(spread.loss)}"
    )


def _loss(share: float) -> str:
    """In how many draws an hour cost money.

    >>> _loss(0.034), _loss(0.001), _loss(0.0)
    ('In 3 of 100 an hour cost money.', 'In fewer than 1 of 100 an hour cost money.', \
'In none of them an hour cost money.')
    """
    if not share:
        return "In none of them an hour cost money."
    if share == 1.0:
        return "In all of them an hour cost money."
    if share < 0.005:
        return "In fewer than 1 of 100 an hour cost money."
    if share > 0.995:
        return "In more than 99 of 100 an hour cost money."
    return f"In {tick(100 * share, 1.0)} of 100 an hour cost money."


def _spread_drawing(spread: Spread, unit: str) -> MoneyDrawing | None:
    words = _quantiles(spread, unit)
    return draw_spread(spread.quantiles, {**words, 50: f"{words[50]} {unit}"})
