"""What the book gives for a claim about work: hours, energy, supplies used, left or asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from logbook.calculation.claims.index import lines_before
from logbook.calculation.claims.known import Claimed, Found, Reading, listed, title_of
from logbook.calculation.claims.led_there import led_there, over_all, which
from logbook.calculation.claims.premises import fineness_premises
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.hours import hands_on
from logbook.calculation.results import ReagentUse, Role, SupplyAccount, Thing
from logbook.calculation.sums import add_up, difference, lowest
from logbook.calculation.weights import leaf
from logbook.chemistry.inquart import to_ratio, to_share, usual_ratio
from logbook.chemistry.ranges import MissingError
from logbook.model.amount import ZERO, Dimension, Uncertain
from logbook.model.entry import Entry

_UNITS = {Dimension.MASS: "g", Dimension.VOLUME: "L", Dimension.COUNT: "1"}
_NO_NAME = re.compile(
    r"\b(?:cost|costs|price|need|needs|needed|required|asked|asks|for|of|the|used|use|spent|left|"
    r"in|all|to|is|was|amount|weight|volume|stock|still|over|an?|this|run)\b"
)
_RATIO = re.compile(r"(\d+(?:\.\d+)?)\s*(?:to|:|parts? to)\s*(?:1\b|one\b)")
_SHARE = re.compile(r"\bquarter\b|\bquartation\b|\b6\s*(?:kt|k|karat)\b|\b25\s*%")


# Hours


def hours(claimed: Claimed) -> Found:
    """Hours of work: of the run, up to the line, of a stage, in all; or hours that went by."""
    run = claimed.run
    if claimed.says(r"\belapsed\b|\bwent by\b|\bgone by\b|\bfrom start\b"):
        basis = "the hours from the first to the last line of this run"
        return Found("elapsed", (Reading(run.elapsed, basis),))
    if claimed.says(r"\bheat"):
        return Found(
            "heated", (Reading(_heated(claimed.lines("heated")), "the hours noted as heated"),)
        )
    stage = _stage(claimed)
    if stage is not None:
        return Found("hours", (stage,))
    if claimed.in_all:
        return Found("hours", tuple(_hours_in_all(claimed)))
    readings = [Reading(run.hands_on, f"the hours of work noted in this run{_unnoted(claimed)}")]
    so_far = hands_on(lines_before(claimed.lines("worked"), claimed.entry))
    if so_far.known:
        readings.append(Reading(so_far, "the hours of work noted up to this line"))
    return Found("hours", tuple(readings))


def _stage(claimed: Claimed) -> Reading | None:
    """The hours of a stage that is named: hours of the melt."""
    words = set(re.findall(r"[a-z]{4,}", claimed.words))
    for time, stage in zip(claimed.run.stage_times, claimed.run.run.stages, strict=False):
        title = stage.title.lower()
        if words & {*re.findall(r"[a-z]{4,}", title), *stage.kinds}:
            return Reading(time.hands_on, f'the hours of work noted in "{stage.title}"')
    return None


def _unnoted(claimed: Claimed) -> str:
    """Stages in which something was done and no hours were noted."""
    without = claimed.known.lines(claimed.run).without_hours
    return f" (none are noted for {listed(without[:3])})" if without else ""


def _heated(entries: Sequence[Entry]) -> Figure:
    spells = [one for one in entries if one.duration is not None]
    if not spells:
        return not_known("heated", "h", "no line says how long anything was heated")
    why = "how long it was heated is not written"
    parts = [leaf("heated", one.duration, why) for one in spells if one.duration is not None]
    return add_up("heated", "h", parts)


def _hours_in_all(claimed: Claimed) -> Iterator[Reading]:
    """All hours that led there: what a line says in all, where it is more, else what was noted."""
    runs = led_there(claimed)
    noted = over_all("hours in all", "h", [one.hands_on for one in runs])
    for entry in claimed.lines("worked"):
        if entry.in_all and entry.duration is not None:
            whole = leaf("worked in all", entry.duration, "how long it took is not written")
            if lowest(whole) >= lowest(noted):
                yield Reading(whole, "the hours worked in all, as a line says")
    yield Reading(noted, f"the hours of work noted in {which(runs)}")


# Energy


def energy(claimed: Claimed) -> Found:
    """Electricity by the plates and meters of the run."""
    lines = [line.amount for line in claimed.run.costs if line.kind == "energy"]
    used = [term for amount in lines for term in amount.terms if term.unit == "kWh"]
    why = "no line gives a power and a time, or what a meter read"
    figure = used[0] if used else not_known("energy", "kWh", why)
    return Found("energy", (Reading(figure, "the electricity that the lines of this run give"),))


# Supplies


def supply_named(claimed: Claimed) -> str:
    """What the claim calls a supply, without the words around it."""
    return " ".join(_NO_NAME.sub(" ", claimed.words).split())


def names_it(words: str, name: str) -> bool:
    """Whether words name a supply, or a supply is of the kind that they name.

    >>> names_it("nitric acid", "nitric acid"), names_it("acid", "nitric acid")
    (True, True)
    >>> names_it("the salt", "sodium sulfate"), names_it("", "salt")
    (False, False)
    """
    one, other = set(words.lower().split()), set(name.lower().split())
    return bool(one and other) and (other <= one or one <= other)


def uses_named(claimed: Claimed, words: str) -> list[ReagentUse]:
    """The uses of a supply in the run."""
    return [use for use in claimed.run.reagents if names_it(words, use.reagent)]


def accounts_named(claimed: Claimed, words: str) -> list[SupplyAccount]:
    """The accounts of a supply, in every strength."""
    accounts = claimed.known.figures.supplies.accounts
    return [one for one in accounts if names_it(words, one.supply)]


def used(claimed: Claimed) -> Found:
    """How much of a supply the run used."""
    unit, words = _UNITS.get(claimed.claim.amount.dimension, "g"), supply_named(claimed)
    parts = [use.used for use in uses_named(claimed, words) if use.used.unit == unit]
    if parts:
        figure = add_up(f"{words} used", unit, parts)
    else:
        figure = not_known("used", unit, f'nothing called "{words}" was used here in such a unit')
    readings = [Reading(figure, f"what this run used of {words or 'it'}")]
    kept = [
        one.gross
        for one in claimed.run.things_out
        if one.role is not Role.PRODUCT and names_it(words, one.what) and one.gross.unit == unit
    ]
    if parts and kept:
        less = difference(f"{words} used", unit, figure, add_up("kept", unit, kept))
        readings.insert(0, Reading(less, f"what went in of {words} less what was kept of it"))
    return Found("used", tuple(readings))


def left(claimed: Claimed) -> Found:
    """How much of a supply was left after the run."""
    unit, words = _UNITS.get(claimed.claim.amount.dimension, "g"), supply_named(claimed)
    readings = []
    for account in accounts_named(claimed, words):
        if account.unit == unit:
            lines = claimed.known.account(account)
            last = lines.up_to(claimed.day)
            figure = last.left if last is not None else account.left
            if last is not None:
                noted = (*lines.came_in_up_to(claimed.day), last)
                rests_on = tuple(dict.fromkeys(one.entry.span for one in noted))
                figure = replace(figure, rests_on=rests_on)
            name = f"{account.strength} {account.supply}".strip()
            readings.append(Reading(figure, f"what the account of {name} leaves on that day"))
    if not readings:
        why = f'supplies.md has no account of "{words}": write what was bought or had'
        readings = [Reading(not_known("left", unit, why), "what was left")]
    return Found("left", tuple(readings))


def needed(claimed: Claimed) -> Found:
    """What the reactions of the run ask for of a supply; silver to part gold with."""
    if claimed.named_metal == "silver" and "gold" in claimed.run.run.metals:
        return inquart(claimed)
    words = supply_named(claimed)
    asked = [use for use in uses_named(claimed, words) if use.needed is not None]
    parts = [use.needed for use in asked if use.needed is not None]
    unit = _UNITS.get(claimed.claim.amount.dimension, "g")
    parts = [one for one in parts if one.unit == unit]
    if parts:
        figure = add_up(f"{words} asked for", unit, parts)
    else:
        why = f'no reaction of this run asks for "{words}" in such a unit'
        figure = not_known("needed", unit, why)
    return Found("needed", (Reading(figure, "what the equations of this run ask for"),))


# Silver to part gold with


def inquart(claimed: Claimed) -> Found:
    """Silver to add to gold scrap: to a quarter of gold, or to a ratio of silver to gold."""
    things = claimed.things or _gold_taken(claimed)
    if not things:
        why = "no gold scrap was taken before this line: write silver to add to [X]"
        return Found("silver to add", (Reading(not_known("silver to add", "g", why), "it"),))
    readings = [one for thing in things for one in _to_part(claimed, thing)]
    premises = fineness_premises(things, ("gold", "silver"))
    return Found("silver to add", tuple(readings), tuple(premises))


def _gold_taken(claimed: Claimed) -> list[Thing]:
    return [
        thing
        for thing in claimed.run.things_in
        if "gold" in thing.held and any(map(claimed.follows, thing.entries))
    ]


def _to_part(claimed: Claimed, thing: Thing) -> Iterator[Reading]:
    """Each usual rule, or the one that the claim names."""
    text = claimed.entry.span.text.lower()
    ratio = _RATIO.search(text)
    title = title_of(thing)
    if ratio is None:
        basis = f"what brings {title} to a quarter of gold"
        yield Reading(_added(thing, share=0.25), basis)
    if ratio is None and _SHARE.search(text):
        return
    usual = usual_ratio().high or 3.0
    for parts in [float(ratio[1])] if ratio is not None else [usual, 2.5, 2.0]:
        basis = f"what makes silver to gold {parts:g} to 1 in {title}"
        yield Reading(_added(thing, ratio=parts), basis)


def _added(thing: Thing, *, share: float = 0.0, ratio: float = 0.0) -> Figure:
    """Silver to add [g], by what was read of the scrap; see `chemistry/inquart.py`."""
    name, weight = "silver to add", thing.gross
    gold = thing.held["gold"].measured
    silver = thing.held["silver"].measured if "silver" in thing.held else None
    if weight.value is None or gold.value is None or not weight.value.value:
        return not_known(name, "g", weight.why or gold.why or "its weight is nothing")
    part = gold.value / weight.value
    silver_part: Uncertain = ZERO
    if silver is not None and silver.value is not None:
        silver_part = silver.value / weight.value
    try:
        if share:
            found = to_share(weight.value, part, silver_part, share)
            words = f"gold / {share:g} − weight"
        else:
            found = to_ratio(weight.value, part, silver_part, ratio)
            words = f"{ratio:g} × gold − silver"
    except MissingError as lacking:
        return not_known(name, "g", str(lacking))
    terms = (weight, gold) if silver is None else (weight, gold, silver)
    return Figure(name, "g", found.add, words, terms, notes=found.notes)
