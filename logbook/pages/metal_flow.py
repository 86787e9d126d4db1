"""The metal flow of one run: its stages as stations, its things as streams of one metal.

The same things that its balance counts come in and go out; what was made and used within the
run goes from stage to stage. A gap stands at the last stage of the run that it touches.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.balance import way_out
from logbook.calculation.results import Gap, MetalBalance, RunFigures, StageKey, Thing
from logbook.pages.addresses import Here
from logbook.pages.content_view import content_of
from logbook.pages.figure_view import known_text
from logbook.pages.flow import (
    End,
    Flow,
    Missing,
    Station,
    Stream,
    compact,
    fewer_between,
    grouped,
    in_order,
    merged,
)
from logbook.pages.flow_layout import FlowDrawing, lay_out
from logbook.pages.gap_view import gap_words, is_surplus, missing_words
from logbook.pages.metal_marks import metal_mark
from logbook.pages.rounding import plural
from logbook.pages.thing_view import thing_words
from logbook.pages.wording import listed, sentence

MOST_ROWS = 6  # things that are drawn on one side of a stage
MOST_STATIONS = 16
MOST_BETWEEN = 16  # streams from station to station that are drawn
ENDS = {"product": End.PRODUCT, "shelf": End.SHELF, "waste": End.WASTE, "lost": End.LOST}


@dataclass(frozen=True, slots=True)
class FlowView:
    """A drawing of a metal's way, and the same in words."""

    name: str
    title: str
    desc: str
    colour: str
    drawing: FlowDrawing
    scale: str
    left_out: tuple[str, ...] = ()


def inner_things(things: Iterable[Thing]) -> Mapping[str, tuple[Thing, ...]]:
    """The things that each run made and used itself, in the order they came to be."""
    found: dict[str, list[Thing]] = {}
    for thing in things:
        if thing.made_by is None or thing.used_by is None:
            continue
        if thing.made_by.run == thing.used_by.run and thing.made_by != thing.used_by:
            found.setdefault(thing.made_by.run, []).append(thing)
    return {run: tuple(found[run]) for run in found}


def run_flow(
    figures: RunFigures,
    balance: MetalBalance,
    inner: Sequence[Thing],
    gaps: Sequence[Gap],
    here: Here,
) -> Flow:
    """One metal on its way through the stages of a run."""
    metal, stages = balance.metal, figures.run.stages
    stations = tuple(Station(stage.title or "before the first heading") for stage in stages)
    streams = [
        *(_into(thing, metal, here) for thing in figures.things_in if metal in thing.contents),
        *(_between(thing, metal, here) for thing in inner if metal in thing.contents),
        *(_out(thing, metal, here) for thing in figures.things_out if metal in thing.contents),
    ]
    missing = tuple(_missing(figures, balance, gaps))
    return compact(Flow(stations, tuple(streams), missing))


def stream(
    thing: Thing, metal: str, source: int | None, target: int | None, end: End, here: Here
) -> Stream:
    """What a thing holds of a metal, on its way."""
    content = content_of(thing, metal)
    href = here.label(thing.label).href if thing.label else ""
    return Stream(
        source=source,
        target=target,
        end=end,
        what=thing_words(thing),
        label=thing.label,
        content=content.best,
        raw=content.measured,
        standing=content.standing,
        href=href,
    )


def end_of(thing: Thing) -> End:
    """How a thing left the stage that made it."""
    return ENDS[way_out(thing)]


def _into(thing: Thing, metal: str, here: Here) -> Stream:
    end = End.OUTSIDE if thing.made_by is None else End.EARLIER
    return stream(thing, metal, None, _place(thing.used_by), end, here)


def _between(thing: Thing, metal: str, here: Here) -> Stream:
    return stream(thing, metal, _place(thing.made_by), _place(thing.used_by), End.INNER, here)


def _out(thing: Thing, metal: str, here: Here) -> Stream:
    return stream(thing, metal, _place(thing.made_by), None, end_of(thing), here)


def _place(key: StageKey | None) -> int | None:
    return None if key is None else key.index


def _missing(figures: RunFigures, balance: MetalBalance, gaps: Sequence[Gap]) -> Iterator[Missing]:
    """The gaps of a balance; the gap of the balance as a whole where none is told in full."""
    last = max(0, len(figures.run.stages) - 1)
    for gap in gaps:
        station, above = _gap_place(gap, figures)
        yield Missing(min(station, last), gap.missing, gap_words(gap), above)
    gap_alone = balance.unaccounted.value
    if not gaps and balance.closes == "no" and gap_alone is not None:
        words = f"gap: {known_text(balance.unaccounted)}", missing_words(gap_alone.value)
        yield Missing(last, balance.unaccounted, words, gap_alone.value < 0.0)


def _gap_place(gap: Gap, figures: RunFigures) -> tuple[int, bool]:
    """The stage of a run at which a gap is drawn, and whether above it."""
    run = figures.run.name
    stages = [key.index for key in gap.stages if key.run == run]
    if stages:
        return max(stages), is_surplus(gap)
    made = [thing.made_by for thing in figures.things_out if thing.key in gap.things]
    used = [thing.used_by for thing in figures.things_in if thing.key in gap.things]
    for keys, above in ((made, False), (used, True)):
        places = [key.index for key in keys if key is not None]
        if places:
            return max(places), above
    return len(figures.run.stages), is_surplus(gap)


def run_flow_view(flow: Flow, metal: str, name: str, here: Here) -> FlowView | None:
    """The drawing of a run's flow; None where there is nothing of the metal to draw."""
    if not flow.streams:
        return None
    small = flow
    if len(flow.stations) > MOST_STATIONS:
        small = compact(_in_chunks(flow))
    return flow_view(small, f"Where the {metal} went in this run", metal, name)


def flow_view(
    flow: Flow, title: str, metal: str, name: str, left_out: tuple[str, ...] = ()
) -> FlowView:
    """The drawing of a flow, with its sentences."""
    whole, lacking = fewer_between(in_order(flow), MOST_BETWEEN)
    drawn = replace(whole, streams=grouped(whole.streams, MOST_ROWS))
    fewer = (_fewer_in_words(lacking),) if lacking else ()
    return FlowView(
        name=name,
        title=title,
        desc=in_sentences(flow),
        colour=metal_mark(metal).colour,
        drawing=lay_out(drawn),
        scale=SCALE,
        left_out=(*fewer, *left_out),
    )


SCALE = (
    "Width shows grams, all in one scale; what would be too thin to see is drawn a little wider. "
    "A dashed outline is as wide as the most it may hold, or narrow where that says nothing."
)


def _in_chunks(flow: Flow) -> Flow:
    """A long run with stages taken together, so that the drawing can be read."""
    size = -(-len(flow.stations) // MOST_STATIONS)
    chunks = [flow.stations[at : at + size] for at in range(0, len(flow.stations), size)]
    titles = [
        Station(chunk[0].title if len(chunk) == 1 else f"{chunk[0].title} to {chunk[-1].title}")
        for chunk in chunks
    ]
    return merged(flow, lambda place: place // size, titles)


def in_sentences(flow: Flow) -> str:
    """Everything that a drawing shows, station by station, for those who do not see it."""
    told = [_station_in_words(flow, place) for place in range(len(flow.stations))]
    return " ".join(sentence(words) for words in told if words)


def _station_in_words(flow: Flow, place: int) -> str:
    into = [_told(one) for one in flow.streams if one.target == place and one.source is None]
    out = [_told(one) for one in flow.streams if one.source == place and one.target is None]
    onward = [
        f"to {flow.stations[one.target].title} {_told(one)}"
        for one in flow.streams
        if one.source == place and one.target is not None
    ]
    gaps = [", ".join(gap.words) for gap in flow.gaps if gap.station == place]
    parts = [
        *([f"in came {listed(into)}"] if into else []),
        *([f"out came {listed(out)}"] if out else []),
        *([f"on went {listed(onward)}"] if onward else []),
        *gaps,
    ]
    return f"{flow.stations[place].heading}: {'; '.join(parts)}" if parts else ""


def _told(one: Stream) -> str:
    kind = "" if one.end in (End.OUTSIDE, End.EARLIER, End.INNER) else f"{one.end.value}, "
    return f"{one.name} ({kind}{one.words})"


def _fewer_in_words(count: int) -> str:
    return f"{plural(count, 'smaller band')} from station to station left out; the table has them."
