"""How far a part that was drawn may differ from its lot, beyond what the weighing explains.

A part of a solution is like the whole. A handful of mixed scrap is not: unless the writer says
how much such handfuls differ, its content does not follow from its weight.
"""

from __future__ import annotations

from collections.abc import Hashable

from logbook.calculation.figure import Figure
from logbook.calculation.holdings import Holding
from logbook.calculation.products import is_alike
from logbook.calculation.results import Role
from logbook.model.amount import Dimension

MOST_TIED = 200  # parts of one lot, up to which the error of each is set against the others'


def sampling_of(piece: Holding) -> float | None:
    """The relative doubt of a part's content that its weight does not explain: one u [g/g].

    As written for the part or for its lot; nothing for a sample, which is taken so as to be
    like its lot, and for what is alike throughout (common practice, no source). None where
    neither is so.
    """
    lot: Holding | None = piece
    while lot is not None:
        for entry in reversed(lot.entries):
            if entry.sampling is not None and entry.sampling.base_value is not None:
                return entry.sampling.base_value
        lot = lot.parent
    poured = any(look.amount.dimension is Dimension.VOLUME for look in piece.looks)
    return 0.0 if piece.role is Role.SAMPLE or is_alike(piece.what, poured=poured) else None


def tied_parts(lot: Holding) -> list[Holding]:
    """The parts of a lot of which shares are known, but one that follows from the others.

    A rest that was weighed by itself follows from nothing: it shows whether some is missing.
    """
    parts = lot.draws
    rest = [part for part in parts if part.part == 1.0]
    weighed = bool(rest) and bool(rest[0].looks)
    left_out = None if weighed else rest[0] if rest else parts[-1]
    return [part for part in parts if part is not left_out and not part.missing]


def sampling_errors(lot: Holding, shares: dict[int, Figure]) -> dict[int, dict[Hashable, float]]:
    """The errors of sampling of each part, as fractions of the lot's content.

    Equation: a part's error has v_i = (p_i s_i)²; as all parts together are the lot, the
    errors are those of independent parts given that their sum is nothing, with covariance
    S = diag(v) − v vᵀ/Σv [(g/g)²]. Source: conditional normal distribution (by hand).

    `shares` are the known shares of the parts by their identity.
    """
    sizes = {}
    for at, part in enumerate(lot.draws):
        share, doubt = shares.get(id(part)), sampling_of(part)
        if share is not None and share.value is not None and doubt:
            sizes[id(part)] = (at, share.value.value * doubt)
    whole = sum(size * size for _, size in sizes.values())
    tied = len(lot.draws) == len(sizes) <= MOST_TIED
    found = {}
    for key, (own, size) in sizes.items():
        errors: dict[Hashable, float] = {("sampling", lot.key, own): size}
        if tied:
            for at, other in sizes.values():
                name = ("sampling", lot.key, at)
                errors[name] = errors.get(name, 0.0) - size * size / whole * other
        found[key] = errors
    return found
