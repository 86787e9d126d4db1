"""A figure the writer reckoned, beside what the book gives for it: agrees, disagrees, or why not.

Nothing is worked out here. A slip is only ever named where doing just that gives the figure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from logbook.calculation.results import ClaimCheck
from logbook.pages.addresses import Here, LineLink
from logbook.pages.figure_view import FigureView, bare_figure, figure_view

BY_THE_BOOK = "by the book"
VERDICTS = {"yes": "agrees", "no": "disagrees", "unknown": "cannot be checked"}


@dataclass(frozen=True, slots=True)
class ClaimView:
    """One reckoned figure. `claimed` is in the writer's words, `off_by` says how far off it is."""

    agrees: str  # yes, no, unknown
    verdict: str
    what: str
    claimed: str
    computed: FigureView | None
    off_by: str
    why: str
    slip: str
    premises: tuple[str, ...]
    line: LineLink


def claim_view(check: ClaimCheck, here: Here, *, levels: int = 1) -> ClaimView:
    """A reckoned figure with what the book gives for it, and the way to its line."""
    computed = check.computed
    return ClaimView(
        agrees=check.agrees,
        verdict=VERDICTS[check.agrees],
        what=check.what,
        claimed=_as_claimed(check),
        computed=None
        if computed is None
        else figure_view(computed, here, levels=levels, name=BY_THE_BOOK),
        off_by=_off_by(check) if check.agrees == "no" else "",
        why=check.why,
        slip=check.slip,
        premises=check.premises,
        line=here.line(check.entry.span),
    )


def _as_claimed(check: ClaimCheck) -> str:
    """The figure in the writer's words; an equation holds it already in what it says."""
    claim = check.entry.claim
    text = claim.amount.span.text if claim is not None else bare_figure(check.claimed).text
    return "" if text in check.what else text


def _off_by(check: ClaimCheck) -> str:
    """How much more or less was claimed than the book gives."""
    if check.difference is None or check.difference.value is None:
        return ""
    value = check.difference.value
    size = replace(check.difference, value=value if value.value > 0 else value.times(-1.0))
    more = "more" if value.value > 0 else "less"
    text = bare_figure(size).text.replace("%", "points of a hundred")
    return f"{text} {more} than the book gives"
