"""The writer's own arithmetic, done again."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.model.entry import Entry


@dataclass(frozen=True, slots=True)
class ClaimCheck:
    """A `reckoned` figure beside what the book gives for it.

    `agrees` is yes, no or unknown; `why` says in words what was compared, or why it cannot be
    checked. `difference` is claimed less computed. `slip` says what the writer probably did,
    only where doing just that gives the claimed figure. `premises` are what the claim rests on
    without evidence, such as a fineness nobody measured.
    """

    run: str
    entry: Entry
    what: str
    claimed: Figure
    computed: Figure | None
    difference: Figure | None
    agrees: str
    why: str
    slip: str = ""
    premises: tuple[str, ...] = ()
