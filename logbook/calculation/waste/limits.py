"""What is known of a container beside the lines that laws have drawn. None is a permission."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Content, LimitLine, Thing
from logbook.calculation.sums import ratio, reasons
from logbook.calculation.waste.doubted import surely
from logbook.chemistry.ranges import Range
from logbook.chemistry.waste_data import waste_data
from logbook.reference import metals

REACHED, PERHAPS, NOT_REACHED, UNKNOWN = "reached", "may be reached", "not reached", "not known"


Found = tuple[Figure, Range]
"""What is shown of a concentration, and the limits that are held against a line."""


def compared(
    thing: Thing, contents: Mapping[str, Content], ph: Figure, may_hold: Sequence[str]
) -> tuple[LimitLine, ...]:
    """The pH, and each metal that is or may be in a liquid, beside the lines of waste law.

    Equation: c = m / V [g/L], m the content and V the volume. Source: the definition. A content
    is taken with the doubt of its readings, and without what may have been lost of it.
    """
    data = waste_data()
    names = {metal.symbol: metal.name for metal in metals().values()}
    spoken = {*contents, *may_hold}
    found = {name: _concentration(thing, contents.get(name), name) for name in spoken}
    return tuple(
        line
        for row in data["limit"]
        if row["of"] == "waste"
        for line in _lines(row, data["sources"], names, found, ph)
    )


def _lines(
    row: Mapping[str, Any],
    sources: Mapping[str, str],
    names: Mapping[str, str],
    found: Mapping[str, Found],
    ph: Figure,
) -> Iterator[LimitLine]:
    source = sources[row["source"]]
    if "measure" in row:
        line = f"{row['low']:g} and less, or {row['high']:g} and more"
        verdict = _outside(ph, row["low"], row["high"])
        yield LimitLine("pH", row["place"], row["of"], line, ph, verdict, source)
        return
    name = names.get(row["metal"], "")
    if name in found:
        line = f"{row['mg_per_litre']:g} mg/L and more"
        figure, limits = found[name]
        verdict = _beside(limits, row["mg_per_litre"] / 1000.0)
        yield LimitLine(name, row["place"], row["of"], line, figure, verdict, source)


def _concentration(thing: Thing, content: Content | None, metal: str) -> Found:
    """Grams of a metal in a litre of what is in a container."""
    name = f"{metal} in a litre"
    if content is None:
        why = f"how much {metal} is in it no line tells"
        return not_known(name, "g/L", why), Range(0.0, None)
    grams, litres = surely(content), within(thing.volume)
    limits = grams / litres if litres.high else Range(0.0, None)
    if content.best.known and thing.volume.known:
        figure = ratio(name, "g/L", content.best, thing.volume)
        return figure, limits if content.side or not figure.known else within(figure)
    return _only_limits(name, content, thing, limits), limits


def _only_limits(name: str, content: Content, thing: Thing, limits: Range) -> Figure:
    return Figure(
        name,
        "g/L",
        formula=f"{content.best.name} / {thing.volume.name}",
        terms=(content.best, thing.volume),
        why=reasons((content.best, thing.volume)),
        low=limits.low,
        high=limits.high,
    )


def _beside(found: Range, line: float) -> str:
    """Which side of a line a range lies on; at the line it is reached."""
    if found.low >= line:
        return REACHED
    if found.high is not None and found.high < line:
        return NOT_REACHED
    return UNKNOWN if found.high is None and not found.low else PERHAPS


def _outside(ph: Figure, low: float, high: float) -> str:
    """Whether a pH is at or beyond one of two lines."""
    if ph.value is not None:
        least = most = ph.value.value
    elif ph.low is not None and ph.high is not None:
        least, most = ph.low, ph.high
    else:
        return UNKNOWN
    if most <= low or least >= high:
        return REACHED
    return NOT_REACHED if low < least and most < high else PERHAPS
