"""By what the cost of a stage is shared between the things it made: the split-off point.

A share is a convention: by metal content, as that is what the work is for; in money where
there are several metals. Nothing here goes back into a balance.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.results import Content, Fate, Role, Thing

PriceOf = Callable[[str, Thing], float | None]
GONE = frozenset({Fate.WASTE, Fate.LOST})
NEVER = frozenset({Role.WASTE, Role.LOSS})
MAIN = frozenset({Role.CHARGE, Role.PRODUCT})
ALL_OF_IT = "all of it: nothing else that is kept was made there"
NOTHING_TOLD = "nothing: no line tells what it holds"
BESIDE_MAIN = "nothing: what goes on takes all, as no line tells what that holds"


@dataclass(frozen=True, slots=True)
class Shares:
    """The things that carry what a stage cost, the size of each, and the rule in words."""

    things: tuple[Thing, ...] = ()
    sizes: tuple[float, ...] = ()
    rules: tuple[str, ...] = ()


def carriers(made: Sequence[Thing]) -> tuple[Thing, ...]:
    """The things of a stage that may carry its cost.

    What went to waste or was lost carries nothing where anything else was made: the good bears
    the cost of what is spoilt in the ordinary course. Source: normal spoilage, as textbooks of
    cost accounting have it (from memory). A sample carries something only where it was used.
    """
    able = [
        thing
        for thing in made
        if thing.role not in NEVER and (thing.role is not Role.SAMPLE or thing.used_by is not None)
    ]
    good = [thing for thing in able if thing.fate not in GONE]
    return tuple(good or able)


def shares(made: Sequence[Thing], price_of: PriceOf) -> Shares:
    """The shares of what a stage made.

    Equation: a_i = A v_i / Σ v, with v the metal held [g], or Σ metal × price where there are
    several metals: the physical measure, or the sales value, at split-off. Source: joint
    costing, Horngren et al., Cost Accounting (shared check values; method from memory). Where
    what goes on to the next stage is not known to hold anything, it takes all of it.
    """
    able = carriers(made)
    if len(able) < 2:
        return Shares(able, (1.0,) * len(able), (ALL_OF_IT,) * len(able))
    sizes, rule = _by_content(able, price_of)
    main = [thing.role in MAIN for thing in able]
    if all(size is not None for size, is_main in zip(sizes, main, strict=True) if is_main):
        known = tuple(size or 0.0 for size in sizes)
        if sum(known) > 0.0:
            rules = tuple(NOTHING_TOLD if size is None else rule for size in sizes)
            return Shares(able, known, rules)
    return _without_content(able, main)


def _without_content(able: tuple[Thing, ...], main: Sequence[bool]) -> Shares:
    """By mass, else one share each, among what goes on; among all where nothing does."""
    takes = main if any(main) else [True] * len(able)
    masses = [_value(thing.gross) for thing in able]
    by_mass = all(mass for mass, one in zip(masses, takes, strict=True) if one)
    rule = "mass" if by_mass else "one share each"
    sizes = tuple(
        ((mass or 0.0) if by_mass else 1.0) if one else 0.0
        for mass, one in zip(masses, takes, strict=True)
    )
    return Shares(able, sizes, tuple(rule if one else BESIDE_MAIN for one in takes))


def _by_content(able: Sequence[Thing], price_of: PriceOf) -> tuple[list[float | None], str]:
    held = [_sizes(thing) for thing in able]
    metals = dict.fromkeys(m for sizes in held for m, size in sizes.items() if size)
    if len(metals) < 2:
        (metal,) = metals or ("",)
        return [_of_one(sizes, metal) for sizes in held], f"content of {metal}"
    priced = {m: price for m in metals if (price := _price(m, able, price_of)) is not None}
    if not priced:
        metal = next(iter(metals))
        return [_of_one(sizes, metal) for sizes in held], f"content of {metal}"
    worth = [_worth(sizes, priced) for sizes in held]
    rule = "worth of content" if len(priced) > 1 else f"content of {next(iter(priced))}"
    return worth, rule


def _of_one(sizes: dict[str, float | None], metal: str) -> float | None:
    """What a thing holds of one metal; not known where nothing at all tells of any."""
    known = [size for size in sizes.values() if size is not None]
    return sizes.get(metal) if sizes.get(metal) is not None else (0.0 if known else None)


def _worth(sizes: dict[str, float | None], priced: dict[str, float]) -> float | None:
    known = {metal: size for metal, size in sizes.items() if size is not None}
    return sum(size * priced.get(metal, 0.0) for metal, size in known.items()) if known else None


def _price(metal: str, able: Sequence[Thing], price_of: PriceOf) -> float | None:
    return next((price for thing in able if (price := price_of(metal, thing)) is not None), None)


def _sizes(thing: Thing) -> dict[str, float | None]:
    """About how much a thing holds of each metal [g], for a share alone; None where nothing tells.

    What the balance gives; else its share of a sum that is known. Where that is so of none of
    its metals, the middle of the limits of each, or the lower one where there is no upper: a
    trace that nobody looked for in a bar that was assayed is none.
    """
    known = {metal: _known(content) for metal, content in thing.held.items()}
    if any(size is not None for size in known.values()):
        return known
    return {metal: _between(content.best) for metal, content in thing.held.items()}


def _known(content: Content) -> float | None:
    for figure in (content.best, content.allocated):
        if figure is not None and figure.value is not None:
            return max(figure.value.value, 0.0)
    return None


def _between(best: Figure) -> float | None:
    if best.high is not None:
        return max((best.high + (best.low or 0.0)) / 2.0, 0.0)
    return best.low or None


def _value(figure: Figure) -> float | None:
    """A weight that can be shared by: not one below nothing, which is a slip of the pen."""
    return max(figure.value.value, 0.0) if figure.value is not None else None
