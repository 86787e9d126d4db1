"""Methods side by side: what runs by the same way gave, and how far two ways differ.

No method is called better. Where the interval for a difference holds zero, the page says that
these runs do not tell the two apart; where it does not, it says which was higher, and that the
runs differ in more than the method.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.across.intervals import FURTHER, READINGS
from logbook.calculation.across.measures import COST, MEASURES
from logbook.calculation.results import BookFigures
from logbook.calculation.results.across import MethodDifference, MethodFigures
from logbook.pages.addresses import METHODS, Here, Link
from logbook.pages.figure_view import bare_figure
from logbook.pages.frame import Frame, Site
from logbook.pages.like_view import SpreadView, spread_view
from logbook.pages.rounding import between, plural
from logbook.pages.wording import listed

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
NOT_APART = "the interval holds zero: these runs do not tell the two apart"


@dataclass(frozen=True, slots=True)
class MethodRow:
    """One method of one metal, under a letter of its own."""

    letter: str
    route: str
    runs: tuple[Link, ...]
    scrap: str
    measures: tuple[SpreadView, ...]


@dataclass(frozen=True, slots=True)
class DifferenceRow:
    """How far two methods differ in one measure. `apart` where the interval leaves out zero."""

    measure: str
    pair: str
    value: str
    interval: str
    runs: str
    words: str
    apart: bool


@dataclass(frozen=True, slots=True)
class MethodsOfMetal:
    """The methods of one metal. `single` are differences of one run against one."""

    metal: str
    rows: tuple[MethodRow, ...]
    differences: tuple[DifferenceRow, ...]
    single: tuple[DifferenceRow, ...]


@dataclass(frozen=True, slots=True)
class MethodsView:
    """The page of methods."""

    frame: Frame
    summary: str
    measures: tuple[str, ...]
    metals: tuple[MethodsOfMetal, ...]


def methods_view(figures: BookFigures, site: Site) -> MethodsView:
    """The methods of every metal of the book."""
    here = site.addresses.at(METHODS)
    across = figures.across
    metals = tuple(dict.fromkeys(one.metal for one in across.methods))
    found = tuple(_metal(metal, across.methods, across.differences, here) for metal in metals)
    routes = {one.route for one in across.methods}
    summary = f"{plural(len(routes), 'way')} to {listed(metals)}" if metals else "no run so far"
    measures = tuple(name for name in MEASURES if _told(name, here))
    return MethodsView(site.frame(here, "Methods"), summary, measures, found)


def _metal(
    metal: str,
    methods: Sequence[MethodFigures],
    differences: Sequence[MethodDifference],
    here: Here,
) -> MethodsOfMetal:
    own = [one for one in methods if one.metal == metal]
    letters = {one.route: _letter(place) for place, one in enumerate(own)}
    kinds = {one.route: frozenset(one.kinds) for one in own}
    rows = [
        (one, _difference(one, letters, kinds))
        for one in differences
        if one.metal == metal and _told(one.measure, here)
    ]
    return MethodsOfMetal(
        metal=metal,
        rows=tuple(_row(one, letters[one.route], here) for one in own),
        differences=tuple(row for one, row in rows if max(one.counts) > 1),
        single=tuple(row for one, row in rows if max(one.counts) == 1),
    )


def _told(measure: str, here: Here) -> bool:
    """Whether a measure is shown in this edition."""
    return here.money or measure != COST


def _letter(place: int) -> str:
    """A short name for a method, by its place.

    >>> _letter(0), _letter(25), _letter(26)
    ('A', 'Z', 'A2')
    """
    again, at = divmod(place, len(LETTERS))
    return LETTERS[at] + (str(again + 1) if again else "")


def _row(one: MethodFigures, letter: str, here: Here) -> MethodRow:
    return MethodRow(
        letter=letter,
        route=one.route,
        runs=tuple(here.run(name) for name in one.runs),
        scrap=", ".join(one.kinds) or "what earlier runs left",
        measures=tuple(
            spread_view(spread, here) for name, spread in one.measures if _told(name, here)
        ),
    )


def _difference(
    one: MethodDifference, letters: Mapping[str, str], kinds: Mapping[str, frozenset[str]]
) -> DifferenceRow:
    names = letters[one.one], letters[one.other]
    return DifferenceRow(
        measure=one.measure,
        pair=f"{names[0]} less {names[1]}",
        value=bare_figure(one.value).text,
        interval=between(one.low, one.high, one.value.unit),
        runs=f"{one.counts[0]} and {one.counts[1]}",
        words="; ".join(_words(one, names, other_scrap=kinds[one.one] != kinds[one.other])),
        apart=one.apart,
    )


def _words(one: MethodDifference, names: tuple[str, str], *, other_scrap: bool) -> Iterator[str]:
    if not one.apart:
        yield NOT_APART
        return
    higher, lower = names if one.low > 0.0 else names[::-1]
    yield f"higher by {higher} than by {lower} in these runs"
    if one.basis == FURTHER:
        alone = names[0] if one.counts[0] == 1 else names[1]
        yield f"the one run by {alone} is taken to scatter as the others do"
    if one.basis == READINGS and max(one.counts) == 1:
        yield "by more than their readings are in doubt; what other runs would show is not known"
    if other_scrap:
        yield "with different scrap"
