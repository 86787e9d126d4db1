"""The one kind of record in which every figure is given: value, doubt, unit and working."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.model.amount import Uncertain
from logbook.source import Span


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure and how it was worked out.

    `value` is in `unit` (g, L, h, g/g, a currency, or currency/h) and None where the figure
    is not known; `why` then gives the reason in words that finish "not known, because ...".
    `formula` names the terms in words ("product / assayed head"); `terms` are those figures,
    in the order of the formula. `rests_on` are the words of the logs a leaf was read from.
    `low` and `high` are limits where only limits are known. `notes` qualify the figure
    ("weighed damp: the dry weight is lower").
    """

    name: str
    unit: str
    value: Uncertain | None = None
    formula: str = ""
    terms: tuple[Figure, ...] = ()
    rests_on: tuple[Span, ...] = ()
    why: str = ""
    low: float | None = None
    high: float | None = None
    notes: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """Whether the figure has a value."""
        return self.value is not None

    def leaves(self) -> Iterator[Span]:
        """Every place in the logs that the figure rests on, each once, in order of use.

        A figure that several others share is walked through once, not once for each.
        """
        seen: set[Span] = set()
        walked: set[int] = set()
        stack = [self]
        while stack:
            figure = stack.pop()
            if id(figure) in walked:
                continue
            walked.add(id(figure))
            for span in figure.rests_on:
                if span not in seen:
                    seen.add(span)
                    yield span
            stack.extend(reversed(figure.terms))


def not_known(name: str, unit: str, why: str, *terms: Figure) -> Figure:
    """A figure that cannot be given, with the reason."""
    return Figure(name, unit, why=why, terms=terms)
