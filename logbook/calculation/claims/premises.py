"""What a claim rests on that no evidence stands behind: a fineness that was said, an own price."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from logbook.calculation.claims.known import Claimed, title_of
from logbook.calculation.claims.spoken import digits
from logbook.calculation.figure import Figure
from logbook.calculation.purity import MARK_UNITS
from logbook.calculation.results import Thing
from logbook.model.entry import Composition, Entry


def fineness_premises(things: Iterable[Thing], metals: Sequence[str]) -> Iterator[str]:
    """The finenesses that nobody measured: by a mark, or by the writer's word alone."""
    for thing in things:
        for metal in metals:
            found = _latest(thing, metal)
            if found is not None and not _measured(found[0]):
                yield _unmeasured(thing, *found)


def _latest(thing: Thing, metal: str) -> tuple[Entry, Composition] | None:
    """The statement that is counted: the last one by a method, else the last one."""
    said = [(e, one) for e in thing.entries for one in e.compositions if one.metal == metal]
    by_method = [one for one in said if _measured(one[0])]
    found = by_method or said
    return found[-1] if found else None


def _measured(entry: Entry) -> bool:
    return bool(entry.method) or entry.action == "assayed"


def _unmeasured(thing: Thing, entry: Entry, said: Composition) -> str:
    words, title = " ".join(said.span.text.split()), title_of(thing)
    if said.amount.unit.lower() in MARK_UNITS or "mark" in said.amount.note:
        return f"{words} of {title} is by its mark: an upper hope, not measured"
    return f"{words} of {title} is said, not measured"


def said_premise(said: Composition, things: Sequence[Thing]) -> str:
    """A fineness that the claim itself states."""
    words = " ".join(said.span.text.split())
    of = f" of {title_of(things[0])}" if len(things) == 1 else ""
    return f"the fineness {words}{of} is said here, not measured"


def price_premise(claimed: Claimed, metal: str, price: Figure) -> Iterator[str]:
    """An own price of the claim, where the book has none or another for that day."""
    at = claimed.claim.at
    if at is None or price.value is None:
        return
    words = " ".join(at.span.text.split())
    noted = claimed.known.market.price(metal, claimed.day)
    if noted.value is None:
        yield f"the price {words} is said here: no price of {metal} is noted for that day"
    elif abs(noted.value.value - price.value.value) > 0.005 * abs(noted.value.value):
        by_book = f"{digits(noted.value.value)} {noted.unit}"
        yield f"the price {words} is the writer's own: {by_book} is noted for that day"
