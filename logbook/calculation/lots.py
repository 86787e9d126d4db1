"""What came of each labelled lot of scrap, over all the runs that took of it.

A lot that was drawn from five times is one question to its owner: what was in it, and what has
come of it so far. What a run made is shared between all that it took, by content; see
`later.py`. Nothing here goes back into a balance.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.balance import title_of
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.later import Followed
from logbook.calculation.origins import origins_of
from logbook.calculation.results import Fate, LotTotal, Role, Thing
from logbook.calculation.sums import add_up, ratio, zero
from logbook.calculation.taken import Taken, followed_back

Spoken = tuple[str, str]  # the label of a lot, and a metal
PRODUCT = "sum over the runs that took of it, shared by content"


@dataclass(frozen=True, slots=True)
class _Lot:
    """What came from outside under one label; more than one thing where a lot was topped up."""

    label: str
    things: tuple[Thing, ...]


def lot_totals(things: Sequence[Thing], followed: Followed) -> tuple[LotTotal, ...]:
    """What is known of each lot and metal: what went in, what came of it, what is left.

    Equations: product P = Σ W_s c / H_s [g] over the runs s that took of the lot, with W_s what
    a run and those after it made, c what it took of the lot and H_s of everything; recovery so
    far R = P / H [g/g], of the whole lot, also where a part of it is still on the shelf. Source:
    sharing by content is common practice, no source.

    >>> from logbook.calculation.taken import Takings
    >>> lot_totals((), Followed(Takings((), {}), {}, {}))
    ()
    """
    lots = _lots(things)
    taken = _by_lot(lots, followed)
    left = _left(lots, things)
    found = []
    for lot in lots:
        for metal in dict.fromkeys(metal for thing in lot.things for metal in thing.held):
            runs = taken.get((lot.label, metal))
            if runs:
                shelf = _shelf(left.get((lot.label, metal), ()))
                found.append(_total(lot, metal, runs, shelf, followed))
    return tuple(found)


def _lots(things: Iterable[Thing]) -> list[_Lot]:
    lots: dict[str, list[Thing]] = {}
    for thing in things:
        if thing.role is Role.FEED and thing.label and not _from_another(thing):
            lots.setdefault(thing.label, []).append(thing)
    return [_Lot(label, tuple(found)) for label, found in lots.items()]


def _from_another(thing: Thing) -> bool:
    """Whether a thing is part of another or made, or stands in for one that was never there."""
    absent = thing.what == f"[{thing.label}]"
    return absent or bool(thing.made_by or thing.part_of or thing.pooled_from)


def _lot_of(lots: Iterable[_Lot]) -> dict[str, str]:
    """The label of the lot that each of its things belongs to, by the key of the thing."""
    return {thing.key: lot.label for lot in lots for thing in lot.things}


def _by_lot(lots: Sequence[_Lot], followed: Followed) -> dict[Spoken, dict[str, list[Taken]]]:
    """For each lot and metal the runs that took of it, and what they took.

    A run for which nothing tells how much of it was from the lot took nothing that has a share.
    """
    label_of, labels = _lot_of(lots), {lot.label for lot in lots}
    found: dict[Spoken, dict[str, list[Taken]]] = {}
    for one in followed.takings.all:
        label = label_of.get(one.origin.key)
        if label is not None:
            runs = found.setdefault((label, one.metal), {})
            runs.setdefault(one.run, []).append(one)
    for (run, metal), titles in followed.takings.beside.items():
        for label in (title.strip("[]") for title in titles):
            if label in labels:
                found.setdefault((label, metal), {}).setdefault(run, [])
    return found


def _total(
    lot: _Lot, metal: str, runs: Mapping[str, Sequence[Taken]], shelf: Figure, followed: Followed
) -> LotTotal:
    contents = [thing.contents[metal] for thing in lot.things if metal in thing.contents]
    head = add_up("head of the lot", "g", contents)
    parts: list[Figure] = []
    for run, taken in runs.items():
        parts += [followed.made_of(one) for one in taken]
        if not taken:
            why = f"how much {metal} [{lot.label}] brought into {run} is not known"
            parts.append(not_known(f"made of [{lot.label}]", "g", why))
    made = add_up("made of the lot so far", "g", parts, PRODUCT)
    recovery = ratio("recovery so far", "g/g", made, head)
    if recovery.known and (shelf.value is None or shelf.value.value > 0.0):
        note = "a part of the lot is still on the shelf"
        recovery = replace(recovery, notes=(*recovery.notes, note))
    return LotTotal(lot.label, metal, head, made, shelf, recovery, tuple(runs))


def _left(lots: Sequence[_Lot], things: Sequence[Thing]) -> dict[Spoken, list[Figure]]:
    """What is left of each lot as it came: on the shelf, or in a jar that it was poured into."""
    label_of, origins = _lot_of(lots), origins_of(things)
    left: dict[Spoken, list[Figure]] = {}
    for thing in things:
        if thing.fate is not Fate.SHELF or thing.made_by is not None:
            continue
        for metal in thing.held:
            found, _ = followed_back(metal, [thing], origins)
            for one in found:
                label = label_of.get(one.origin.key)
                if label is not None:
                    left.setdefault((label, metal), []).append(_part(one, thing))
    return left


def _shelf(parts: Sequence[Figure]) -> Figure:
    name = "left of the lot"
    return add_up(name, "g", parts) if parts else zero(name, "g", "nothing of it is on the shelf")


def _part(one: Taken, thing: Thing) -> Figure:
    if one.alone:
        return thing.contents[one.metal]
    name = f"[{one.origin.label}] in {title_of(thing)}"
    if one.grams is None:
        return not_known(name, "g", f"how much {one.metal} of it is there is not known")
    return Figure(name, "g", one.grams, f"{title_of(thing)}, shared by content")
