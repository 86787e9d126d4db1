"""What the metal network is made of, and what is found out about it.

An arc is one thing with some of one metal in it; a node is a place where metal is conserved:
a stage, a lot that is drawn from, a jar that is poured into. Nothing here calculates.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field

from logbook.calculation.results import Standing
from logbook.model.amount import Uncertain

OUTSIDE = ""  # where things come from that no stage made, and go to that no stage took


@dataclass(frozen=True, slots=True)
class Arc:
    """One thing on its way from one node to another.

    `readings` are what was measured of its content [g]: none, one, or several that have to
    agree; the last is the one to go by where they do not. `high` is an upper limit [g] that
    comes from the thing alone, such as its own weight.
    """

    key: str
    tail: str  # the node that made it, or OUTSIDE
    head: str  # the node that took it, or OUTSIDE
    readings: tuple[Uncertain, ...] = ()
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Ratio:
    """One arc as a share of another: x(part) = share × x(whole), with an error of its own.

    `share` carries the doubt of the weighings and of sampling; without doubt it is exact.
    """

    part: str
    whole: str
    share: Uncertain


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading or a loss that may explain why a block does not close.

    `sources` are sources of error that cannot be told apart, or empty for a loss; `nodes` are
    the stages at one of which the loss would be. `size` is how wrong the reading would be, in
    its own standard uncertainties, or how much was lost [g]; `z` the test; `left` the X² that
    remains without it.
    """

    sources: tuple[Hashable, ...]
    nodes: tuple[str, ...]
    size: float
    z: float
    left: float

    @property
    def is_loss(self) -> bool:
        """Whether it is a loss at a stage rather than a reading."""
        return not self.sources


@dataclass(frozen=True, slots=True)
class Block:
    """Equations that are tied to each other and to no others, and how they were tested.

    `nodes` are the stages they hold for, `arcs` the things in them. `freedom` is the degrees
    of freedom; with none it is not testable. `limit` is the upper limit of `chi_square`,
    `z_limit` that of each test. `suspects` are ranked, the likeliest first; `named` are those
    that pass and explain it alike.
    """

    nodes: tuple[str, ...]
    arcs: tuple[str, ...]
    chi_square: float
    freedom: int
    limit: float
    z_limit: float
    passes: bool
    suspects: tuple[Suspect, ...] = ()
    named: tuple[Suspect, ...] = ()


@dataclass(frozen=True, slots=True)
class OpenZone:
    """Where a balance does not close: what is missing there [g], in less out.

    `nodes` are the stages it is missing at, or none where a thing was read twice and the
    readings differ. `arcs` are the things at its bounds. `kind` is "gap", "readings" (two of
    one thing that differ), "below nothing" (more came out than went in) or "overfull" (more
    than a thing can hold). `named` are the likeliest causes.
    """

    nodes: tuple[str, ...]
    arcs: tuple[str, ...]
    missing: Uncertain
    kind: str = "gap"
    named: tuple[Suspect, ...] = ()
    block: int = -1  # its place among the blocks; none for what shows in no equation


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the content of one arc [g].

    `value` is None where only limits are known. `side` tells from where a deduced content
    follows: making, use or both. `note` is "at zero" where a content came out a little below
    nothing, or "full" where less than that fits into the thing. `nodes` are those whose
    balance gives a deduced content. `why` says why it is not known.
    """

    standing: Standing
    value: Uncertain | None
    low: float = 0.0
    high: float | None = None
    adjustment: float | None = None
    side: str = ""
    note: str = ""
    nodes: tuple[str, ...] = ()
    why: str = ""


@dataclass(frozen=True, slots=True)
class SharedSum:
    """A sum that is given while its parts are not: things that meet at one node [g]."""

    node: str
    arcs: tuple[str, ...]
    total: Uncertain


@dataclass(frozen=True, slots=True)
class Unaccounted:
    """What is not accounted for over the nodes of a region [g]; None where nothing shows it.

    `regions` are all those that have this one gap between them.
    """

    value: Uncertain | None
    regions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """A network put into balance: every arc by its key, every test, every gap."""

    known: Mapping[str, Known]
    blocks: tuple[Block, ...]
    open_zones: tuple[OpenZone, ...]
    checked: Mapping[str, int] = field(default_factory=dict)  # node -> its block, where checked
    sums: tuple[SharedSum, ...] = ()
    unaccounted: Mapping[str, Unaccounted] = field(default_factory=dict)
