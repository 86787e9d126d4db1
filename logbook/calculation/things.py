"""Things as they are handed on: each with its weight, its contents and its place in the book.

What a run took in and gave out is told here, for balances that are drawn around one run.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from logbook.calculation.book_balance import BookBalance, Measured, balance_book
from logbook.calculation.causes import readings_of
from logbook.calculation.contents import Contents
from logbook.calculation.figure import Figure
from logbook.calculation.holdings import Holding
from logbook.calculation.joint import separated
from logbook.calculation.lineage import Lineage
from logbook.calculation.products import metals_named
from logbook.calculation.results import Role, StageKey, Thing
from logbook.calculation.schedule import distinct_runs
from logbook.calculation.weights import Weights, in_dependency
from logbook.model.amount import Dimension
from logbook.model.book import Book
from logbook.model.kept import Kept


@dataclass(frozen=True, slots=True)
class Stock:
    """The things of a book, and for each run what crossed its bounds."""

    things: tuple[Thing, ...]  # in the order they came to be
    by_origin: tuple[Thing, ...]  # each after what it came from
    entering: Mapping[str, tuple[Thing, ...]]
    leaving: Mapping[str, tuple[Thing, ...]]
    metals: Mapping[str, tuple[str, ...]]  # each run's own, then others that were stated
    balance: BookBalance


def take_stock(book: Book, lineage: Lineage, kept: Kept | None = None) -> Stock:
    """Weigh every thing of a book and tell what each run took in and gave out."""
    holdings = lineage.holdings
    metals = _metals_of_runs(book, holdings)
    aims = {run.name: frozenset(run.metals) for run in distinct_runs(book)}
    weights = Weights()
    contents = Contents(weights, aims, _got(holdings))
    order = list(in_dependency(holdings))
    spoken = _metals_spoken_of(order, metals)
    readings = readings_of(holdings, lineage.days, book)
    jointly = separated(holdings, book, contents, weights)
    measured = Measured(holdings, metals, contents, weights, spoken, readings, jointly)
    balance = balance_book(measured, kept)
    made = {id(held): _thing(held, weights, balance, spoken[id(held)]) for held in order}
    entering: dict[str, list[Thing]] = {run: [] for run in metals}
    leaving: dict[str, list[Thing]] = {run: [] for run in metals}
    for held in holdings:
        maker, user = _run(held.made_by), _run(held.used_by)
        if user and user != maker:
            entering[user].append(made[id(held)])
        if maker and user != maker and not _told_elsewhere(held, maker):
            leaving[maker].append(made[id(held)])
    return Stock(
        tuple(made[id(held)] for held in holdings),
        tuple(made.values()),
        {run: tuple(things) for run, things in entering.items()},
        {run: tuple(things) for run, things in leaving.items()},
        metals,
        balance,
    )


def _run(stage: StageKey | None) -> str:
    return stage.run if stage is not None else ""


def _told_elsewhere(held: Holding, maker: str) -> bool:
    """Whether a thing leaves its run as its draws, or within a jar of the same run."""
    return bool(held.draws) or (held.pool is not None and _run(held.pool.made_by) == maker)


def _got(holdings: Iterable[Holding]) -> dict[StageKey, list[Holding]]:
    got: dict[StageKey, list[Holding]] = {}
    for held in holdings:
        first = held.entries[0] if held.entries else None
        if held.made_by is not None and first is not None and first.action == "got":
            got.setdefault(held.made_by, []).append(held)
    return got


def _metals_of_runs(book: Book, holdings: Iterable[Holding]) -> dict[str, tuple[str, ...]]:
    """Each run's metals: those it is after, then any other that its things are said to hold.

    What a thing holds counts for the run that made it only where that run's own log says
    so: a trace of gold found in a bar in autumn is no question to the run of spring.
    """
    runs = distinct_runs(book)
    log_of = {id(entry): run.name for run in runs for entry in run.entries}
    metals = {run.name: dict.fromkeys(run.metals) for run in runs}
    for held in holdings:
        maker, user = _run(held.made_by), _run(held.used_by)
        for one in sorted(held.said, key=lambda one: one.composition.metal):
            if maker and log_of.get(id(one.entry)) == maker:
                metals[maker].setdefault(one.composition.metal)
            if user:
                metals[user].setdefault(one.composition.metal)
    return {run: tuple(found) for run, found in metals.items()}


def _metals_spoken_of(
    order: Sequence[Holding], runs: Mapping[str, tuple[str, ...]]
) -> dict[int, frozenset[str]]:
    """The metals of which each thing has a content, known or not.

    A draw speaks of all that its lot does, and a lot of all that its draws do: what is
    divided or poured together is balanced metal by metal.
    """
    spoken = {id(held): frozenset(_own_metals(held, runs)) for held in order}
    settled = False
    while not settled:
        before = dict(spoken)
        for held in (*order, *reversed(order)):
            for origin in _origins(held):
                spoken[id(held)] |= spoken[id(origin)]
                spoken[id(origin)] |= spoken[id(held)]
        settled = spoken == before
    return spoken


def _origins(held: Holding) -> list[Holding]:
    return held.poured if held.parent is None else [held.parent]


def _own_metals(held: Holding, runs: Mapping[str, tuple[str, ...]]) -> set[str]:
    metals = {statement.composition.metal for statement in held.said}
    for sample in held.samples:
        metals.update(statement.composition.metal for statement in sample.said)
    if held.role is Role.ADDITION:
        aims = runs.get(_run(held.used_by), ())
        return metals | (metals_named(held.what) & set(aims))
    for stage in (held.made_by, held.used_by):
        metals.update(runs.get(_run(stage), ()))
    return metals


def _thing(held: Holding, weights: Weights, balance: BookBalance, metals: frozenset[str]) -> Thing:
    look = held.look(Dimension.MASS)
    known = {metal: balance.contents[held.key, metal] for metal in sorted(metals)}
    parent = held.parent
    return Thing(
        key=held.key,
        label=held.label,
        what=held.what,
        role=held.role,
        fate=held.fate,
        made_by=held.made_by,
        used_by=held.used_by,
        gross=weights.of(held, Dimension.MASS),
        volume=weights.of(held, Dimension.VOLUME),
        contents={metal: content.best for metal, content in known.items()},
        day=held.day,
        part_of=parent.key if parent is not None else "",
        share=_share(held, weights),
        pooled_from=tuple(part.key for part in held.poured),
        entries=tuple(held.entries),
        moisture=look.entry.moisture if look is not None else "",
        held=known,
        handed_over=tuple(held.handed_over),
    )


def _share(held: Holding, weights: Weights) -> Figure | None:
    return weights.share(held) if held.parent is not None else None
