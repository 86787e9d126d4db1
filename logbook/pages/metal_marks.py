"""How each metal is told apart in a drawing: by colour, by dash and by marker, all three.

The colours keep a contrast of 3 to 1 against the light and the dark page (WCAG 2.2, 1.4.11)
and stay apart for the common kinds of colour blindness; the dash and the marker tell metals
apart where there is no colour at all.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Look:
    """The look of one series. `dash` and `symbol` are plotly's words, `dashes` is SVG's."""

    colour: str
    dash: str
    dashes: str
    symbol: str
    outline: str  # an SVG path around 0,0


METAL_MARKS = {
    "gold": Look("#b87f18", "solid", "", "circle", "M-4.5,0a4.5,4.5 0 1,0 9,0a4.5,4.5 0 1,0 -9,0z"),
    "silver": Look("#5067f0", "dash", "8 5", "square", "M-4,-4h8v8h-8z"),
    "palladium": Look("#9972a1", "dashdot", "9 4 2 4", "diamond", "M0,-5.5L5.5,0L0,5.5L-5.5,0z"),
    "platinum": Look("#298a5e", "dot", "2 4", "triangle-up", "M0,-5.5L5.5,4.5H-5.5z"),
    "copper": Look("#9f5a2c", "longdash", "14 5", "triangle-down", "M0,5.5L5.5,-4.5H-5.5z"),
}
OTHER = Look("#868888", "longdashdot", "14 4 2 4", "cross", "M-5,-1.5h10v3h-10zM-1.5,-5h3v10h-3z")


def metal_mark(metal: str) -> Look:
    """The look of a metal; metals without one of their own share the last."""
    return METAL_MARKS.get(metal, OTHER)
