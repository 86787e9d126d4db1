"""What a script needs to set chosen runs against each other: values, doubts, and shared errors.

Two figures differ where |a − b| > 2 u(a − b), with u²(a − b) = u²(a) + u²(b) − 2 u(a, b)
(JCGM 100:2008, 5.2.2, and k = 2). For the last term each figure names the errors that it
shares with the same figure of another run: an assay of one lot, a price, a moving average.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from logbook.calculation.across.measures import measures_of
from logbook.calculation.figure import Figure
from logbook.calculation.results import MetalBalance, RunFigures
from logbook.calculation.sums import ratio
from logbook.model.errors import flat
from logbook.pages.cost_view import hour_earned
from logbook.pages.figure_view import bare_figure
from logbook.pages.slugs import run_slug

LEAST = 0.01  # of a doubt: shared errors below a hundredth of it cannot be seen in a difference
Row = tuple[str, str, Figure, str]  # a name, the metal it is of, the figure, what it rests on


def compared_runs(runs: Sequence[RunFigures], *, money: bool = True) -> dict[str, Any]:
    """Every figure of every run in plain lists, ready to be written as JSON.

    `rows` are [name, metal, unit] in order; `runs` give by choice a list as long as `rows`:
    [text, value, doubt, basis, [[source, error], ...]], or 0 where the run has no such figure.
    """
    by_run = {run_slug(one.run.name): dict(_keyed(one, money=money)) for one in runs}
    keys = sorted({key for found in by_run.values() for key in found}, key=_order)
    cells: dict[str, list[Any]] = {choice: [] for choice in by_run}
    for key in keys:
        figures = {choice: found[key] for choice, found in by_run.items() if key in found}
        shared = _shared([figure for figure, _ in figures.values()])
        for choice, row in cells.items():
            row.append(_cell(*figures[choice], shared) if choice in figures else 0)
    return {"rows": [list(key) for key in keys], "runs": cells}


def _keyed(
    figures: RunFigures, *, money: bool
) -> Iterator[tuple[tuple[str, str, str], tuple[Figure, str]]]:
    for name, metal, figure, basis in _figures(figures):
        if money or name not in OF_MONEY:
            yield (name, metal, figure.unit), (figure, basis)


ORDER = (
    *("head", "head grade", "product", "recovery in the run", "recovery so far"),
    *("not accounted for", "feed", "mass yield", "hands-on", "hours per gram"),
    *("cost with scrap", "cost per gram", "worth", "net", "an hour earned"),
)

OF_MONEY = frozenset({"cost with scrap", "cost per gram", "worth", "net", "an hour earned"})


def _order(key: tuple[str, str, str]) -> tuple[bool, str, int]:
    name, metal, _ = key
    return metal == "", metal, ORDER.index(name)


def _figures(figures: RunFigures) -> Iterator[Row]:
    """The figures of a run: of each of its metals, then of the whole."""
    own = [one for one in figures.balances if one.metal in figures.run.metals]
    for balance in own:
        yield from _of_metal(figures, balance)
    yield "feed", "", figures.feed, ""
    yield "mass yield", "", figures.mass_yield, ""
    yield "hands-on", "", figures.hands_on, ""
    yield "cost with scrap", "", figures.cost_with_feed, ""
    yield "worth", "", figures.worth, ""
    yield "net", "", figures.net, ""
    yield "an hour earned", "", hour_earned(figures), ""


def _of_metal(figures: RunFigures, balance: MetalBalance) -> Iterator[Row]:
    metal, basis = balance.metal, balance.head_basis if balance.head.known else ""
    head = f"{basis} head" if basis else ""
    yield "head", metal, balance.head, head
    yield "head grade", metal, ratio("head grade", "g/g", balance.head, figures.feed), head
    yield "product", metal, balance.product, ""
    yield "recovery in the run", metal, balance.recovery, head
    yield "recovery so far", metal, balance.so_far or balance.recovery, head
    yield "not accounted for", metal, balance.unaccounted, ""
    measures = measures_of(figures, balance)
    for name in ("hours per gram", "cost per gram"):
        yield name, metal, replace(measures[name], name=name), ""


def _shared(figures: Sequence[Figure]) -> dict[Hashable, int]:
    """The sources of error that two figures or more rest on, each with a number."""
    met: Counter[Hashable] = Counter()
    for figure in figures:
        if figure.value is not None:
            met.update(list(flat(figure.value.errors)))
    return {source: at for at, source in enumerate(s for s, count in met.items() if count > 1)}


def _cell(figure: Figure, basis: str, shared: dict[Hashable, int]) -> list[Any]:
    text = bare_figure(figure).text
    if figure.value is None:
        return [text, None, None, basis, []]
    u = figure.value.u
    errors = [
        [shared[source], _short(error)]
        for source, error in flat(figure.value.errors).items()
        if source in shared and abs(error) > LEAST * u
    ]
    return [text, _short(figure.value.value), _short(u), basis, errors]


def _short(value: float) -> float:
    """A number without the digits that nobody needs for a difference."""
    return float(f"{value:.9g}")
