"""The account of a whole book: where its money came in, and where all of it now stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import partial

from logbook.calculation.figure import Figure
from logbook.calculation.money.costing import Followed, follow_cost
from logbook.calculation.money.exact import rounded_together
from logbook.calculation.money.loads import (
    EMPTY,
    NONE,
    RAW,
    SCRAP,
    Load,
    Part,
    joined,
    less,
    part_of_figure,
    together,
)
from logbook.calculation.money.markets import Market
from logbook.calculation.money.run_costing import (
    GONE,
    RunLoads,
    charge_standing,
    kinds_of,
    run_costing,
    thing_costs,
)
from logbook.calculation.results import (
    BookAccount,
    BookLine,
    Costing,
    Fate,
    Role,
    RunFigures,
    Supplies,
    Thing,
)
from logbook.model.run import Status

SOLD, HELD = "in products sold", "in products held"
SHELF, UNUSED = "in side streams and charges on the shelf", "in scrap not taken yet"
WORK, OFF = "in open work", "written off"
STOCK, LOOSE = "in supplies left", "belongs to no run"
CAME = {
    "feed": "scrap",
    "reagent": "supplies used",
    "labour": "hours at the book's rate",
    "energy": "energy",
    "breakage": "breakage",
    "fee": "fees",
    "lump": "lump sums",
    "other": "other costs",
}


def costing_of_book(
    runs: Mapping[str, RunFigures],
    things: Sequence[Thing],
    scrap: Mapping[str, Figure],
    supplies: Supplies,
    market: Market,
) -> Costing:
    """Cost followed along the metal: by thing, by run, and for the book as a whole."""
    currency = market.currency
    followed = follow_cost(runs, things, scrap, partial(_price_at_split, market))
    costs = thing_costs(things, followed, currency)
    loads = RunLoads(things, followed)
    by_run = {name: run_costing(figures, loads, costs, currency) for name, figures in runs.items()}
    stands = _stands(runs, things, followed)
    account = _account(runs, stands, followed, supplies, currency)
    made = [load for name in (SOLD, HELD, OFF) for load in stands[name]] or [NONE]
    hours = together(made).hours.figure("hours of what was made", "h")
    return Costing(costs, by_run, account, kinds_of(made, currency), hours)


def _price_at_split(market: Market, metal: str, thing: Thing) -> float | None:
    """The price by which metals are compared: of the day, else of whatever day there is one."""
    for day in (thing.day, None):
        price = market.price(metal, day).value
        if price is not None:
            return price.value
    return None


def _account(
    runs: Mapping[str, RunFigures],
    placed: Mapping[str, Sequence[Load]],
    followed: Followed,
    supplies: Supplies,
    currency: str,
) -> BookAccount | None:
    """Both sides of the account; None where no money came in that anybody knows of.

    Equation: scrap + supplies + hours + energy + breakage + fees + other costs = products sold +
    held + shelf + scrap not taken + open work + written off + supplies left + what belongs to no
    run [currency]. Source: the identity of process costing, costs to account for = costs
    accounted for (textbooks of cost accounting; from memory).
    """
    beside = {
        STOCK: joined([part_of_figure(one.stock_cost) for one in supplies.accounts] or [EMPTY]),
        LOOSE: joined(list(_loose(runs.values(), supplies)) or [EMPTY]),
    }
    stands = {
        name: joined([load.money() for load in loads] or [EMPTY]) for name, loads in placed.items()
    }
    came = _came_in(followed)
    came_lines, total = _lines(came, currency)
    stand_lines, _ = _lines(stands, currency)
    # What no run took is one sum on both sides, and so it is rounded by itself.
    beside_lines, rest = _lines(beside, currency)
    if not total and not rest and not any(came.values()):
        return None
    missing = joined([*came.values(), *beside.values()]).missing
    return BookAccount(
        (*came_lines, *beside_lines), (*stand_lines, *beside_lines), total + rest, missing
    )


def _loose(runs: Iterable[RunFigures], supplies: Supplies) -> Iterable[Part]:
    yield from (part_of_figure(one) for one in supplies.unallocated)
    for figures in runs:
        if figures.cost_unallocated is not None:
            yield part_of_figure(figures.cost_unallocated)


def _came_in(followed: Followed) -> dict[str, Part]:
    kinds: dict[str, list[Part]] = {}
    for load in (*followed.scrap.values(), *followed.own.values()):
        for kind, part in load.kinds.items():
            name = "feed" if kind in SCRAP else kind
            kinds.setdefault(CAME.get(name, name), []).append(part)
    came = {kind: joined(parts) for kind, parts in kinds.items()}
    for load in followed.replaced:
        came[CAME["feed"]] = less(came[CAME["feed"]], load.kinds.get(RAW, EMPTY))
    order = [name for name in CAME.values() if name in came]
    return {name: came[name] for name in order} | came


def _stands(
    runs: Mapping[str, RunFigures], things: Sequence[Thing], followed: Followed
) -> dict[str, list[Load]]:
    """Every load at its last place, in the order of the lines."""
    found: dict[str, list[Load]] = {name: [] for name in (SOLD, HELD, SHELF, UNUSED, WORK, OFF)}
    jars = {part for thing in things for part in thing.pooled_from}
    drawn = {thing.part_of for thing in things if thing.part_of}
    for thing in things:
        if thing.used_by is None and thing.key not in jars and thing.key not in drawn:
            carried = followed.things.get(thing.key)
            if carried is not None:
                found[_place(thing, carried.load, runs)].append(carried.load)
    for stage, load in followed.written_off.items():
        is_open = stage.run in runs and runs[stage.run].run.status is Status.OPEN
        found[WORK if is_open else OFF].append(load)
    found[OFF] += followed.came_round
    return found


def _place(thing: Thing, load: Load, runs: Mapping[str, RunFigures]) -> str:
    if thing.fate is Fate.SOLD:
        return SOLD
    if thing.fate in GONE or thing.fate is Fate.USED:
        return OFF
    if thing.role is Role.PRODUCT:
        return HELD
    if load.kinds and set(load.kinds) <= {RAW}:
        return UNUSED
    maker = runs.get(thing.made_by.run) if thing.made_by is not None else None
    standing = charge_standing(thing, maker)
    return {Status.OPEN: WORK, Status.ABANDONED: OFF}.get(standing or Status.FINISHED, SHELF)


def _lines(parts: Mapping[str, Part], currency: str) -> tuple[tuple[BookLine, ...], int]:
    cents, whole = rounded_together([part.amount for part in parts.values()])
    lines = tuple(
        BookLine(name, cent, part.figure(name, currency))
        for (name, part), cent in zip(parts.items(), cents, strict=True)
    )
    return lines, whole
