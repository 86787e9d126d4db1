"""What the book gives for a claim about cost, net, an hour, or money per gram."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from logbook.calculation.claims.known import Claimed, Found, Reading, listed, title_of
from logbook.calculation.claims.led_there import led_there, over_all, which
from logbook.calculation.claims.work import supply_named, uses_named
from logbook.calculation.claims.worth import sales_of
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.nets import net_over
from logbook.calculation.results import RunFigures
from logbook.calculation.sums import add_up, difference, ratio, zero
from logbook.calculation.weights import leaf

WITH_SCRAP = (
    r"\bwith (?:the )?(?:scrap|feed|lot)\b|\bincl\w* (?:the )?(?:scrap|feed)\b|\ball costs\b"
)
WITHOUT_SCRAP = r"\bwithout (?:the )?(?:scrap|feed|lot)\b|\bif the scrap\b|\bbut the scrap\b"
KINDS: Mapping[str, re.Pattern[str]] = {
    "reagent": re.compile(r"\breagents?\b|\bchemicals?\b|\bsuppl(?:y|ies)\b"),
    "labour": re.compile(r"\blabour\b|\bhours\b|\bwork\b|\bwages\b"),
    "energy": re.compile(r"\benergy\b|\belectricity\b|\bpower\b|\bcurrent\b"),
    "breakage": re.compile(r"\bbreakages?\b|\bbroken?\b|\bbroke\b"),
    "fee": re.compile(r"\bfees?\b"),
    "feed": re.compile(r"\bscrap\b|\bfeed\b|\blot\b"),
}
_PLAIN = re.compile(r"^(?:this |the |all |whole )*(?:run|work|batch|lot|all)?$")


# Cost


def cost(claimed: Claimed) -> Found:
    """Of what is named: a supply, a kind of cost, a thing; else of the run, or of all that led."""
    if claimed.things:
        return Found("cost", tuple(_carried(claimed)))
    if claimed.in_all:
        return Found("cost in all", tuple(_cost_in_all(claimed)))
    if claimed.says(WITH_SCRAP):
        basis = "what was spent in this run, with the scrap"
        return Found("cost with the scrap", (Reading(claimed.run.cost_with_feed, basis),))
    words = _of_what(claimed)
    if _PLAIN.match(words) or claimed.says(WITHOUT_SCRAP):
        basis = "what was spent in this run, without the scrap"
        return Found("cost", (Reading(claimed.run.cost, basis),))
    for kind, pattern in KINDS.items():
        if pattern.search(words) and not uses_named(claimed, supply_named(claimed)):
            return Found(f"cost of {kind}", (Reading(line(claimed, kind), _line_words(kind)),))
    return _cost_of_supply(claimed)


def _of_what(claimed: Claimed) -> str:
    words = re.sub(r"\b(?:costs?|spent|paid|of|for|the|was|expenses?)\b", " ", claimed.words)
    return " ".join(words.split())


def _line_words(kind: str) -> str:
    words = {
        "feed": "what was paid for the scrap",
        "labour": "the hours of this run at the book's rate",
        "energy": "the electricity of this run at its price",
        "reagent": "the supplies that this run used, at their average cost",
    }
    return words.get(kind, f"the {kind} noted in this run")


def line(claimed: Claimed, kind: str) -> Figure:
    """One line of the run's cost."""
    for one in claimed.run.costs:
        if one.kind == kind:
            return one.amount
    why = f"no {kind} is noted in this run"
    return not_known("cost", claimed.known.currency, why)


def _cost_of_supply(claimed: Claimed) -> Found:
    currency, words = claimed.known.currency, supply_named(claimed)
    uses = uses_named(claimed, words)
    if not uses:
        why = f'nothing called "{words}" was used in this run'
        return Found("cost of a supply", (Reading(not_known("cost", currency, why), "it"),))
    figure = add_up(f"cost of {words}", currency, [use.cost for use in uses])
    basis = f"what was used of {words} here, at its average cost"
    return Found("cost of a supply", (Reading(figure, basis),))


def _carried(claimed: Claimed) -> Iterator[Reading]:
    currency, carried = claimed.known.currency, claimed.known.figures.costing.things
    titles = " and ".join(map(title_of, claimed.things))
    found = [carried[one.key] for one in claimed.things if one.key in carried]
    if len(found) < len(claimed.things):
        why = f"nothing in the book tells what {titles} carries"
        yield Reading(not_known("cost carried", currency, why), "it")
        return
    whole = add_up("cost carried", currency, [one.cost for one in found])
    free = add_up("cost carried", currency, [one.cost_without_feed for one in found])
    with_it = Reading(whole, f"what {titles} carries, with the scrap")
    without = Reading(free, f"what {titles} carries, without the scrap")
    yield from (without,) if claimed.says(WITHOUT_SCRAP) else (with_it, without)


def _cost_in_all(claimed: Claimed) -> Iterator[Reading]:
    """All that was spent in the runs that led there; else with the share they passed on alone."""
    runs, currency = led_there(claimed), claimed.known.currency
    whole = over_all("cost in all", currency, [one.cost_with_feed for one in runs])
    free = over_all("cost in all", currency, [one.cost for one in runs])
    with_it = Reading(whole, f"what was spent in {which(runs)}, with the scrap")
    without = Reading(free, f"what was spent in {which(runs)}, without the scrap")
    if claimed.says(WITHOUT_SCRAP):
        yield without
        return
    yield from (with_it, without)
    if claimed.run.costing is not None:
        here = [claimed.run.cost_with_feed, claimed.run.costing.carried_in]
        basis = "what was spent here and what came in with things from earlier runs"
        yield Reading(add_up("cost in all", currency, here), basis)


# Net


def net(claimed: Claimed) -> Found:
    """Worth less cost: of the run, of what is named, in all, with or without the scrap."""
    if claimed.things:
        return Found("net", tuple(_net_of_things(claimed)))
    if claimed.in_all:
        runs = led_there(claimed)
        return Found("net", (Reading(net_over(runs), f"worth less cost over {which(runs)}"),))
    run, currency = claimed.run, claimed.known.currency
    here = difference("net", currency, run.worth, run.cost_with_feed)
    free = difference("net", currency, run.worth, run.cost)
    if claimed.says(WITHOUT_SCRAP):
        basis = "worth less what was spent here, without the scrap"
        return Found("net", (Reading(free, basis),))
    readings = [Reading(run.net, "worth less the cost of what was made")]
    readings.append(Reading(here, "worth less what was spent here, with the scrap"))
    return Found("net", tuple(readings))


def _net_of_things(claimed: Claimed) -> Iterator[Reading]:
    """Of what was sold, what it brought less what it carried."""
    currency, carried = claimed.known.currency, claimed.known.figures.costing.things
    sales = sales_of(claimed)
    costs = [carried[one.key].cost for one in claimed.things if one.key in carried]
    titles = " and ".join(map(title_of, claimed.things))
    if not sales or len(costs) < len(claimed.things):
        why = f"no sale of {titles} is noted, or nothing tells what it cost"
        yield Reading(not_known("net", currency, why), "it")
        return
    received = add_up("received", currency, [one.received for one in sales])
    cost_of_it = add_up("cost carried", currency, costs)
    basis = f"what {titles} brought less what it had cost"
    yield Reading(difference("net", currency, received, cost_of_it), basis)


# An hour


def hourly(claimed: Claimed) -> Found:
    """What an hour earned: worth less every cost but labour, over the hours."""
    run, unit = claimed.run, f"{claimed.known.currency}/h"
    free = claimed.says(WITHOUT_SCRAP)
    if claimed.says(r"\bnet\b"):
        basis = "net over the hours of what was made"
        return Found("net per hour", (Reading(run.net_per_hour, basis),))
    earned = _earned_here(run, free=free)
    if claimed.entry.duration is not None:
        hours = leaf("hours that are said here", claimed.entry.duration, "they are not written")
        own = ratio("an hour earned", unit, earned, hours)
        words = " ".join(claimed.entry.duration.span.text.split())
        premise = f"the hours, {words}, are said here; {_noted(run)}"
        return Found("an hour", (Reading(own, "what was earned over the hours said"),), (premise,))
    readings = []
    if run.earnings is not None:
        own = run.earnings.per_hour_without_feed if free else run.earnings.per_hour
        readings.append(Reading(own, "worth less every cost but labour, over the hours"))
    here = ratio("an hour earned", unit, earned, run.hands_on)
    readings.append(Reading(here, "worth less what was spent here but labour, over its hours"))
    return Found("an hour", tuple(readings))


def _noted(run: RunFigures) -> str:
    return "other hours are noted" if run.hands_on.known else "no line notes them"


def _earned_here(run: RunFigures, *, free: bool) -> Figure:
    kinds = ("labour", "feed") if free else ("labour",)
    spent = [one.amount for one in run.costs if one.kind not in kinds]
    currency = run.worth.unit
    cost_here = add_up("cost without labour", currency, spent) if spent else zero("", currency)
    return difference("earned", currency, run.worth, cost_here)


# Money per gram


def per_gram(claimed: Claimed) -> Found:
    """Money over weight: paid for the scrap, cost, net or worth for each gram of fine metal."""
    run = claimed.run
    if claimed.says(r"\bpaid\b|\bscrap\b|\bfeed\b|\blot\b"):
        return Found("paid per gram", tuple(_paid(claimed)))
    made = [(one.metal, one.product) for one in claimed.balances]
    for pattern, what, above in (
        (r"\bcosts?\b", "cost", (run.cost, run.cost_with_feed)),
        (r"\bnet\b|\bprofit\b|\bgain\b|\bloss\b", "net", (run.net,)),
        (r"\bworth\b|\bvalue\b", "worth", (run.worth,)),
    ):
        if claimed.says(pattern):
            return Found(f"{what} per gram", tuple(_each(claimed, what, above, made)))
    return _price(claimed)


def _each(
    claimed: Claimed, what: str, above: Sequence[Figure], made: Sequence[tuple[str, Figure]]
) -> Iterator[Reading]:
    unit = f"{claimed.known.currency}/g"
    for money in above:
        for metal, grams in made:
            basis = f"the {money.name} of the run over the fine {metal} that it made"
            yield Reading(ratio(f"{what} per gram", unit, money, grams), basis)
    if not made:
        why = "the run made nothing that it could be shared over"
        yield Reading(not_known(f"{what} per gram", unit, why), "it")


def _paid(claimed: Claimed) -> Iterator[Reading]:
    """What was paid for the scrap over the metal in it, and over its weight."""
    paid, unit = line(claimed, "feed"), f"{claimed.known.currency}/g"
    if paid.value is not None and not paid.value.value and paid.notes:
        paid = not_known("paid", claimed.known.currency, listed(paid.notes))
    for one in claimed.balances:
        figure = ratio("paid per gram", unit, paid, one.head)
        yield Reading(figure, f"what was paid over the fine {one.metal} in the scrap")
    yield Reading(
        ratio("paid per gram", unit, paid, claimed.run.feed),
        "what was paid over the weight of the scrap",
    )


def _price(claimed: Claimed) -> Found:
    """The price of a metal as it is noted for the day."""
    metal = claimed.metal
    figure = claimed.known.market.price(metal, claimed.day)
    basis = f"the price of {metal} that is noted for that day"
    return Found("price", (Reading(figure, basis),))


def break_even_price(claimed: Claimed) -> Found:
    """The price of a metal at which worth just covers all costs."""
    earnings, unit = claimed.run.earnings, f"{claimed.known.currency}/g"
    found: Mapping[str, Figure] = earnings.break_even_price if earnings is not None else {}
    why = f"the run made nothing of {claimed.metal} that could break even"
    figure = found.get(claimed.metal) or not_known("break-even price", unit, why)
    basis = f"the price of {claimed.metal} at which the worth just covers all costs"
    return Found("break-even price", (Reading(figure, basis),))


def break_even_grade(claimed: Claimed) -> Found:
    """The head grade at which worth just covers all costs."""
    earnings = claimed.run.earnings
    found: Mapping[str, Figure] = earnings.break_even_grade if earnings is not None else {}
    why = f"the run made nothing of {claimed.metal} that could break even"
    figure = found.get(claimed.metal) or not_known("break-even grade", "g/g", why)
    basis = "the head grade at which the worth just covers all costs"
    return Found("break-even grade", (Reading(figure, basis),))
