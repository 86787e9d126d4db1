"""Method against method: how far figures of runs by one route differ from those by another.

What is compared is what happened, with different scrap on different days: a difference has no
reason in it. Nothing here calls a method better.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from logbook.calculation.across.intervals import interval
from logbook.calculation.across.kinds import Kinds
from logbook.calculation.across.measures import MEASURES, RECOVERY, SO_FAR, measures_of
from logbook.calculation.across.routes import route_of
from logbook.calculation.figure import Figure
from logbook.calculation.plans.likeness import spread
from logbook.calculation.results import RunFigures
from logbook.calculation.results.across import MethodDifference, MethodFigures
from logbook.model.amount import Uncertain, combined
from logbook.model.book import ScrapKind

Group = dict[str, list[Figure]]  # the figures of the runs of one method, by measure


def method_figures(
    known: Sequence[ScrapKind], runs: Mapping[str, RunFigures]
) -> tuple[tuple[MethodFigures, ...], tuple[MethodDifference, ...]]:
    """The methods of each metal, most runs first, and how far each two of them differ."""
    kinds = Kinds(known)
    grouped: dict[tuple[str, str], list[RunFigures]] = {}
    for figures in runs.values():
        if figures.run.planned or not (route := route_of(figures)):
            continue
        for metal in figures.run.metals:
            if any(one.metal == metal for one in figures.balances):
                grouped.setdefault((metal, route), []).append(figures)
    order = sorted(grouped, key=lambda key: (key[0], -len(grouped[key]), key[1]))
    measured = {key: _measures(key[0], grouped[key]) for key in order}
    methods = tuple(
        MethodFigures(
            route,
            metal,
            tuple(one.run.name for one in grouped[metal, route]),
            tuple(dict.fromkeys(k for one in grouped[metal, route] for k in kinds.of_run(one))),
            tuple(
                (name, spread(name, found[0].unit, found, len(found)))
                for name, found in measured[metal, route].items()
            ),
        )
        for metal, route in order
    )
    return methods, tuple(_differences(measured))


def _measures(metal: str, runs: Sequence[RunFigures]) -> Group:
    group: Group = {name: [] for name in MEASURES}
    for figures in runs:
        balance = next(one for one in figures.balances if one.metal == metal)
        for name, figure in measures_of(figures, balance).items():
            group[name].append(figure)
    return group


def _differences(measured: Mapping[tuple[str, str], Group]) -> Iterator[MethodDifference]:
    for (metal, one), (other_metal, other) in combinations(measured, 2):
        if metal != other_metal:
            continue
        for name in MEASURES:
            figures = measured[metal, one][name], measured[metal, other][name]
            if _same_as_in_run(name, (measured[metal, one], measured[metal, other])):
                continue
            if all(any(figure.known for figure in of) for of in figures):
                yield difference_of(metal, name, (one, other), figures)


def _same_as_in_run(measure: str, groups: Sequence[Group]) -> bool:
    """Whether a recovery so far says nothing new: no later run made anything of what was left."""
    return measure == SO_FAR and all(
        so_far is in_run
        for group in groups
        for so_far, in_run in zip(group[SO_FAR], group[RECOVERY], strict=True)
    )


def difference_of(
    metal: str,
    measure: str,
    routes: tuple[str, str],
    figures: tuple[Sequence[Figure], Sequence[Figure]],
) -> MethodDifference:
    """The mean of one method less that of another. See `interval` for how wide it is.

    The doubt that the readings give counts errors that both means share once, with their sign.
    Both sides need a figure that is known; raises `ValueError` otherwise.
    """
    one, other = ([figure.value for figure in of if figure.value is not None] for of in figures)
    terms = [(1.0 / len(one), value) for value in one]
    terms += [(-1.0 / len(other), value) for value in other]
    by_readings = combined(terms)
    found = interval([v.value for v in one], [v.value for v in other], by_readings.u)
    value = Uncertain(found.difference, by_readings.errors)
    unit = figures[0][0].unit
    return MethodDifference(
        metal=metal,
        measure=measure,
        one=routes[0],
        other=routes[1],
        counts=(len(one), len(other)),
        value=Figure(f"difference of {measure}", unit, value, "mean of one − mean of the other"),
        low=found.difference - found.half,
        high=found.difference + found.half,
        basis=found.basis,
        degrees=found.degrees,
    )
