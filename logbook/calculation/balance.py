"""One metal in one run: what went in, what came out, and what is not accounted for.

A plain sum around the run, from readings as they are. Nothing is adjusted, nothing is
filled in: a side stream that nobody measured leaves the balance open.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.products import is_product_of, is_unworked
from logbook.calculation.results import Fate, MetalBalance, Role, Thing
from logbook.calculation.sums import add_up, difference, lowest, ratio, zero
from logbook.model.amount import total

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
    side_streams: int  # how many things on the shelf or in waste were measured

    @property
    def all(self) -> tuple[Figure, ...]:
        """The four of them."""
        return self.product, self.shelf, self.waste, self.lost


def metal_balance(
    run: str, metal: str, entering: Sequence[Thing], leaving: Sequence[Thing]
) -> MetalBalance:
    """The balance of one metal over one run.

    Equations, all in grams: assayed head H_a = Σ contents of what went in; built-up head
    H_b = P + K + W + L (product, kept on the shelf, waste, known losses); unaccounted
    U = H_a − H_b; recovery R = P / H; accountability A = H_b / H_a. The head is H_a where all
    that went in was measured, else H_b where all that came out was, a side stream among it.
    The balance closes where |U| ≤ 2 u(U). Source: the definitions of the trade (common
    practice, no source); propagation JCGM 100:2008, 5.2.2 (from memory), which counts a
    reading that stands on both sides once.

    Of scrap with 100 g of silver in it 90 g come out as a bar and 8 g as a residue: 2 g are
    not accounted for, the recovery is 0.90 and the accountability 0.98, by hand.

    >>> from logbook.model.amount import Uncertain
    >>> def thing(role: Role, grams: float) -> Thing:
    ...     silver = {"silver": Figure(role.value, "g", Uncertain.of(grams, 1.0, role))}
    ...     weight, volume = silver["silver"], not_known("volume", "L", "never measured")
    ...     fate = Fate.USED if role is Role.FEED else Fate.SHELF
    ...     return Thing("", "", "", role, fate, None, None, weight, volume, silver, None)
    >>> out = [thing(Role.PRODUCT, 90.0), thing(Role.SIDE, 8.0)]
    >>> row = metal_balance("a run", "silver", [thing(Role.FEED, 100.0)], out)
    >>> [one.value.value for one in (row.unaccounted, row.recovery, row.accountability)]
    [2.0, 0.9, 0.98]
    >>> row.closes
    'yes'
    """
    inputs = [thing.contents[metal] for thing in entering if metal in thing.contents]
    assayed = _assayed_head(metal, inputs)
    outlets = _outlets(metal, leaving)
    built_up = add_up("built-up head", "g", outlets.all)
    head, basis = _head(assayed, built_up, outlets)
    unaccounted = _gap(assayed, built_up, outlets)
    closes = _closes(unaccounted)
    return MetalBalance(
        run=run,
        metal=metal,
        head=head,
        head_basis=basis,
        product=outlets.product,
        shelf=outlets.shelf,
        waste=outlets.waste,
        lost=outlets.lost,
        unaccounted=unaccounted,
        recovery=_recovery(metal, outlets.product, head, entering, leaving),
        accountability=ratio("accountability", "g/g", built_up, assayed, "out / in"),
        closes=closes,
        why=unaccounted.why if closes == "unknown" else "",
    )


def _assayed_head(metal: str, inputs: Sequence[Figure]) -> Figure:
    if not inputs:
        return not_known("assayed head", "g", f"no {metal} was written to go in")
    return add_up("assayed head", "g", inputs)


def _outlets(metal: str, leaving: Iterable[Thing]) -> Outlets:
    ways: dict[str, list[Figure]] = {"product": [], "shelf": [], "waste": [], "lost": []}
    for thing in leaving:
        if metal in thing.contents:
            ways[way_out(thing)].append(thing.contents[metal])
    figures = {way: _outlet(way, found) for way, found in ways.items()}
    measured = sum(figure.known for figure in (*ways["shelf"], *ways["waste"]))
    return Outlets(**figures, side_streams=measured)


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


def _head(assayed: Figure, built_up: Figure, outlets: Outlets) -> tuple[Figure, str]:
    """The head and its basis. A product over itself says nothing: it is no head."""
    if assayed.known:
        return assayed, "assayed"
    if built_up.known and outlets.side_streams:
        return built_up, "built-up"
    terms = (assayed, built_up)
    low, high = assayed.low, assayed.high
    return Figure("head", "g", terms=terms, why=assayed.why, low=low, high=high), "unknown"


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
    taken = {thing.what for thing in entering if metal in thing.contents}
    return [
        thing
        for thing in leaving
        if thing.role is Role.SIDE
        and metal in thing.contents
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
    set_aside = add_up("set aside", "g", [thing.contents[metal] for thing in unworked])
    worked = difference("worked on", "g", head, set_aside)
    if not set_aside.known:
        return f"{told}; how much {metal} it holds is not known"
    if product.value is None or worked.value is None or worked.value.value <= 0.0:
        return told
    percent = 100.0 * product.value.value / worked.value.value
    return f"{told}: {percent:.0f} % of what was worked on"


def _gap(assayed: Figure, built_up: Figure, outlets: Outlets) -> Figure:
    """What is not accounted for; limits where something that came out was not measured.

    Equation: with K the sum of what was measured and X what was not, U = H_a − K − X lies
    between H_a − K − 2u − X_high and H_a − K + 2u − X_low, with u that of H_a − K.
    """
    gap = difference("unaccounted", "g", assayed, built_up, "head − what came out")
    if gap.known or assayed.value is None:
        return replace(gap, low=None, high=None)
    parts = [part for way in outlets.all for part in way.terms or (way,)]
    known = assayed.value - total([part.value for part in parts if part.value is not None])
    open_parts = [part for part in parts if part.value is None]
    tops = [part.high for part in open_parts]
    bottom = None if None in tops else sum(top for top in tops if top is not None)
    low = None if bottom is None else known.value - COVERAGE * known.u - bottom
    high = known.value + COVERAGE * known.u - sum(map(lowest, open_parts))
    return replace(gap, low=low, high=high)


def _closes(unaccounted: Figure) -> str:
    """Whether a gap is no more than the readings can explain: yes, no or unknown."""
    gap = unaccounted.value
    if gap is None:
        return "unknown"
    return "yes" if abs(gap.value) <= COVERAGE * gap.u else "no"
