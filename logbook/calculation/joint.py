"""Which things of a book went through physical separations together, and what they then hold.

A separation conserves mass as well as metal, so its pieces are reconciled together, in mass and
in every assay, before the metal network takes what they hold as a reading. Where the readings
of a separation do not agree they are left as they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from logbook.calculation.contents import PER, Contents, assay_figure, statements_of
from logbook.calculation.holdings import Holding
from logbook.calculation.network.arcs import OUTSIDE
from logbook.calculation.network.separations import Piece, Separated, reconcile_pieces
from logbook.calculation.network.zones import Joined
from logbook.calculation.results import StageKey
from logbook.calculation.weights import Weights
from logbook.model.amount import Dimension, Uncertain
from logbook.model.book import Book
from logbook.reference import stage_kinds

LARGEST = 200  # pieces that hang together, up to which they are reconciled
AGREE = "mass and assay reconciled together with the other pieces of the separation"
DIFFER = (
    "mass and assay left as read: the pieces of the separation do not agree within their doubts"
)
NOT_SOLVED = "mass and assay left as read: reconciling them together did not converge"


@dataclass(frozen=True, slots=True)
class Jointly:
    """What the pieces of separations hold [g], by thing and metal, and what to say of a thing.

    `runs` are those whose pieces were reconciled: their contents already follow their balances.
    """

    contents: Mapping[tuple[str, str], Uncertain] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    runs: frozenset[str] = frozenset()


def separated(
    holdings: Iterable[Holding], book: Book, contents: Contents, weights: Weights
) -> Jointly:
    """Reconcile every separation of a book of which enough was weighed and assayed."""
    stages = _separations(book)
    found: dict[tuple[str, str], Uncertain] = {}
    words: dict[str, str] = {}
    runs: set[str] = set()
    for group in _groups(holdings, stages):
        pieces = [_piece(held, stages, contents, weights) for held in group]
        metals = _assayed(pieces)
        if not metals or len(pieces) > LARGEST:
            continue
        kept = [_only(piece, metals) for piece in pieces]
        solved = reconcile_pieces(kept)
        if not solved.freedom and not any(not piece.mass for piece in kept):
            continue
        good = solved.converged and solved.passes and _possible(solved)
        told = AGREE if good else NOT_SOLVED if not solved.converged else DIFFER
        words.update({piece.key: told for piece in kept})
        if good:
            ends = (stage for held in group for stage in (_maker(held), held.used_by))
            runs.update(stage.run for stage in ends if stage is not None and stage in stages)
            found.update(
                ((key, metal), value)
                for key, held in solved.contents.items()
                for metal, value in held.items()
                if value is not None
            )
    return Jointly(found, words, frozenset(runs))


def _separations(book: Book) -> frozenset[StageKey]:
    """The stages that only separate."""
    kinds = stage_kinds()
    return frozenset(
        StageKey(run.name, at)
        for run in book.runs
        if not run.planned
        for at, stage in enumerate(run.stages)
        if stage.kinds and all(kind in kinds and kinds[kind].separation for kind in stage.kinds)
    )


def _groups(holdings: Iterable[Holding], stages: frozenset[StageKey]) -> list[list[Holding]]:
    """Things around separations that hang together."""
    joined = Joined()
    around = [one for one in holdings if _maker(one) in stages or one.used_by in stages]
    for held in around:
        for stage in (_maker(held), held.used_by):
            if stage in stages:
                joined.join(("thing", held.key), stage)
    groups: dict[object, list[Holding]] = {}
    for held in around:
        groups.setdefault(joined.find(("thing", held.key)), []).append(held)
    return list(groups.values())


def _maker(held: Holding) -> StageKey | None:
    """The stage that a thing comes from itself, not as a part of another or poured together."""
    return None if held.parent is not None or held.poured else held.made_by


def _piece(
    held: Holding, stages: frozenset[StageKey], contents: Contents, weights: Weights
) -> Piece:
    maker, user = _maker(held), held.used_by
    mass = weights.of(held, Dimension.MASS).value if held.looks and not held.wet else None
    assays: dict[str, tuple[Uncertain, ...]] = {}
    stated: dict[str, tuple[Uncertain, ...]] = {}
    for metal in contents.metals_of(held):
        content = contents.of(held, metal).value
        assay = _assay(held, metal)
        if assay is not None:
            assays[metal] = (assay,)
        elif content is not None:
            stated[metal] = (content,)
    return Piece(
        held.key,
        _name(maker) if maker in stages else OUTSIDE,
        _name(user) if user in stages else OUTSIDE,
        (mass,) if mass is not None else (),
        assays,
        stated,
    )


def _name(stage: StageKey | None) -> str:
    return f"{stage.run}: stage {stage.index}" if stage is not None else OUTSIDE


def _assay(held: Holding, metal: str) -> Uncertain | None:
    """The assay of a thing itself, as a fraction of its weight."""
    statement = next(statements_of(held, metal), None)
    if statement is None or PER.get(statement.composition.amount.dimension) is not Dimension.MASS:
        return None
    return assay_figure(held, statement).value


def _assayed(pieces: Iterable[Piece]) -> list[str]:
    """The metals that were read of at least two pieces: of one alone nothing can be said."""
    counts: dict[str, int] = {}
    for piece in pieces:
        for metal in (*piece.assays, *piece.contents):
            counts[metal] = counts.get(metal, 0) + 1
    return [metal for metal, count in counts.items() if count > 1]


def _only(piece: Piece, metals: Iterable[str]) -> Piece:
    """A piece with some of its metals."""
    wanted = set(metals)
    return Piece(
        piece.key,
        piece.tail,
        piece.head,
        piece.mass,
        {metal: read for metal, read in piece.assays.items() if metal in wanted},
        {metal: read for metal, read in piece.contents.items() if metal in wanted},
    )


def _possible(solved: Separated) -> bool:
    """Whether no mass and no content came out below nothing, and no assay above one."""
    masses = [one for one in solved.masses.values() if one is not None]
    held = [v for one in solved.contents.values() for v in one.values() if v is not None]
    assays = [v for one in solved.assays.values() for v in one.values() if v is not None]
    return all(one.value >= 0.0 for one in (*masses, *held)) and all(
        one.value <= 1.0 for one in assays
    )
