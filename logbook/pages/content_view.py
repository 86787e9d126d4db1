"""How well the content of a thing is known, in the words that every page uses for it.

What the metal network found is told as it is. Where it says nothing of a thing, what the log
says of it stands alone. Nothing is worked out here.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Content, Standing, Thing
from logbook.pages.addresses import Here
from logbook.pages.figure_view import FigureView, bare_figure, figure_view, known_text
from logbook.pages.rounding import between, tick

NOT_MEASURED = "it was not measured itself"
STANDING_WORDS = {
    Standing.MEASURED: "measured",
    Standing.ADJUSTED: "adjusted",
    Standing.DEDUCED: "deduced",
    Standing.BOUNDED: "bounded",
    Standing.UNKNOWN: "unknown",
}
SIDE_WORDS = {
    "making": "any loss included",
    "use": "any later loss not included",
    "both": "checked",
}
TENTH = 0.1  # of a standard deviation: the last digit shown of an adjustment


@dataclass(frozen=True, slots=True)
class ContentView:
    """How much of one metal a thing holds, and how that is known, unless it was just measured."""

    metal: str
    content: FigureView
    how: str


def content_of(thing: Thing, metal: str) -> Content:
    """What is known of one metal in a thing, from the network or from its log alone."""
    held = thing.held.get(metal)
    if held is not None:
        return held
    best = thing.contents.get(metal) or not_known(metal, "g", f"no {metal} is spoken of")
    if best.known:
        return Content(best, best, Standing.MEASURED)
    standing = Standing.UNKNOWN if best.high is None else Standing.BOUNDED
    return Content(not_known(best.name, "g", NOT_MEASURED), best, standing)


def content_views(thing: Thing, here: Here, *, levels: int) -> tuple[ContentView, ...]:
    """Every metal that a thing holds, as a page shows it."""
    return tuple(_view(metal, content_of(thing, metal), here, levels) for metal in thing.contents)


def _view(metal: str, content: Content, here: Here, levels: int) -> ContentView:
    return ContentView(metal, figure_view(content.best, here, levels=levels), how_known(content))


def how_known(content: Content) -> str:
    """How a content is known beyond its reading, in one line; empty where it was just read.

    Where it has no value its limits or its reason stand beside it, and need no word.
    """
    told = content.best.known and content.standing is not Standing.MEASURED
    standing = standing_words(content) if told else ""
    parts = (standing, notes_of(content), share_words(content))
    return ", ".join(part for part in parts if part)


def standing_words(content: Content) -> str:
    """The standing in a word or two."""
    return STANDING_WORDS[content.standing]


def notes_of(content: Content) -> str:
    """What else there is to say of a content: from which side it is deduced, and the like."""
    return content.words or SIDE_WORDS.get(content.side, "")


def share_words(content: Content) -> str:
    """What a thing is given of a sum, and by which rule; empty where nothing was shared."""
    if content.allocated is None or content.allocated.value is None:
        return ""
    rule = f" by {content.share_rule}" if content.share_rule else ""
    return f"share of the sum{rule}: {known_text(content.allocated)}"


def adjustment_words(content: Content) -> str:
    """How far the best figure lies from the measured one, in standard deviations.

    >>> figure = not_known("silver", "g", "it was spilt")
    >>> adjustment_words(Content(figure, figure, Standing.ADJUSTED, adjustment=-0.4312))
    '−0.4'
    """
    return "" if content.adjustment is None else tick(content.adjustment, TENTH)


def amount_words(figure: Figure) -> str:
    r"""A figure, its limits where only they are known, or that it is not known.

    >>> amount_words(Figure("silver", "g", low=0.0, high=1.204))
    'at most 1.21\xa0g'
    """
    if figure.value is not None:
        return known_text(figure)
    return between(figure.low, figure.high, figure.unit) or "not known"


def measured_view(content: Content, here: Here) -> FigureView:
    """The content as it was read; without its working where nothing was."""
    if content.measured.value is None:
        return bare_figure(content.measured)
    return figure_view(content.measured, here, levels=1)
