"""The metal flow of the whole book: its runs as stations, and what went from one to another.

A jar into which several things were poured, and which a later run took or which stands on the
shelf, is a station of its own: what it holds may be known where its parts are not. A lot that
was drawn from is told as its draws. A large book is shown by months or years.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.results import BookFigures, Fate, Thing
from logbook.pages.addresses import Here
from logbook.pages.flow import (
    End,
    Flow,
    Missing,
    Station,
    Stream,
    compact,
    joined,
    merged,
)
from logbook.pages.gap_view import gap_words, is_surplus, twice_read
from logbook.pages.metal_flow import end_of, stream
from logbook.pages.rounding import plural
from logbook.pages.wording import listed, period_text

MOST_STATIONS = 20
SMALL = 0.03  # of the largest stream: what leaves a station and is less is taken together
NO_DATE = "without a date"


@dataclass(frozen=True, slots=True)
class BookFlow:
    """A metal's flow through a book, in full and as it is drawn."""

    full: Flow
    drawn: Flow
    unknown: int  # stations of which no content is known, and which are not drawn


@dataclass(frozen=True, slots=True)
class Ways:
    """How the things of a book hang together, sorted once for all metals.

    `jars` are the keys of the things that are stations; `places` gives each run and jar its
    place in time.
    """

    figures: BookFigures
    by_key: Mapping[str, Thing]
    drawn: frozenset[str]
    pool_of: Mapping[str, Thing]
    jars: frozenset[str]
    places: Mapping[str, int]
    days: tuple[date | None, ...]

    def source(self, thing: Thing) -> int | None:
        """The station that a thing comes from."""
        top = thing
        while top.part_of in self.by_key and top.key not in self.jars:
            top = self.by_key[top.part_of]
        if top.key in self.jars:
            return self.places[_jar(top.key)]
        return None if top.made_by is None else self.places.get(top.made_by.run)

    def target(self, thing: Thing) -> int | None:
        """The station that a thing goes to."""
        if thing.used_by is not None:
            return self.places.get(thing.used_by.run)
        pool = self.pool_of.get(thing.key)
        return self.places[_jar(pool.key)] if pool is not None and pool.key in self.jars else None

    def moves(self) -> Iterator[Thing]:
        """The things that are streams: no lot beside its draws, no waste beside its parts."""
        for thing in self.figures.things:
            container = bool(thing.pooled_from) and thing.key not in self.jars
            if thing.key not in self.drawn and not container:
                yield thing


def ways_of(figures: BookFigures) -> Ways:
    """Sort the things of a book by what joins them."""
    by_key = {thing.key: thing for thing in figures.things}
    drawn = frozenset(thing.part_of for thing in figures.things if thing.part_of)
    pool_of = {key: thing for thing in figures.things for key in thing.pooled_from}
    jars = {
        thing.key: thing
        for thing in figures.things
        if thing.pooled_from and (thing.fate is not Fate.WASTE or thing.key in drawn)
    }
    when = [(run.day, 0, run.name) for run in (one.run for one in figures.runs.values())]
    when += [(_last_day(jar, by_key), 1, _jar(key)) for key, jar in jars.items()]
    when.sort(key=lambda one: (one[0] or date.max, one[1], one[2]))
    places = {name: place for place, (_, _, name) in enumerate(when)}
    days = tuple(day for day, _, _ in when)
    return Ways(figures, by_key, drawn, pool_of, frozenset(jars), places, days)


def _jar(key: str) -> str:
    """The name of a jar among those of runs, which never begin with a bracket."""
    return f"[{key}]"


def _last_day(jar: Thing, by_key: Mapping[str, Thing]) -> date | None:
    """The day on which something was last poured into a jar."""
    poured = [by_key[key].day for key in jar.pooled_from if key in by_key]
    days = [day for day in (jar.day, *poured) if day is not None]
    return max(days, default=None)


def book_flow(ways: Ways, metal: str, here: Here) -> BookFlow:
    """One metal's way through a book; a book of many runs is drawn by months, or by years."""
    full, days = _full(ways, metal, here)
    seen = _seen(full)
    days = [day for place, day in enumerate(days) if place in seen]
    told = drawn = _only(full, seen)
    for period in (_month, _year, _decade):
        if len(drawn.stations) > MOST_STATIONS:
            drawn = _by_period(told, days, period)
    shown = replace(drawn, streams=tuple(_small_joined(drawn.streams)))
    return BookFlow(full, shown, len(full.stations) - len(seen))


def _seen(flow: Flow) -> set[int]:
    """The stations at which some content is known, or a gap stands."""
    seen = {gap.station for gap in flow.gaps}
    for one in flow.streams:
        if one.grams is not None:
            seen.update(place for place in (one.source, one.target) if place is not None)
    return seen


def _only(flow: Flow, seen: set[int]) -> Flow:
    """A flow without the stations that are not seen, and what touches them."""
    streams = [
        one
        for one in flow.streams
        if all(place is None or place in seen for place in (one.source, one.target))
    ]
    return compact(replace(flow, streams=tuple(streams)))


def _full(ways: Ways, metal: str, here: Here) -> tuple[Flow, list[date | None]]:
    """The flow through all runs and jars that the metal touches, and the day of each."""
    streams = []
    for thing in ways.moves():
        source, target = ways.source(thing), ways.target(thing)
        if metal not in thing.contents or (source is None and target is None):
            continue
        if source != target:
            end = _end(thing, source, target, ways)
            streams.append(stream(thing, metal, source, target, end, here))
    flow = Flow(tuple(_stations(ways, here)), tuple(streams), tuple(_missing(ways, metal)))
    used = {place for one in streams for place in (one.source, one.target) if place is not None}
    used.update(gap.station for gap in flow.gaps)
    return compact(flow), [ways.days[place] for place in sorted(used)]


def _end(thing: Thing, source: int | None, target: int | None, ways: Ways) -> End:
    if source is None:
        return End.OUTSIDE
    if target is not None:
        return End.INNER
    return End.WASTE if thing.key in ways.pool_of else end_of(thing)


def _stations(ways: Ways, here: Here) -> Iterator[Station]:
    for name in ways.places:
        if name in ways.figures.runs:
            run = here.run(name)
            yield Station(run.text, run.href)
        else:
            jar = ways.by_key[name[1:-1]]
            href = here.label(jar.label).href if jar.label else ""
            yield Station(f"jar [{jar.label}]" if jar.label else jar.what, href)


def _missing(ways: Ways, metal: str) -> Iterator[Missing]:
    """Each gap once, at the last run that it touches, or at the one that made what was read."""
    for gap in ways.figures.gaps:
        places = [ways.places[run] for run in gap.runs if run in ways.places]
        if gap.metal == metal and places:
            twice = bool(twice_read(gap))  # of a thing that the first of the runs made
            place = min(places) if twice else max(places)
            yield Missing(place, gap.missing, gap_words(gap), is_surplus(gap) and not twice)


def _month(day: date) -> str:
    return f"{day.year:04d}-{day.month:02d}"


def _year(day: date) -> str:
    return f"{day.year:04d}"


def _decade(day: date) -> str:
    return f"{day.year // 10}0s"


def _by_period(flow: Flow, days: Sequence[date | None], period: Callable[[date], str]) -> Flow:
    """The same flow with one station for each period; what stays within it is not shown."""
    names = [NO_DATE if day is None else period(day) for day in days]
    order = {name: place for place, name in enumerate(dict.fromkeys(names))}
    stations = [_period_station(name, names.count(name)) for name in order]
    return compact(merged(flow, lambda place: order[names[place]], stations))


def _period_station(name: str, count: int) -> Station:
    title = name if name == NO_DATE or name.endswith("s") else period_text(name)
    return Station(title, note=plural(count, "run or jar", "runs and jars"))


def _small_joined(streams: Sequence[Stream]) -> Iterator[Stream]:
    """The streams, with the small ones that leave each station taken together."""
    most = max((one.grams or 0.0 for one in streams), default=0.0)
    small: dict[int, list[Stream]] = {}
    for one in streams:
        leaves = one.target is None and one.source is not None
        if leaves and one.grams is not None and one.grams < SMALL * most:
            small.setdefault(one.source or 0, []).append(one)
        else:
            yield one
    for found in small.values():
        if len(found) == 1:
            yield found[0]
            continue
        ends = listed([end.value for end in dict.fromkeys(one.end for one in found)])
        count = plural(sum(one.count for one in found), "thing")
        yield replace(joined(found, f"{count}, {ends}"), end=End.SMALL)
