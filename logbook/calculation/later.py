"""What later runs made of what a run left: a filter of March, burnt in September.

What a run took is followed back through jars and draws to the things first made, and what it
made of a metal is shared between those by what each held. Such a share follows the metal and
is no measurement: it changes no balance.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from graphlib import CycleError, TopologicalSorter

from logbook.calculation.balance import title_of
from logbook.calculation.figure import Figure
from logbook.calculation.origins import maker, origins_of
from logbook.calculation.results import MetalBalance, Role, RunFigures, Thing
from logbook.calculation.sums import add_up, notes_of, ratio, zero
from logbook.calculation.taken import InRun, Taken, Takings, taken_by_runs

LATER = "sum over what was left and later runs took, shared by content"


@dataclass(frozen=True, slots=True)
class Followed:
    """What every run made of what it took, with what was made later of the rest.

    `won` is that [g] for each run and metal that was taken; `later` what later runs made of
    what a run left.
    """

    takings: Takings
    won: Mapping[InRun, Figure]
    later: Mapping[InRun, Figure]

    def made_of(self, taken: Taken) -> Figure:
        """What a run, and those after it, made of one of the things that it took."""
        return shared(taken, self.won[taken.run, taken.metal], self.takings)


def shared(taken: Taken, won: Figure, takings: Takings) -> Figure:
    """The part of what a run made that one of the things it took gets.

    Equation: y = W_s c / H_s [g], with W_s what the run made and what is made of the rest
    later, c what the thing held and H_s what all held that was taken. Where nothing tells what
    one of them held, no other gets more than it held itself. Source: sharing by content is
    common practice, no source.
    """
    beside = takings.beside.get((taken.run, taken.metal), ())
    words = won.name if taken.alone else f"{won.name} × its content / content of all that was taken"
    value = None
    if won.value is not None:
        value = won.value if taken.alone else won.value * taken.share
        if beside and taken.grams is not None and taken.grams.value < value.value:
            value, words = taken.grams, f"{words}, no more than it held"
    low, high = (None if end is None else end * taken.share.value for end in (won.low, won.high))
    notes = [f"{one} has no share: nothing tells how much {taken.metal} it held" for one in beside]
    return Figure(
        f"made later of {title_of(taken.origin)}",
        "g",
        value,
        words,
        (won,),
        why=won.why,
        low=low,
        high=high,
        notes=tuple(dict.fromkeys((*notes_of([won]), *notes))),
    )


def follow(runs: Mapping[str, RunFigures], things: Iterable[Thing]) -> Followed:
    """Follow all that every run left into the runs that took it.

    Equations, all in grams: W_s = P_s + L_s is what run s and those after it made, and
    L_r = Σ W_s c_X / H_s over the things X that left run r other than as its product and that
    another run s took, directly or through jars. Metal that comes round to a run again is in
    its product already, and is not counted once more. Source: sharing by content is common
    practice, no source.

    >>> follow({}, ()).later
    {}
    """
    takings = taken_by_runs(runs, origins_of(things))
    won: dict[InRun, Figure] = {}
    later: dict[InRun, Figure] = {}
    links = _links(takings)
    for metal, takers in takings.runs_by_metal().items():
        users = links.get(metal, {})
        order, cut = _in_order(users, runs)
        for run in dict.fromkeys((*order, *takers)):
            onward = users.get(run, ())
            parts = [
                shared(one, won[one.run, metal], takings)
                for one in onward
                if (run, one.run) not in cut
            ]
            won[run, metal] = _won(runs[run], metal, parts)
            parts += [
                shared(one, _product(runs[one.run], metal), takings)
                for one in onward
                if (run, one.run) in cut
            ]
            if parts:
                later[run, metal] = add_up("made of it later", "g", parts, LATER)
    return Followed(takings, won, later)


def with_later(runs: Mapping[str, RunFigures], followed: Followed) -> dict[str, RunFigures]:
    """The figures of every run, with what came later of what it left."""
    return {
        name: replace(
            figures,
            balances=tuple(
                _completed(balance, followed.later.get((name, balance.metal)))
                for balance in figures.balances
            ),
        )
        for name, figures in runs.items()
    }


def _completed(balance: MetalBalance, later: Figure | None) -> MetalBalance:
    """A balance with what was made later and the recovery so far, (P + L) / H [g/g]."""
    if later is None or (later.value is not None and later.value.value <= 0.0):
        return balance
    if not later.known:
        return replace(balance, later=later)
    made = add_up("product so far", "g", [balance.product, later])
    so_far = ratio("recovery so far", "g/g", made, balance.head)
    return replace(balance, later=later, so_far=so_far if so_far.known else None)


def _links(takings: Takings) -> dict[str, dict[str, list[Taken]]]:
    """For each metal and run what other runs took of its side streams and charges."""
    links: dict[str, dict[str, list[Taken]]] = {}
    for one in takings.all:
        made_in = maker(one.origin)
        if made_in and made_in != one.run and one.origin.role is not Role.PRODUCT:
            links.setdefault(one.metal, {}).setdefault(made_in, []).append(one)
    return links


def _in_order(
    users: Mapping[str, Sequence[Taken]], runs: Mapping[str, RunFigures]
) -> tuple[list[str], set[tuple[str, str]]]:
    """Runs after all that took what they left, and the links cut for that, where there are rings.

    A ring is cut where the metal comes back to that run of it which began first.
    """
    cut: set[tuple[str, str]] = set()
    while True:
        graph = {
            run: dict.fromkeys(one.run for one in found if (run, one.run) not in cut)
            for run, found in users.items()
        }
        try:
            return list(TopologicalSorter(graph).static_order()), cut
        except CycleError as error:
            ring: list[str] = error.args[1]  # each run takes what the next one left
            first = min(range(len(ring) - 1), key=lambda at: _began(runs[ring[at]]))
            cut.add((ring[first + 1], ring[first]))


def _began(figures: RunFigures) -> tuple[date, str]:
    return figures.run.day or date.max, figures.run.name


def _won(figures: RunFigures, metal: str, parts: Sequence[Figure]) -> Figure:
    made = _product(figures, metal)
    if not parts:
        return made
    return add_up(made.name, "g", [made, add_up("made of it later", "g", parts, LATER)])


def _product(figures: RunFigures, metal: str) -> Figure:
    """The metal in the products of a run, also where the run was not after it."""
    name = f'what "{figures.run.title or figures.run.name}" made'
    for balance in figures.balances:
        if balance.metal == metal:
            made_none = balance.product.value is not None and not balance.product.value.value
            # That no product was noted is no remark on what others made.
            notes = () if made_none else balance.product.notes
            return replace(balance.product, name=name, notes=notes)
    made = [
        thing.contents[metal]
        for thing in figures.things_out
        if thing.role is Role.PRODUCT and metal in thing.contents
    ]
    return add_up(name, "g", made) if made else zero(name, "g")
