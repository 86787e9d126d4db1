"""What the book gives for a claim about metal: recovery, fine weight, fineness, grade, weight."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from logbook.calculation.claims.known import Claimed, Found, Reading, title_of
from logbook.calculation.claims.led_there import led_there, recovery_over, which
from logbook.calculation.claims.premises import fineness_premises, said_premise
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.purity import purity
from logbook.calculation.results import MetalBalance, Thing
from logbook.calculation.sums import add_up, product, ratio
from logbook.calculation.weights import leaf

FEED = r"\bfeed\b|\bscrap\b|\bwent in\b|\btook\b|\bhead\b"


def no_balance(claimed: Claimed, name: str, unit: str) -> Reading:
    """Why the run gives nothing of a metal."""
    why = f"the run tells nothing of {claimed.metal}: name the metal, or write what it held"
    return Reading(not_known(name, unit, why), "what the book gives")


def of_balances(
    claimed: Claimed,
    name: str,
    unit: str,
    take: Callable[[MetalBalance], Figure],
    basis: str,
) -> tuple[Reading, ...]:
    """One reading for each metal that a claim may be about."""
    found = [Reading(take(one), basis.format(metal=one.metal)) for one in claimed.balances]
    return tuple(found) or (no_balance(claimed, name, unit),)


def recovery(claimed: Claimed) -> Found:
    """Product over head; with what was made later; or over all that led there."""
    own = of_balances(
        claimed, "recovery", "g/g", lambda one: one.recovery, "product over head of this run"
    )
    own = (
        tuple(
            Reading(
                one.figure, f"{balance.metal} in the product over the {balance.head_basis} head"
            )
            if balance.head_basis != "unknown"
            else one
            for one, balance in zip(own, claimed.balances, strict=False)
        )
        or own
    )
    premises = tuple(fineness_premises(claimed.products, claimed.metals))
    if claimed.says(r"\bso far\b|\bby now\b|\bwith later\b"):
        later = [
            Reading(one.so_far, "product and what was made later of the rest, over the head")
            for one in claimed.balances
            if one.so_far is not None
        ]
        return Found("recovery", tuple(later) or own, premises)
    if claimed.in_all or claimed.says(r"\boverall\b|\baltogether\b|\bover all\b"):
        return Found("recovery", (*_over_all(claimed), *own), premises)
    return Found("recovery", own, premises)


def _over_all(claimed: Claimed) -> Iterator[Reading]:
    """The recovery over all that led there, and what later runs made of the rest."""
    runs = led_there(claimed)
    if len(runs) > 1:
        for metal in claimed.metals:
            figure = recovery_over(metal, runs, claimed)
            yield Reading(figure, f"product over head of all that led there ({which(runs)})")
    for one in claimed.balances:
        if one.so_far is not None:
            yield Reading(one.so_far, "product and what was made later of the rest, over the head")


def accountability(claimed: Claimed) -> Found:
    """All that can be pointed to over the head."""
    basis = "what came out over what went in, as it was read"
    found = of_balances(claimed, "accountability", "g/g", lambda one: one.accountability, basis)
    return Found("accountability", found)


def mass_yield(claimed: Claimed) -> Found:
    """Product weight over feed weight."""
    return Found(
        "mass yield", (Reading(claimed.run.mass_yield, "product weight over feed weight"),)
    )


def fine(claimed: Claimed) -> Found:
    """Fine metal in what is named, else in what the run made, or took."""
    if claimed.things:
        return Found("fine weight", tuple(_in_things(claimed)), _premises(claimed, claimed.things))
    if claimed.says(FEED):
        found = of_balances(
            claimed, "fine weight", "g", lambda one: one.head, "{metal} in what was taken"
        )
        return Found("fine weight", found)
    found = of_balances(
        claimed, "fine weight", "g", lambda one: one.product, "fine {metal} in the product"
    )
    last = claimed.last_made
    alone = [] if last is None else [one for m in claimed.metals if (one := _as_read(last, m))]
    return Found("fine weight", (*alone, *found), _premises(claimed, claimed.products))


def _premises(claimed: Claimed, things: Iterable[Thing]) -> tuple[str, ...]:
    said = [said_premise(one, claimed.things) for one in claimed.said.values()]
    return (*said, *fineness_premises(things, [m for m in claimed.metals if m not in claimed.said]))


def _in_things(claimed: Claimed) -> Iterator[Reading]:
    things, titles = claimed.things, " and ".join(map(title_of, claimed.things))
    for metal in claimed.metals or claimed.said:
        if metal in claimed.said:
            parts = [_by_said(claimed, thing, metal) for thing in things]
            basis = f"{titles} at the fineness that is said here"
            yield Reading(add_up(f"fine {metal}", "g", parts), basis)
            continue
        for basis, figures in _ways(things, metal):
            name = f"fine {metal} in {titles}"
            yield Reading(add_up(name, "g", figures), basis.format(metal=metal, titles=titles))
    if not claimed.metals and not claimed.said:
        why = f"nothing tells what {titles} holds: write its fineness"
        yield Reading(not_known("fine weight", "g", why), "what the book gives")


def _ways(things: list[Thing], metal: str) -> Iterator[tuple[str, list[Figure]]]:
    """A content as it was read, and as the whole book gives it."""
    read = [held.measured for one in things if (held := one.held.get(metal)) is not None]
    if len(read) == len(things) and all(one.known for one in read):
        yield "{titles} by weight and fineness as they were read", read
    yield "{metal} in {titles} as the whole book gives it", [content(one, metal) for one in things]


def _by_said(claimed: Claimed, thing: Thing, metal: str) -> Figure:
    amount = claimed.said[metal].amount
    share = leaf(f"fineness of {title_of(thing)} as said here", amount, "it is no fineness")
    if share.unit != "g/g":
        return not_known("fine weight", "g", f"{amount.span.text} is no fineness")
    return product(f"fine {metal} in {title_of(thing)}", "g", thing.gross, share)


def content(thing: Thing, metal: str) -> Figure:
    """How much of a metal a thing holds, by the whole book."""
    why = f"nothing tells how much {metal} {title_of(thing)} holds: write its fineness"
    return thing.contents.get(metal) or not_known("fine weight", "g", why)


def _as_read(thing: Thing, metal: str) -> Reading | None:
    """A content as it was read, weight times fineness; None where it was not."""
    held = thing.held.get(metal)
    if held is None or not held.measured.known:
        return None
    return Reading(held.measured, f"{title_of(thing)} by weight and fineness as they were read")


def fineness(claimed: Claimed) -> Found:
    """How fine a thing is, as it was written, or by what it holds and weighs."""
    things = claimed.things or ([last] if (last := claimed.last_made) else claimed.products)
    readings = []
    for thing in things:
        for metal in claimed.metals:
            readings.append(Reading(purity(thing, metal), f"the fineness of {title_of(thing)}"))
            held = ratio("fineness", "g/g", content(thing, metal), thing.gross)
            readings.append(Reading(held, f"{metal} in {title_of(thing)} over its weight"))
    readings.extend(_by_density(claimed, things))
    if not readings:
        why = "no label says of what: write fineness of [X]"
        readings = [Reading(not_known("fineness", "g/g", why), "the fineness")]
    return Found("fineness", tuple(readings), tuple(fineness_premises(things, claimed.metals)))


def _by_density(claimed: Claimed, things: Iterable[Thing]) -> Iterator[Reading]:
    for title in dict.fromkeys(map(title_of, things)):
        for one in claimed.known.density_fineness.get(title, ()):
            yield Reading(one, f"what the density of {title} allows")


def grade(claimed: Claimed) -> Found:
    """Metal over weight of what is named, else of the scrap."""
    readings: list[Reading] = []
    for thing in claimed.things:
        for metal in claimed.metals:
            figure = ratio("grade", "g/g", content(thing, metal), thing.gross)
            readings.append(Reading(figure, f"{metal} in {title_of(thing)} over its weight"))
    if not claimed.claim.labels:
        feed = claimed.run.feed
        readings.extend(
            of_balances(
                claimed,
                "head grade",
                "g/g",
                lambda one: ratio("head grade", "g/g", one.head, feed),
                "{metal} in what was taken over its weight",
            )
        )
    return Found("head grade", tuple(readings))


def weight(claimed: Claimed) -> Found:
    """The weight of what is named, of the scrap, or of what the run made."""
    if claimed.things:
        parts = [one.gross for one in claimed.things]
        titles = " and ".join(map(title_of, claimed.things))
        return Found("weight", (Reading(add_up("weight", "g", parts), f"the weight of {titles}"),))
    if claimed.says(FEED):
        return Found("weight", (Reading(claimed.run.feed, "the weight of what was taken"),))
    readings = []
    if claimed.last_made is not None:
        last = claimed.last_made
        readings.append(Reading(last.gross, f"the weight of {title_of(last)}"))
    if claimed.products:
        whole = add_up("product weight", "g", [one.gross for one in claimed.products])
        readings.append(Reading(whole, "the weight of what the run made"))
    if not readings:
        why = "no label says of what: write weight of [X]"
        readings = [Reading(not_known("weight", "g", why), "the weight")]
    return Found("weight", tuple(readings))


def missing(claimed: Claimed) -> Found:
    """What is not accounted for, in grams."""
    basis = "{metal} that went in less what came out"
    found = of_balances(claimed, "unaccounted", "g", lambda one: one.unaccounted, basis)
    return Found("unaccounted", found)


def missing_share(claimed: Claimed) -> Found:
    """What is not accounted for, as a share of the head."""

    def share(one: MetalBalance) -> Figure:
        return ratio("unaccounted", "g/g", one.unaccounted, one.head)

    basis = "{metal} not accounted for, over the head"
    return Found("unaccounted share", of_balances(claimed, "unaccounted", "g/g", share, basis))


def lost(claimed: Claimed) -> Found:
    """A known loss of metal, or all that is not accounted for."""
    known = of_balances(claimed, "lost", "g", lambda one: one.lost, "{metal} noted as lost")
    both = of_balances(
        claimed,
        "lost or not accounted for",
        "g",
        lambda one: add_up("lost or not accounted for", "g", [one.lost, one.unaccounted]),
        "{metal} lost or not accounted for",
    )
    noted = [one for one in known if one.figure.value is None or one.figure.value.value]
    return Found("lost", (*noted, *missing(claimed).readings, *both))


def lost_share(claimed: Claimed) -> Found:
    """A loss as a share of the head."""
    known = of_balances(
        claimed,
        "lost",
        "g/g",
        lambda one: ratio("lost", "g/g", one.lost, one.head),
        "{metal} noted as lost, over the head",
    )
    return Found("lost share", (*known, *missing_share(claimed).readings))


def on_shelf(claimed: Claimed) -> Found:
    """Metal that was kept and not made into a product."""
    found = of_balances(claimed, "shelf", "g", lambda one: one.shelf, "{metal} in what was kept")
    return Found("on the shelf", found)
