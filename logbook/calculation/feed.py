"""What was taken to be worked on, and what it weighs: the scrap of a run, or of a part of it."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import Role, Thing
from logbook.calculation.sums import add_up
from logbook.model.run import Run


def is_feed(run: Run, thing: Thing) -> bool:
    """Whether a thing was taken to be worked on, rather than added to what was."""
    here = [entry.action for entry in thing.entries if entry.span.source is run.source]
    return thing.role is not Role.ADDITION and ("took" in here or "added" not in here)


def weight_of(name: str, things: Sequence[Thing]) -> Figure:
    """The gross weight of some things together."""
    if not things:
        return not_known(name, "g", f"no {name} was written")
    return add_up(name, "g", [thing.gross for thing in things])
