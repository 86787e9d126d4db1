"""How fine each product is, and on what evidence.

Purity is neither recovery nor mass yield, and is never worked out from what should be: it
is what was written, with the method that was named.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Role, Thing
from logbook.calculation.sums import ratio
from logbook.calculation.weights import leaf
from logbook.model.amount import Dimension
from logbook.model.entry import Composition, Entry

MARK_UNITS = frozenset({"k", "kt", "karat", "karats", "carat", "carats", "ct"})


def purities(leaving: Iterable[Thing], metals: Iterable[str]) -> tuple[Figure, ...]:
    """The purity of each product in the metals its run was after.

    What was drawn from a product is as fine as the product, and is not told apart from it.
    """
    aims = tuple(metals)
    found: dict[str, Figure] = {}
    for thing in leaving:
        if thing.role is not Role.PRODUCT:
            continue
        for metal in aims:
            if len(aims) == 1 or thing.held[metal].best.known:
                one = purity(thing, metal)
                if one.name not in found or not found[one.name].known:
                    found[one.name] = one
    return tuple(found.values())


def purity(thing: Thing, metal: str) -> Figure:
    """The fineness of a product with its evidence in `notes`.

    Equation: w as written [g/g], or w = m / M where the content m [g] was stated beside the
    weight M [g]. Source: the definition of a mass fraction.
    """
    title = f"[{thing.label}]" if thing.label else f"the {thing.what}"
    for entry, composition in _latest_first(thing, metal):
        amount = composition.amount
        name = f"{metal} in {title}, purity{'' if _measured(entry) else ' as claimed'}"
        evidence = evidence_for(entry, composition)
        if amount.dimension is Dimension.FRACTION:
            figure = leaf(name, amount, f"{amount.span.text} is only a limit")
            return replace(figure, notes=(evidence,))
        if amount.dimension is Dimension.MASS:
            stated = ratio(name, "g/g", thing.held[metal].measured, thing.gross)
            return replace(stated, notes=(*stated.notes, evidence))
    return not_known(
        f"{metal} in {title}, purity", "g/g", f"the fineness of {title} was never measured"
    )


def _latest_first(thing: Thing, metal: str) -> Iterator[tuple[Entry, Composition]]:
    for entry in reversed(thing.entries):
        for composition in entry.compositions:
            if composition.metal == metal:
                yield entry, composition


def _measured(entry: Entry) -> bool:
    """Whether a composition was measured: a mark, and a word without a method, only claim it."""
    return bool(entry.method) or entry.action == "assayed"


def evidence_for(entry: Entry, composition: Composition) -> str:
    """On what a stated composition rests: a method, a mark, or the writer's word."""
    amount = composition.amount
    if entry.method:
        return f"by {entry.method.removeprefix('by ')}"
    if amount.unit.lower() in MARK_UNITS or "mark" in amount.note:
        return f"by mark: {amount.span.text}, an upper hope and no assay"
    if entry.action == "assayed":
        return "by assay, of which the method is not written"
    return "as claimed: no method is written"
