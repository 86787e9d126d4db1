"""Upper limits of gas as figures: shares of what is there, their sums, and the tightest of them.

No limit is ever a value, and a limit that lacks is not known, which is never nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

from logbook.calculation.bench.demand import ratio_words
from logbook.calculation.bench.substances import within
from logbook.calculation.figure import Figure
from logbook.calculation.results import Substance
from logbook.calculation.sums import notes_of, reasons
from logbook.chemistry.ranges import Range

MOST = "this is the most that is possible; how far the work goes, and which way, nobody knows"


def there(substance: Substance) -> Figure:
    """How much of a pure substance is there, within limits."""
    return Figure(
        f"{substance.formula} there",
        "g",
        formula=f"what {substance.words} brings",
        rests_on=substance.spans,
        why="; ".join(substance.notes) or _lacking(substance),
        low=substance.grams.low,
        high=substance.grams.high,
        notes=substance.notes,
    )


def _lacking(substance: Substance) -> str:
    if substance.grams.high is None:
        return f"how much {substance.formula} {substance.words} brings is not known"
    return "it is known within limits only"


def share(name: str, figure: Figure, most: float, note: str = "") -> Figure:
    """The most that an amount can give, at so many grams a gram."""
    top = within(figure).high
    return Figure(
        name,
        "g",
        formula=f"{figure.name} × {ratio_words(Range.exactly(most))}, at most",
        terms=(figure,),
        why=MOST if top is not None else figure.why,
        low=0.0,
        high=None if top is None else top * most,
        notes=(note,) if note else (),
    )


def summed(name: str, parts: list[Figure]) -> Figure:
    """Limits that add up; one alone stays what it is."""
    if len(parts) == 1:
        return parts[0]
    whole = total(parts)
    unlimited = whole == float("inf")
    return Figure(
        name,
        "g",
        formula=" + ".join(dict.fromkeys(one.name for one in parts)),
        terms=tuple(parts),
        why=reasons(one for one in parts if one.high is None) if unlimited else MOST,
        low=0.0,
        high=None if unlimited else whole,
        notes=notes_of(parts),
    )


def most(name: str, bounds: list[Figure], notes: Iterable[str]) -> Figure:
    """The sum of limits under a name, with what it rests on."""
    whole = summed(name, bounds)
    return Figure(
        name,
        "g",
        formula=" + ".join(dict.fromkeys(one.name for one in bounds)) + ", at most",
        terms=tuple(bounds),
        why=MOST if whole.high is not None else whole.why,
        low=0.0,
        high=whole.high,
        notes=tuple(dict.fromkeys((*notes, *notes_of(bounds)))),
    )


def tightest(name: str, bounds: list[Figure], notes: Iterable[str]) -> Figure:
    """The least of some limits; not known where none of them is."""
    least = min(bounds, key=lambda one: total([one]))
    if least.high is None:
        return unlimited(name, bounds)
    return most(name, [least], notes)


def unlimited(name: str, bounds: Iterable[Figure]) -> Figure:
    """No limit at all, with the reasons."""
    open_ones = [one for one in bounds if one.high is None]
    return Figure(name, "g", terms=tuple(open_ones), why=reasons(open_ones), low=0.0)


def total(bounds: Iterable[Figure]) -> float:
    """The sum of limits; infinite where one of them lacks."""
    return sum(float("inf") if one.high is None else one.high for one in bounds)
