"""By which way a run came to its metal: its working stages, and what was put into each.

Sorting, drying, melting and the like are left out, and so are water, papers and fluxes: they
go with every way. Two runs with one route used the same reagents in the same order, not the
same amounts.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from logbook.calculation.feed import is_feed
from logbook.calculation.results import RunFigures
from logbook.model.run import Stage
from logbook.reference import metal_words, reagent_words, reagents

WORKING = (
    *("incinerate", "leach", "strip", "dissolve", "drop", "cement", "convert"),
    *("electrolyse", "cupel", "inquart", "part"),
)
BESIDE = frozenset({"water", "flux", "cellulose"})  # classes of supplies that go with every way


def route_of(figures: RunFigures) -> str:
    """The route of a run in words; empty where it has no working stage."""
    steps = [
        _step(kind, place, figures)
        for place, stage in enumerate(figures.run.stages)
        if (kind := _kind(stage))
    ]
    return ", ".join(step for step, _ in groupby(steps))


def _kind(stage: Stage) -> str:
    if stage.trial:
        return ""
    return next((kind for kind in stage.kinds if kind in WORKING), "")


def _step(kind: str, place: int, figures: RunFigures) -> str:
    with_ = sorted(dict.fromkeys(_put_in(place, figures)))
    return f"{kind} with {_listed(with_)}" if with_ else kind


def _put_in(place: int, figures: RunFigures) -> Iterator[str]:
    """What was put into a stage: reagents that do something there, and metals."""
    for use in figures.reagents:
        if use.stage.index == place and (name := _telling(use.reagent)):
            yield name
    for thing in figures.things_in:
        used = thing.used_by
        here = used is not None and used.run == figures.run.name and used.index == place
        if here and not is_feed(figures.run, thing) and (name := _telling(thing.what)):
            yield name


def _telling(words: str) -> str:
    """The name of a reagent or metal that tells ways apart; empty for what goes with all.

    >>> _telling("copper bar"), _telling("nitric acid"), _telling("distilled water")
    ('copper', 'nitric acid', '')
    >>> _telling("borax"), _telling("filter paper")
    ('', '')
    """
    plain = words.lower()
    name = reagent_words().get(plain)
    if name is None:
        return _metal(plain)
    classes = reagents()[name].classes
    if not classes or BESIDE & set(classes):
        return ""
    return _metal(name) or name if "metal" in classes else name


def _metal(words: str) -> str:
    known = metal_words()
    return next((known[word] for word in words.split() if word in known), "")


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
