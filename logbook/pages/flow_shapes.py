"""The outlines of a metal flow as paths of SVG: bands that turn a corner, lanes, torn edges.

Pure geometry on numbers in the units of the drawing; no metal and no words.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.pages.rounding import coordinate

TIP = 6.0  # how far the point of an arrow stands out
INNER_BEND = 4.0  # radius on the inside of a corner
TEETH = 3  # of a torn edge
TOOTH = 4.0


@dataclass(frozen=True, slots=True)
class Box:
    """A place in the drawing; y grows downward."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether two boxes share any area."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


def path(*steps: str | float) -> str:
    """The words of an SVG path, with each number as a coordinate.

    >>> path("M", 1.0, 2.25, "V", 3.0, "Z")
    'M1 2.2V3Z'
    """
    words = ""
    for step in steps:
        if isinstance(step, str):
            words += step
        else:
            words += (" " if words and words[-1].isdigit() else "") + coordinate(step)
    return words


def leaving(left: float, right: float, start: float, row: Box) -> str:
    """A band that comes down from `start` between left and right and turns right into a row.

    It ends in a point at the row's right side.
    """
    outer = min(right - left + INNER_BEND, row.bottom - start)
    inner = min(INNER_BEND, row.top - start)
    edge, middle = row.right - TIP, (row.top + row.bottom) / 2
    return path(
        *("M", left, start, "V", row.bottom - outer),
        *("Q", left, row.bottom, left + outer, row.bottom),
        *("H", edge, "L", row.right, middle, "L", edge, row.top),
        *("H", right + inner, "Q", right, row.top, right, row.top - inner, "V", start, "Z"),
    )


def entering(left: float, right: float, end: float, row: Box) -> str:
    """A band that comes out of a row from the right and turns down to `end`.

    It begins with a notch at the row's right side.
    """
    outer = min(right - left + INNER_BEND, end - row.top)
    inner = min(INNER_BEND, end - row.bottom)
    notch, middle = row.right - TIP, (row.top + row.bottom) / 2
    return path(
        *("M", row.right, row.top, "H", left + outer),
        *("Q", left, row.top, left, row.top + outer, "V", end, "H", right),
        *("V", row.bottom + inner, "Q", right, row.bottom, right + inner, row.bottom),
        *("H", row.right, "L", notch, middle, "Z"),
    )


def upright(box: Box) -> str:
    """A band straight down."""
    return path("M", box.left, box.top, "V", box.bottom, "H", box.right, "V", box.top, "Z")


def torn(box: Box, *, below: bool) -> str:
    """A stump with a torn edge at its lower side, or at its upper side.

    >>> torn(Box(0.0, 0.0, 6.0, 10.0), below=True)
    'M0 0V6L1 10L2 6L3 10L4 6L5 10L6 6V0Z'
    """
    whole, edge = (box.top, box.bottom) if below else (box.bottom, box.top)
    back = edge - TOOTH if below else edge + TOOTH
    step = (box.right - box.left) / (2 * TEETH)
    steps: list[str | float] = ["M", box.left, whole, "V", back]
    for tooth in range(2 * TEETH):
        steps += ["L", box.left + (tooth + 1) * step, edge if tooth % 2 == 0 else back]
    return path(*steps, "V", whole, "Z")


def pointing(start: tuple[float, float], corner: float, end: float) -> str:
    """A line from a place straight up or down to a height, then across to the words there."""
    return path("M", start[0], start[1], "V", corner, "H", end)
