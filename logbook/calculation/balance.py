"""One metal in one run: what went in, what came out, and what is not accounted for.

Sums around the run of contents that the whole book has put into balance. What only the run's
own balance gives says nothing about that balance: a side stream that nobody measured leaves
open whether metal was lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.network.arcs import Unaccounted
from logbook.calculation.products import is_product_of, is_unworked
from logbook.calculation.results import (
    Content,
    Fate,
    Gap,
    MetalBalance,
    Role,
    Standing,
    Thing,
)
from logbook.calculation.sums import add_up, difference, highest, ratio, zero
from logbook.model.amount import Uncertain, total

COVERAGE = 2.0  # |U| within twice its standard uncertainty: the balance closes

NOTHING_OF = {
    "product": "no product was noted",
    "shelf": "nothing was noted to be kept",
    "waste": "nothing was noted to be discarded",
    "lost": "no loss was noted",
}


@dataclass(frozen=True, slots=True)
class Outlets:
    """What left a run of one metal, by where it went. All in grams."""

    product: Figure
    shelf: Figure
    waste: Figure
    lost: Figure

    @property
    def all(self) -> tuple[Figure, ...]:
        """The four of them."""
        return self.product, self.shelf, self.waste, self.lost


def metal_balance(
    run: str,
    metal: str,
    entering: Sequence[Thing],
    leaving: Sequence[Thing],
    missing: Unaccounted | None = None,
    gaps: Sequence[Gap] = (),
) -> MetalBalance:
    """The balance of one metal over one run.

    Equations, all in grams: assayed head H_a = Σ contents of what went in; built-up head
    H_b = P + K + W + L (product, kept on the shelf, waste, known losses); unaccounted
    U = H_a − H_b; recovery R = P / H; accountability A = H_b / H_a. The head is H_a where all
    that went in was measured, else H_b where all that came out was, a side stream among it.
    U is estimated with the run's own balances left out and all others of the book kept;
    the balance closes where |U| ≤ 2 u(U). Source: the definitions of the trade (common
    practice, no source); propagation JCGM 100:2008, 5.2.2 (from memory), which counts a
    reading that stands on both sides once.

    Of scrap with 100 g of silver in it 90 g come out as a bar and 8 g as a residue: 2 g are
    not accounted for, the recovery is 0.90 and the accountability 0.98, by hand.

    >>> from logbook.model.amount import Uncertain
    >>> def thing(role: Role, grams: float) -> Thing:
    ...     weight = Figure(role.value, "g", Uncertain.of(grams, 1.0, role))
    ...     held = {"silver": Content(weight, weight, Standing.MEASURED, read=weight)}
    ...     volume = not_known("volume", "L", "never measured")
    ...     fate = Fate.USED if role is Role.FEED else Fate.SHELF
    ...     return Thing("", "", "", role, fate, None, None, weight, volume, {}, None, held=held)
    >>> out = [thing(Role.PRODUCT, 90.0), thing(Role.SIDE, 8.0)]
    >>> row = metal_balance("a run", "silver", [thing(Role.FEED, 100.0)], out)
    >>> [one.value.value for one in (row.unaccounted, row.recovery, row.accountability)]
    [2.0, 0.9, 0.98]
    >>> row.closes
    'yes'
    """
    inputs = [thing for thing in entering if metal in thing.held]
    outputs = [thing for thing in leaving if metal in thing.held]
    assayed = _assayed_head(metal, inputs)
    built_up = add_up("built-up head", "g", [as_read(thing, metal) for thing in outputs])
    unaccounted = _gap(metal, assayed, built_up, inputs, outputs, missing)
    closes = "no" if gaps else _closes(unaccounted)
    # Reconciled with nothing but the product beside it, the head is the product itself: then
    # a recovery would say nothing, and both are shown as they were read.
    streams = _side_streams(metal, outputs)
    raw = closes == "no" or not streams
    outlets = _outlets(metal, outputs, raw=raw)
    head, basis = _head(metal, assayed, built_up, inputs, raw=raw, side_streams=streams)
    worked = head if raw else _with_unseen(head, closes, unaccounted)
    return MetalBalance(
        run=run,
        metal=metal,
        head=head,
        head_basis=basis,
        product=outlets.product,
        shelf=_no_more_than(assayed, outlets.shelf),
        waste=_no_more_than(assayed, outlets.waste),
        lost=_no_more_than(assayed, outlets.lost),
        unaccounted=unaccounted,
        recovery=_recovery(metal, outlets.product, worked, entering, leaving),
        accountability=_accountability(assayed, built_up, unaccounted),
        closes=closes,
        why=_why(closes, unaccounted, gaps),
        assayed_head=assayed,
        built_up_head=built_up,
        gap_group=_group(missing, gaps),
    )


def _no_more_than(head: Figure, outlet: Figure) -> Figure:
    """An outlet whose limit is a sum of limits holds no more than all that went in."""
    doubt = 2.0 * head.value.u if head.value is not None else 0.0
    most = highest(head)
    if outlet.known or outlet.high is None or most is None or outlet.high <= most + doubt:
        return outlet
    return replace(outlet, high=most + doubt, notes=(*outlet.notes, "no more than went in"))


def as_read(thing: Thing, metal: str) -> Figure:
    """What a thing holds as it was read, or as other runs alone give it.

    A part of a lot counts by its share. What only its own making gives is not known here: it
    is what the balance of that run left over.
    """
    content = thing.held[metal]
    if content.read is not None and content.read.known:
        return content.read
    if content.standing is Standing.DEDUCED and content.side in ("", "use"):
        return content.best
    if not content.best.known:
        return _by_itself(content)
    never = f"the {metal} in {title_of(thing)} was not measured; any loss is counted in it"
    own = content.measured
    why = own.why if own.high is not None and own.terms else never
    return replace(content.best, value=None, why=why, low=own.low or 0.0, high=own.high)


def _by_itself(content: Content) -> Figure:
    """A content with the limits that it has by itself: those of a balance assume no loss."""
    own = content.measured
    return replace(content.best, low=own.low or 0.0, high=own.high)


def title_of(thing: Thing) -> str:
    """What to call a thing in a sentence."""
    return f"[{thing.label}]" if thing.label else f"the {thing.what or thing.role.value}"


def _assayed_head(metal: str, inputs: Sequence[Thing]) -> Figure:
    if not inputs:
        return not_known("assayed head", "g", f"no {metal} was written to go in")
    return add_up("assayed head", "g", [_as_taken(thing, metal) for thing in inputs])


def _as_taken(thing: Thing, metal: str) -> Figure:
    """What a thing brought into a run, as it was read before any stage was balanced."""
    content = thing.held[metal]
    if content.read is not None and content.read.known:
        return content.read
    if not content.best.known:
        return _by_itself(content)
    if content.side == "making":
        return as_read(thing, metal)
    why = f"the {metal} in {title_of(thing)} was not measured before it was used"
    return replace(content.best, value=None, why=why, low=0.0, high=content.measured.high)


def _outlets(metal: str, leaving: Iterable[Thing], *, raw: bool) -> Outlets:
    ways: dict[str, list[Figure]] = {"product": [], "shelf": [], "waste": [], "lost": []}
    for thing in leaving:
        way, shown = way_out(thing), _shown(thing.held[metal], raw=raw)
        # A product that only its own making gives would be everything that is missing.
        ways[way].append(
            as_read(thing, metal) if way == "product" and _owed(thing, metal) else shown
        )
    return Outlets(**{way: _outlet(way, found) for way, found in ways.items()})


def _owed(thing: Thing, metal: str) -> bool:
    """Whether a content is no more than what the balance of its making left over."""
    return thing.held[metal].side == "making"


def _side_streams(metal: str, leaving: Iterable[Thing]) -> int:
    """How many things on the shelf or in waste were measured."""
    return sum(
        way_out(thing) in ("shelf", "waste") and thing.held[metal].measured.known
        for thing in leaving
    )


def _shown(content: Content, *, raw: bool) -> Figure:
    """A content as it counts in sums: as it was read where the balance does not close."""
    return content.read if raw and content.read is not None and content.read.known else content.best


def _outlet(way: str, figures: Sequence[Figure]) -> Figure:
    return add_up(way, "g", figures) if figures else zero(way, "g", NOTHING_OF[way])


def way_out(thing: Thing) -> str:
    """Where a thing went that left its run: product, shelf, waste or lost."""
    if thing.role is Role.PRODUCT:
        return "product"
    if thing.role is Role.LOSS or thing.fate is Fate.LOST:
        return "lost"
    if thing.role is Role.WASTE or thing.fate is Fate.WASTE:
        return "waste"
    return "shelf"


def _head(
    metal: str,
    assayed: Figure,
    built_up: Figure,
    inputs: Sequence[Thing],
    *,
    raw: bool,
    side_streams: int,
) -> tuple[Figure, str]:
    """The head and its basis. A product over itself says nothing: it is no head."""
    if assayed.known:
        parts = [_shown(thing.held[metal], raw=raw) for thing in inputs]
        best = add_up("assayed head", "g", parts)
        return (best if best.known else assayed), "assayed"
    if built_up.known and side_streams:
        return built_up, "built-up"
    terms = (assayed, built_up)
    low, high = assayed.low, assayed.high
    return Figure("head", "g", terms=terms, why=assayed.why, low=low, high=high), "unknown"


def _with_unseen(head: Figure, closes: str, unaccounted: Figure) -> Figure:
    """A head with the doubt of a loss that the readings could not show.

    Where a balance closes, contents are adjusted as if nothing had been lost unseen. The
    readings only show that it was no more than the doubt of what is unaccounted for, so that
    doubt belongs to the recovery: u²(H) + u²(U) [g²]. Source: first principles (by hand).
    """
    if closes != "yes" or head.value is None or unaccounted.value is None:
        return head
    unseen = Uncertain.of(0.0, unaccounted.value.u, object())
    note = "the doubt of the recovery counts a loss too small for the readings to show"
    return replace(head, value=head.value + unseen, notes=(*head.notes, note))


def _accountability(assayed: Figure, built_up: Figure, unaccounted: Figure) -> Figure:
    """All that can be pointed to over the assayed head, as it was read.

    Equation: A = H_b / H_a = 1 − U / H_a [g/g]. Source: common practice, no source.
    """
    if built_up.known or not unaccounted.known:
        return ratio("accountability", "g/g", built_up, assayed, "out / in")
    found = difference("accounted for", "g", assayed, unaccounted)
    return ratio("accountability", "g/g", found, assayed, "(head − unaccounted) / head")


def _recovery(
    metal: str, product: Figure, head: Figure, entering: Sequence[Thing], leaving: Sequence[Thing]
) -> Figure:
    made = (thing for thing in leaving if thing.role is Role.PRODUCT)
    if not any(is_product_of(thing.what, thing.contents, metal) for thing in made):
        return not_known("recovery", "g/g", f"the run made no product of {metal}")
    recovery = ratio("recovery", "g/g", product, head, f"product / {head.name}")
    note = _of_what_was_worked(metal, product, head, _unworked(metal, entering, leaving))
    return replace(recovery, notes=(*recovery.notes, note)) if note else recovery


def _unworked(metal: str, entering: Sequence[Thing], leaving: Iterable[Thing]) -> list[Thing]:
    """The feed that a run set aside as it was taken."""
    taken = {thing.what for thing in entering if metal in thing.held}
    return [
        thing
        for thing in leaving
        if thing.role is Role.SIDE
        and metal in thing.held
        and any(is_unworked(thing.what, what) for what in taken)
    ]


def _of_what_was_worked(
    metal: str, product: Figure, head: Figure, unworked: Sequence[Thing]
) -> str:
    """What a recovery is of the feed that was worked on, in words; empty where all of it was.

    Equation: R_w = P / (H − F) [g/g], with F the metal in the feed that was set aside as it
    was taken. Source: the definition of recovery (common practice, no source).
    """
    if not unworked:
        return ""
    weights = [span.text for thing in unworked for span in thing.gross.rests_on] or ["some"]
    told = f"{' and '.join(weights)} of the feed went back to the shelf unworked"
    set_aside = add_up("set aside", "g", [thing.held[metal].best for thing in unworked])
    worked = difference("worked on", "g", head, set_aside)
    if not set_aside.known:
        return f"{told}; how much {metal} it holds is not known"
    if product.value is None or worked.value is None or worked.value.value <= 0.0:
        return told
    percent = 100.0 * product.value.value / worked.value.value
    return f"{told}: {percent:.0f} % of what was worked on"


def _gap(
    metal: str,
    assayed: Figure,
    built_up: Figure,
    inputs: Sequence[Thing],
    outputs: Sequence[Thing],
    missing: Unaccounted | None,
) -> Figure:
    """What is not accounted for; limits where something that came out was not measured.

    Equation: with K the sum of what was measured and X what was not, U = H_a − K − X lies
    between H_a − K − 2u − X_high and H_a − K + 2u − X_low, with u that of H_a − K.
    """
    gap = difference("unaccounted", "g", assayed, built_up, "head − what came out")
    if missing is not None and missing.value is not None:
        words = "in − out, with the balances of the rest of the book"
        return replace(gap, value=missing.value, formula=words, why="", low=None, high=None)
    if gap.known:
        return replace(gap, low=None, high=None)
    gap = replace(gap, why=_unseen(metal, inputs, outputs) or gap.why)
    if assayed.value is None:
        return gap
    parts = built_up.terms
    known = assayed.value - total([part.value for part in parts if part.value is not None])
    open_parts = [part for part in parts if part.value is None]
    tops = [part.high for part in open_parts]
    bottom = None if None in tops else sum(top for top in tops if top is not None)
    low = None if bottom is None else known.value - COVERAGE * known.u - bottom
    high = known.value + COVERAGE * known.u - sum(part.low or 0.0 for part in open_parts)
    return replace(gap, low=low, high=high)


def _unseen(metal: str, inputs: Sequence[Thing], outputs: Sequence[Thing]) -> str:
    """Where metal is that nobody measured: nothing shows whether some of it was lost."""
    unread = [thing for thing in outputs if not as_read(thing, metal).known]
    if not unread or any(not as_read(thing, metal).known for thing in inputs):
        return ""
    names = list(dict.fromkeys(title_of(thing) for thing in unread))
    return f"what is missing is in {', '.join(names)} or was lost: that was not measured"


def _why(closes: str, unaccounted: Figure, gaps: Sequence[Gap]) -> str:
    if closes == "unknown":
        return unaccounted.why
    if closes == "yes":
        return ""
    causes = [cause.words for gap in gaps for cause in gap.causes]
    if causes:
        return "likeliest cause: " + ", or ".join(causes)
    return "the gap is more than twice its doubt; no single reading or loss stands out"


def _group(missing: Unaccounted | None, gaps: Sequence[Gap]) -> str:
    """A name for a gap that several runs have between them; empty for a gap of one run."""
    for gap in gaps:
        if len(gap.runs) > 1:
            return gap.group
    regions = missing.regions if missing is not None and missing.value is not None else ()
    return " + ".join(sorted(regions)) if len(regions) > 1 else ""


def _closes(unaccounted: Figure) -> str:
    """Whether a gap is no more than the readings can explain: yes, no or unknown."""
    gap = unaccounted.value
    if gap is None:
        return "unknown"
    return "yes" if abs(gap.value) <= COVERAGE * gap.u else "no"
