"""Sums, differences, products and ratios of figures, which keep the working and the doubt.

A figure made from an unknown one is itself unknown: it says why, and keeps the limits that
are left. This module knows nothing of logs, metals or money, and must not.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from logbook.calculation.figure import Figure
from logbook.model.amount import ZERO, Uncertain, total

REASONS_NAMED = 3


def zero(name: str, unit: str, note: str = "") -> Figure:
    """A figure that is exactly nothing, such as the waste of a run that discarded nothing."""
    return Figure(name, unit, ZERO, notes=(note,) if note else ())


def lowest(figure: Figure) -> float:
    """The least that a figure which cannot be negative may be, in its unit."""
    if figure.value is not None:
        return figure.value.value
    return figure.low or 0.0


def highest(figure: Figure) -> float | None:
    """The most that a figure may be, in its unit; None where there is no limit."""
    return figure.value.value if figure.value is not None else figure.high


def reasons(figures: Iterable[Figure]) -> str:
    """Why figures are not known, each reason once, the first few in full.

    >>> reasons([Figure("a", "g", why="it was spilt"), Figure("b", "g", why="it was spilt")])
    'it was spilt'
    """
    found = list(dict.fromkeys(figure.why for figure in figures if figure.why))
    named, more = found[:REASONS_NAMED], len(found) - REASONS_NAMED
    return "; ".join(named) + (f"; and {more} more" if more > 0 else "")


def add_up(name: str, unit: str, terms: Sequence[Figure], formula: str = "") -> Figure:
    """The sum of figures that cannot be negative.

    Equation: y = Σ x_i [all in `unit`]; u²(y) = Σ_i Σ_j u(x_i, x_j), which adds the errors
    that terms share before it squares them. Source: JCGM 100:2008, 5.1.2 and 5.2.2 (clause
    numbers from memory).

    Where a term is not known the sum is not known either: `low` is then the part that is
    known, and `high` is set only where every term has an upper limit.

    >>> from logbook.model.amount import Uncertain
    >>> three = Figure("cold solution", "g", Uncertain.of(3.0, 0.3, "first weighing"))
    >>> four = Figure("hot solution", "g", Uncertain.of(4.0, 0.4, "second weighing"))
    >>> both = add_up("both", "g", [three, four])
    >>> both.value.value, round(both.value.u, 3)
    (7.0, 0.5)
    """
    working = tuple(terms)
    words = formula or " + ".join(dict.fromkeys([term.name for term in working]))
    known = [term.value for term in working if term.value is not None]
    if len(known) == len(working):
        value = known[0] if len(known) == 1 else total(known)
        return Figure(name, unit, value, words, working, notes=notes_of(working))
    tops = [highest(term) for term in working]
    high = None if None in tops else sum(top for top in tops if top is not None)
    return Figure(
        name,
        unit,
        formula=words,
        terms=working,
        why=reasons(term for term in working if not term.known),
        low=sum(map(lowest, working)),
        high=high,
    )


def notes_of(figures: Iterable[Figure]) -> tuple[str, ...]:
    """The notes that qualify figures, each once: what is made of them inherits them."""
    found = [note for figure in figures if figure.notes for note in figure.notes]
    return tuple(dict.fromkeys(found)) if found else ()


def difference(name: str, unit: str, whole: Figure, part: Figure, formula: str = "") -> Figure:
    """One figure less another.

    Equation: y = a − b [in `unit`]; u²(y) = u²(a) + u²(b) − 2 u(a, b). Source: JCGM
    100:2008, 5.2.2 (from memory). With limits only, y lies between a_low − b_high and
    a_high − b_low.

    >>> from logbook.model.amount import Uncertain
    >>> ten = Figure("in", "g", Uncertain.of(10.0, 0.3, "the weighing"))
    >>> difference("gap", "g", ten, ten).value.u
    0.0
    """
    words = formula or f"{whole.name} − {part.name}"
    terms = (whole, part)
    if whole.value is not None and part.value is not None:
        return Figure(name, unit, whole.value - part.value, words, terms, notes=notes_of(terms))
    top, bottom = highest(whole), highest(part)
    return Figure(
        name,
        unit,
        formula=words,
        terms=terms,
        why=reasons(term for term in terms if not term.known),
        low=None if bottom is None else lowest(whole) - bottom,
        high=None if top is None else top - lowest(part),
    )


def ratio(name: str, unit: str, above: Figure, below: Figure, formula: str = "") -> Figure:
    """One figure over another.

    Equation: y = a / b; u²(y) = y² (u²(a)/a² + u²(b)/b² − 2 u(a, b)/(a b)). Source: JCGM
    100:2008, 5.1.2 and 5.2.2 (from memory). Not known where b is zero.

    Assaying 50 g ± 1 % against 100 g ± 1 % gives 0.500 ± 0.007 by hand (√2 × 1 %):

    >>> from logbook.model.amount import Uncertain
    >>> product = Figure("product", "g", Uncertain.of(50.0, 0.5, "a"))
    >>> head = Figure("head", "g", Uncertain.of(100.0, 1.0, "b"))
    >>> recovery = ratio("recovery", "g/g", product, head)
    >>> recovery.value.value, round(recovery.value.u, 4)
    (0.5, 0.0071)
    """
    words = formula or f"{above.name} / {below.name}"
    terms = (above, below)
    if above.value is None or below.value is None:
        why = reasons(term for term in terms if not term.known)
        return Figure(name, unit, formula=words, terms=terms, why=why)
    if not below.value.value:
        return Figure(name, unit, formula=words, terms=terms, why=f"{below.name} is nothing")
    return Figure(name, unit, above.value / below.value, words, terms, notes=notes_of(terms))


def product(name: str, unit: str, one: Figure, other: Figure, formula: str = "") -> Figure:
    """One figure times another that cannot be negative either.

    Equation: y = a b; u²(y) = b² u²(a) + a² u²(b) + 2 a b u(a, b). Source: JCGM 100:2008,
    5.1.2 and 5.2.2 (from memory). With limits only, y lies between the products of the
    lower and of the upper limits.

    >>> from logbook.model.amount import Uncertain
    >>> bar = Figure("bar", "g", Uncertain.of(279.6, 0.0, "weighing"))
    >>> assay = Figure("silver", "g/g", Uncertain.of(0.995, 0.003, "assay"))
    >>> fine = product("fine silver", "g", bar, assay)
    >>> round(fine.value.value, 3), round(fine.value.u, 4)
    (278.202, 0.8388)
    """
    words = formula or f"{one.name} × {other.name}"
    terms = (one, other)
    if one.value is not None and other.value is not None:
        return Figure(name, unit, one.value * other.value, words, terms, notes=notes_of(terms))
    first, second = highest(one), highest(other)
    return Figure(
        name,
        unit,
        formula=words,
        terms=terms,
        why=reasons(term for term in terms if not term.known),
        low=lowest(one) * lowest(other),
        high=None if first is None or second is None else first * second,
    )


def part_of(name: str, figure: Figure, share: float, formula: str) -> Figure:
    """An exact part of a figure: half of a jar, one of three filters."""

    def scaled(limit: float | None) -> float | None:
        return None if limit is None else limit * share

    value: Uncertain | None = None if figure.value is None else figure.value.times(share)
    return Figure(
        name,
        figure.unit,
        value,
        formula,
        (figure,),
        why=figure.why,
        low=scaled(figure.low),
        high=scaled(figure.high),
        notes=figure.notes,
    )
