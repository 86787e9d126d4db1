"""A physical thing as a page shows it: what it is, where it came from, what it holds."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import Fate, Role, StageKey, Thing
from logbook.pages.addresses import Here, Link
from logbook.pages.content_view import ContentView, content_views
from logbook.pages.figure_view import FigureView, figure_view

ROLE_WORDS = {
    Role.FEED: "scrap that came in",
    Role.ADDITION: "a supply that holds metal",
    Role.CHARGE: "the charge",
    Role.SIDE: "side stream",
    Role.PRODUCT: "product",
    Role.SAMPLE: "sample",
    Role.LEFT: "left behind in the vessel",
    Role.LOSS: "loss",
    Role.WASTE: "waste",
}
UNNAMED = {Role.LOSS: "what was lost", Role.LEFT: "what was left behind"}
FATE_WORDS = {
    Fate.USED: "used",
    Fate.SHELF: "on the shelf",
    Fate.WASTE: "in waste",
    Fate.LOST: "lost",
    Fate.SOLD: "sold",
}


@dataclass(frozen=True, slots=True)
class ThingView:
    """One thing in one state. `label` is empty where it has none."""

    label: Link
    what: str
    role: str
    fate: str
    amounts: tuple[FigureView, ...]
    contents: tuple[ContentView, ...]


def thing_view(thing: Thing, here: Here, *, levels: int = 2) -> ThingView:
    """A thing with its weight, its volume and what it holds."""
    return ThingView(
        label=here.label(thing.label) if thing.label else Link(""),
        what=thing_words(thing),
        role=ROLE_WORDS[thing.role],
        fate=FATE_WORDS[thing.fate],
        amounts=tuple(figure_view(figure, here, levels=levels) for figure in amounts_of(thing)),
        contents=content_views(thing, here, levels=levels),
    )


def thing_words(thing: Thing) -> str:
    """What a thing is, with its moisture where it was not dry."""
    what = thing.what or UNNAMED.get(thing.role, "a thing without a name")
    return f"{what}, {thing.moisture}" if thing.moisture else what


def amounts_of(thing: Thing) -> tuple[Figure, ...]:
    """The weight and the volume of a thing, as far as known; its weight where neither is."""
    known = tuple(figure for figure in (thing.gross, thing.volume) if figure.known)
    return known or (thing.gross,)


def stage_of(key: StageKey | None, here: Here) -> Link | None:
    """The stage that made or used a thing, as a link to its heading; None for the outside."""
    return None if key is None else here.stage(key.run, key.index)
