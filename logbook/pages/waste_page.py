"""The waste page: the order of handling and the words of caution first, then every container.

It shows limits, and never says that anything may be treated, mixed or poured away.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.figure import Figure
from logbook.calculation.results import (
    BookFigures,
    Content,
    Discarded,
    LimitLine,
    WasteContainer,
    WasteStep,
)
from logbook.calculation.waste.steps import every_step
from logbook.chemistry.waste_data import waste_data
from logbook.pages.addresses import WASTE, Here, LineLink, Link
from logbook.pages.caution_view import CautionGroup, caution_group
from logbook.pages.content_view import ContentView, how_known
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.frame import Frame, Site
from logbook.pages.rounding import plural, tick
from logbook.pages.thing_view import stage_of
from logbook.pages.wording import day_text, listed, sentence
from logbook.reference import metals

VERDICTS = {
    "reached": "reached: it counts as hazardous there",
    "may be reached": "may be reached",
    "not reached": "not reached by what is known; it is waste all the same",
    "not known": "not known whether reached",
}
AS_IT_IS = "Do not acidify it, do not treat it, add nothing to it: hand it over as it is."
STATES = {"liquid": "a liquid", "solid": "solid, stored as salts, sludge or residue"}


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of the order, with its number on the page."""

    number: int
    anchor: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class HydroxideView:
    """Where one metal falls as hydroxide."""

    metal: str
    span: str
    least: str
    note: str
    source: str


@dataclass(frozen=True, slots=True)
class PouredView:
    """One thing that went in."""

    what: str
    day: str
    stage: Link | None
    volume: FigureView
    lines: tuple[LineLink, ...]


@dataclass(frozen=True, slots=True)
class BaseView:
    """What one base would come to, and the gas of it."""

    grams: FigureView
    gas: FigureView | None


@dataclass(frozen=True, slots=True)
class LineView:
    """A container beside one line of the law."""

    measure: str
    place: str
    line: str
    found: FigureView
    verdict: str
    source: str


@dataclass(frozen=True, slots=True)
class ContainerView:
    """One container, or one thing that was thrown away without any.

    `as_it_is` is what stands first where it must not be treated; no base is shown then. The
    words that follow cautions stand once, at the head of the page.
    """

    anchor: str
    label: Link
    what: str
    state: str
    where: str
    where_lines: tuple[LineLink, ...]
    as_it_is: str
    amounts: tuple[FigureView, ...]
    contents: tuple[ContentView, ...]
    may_hold: str
    acids: tuple[FigureView, ...]
    base: tuple[BaseView, ...]
    base_why: str
    heat: FigureView | None
    caustic: FigureView | None
    lines: tuple[LineView, ...]
    steps: tuple[StepView, ...]
    cautions: CautionGroup | None
    poured: tuple[PouredView, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WasteView:
    """The waste page."""

    frame: Frame
    summary: str
    deferral: str
    local: str
    steps: tuple[StepView, ...]
    hydroxides: tuple[HydroxideView, ...]
    standing: tuple[ContainerView, ...]
    gone: tuple[ContainerView, ...]


def waste_view(figures: BookFigures, site: Site) -> WasteView:
    """Every waste container of a book: those that stand, then those that have gone."""
    here = site.addresses.at(WASTE)
    numbered = [_step(place, step) for place, step in enumerate(every_step(), start=1)]
    views = [
        (one.stands, _container(place, one, numbered, here))
        for place, one in enumerate(figures.waste, start=1)
    ]
    standing = tuple(view for stands, view in views if stands)
    return WasteView(
        frame=site.frame(here, "Waste"),
        summary=_summary(figures.waste),
        deferral=DEFERRAL,
        local=waste_data()["meta"]["local"],
        steps=tuple(numbered),
        hydroxides=tuple(_hydroxides()),
        standing=standing,
        gone=tuple(view for stands, view in views if not stands),
    )


def _summary(waste: Sequence[WasteContainer]) -> str:
    if not waste:
        return "No line says that anything was discarded. That is not to say that nothing was."
    return f"{standing_words(waste)}."


def standing_words(waste: Sequence[WasteContainer]) -> str:
    """How much waste stands, in words."""
    standing = [one for one in waste if one.stands]
    labelled = [one for one in standing if one.label]
    loose = len(standing) - len(labelled)
    words = f"{plural(len(labelled), 'container')} of waste, as far as the logs tell"
    if loose:
        words += f", and {plural(loose, 'thing')} thrown away without one"
    return words


def _step(place: int, step: WasteStep) -> StepView:
    return StepView(place, f"step-{step.name}", step.text, _said(step.source, step.standing))


def _said(source: str, standing: str) -> str:
    """A source with its standing, unless it says that itself."""
    return source if source.lower() == standing else f"{source} ({standing})"


def _container(
    place: int, one: WasteContainer, numbered: Sequence[StepView], here: Here
) -> ContainerView:
    concerned = {f"step-{step.name}" for step in one.steps}
    solid = one.state != "liquid"
    return ContainerView(
        anchor=f"container-{place}",
        label=here.label(one.label) if one.label else Link(""),
        what=one.what or "waste",
        state=STATES[one.state],
        where=_where(one, here),
        where_lines=tuple(here.line(entry.span) for entry in one.gone_entries),
        as_it_is=AS_IT_IS if "step-as-it-is" in concerned else "",
        amounts=tuple(_shown(figure, here) for figure in _amounts(one, solid=solid)),
        contents=tuple(_content(metal, held, here) for metal, held in one.contents.items()),
        may_hold=listed(one.may_hold),
        acids=tuple(_shown(figure, here) for figure in one.acids),
        base=tuple(_base(need.grams, need.gas, here) for need in one.base),
        base_why=one.base[0].grams.why if one.base else "",
        heat=_shown(one.heat, here) if one.base else None,
        caustic=_shown(one.caustic, here) if one.caustic is not None else None,
        lines=tuple(_line(line, here) for line in one.limits),
        steps=tuple(step for step in numbered if step.anchor in concerned),
        cautions=caution_group(one.cautions, here),
        poured=tuple(_poured(thing, here) for thing in one.received),
        notes=one.notes,
    )


def _amounts(one: WasteContainer, *, solid: bool) -> tuple[Figure, ...]:
    known = tuple(figure for figure in (one.volume, one.gross) if figure.known)
    amounts = known or ((one.gross,) if solid else (one.volume,))
    return amounts if solid else (*amounts, one.ph)


def _where(one: WasteContainer, here: Here) -> str:
    if one.gone is not None:
        return sentence(f"left this book on {day_text(one.gone)}")
    stage = stage_of(one.taken_by, here)
    if stage is not None:
        return sentence(f"taken to be treated: {stage.text}")
    last = max((thing.day for thing in one.received if thing.day is not None), default=None)
    return sentence(f"last poured into on {day_text(last)}") if one.label else ""


def _shown(figure: Figure, here: Here) -> FigureView:
    return figure_view(figure, here, levels=1)


def _content(metal: str, content: Content, here: Here) -> ContentView:
    return ContentView(metal, _shown(content.best, here), how_known(content))


def _base(grams: Figure, gas: Figure, here: Here) -> BaseView:
    return BaseView(_shown(grams, here), None if gas.high == 0.0 else _shown(gas, here))


def _line(line: LimitLine, here: Here) -> LineView:
    return LineView(
        line.measure,
        line.place,
        line.line,
        _shown(line.found, here),
        VERDICTS[line.verdict],
        line.source,
    )


def _poured(thing: Discarded, here: Here) -> PouredView:
    return PouredView(
        what=thing.what or "waste",
        day=day_text(thing.day),
        stage=stage_of(thing.stage, here),
        volume=_shown(thing.volume, here),
        lines=tuple(here.line(entry.span) for entry in thing.entries[:1]),
    )


def _hydroxides() -> list[HydroxideView]:
    data = waste_data()
    names = {metal.symbol: metal.name for metal in metals().values()}
    return [_hydroxide(row, data["sources"], names) for row in data["hydroxide_ph"]]


def _hydroxide(
    row: Mapping[str, Any], sources: Mapping[str, str], names: Mapping[str, str]
) -> HydroxideView:
    named = [row["source"]] if isinstance(row["source"], str) else row["source"]
    low, high = row.get("low"), row.get("high")
    span = f"{_ph(low)} to {_ph(high)}" if high is not None else f"above about {_ph(low)}"
    return HydroxideView(
        metal=f"{names[row['metal']]}, {row['ion']}",
        span=span if low is not None else "",
        least=" or ".join(_ph(value) for value in row.get("least", ())),
        note=row.get("note", ""),
        source=_said("; ".join(sources[one] for one in named), row["standing"]),
    )


def _ph(value: float | None) -> str:
    return "" if value is None else tick(value, 0.1)
