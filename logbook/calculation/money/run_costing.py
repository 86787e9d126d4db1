"""What each thing and each run carried, as figures, from the loads that were followed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from logbook.calculation.figure import Figure
from logbook.calculation.money.costing import Carried, Followed
from logbook.calculation.money.exact import exact
from logbook.calculation.money.loads import NONE, Load, Part, together
from logbook.calculation.results import (
    Fate,
    Role,
    RunCosting,
    RunFigures,
    StageKey,
    Thing,
    ThingCost,
)
from logbook.model.run import Status

ADDED_UP = "what its parts carried, added up"
BOUGHT = "what it was bought for"
WASTED = "what it made went to waste or was lost"
GIVEN_UP = "it was given up, and no other run took up its charge"
NOTHING_KEPT = "it made nothing that is kept"
GONE = frozenset({Fate.WASTE, Fate.LOST})


def thing_costs(things: Sequence[Thing], followed: Followed, currency: str) -> dict[str, ThingCost]:
    """What every thing carries that carries anything, or would if it were known."""
    found = {}
    for thing in things:
        carried = followed.things.get(thing.key)
        if carried is not None and (carried.rule or carried.load.kinds):
            found[thing.key] = _thing_cost(thing, carried, currency)
    return found


def _thing_cost(thing: Thing, carried: Carried, currency: str) -> ThingCost:
    load = carried.load.entered()
    rule = carried.rule or (ADDED_UP if thing.pooled_from else BOUGHT)
    share = None if carried.share is None else Part(exact(carried.share)).figure("share", "1", rule)
    return ThingCost(
        thing.key,
        load.money().figure("cost carried", currency, rule),
        load.money(scrap=False).figure("cost carried without the scrap", currency, rule),
        load.hours.figure("hours carried", "h", rule),
        {kind: part.figure(kind, currency) for kind, part in load.kinds.items()},
        share,
        rule,
    )


class RunLoads:
    """What crossed the bounds of each run, as loads."""

    def __init__(self, things: Sequence[Thing], followed: Followed) -> None:
        self._followed = followed
        self._by_key = {thing.key: thing for thing in things}
        self._drawn = {thing.part_of for thing in things if thing.part_of}
        self._jar_of = {part: thing for thing in things for part in thing.pooled_from}
        self.taken: dict[str, list[Thing]] = {}
        self.made: dict[str, list[Thing]] = {}
        for thing in things:
            if thing.used_by is not None:
                self.taken.setdefault(thing.used_by.run, []).append(thing)
            if thing.made_by is not None and not self._is_told_elsewhere(thing):
                self.made.setdefault(thing.made_by.run, []).append(thing)

    def _is_told_elsewhere(self, thing: Thing) -> bool:
        """Whether a thing stands in the book as its draws, or as what was poured into it."""
        root = thing
        while root.part_of:
            root = self._by_key[root.part_of]
        return thing.key in self._drawn or bool(root.pooled_from)

    def written_off(self, run: str) -> list[tuple[StageKey, Load]]:
        """What the stages of a run could pass on to nothing."""
        return [(at, load) for at, load in self._followed.written_off.items() if at.run == run]

    def load(self, thing: Thing) -> Load:
        """What a thing carries."""
        carried = self._followed.things.get(thing.key)
        return carried.load.entered() if carried is not None else NONE

    def from_elsewhere(self, run: str) -> list[tuple[Thing, Load]]:
        """What a run took with a past in other runs, without the price of fresh scrap."""
        found = []
        for thing in self.taken.get(run, ()):
            if thing.made_by is not None and thing.made_by.run == run and not thing.pooled_from:
                continue
            carried = self._followed.things.get(thing.key)
            load = carried.load if carried is not None else NONE
            outside = [part for part in thing.pooled_from if not self._stays_in(part, run)]
            if thing.pooled_from and len(outside) < len(thing.pooled_from):
                loads = [self._followed.things[k].load for k in outside]
                load = together(loads) if loads else NONE
            found.append((thing, load))
        return found

    def _stays_in(self, key: str, run: str) -> bool:
        made_by = self._by_key[key].made_by
        return made_by is not None and made_by.run == run and key not in self._drawn

    def passed_on(self, run: str) -> list[Thing]:
        """What a run made and did not use up itself."""
        return [thing for thing in self.made.get(run, ()) if not self._used_inside(thing, run)]

    def _used_inside(self, thing: Thing, run: str) -> bool:
        jar = self._jar_of.get(thing.key)
        user = thing.used_by or (jar.used_by if jar is not None else None)
        return user is not None and user.run == run


def run_costing(
    figures: RunFigures, loads: RunLoads, costs: Mapping[str, ThingCost], currency: str
) -> RunCosting:
    """What came into a run from earlier ones, and what went on from it.

    Equation: spent with the scrap + carried in = in products + carried out + written off + in
    work. Source: costs transferred in and out of a process, see `costing.py`.
    """
    name = figures.run.name
    brought = [(one, load.without_fresh()) for one, load in loads.from_elsewhere(name)]
    brought = [(one, load) for one, load in brought if load.kinds or load.hours.amount]
    passed = [(one, loads.load(one)) for one in loads.passed_on(name)]
    kinds: dict[str, list[Load]] = {"product": [], "out": [], "off": [], "work": []}
    for thing, load in passed:
        kinds[_where(thing, figures)].append(load)
    lost = [load for stage, load in loads.written_off(name)]
    kinds["work" if figures.run.status is Status.OPEN else "off"] += lost
    into, products, out, off, work = (
        together(found) if found else NONE
        for found in ([load for _, load in brought], *kinds.values())
    )
    return RunCosting(
        run=name,
        carried_in=into.money().figure("carried in", currency, ADDED_UP),
        carried_in_without_feed=into.money(scrap=False).figure("carried in", currency, ADDED_UP),
        carried_out=out.money().figure("carried on", currency),
        in_products=products.money().figure("in the products", currency),
        in_products_without_feed=products.money(scrap=False).figure("in the products", currency),
        written_off=off.money().figure("written off", currency),
        in_work=work.money().figure("in open work", currency),
        hours_carried_in=into.hours.figure("hours carried in", "h", ADDED_UP),
        hours_carried_out=out.hours.figure("hours carried on", "h"),
        hours_in_products=products.hours.figure("hours in the products", "h"),
        brought=tuple(costs[one.key] for one, _ in brought if one.key in costs),
        passed_on=tuple(costs[one.key] for one, _ in passed if one.key in costs),
        hours_written_off=off.hours.figure("hours written off", "h"),
        made_kinds=kinds_of([products, off], currency),
        written_off_why=_why_off(figures, bool(lost)) if kinds["off"] else "",
    )


def kinds_of(loads: Sequence[Load], currency: str) -> dict[str, Figure]:
    """The money of some loads together, by kind of cost."""
    return {
        kind: part.figure(kind, currency) for kind, part in together(loads).entered().kinds.items()
    }


def _why_off(figures: RunFigures, nothing_kept: bool) -> str:
    if figures.run.status is Status.ABANDONED:
        return GIVEN_UP
    return NOTHING_KEPT if nothing_kept else WASTED


def _where(thing: Thing, figures: RunFigures) -> str:
    """Where what a run passed on with a thing now counts for that run."""
    if thing.role is Role.PRODUCT and thing.fate not in GONE:
        return "product"
    if thing.fate in GONE:
        return "off"
    standing = charge_standing(thing, figures)
    return {Status.OPEN: "work", Status.ABANDONED: "off"}.get(standing or Status.FINISHED, "out")


def charge_standing(thing: Thing, figures: RunFigures | None) -> Status | None:
    """How far the run has come of whose charge this is what still stands in the vessel.

    None for all else. What an abandoned run left so, and nobody took up, is written off.
    """
    if figures is None or thing.role is not Role.CHARGE or thing.fate is not Fate.SHELF:
        return None
    return figures.run.status
