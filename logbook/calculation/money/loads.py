"""What a thing carries: money by kind, and hours, exact, with their doubts and what is missing.

A load is added to and divided and never changes on the way. Money is exact (`exact.py`); a
share is a convention and adds no doubt of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from logbook.calculation.figure import Figure
from logbook.calculation.money.exact import NOTHING, exact, shared_out
from logbook.calculation.sums import lowest
from logbook.model.amount import ZERO, Uncertain, total

RAW = "scrap"  # the price of scrap that no run has taken yet
FEED = "feed"
SCRAP = frozenset({RAW, FEED})
TOLD = 3  # reasons that are kept of those for which something is not known
MORE = "and more that is not known"


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a load: its exact amount, its doubt, and why more of it is not known."""

    amount: Decimal = NOTHING
    doubt: Uncertain = ZERO
    missing: tuple[str, ...] = ()

    def figure(self, name: str, unit: str, words: str = "", terms: Sequence[Figure] = ()) -> Figure:
        """The part as a figure; at least what is known of it where some is not."""
        value = float(self.amount)
        if self.missing:
            why = "; ".join(self.missing)
            return Figure(name, unit, formula=words, terms=tuple(terms), why=why, low=value)
        return Figure(name, unit, Uncertain(value, self.doubt.errors), words, tuple(terms))


EMPTY = Part()


def part_of_figure(figure: Figure) -> Part:
    """A figure that cannot be negative as a part: what is known of it is at least in it."""
    # A sum of several unknowns gives its reasons joined: each is kept once.
    missing = () if figure.known else tuple(dict.fromkeys(figure.why.split("; ")))
    return Part(exact(lowest(figure)), figure.value or ZERO, missing)


def joined(parts: Sequence[Part]) -> Part:
    """Parts added up."""
    if len(parts) == 1:
        return parts[0]
    errors = [part.doubt for part in parts if part.doubt.errors]
    doubt = errors[0] if len(errors) == 1 else total(errors) if errors else ZERO
    amount = sum((part.amount for part in parts), NOTHING)
    return Part(amount, doubt, _reasons(part.missing for part in parts))


def less(whole: Part, part: Part) -> Part:
    """A part without another that lies in it."""
    return Part(whole.amount - part.amount, whole.doubt - part.doubt, whole.missing)


def _reasons(found: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    reasons = tuple(dict.fromkeys(reason for some in found for reason in some))
    told = [one for one in reasons if one != MORE]
    return (*told[:TOLD], MORE) if len(told) > TOLD or MORE in reasons else tuple(told)


@dataclass(frozen=True, slots=True)
class Load:
    """Money by kind of cost, and hours."""

    kinds: Mapping[str, Part] = field(default_factory=dict)
    hours: Part = EMPTY

    def money(self, *, scrap: bool = True) -> Part:
        """All of its money, or that without what the scrap cost."""
        parts = [part for kind, part in self.kinds.items() if scrap or kind not in SCRAP]
        return joined(parts) if parts else EMPTY

    def entered(self) -> Load:
        """The same load when a run has taken the thing: what the scrap cost is its feed."""
        if RAW not in self.kinds:
            return self
        kinds = {kind: part for kind, part in self.kinds.items() if kind not in SCRAP}
        kinds[FEED] = joined([self.kinds[kind] for kind in (FEED, RAW) if kind in self.kinds])
        return Load(kinds, self.hours)

    def without_fresh(self) -> Load:
        """The same load without the price of scrap that no run has taken yet."""
        if RAW not in self.kinds:
            return self
        return Load({kind: part for kind, part in self.kinds.items() if kind != RAW}, self.hours)


NONE = Load()


def together(loads: Sequence[Load]) -> Load:
    """Loads added up, kind by kind."""
    if len(loads) == 1:
        return loads[0]
    kinds: dict[str, list[Part]] = {}
    for load in loads:
        for kind, part in load.kinds.items():
            kinds.setdefault(kind, []).append(part)
    hours = [load.hours for load in loads]
    return Load(
        {kind: joined(parts) for kind, parts in kinds.items()}, joined(hours) if hours else EMPTY
    )


def divided(load: Load, sizes: Sequence[float]) -> list[Load]:
    """A load shared out in proportion to some sizes, not all nothing; nothing is lost.

    >>> whole = Load({"reagent": Part(Decimal("1.00"))}, Part(Decimal("3.0")))
    >>> [float(part.money().amount) for part in divided(whole, [1.0, 3.0])]
    [0.25, 0.75]
    """
    if len(sizes) == 1:
        return [load]
    money = {kind: _parts(part, sizes) for kind, part in load.kinds.items()}
    hours = _parts(load.hours, sizes)
    return [
        Load({kind: parts[at] for kind, parts in money.items()}, hours[at])
        if sizes[at] > 0.0
        else NONE
        for at in range(len(sizes))
    ]


def _parts(part: Part, sizes: Sequence[float]) -> list[Part]:
    whole = sum(sizes)
    amounts = shared_out(part.amount, sizes)
    return [
        Part(amount, part.doubt.times(size / whole) if part.doubt.errors else ZERO, part.missing)
        for amount, size in zip(amounts, sizes, strict=True)
    ]
