"""What a question of work leaves unsaid: acid that is still free, and what else a metal takes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator

from logbook.calculation.answers.given_off import imagined
from logbook.calculation.bench.substances import UNLIMITED
from logbook.calculation.results import Substance
from logbook.chemistry.reactions import reactions
from logbook.model.question import Kind

NITRIC = frozenset({"silver"})
"""What stands in nitric acid, and in no chloride: general chemistry."""
NAMED = frozenset({Kind.DISSOLVE, Kind.DESTROY, Kind.NEUTRALISE})
"""Work whose acid is named in the question."""


def free_in(kind: Kind, metals: Collection[str]) -> tuple[Substance, ...]:
    """The acid that may still be free beside what a question asks for; nobody knows how much.

    It is the acid that a metal stands in as it is dropped or cemented, and, for what it sets
    free, any other. A salt that is to become metal may stand in any acid.
    """
    if kind in NAMED:
        return ()
    if not metals:
        return (imagined("acid"),)
    formula = "HNO3" if NITRIC.issuperset(metals) else "HCl"
    why = "how much acid is still free is not known"
    free = Substance(formula, UNLIMITED, "the acid that is still free", (), (why,))
    return (free,) if kind is Kind.CEMENT else (free, imagined("acid"))


def what_it_takes(
    work: str, of: Iterable[str], formulas: Collection[str], named: Callable[[str], str]
) -> Iterator[str]:
    """What the data do have for a metal: a supply that was named, together with others.

    It says what stands in an equation, and no more.
    """
    for metal in of:
        asks = {one.asks for one in reactions().values() if one.metal == metal and one.work == work}
        ways = [one for one in sorted(asks) if not set(one).isdisjoint(formulas)]
        if ways:
            known = [formula for formula in min(ways, key=len) if formula in formulas]
            others = dict.fromkeys(
                " and ".join(named(one) for one in way if one not in formulas) for way in ways
            )
            first = " and ".join(map(named, known))
            yield f"{metal} takes {first} together with {' or with '.join(others)}"
