"""Slips with money: what was bought for what was used, twice, left out, another day's price.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from logbook.calculation.claims.case import Case, Slips, value_of
from logbook.calculation.claims.led_there import led_there
from logbook.calculation.claims.spoken import digits
from logbook.calculation.claims.work import accounts_named, names_it, supply_named, uses_named
from logbook.calculation.claims.worth import own_price, sales_of
from logbook.calculation.money.lot_worth import worth_of_thing
from logbook.calculation.results import SupplyAccount, SupplyMove
from logbook.calculation.sums import add_up
from logbook.model.days import day_in_words

WHOLE = "all that was bought was charged, though only a part of it was used"
NAMES: Mapping[str, str] = {
    "feed": "the scrap",
    "reagent": "what was used of supplies",
    "labour": "the work",
    "energy": "the electricity",
    "breakage": "what broke",
    "fee": "the fee",
    "lump": "the sum for supplies in general",
    "other": "other money",
}


# Cost


def cost(case: Case) -> Slips:
    """Of a run: a kind of cost left out, taken in or counted twice; bought for used."""
    lines = _lines(case)
    with_feed = case.kind == "cost with the scrap"
    for kind, money in lines.items():
        if kind != "feed" or with_feed:
            yield f"{NAMES.get(kind, kind)} was left out", case.right - money
    if "feed" in lines and not with_feed:
        yield "the scrap was taken in, which is counted apart", case.right + lines["feed"]
        for kind, money in lines.items():
            if kind != "feed":
                words = f"the scrap was taken in, and {NAMES.get(kind, kind)} left out"
                yield words, case.right + lines["feed"] - money
    yield from _bought(case, lines)
    for kind, money in lines.items():
        if kind != "feed" or with_feed:
            yield f"{NAMES.get(kind, kind)} was counted twice", case.right + money
    for total in _totals(case):
        yield (
            "the sum that was spent in all was added to what lies in it already",
            (case.right + total),
        )


def _lines(case: Case) -> dict[str, float]:
    found = {one.kind: value_of(one.amount) for one in case.claimed.run.costs}
    return {kind: money for kind, money in found.items() if money}


def _bought(case: Case, lines: Mapping[str, float]) -> Slips:
    """Supplies charged as they were bought, together and one by one."""
    together, parts = 0.0, 0.0
    for name in dict.fromkeys(use.reagent for use in case.claimed.run.reagents):
        uses = uses_named(case.claimed, name)
        spent = value_of(add_up("cost", "", [use.cost for use in uses]))
        moves = [one for account in _accounts(case, name) for one in _purchases(case, account)]
        paid = [money for one in moves if (money := value_of(one.cost))]
        if spent is None or not paid:
            together += spent or 0.0
            continue
        words = f"all of the {name} that was bought was charged, not what was used of it"
        yield words, case.right - spent + paid[-1]
        together, parts = together + paid[-1], parts + 1
    if parts > 1 and "reagent" in lines:
        yield WHOLE, case.right - lines["reagent"] + together


def _accounts(case: Case, name: str) -> list[SupplyAccount]:
    accounts = case.claimed.known.figures.supplies.accounts
    return [one for one in accounts if one.supply == name or names_it(name, one.supply)]


def _purchases(case: Case, account: SupplyAccount) -> Sequence[SupplyMove]:
    """What was bought up to the day of the claim, the latest few."""
    return case.claimed.known.account(account).came_in_up_to(case.claimed.day)


def _totals(case: Case) -> Iterator[float]:
    for entry in case.claimed.lines("spent"):
        if entry.in_all and entry.price is not None:
            yield from filter(None, [entry.price.amount.base_value])


def cost_of_supply(case: Case) -> Slips:
    """Of one supply: the whole bottle, another price, what was needed, twice."""
    words = supply_named(case.claimed)
    used = value_of(add_up("", "", [use.used for use in uses_named(case.claimed, words)]))
    for account in accounts_named(case.claimed, words):
        moves = list(_purchases(case, account))
        paid = [money for one in moves if (money := value_of(one.cost))]
        for money in paid:
            yield WHOLE, money
        if len(paid) > 1:
            all_paid = case.claimed.known.account(account).paid_up_to(case.claimed.day)
            yield "all that was ever bought was charged", all_paid
        for move in moves:
            money, quantity = value_of(move.cost), value_of(move.quantity)
            if money and quantity and used:
                on = f" of {day_in_words(move.day)}" if move.day else ""
                yield (
                    f"it was counted at the price{on}, not at the average",
                    used * money / quantity,
                )
    yield "it was counted twice", 2.0 * case.right


def cost_in_all(case: Case) -> Slips:
    """Over all that led there: something in it added again, or a run or a kind left out."""
    for one in led_there(case.claimed):
        title = f'"{one.run.title or one.run.name}"'
        whole = value_of(one.cost_with_feed)
        if whole:
            yield f"the cost of {title} was counted twice", case.right + whole
            yield f"the cost of {title} was left out", case.right - whole
        feed = [value_of(line.amount) for line in one.costs if line.kind == "feed"]
        if feed and feed[0]:
            yield f"the scrap of {title} was counted twice", case.right + feed[0]
    kinds: dict[str, float] = {}
    for one in led_there(case.claimed):
        for line in one.costs:
            kinds[line.kind] = kinds.get(line.kind, 0.0) + (value_of(line.amount) or 0.0)
    for kind, money in kinds.items():
        if money:
            yield f"{NAMES.get(kind, kind)} was left out", case.right - money


def labour(case: Case) -> Slips:
    """Work that was paid by other hours than those noted."""
    hours = value_of(case.claimed.run.hands_on)
    for other, words in _other_hours(case):
        if hours:
            yield words, case.right * other / hours


# Net and an hour


def net(case: Case) -> Slips:
    """A kind of cost left out or counted twice; the worth alone; the wrong way round."""
    run = case.claimed.run
    worth, latest = value_of(run.worth), value_of(run.worth_latest)
    for kind, money in _borne(case).items():
        yield f"{NAMES.get(kind, kind)} was left out", case.right + money
    if worth is not None:
        yield "no cost was taken off", worth
        if latest is not None:
            yield "the latest price was used, not that of the day", case.right - worth + latest
    for kind, money in _borne(case).items():
        yield f"{NAMES.get(kind, kind)} was counted twice", case.right - money
    yield "it was subtracted the wrong way round", -case.right
    if worth is not None:
        yield "the cost was added, not taken off", 2.0 * worth - case.right


def _borne(case: Case) -> dict[str, float]:
    """What the products of the run bear, by kind."""
    costing = case.claimed.run.costing
    kinds = costing.made_kinds if costing is not None else {}
    found = {kind: value_of(one) for kind, one in kinds.items()} or dict(_lines(case))
    return {kind: money for kind, money in found.items() if money}


def hourly(case: Case) -> Slips:
    """Over other hours, with the work paid first, with or without the scrap, not divided."""
    run = case.claimed.run
    earnings = run.earnings
    over = [value_of(one) for one in case.figure.terms if one.unit == "h"]
    hours = over[0] if over else value_of(run.hands_on)
    if not hours:
        return
    for kind, money in _borne(case).items():
        sign = -1.0 if kind == "labour" else 1.0
        done = "was taken off first" if kind == "labour" else "was left out"
        yield f"{NAMES.get(kind, kind)} {done}", case.right + sign * money / hours
    free = value_of(earnings.per_hour_without_feed) if earnings is not None else None
    if free is not None:
        yield "it is without the scrap", free
    with_it = value_of(earnings.per_hour) if earnings is not None else None
    if with_it is not None:
        yield "it is with what the scrap cost", with_it
    yield "it was not divided by the hours", case.right * hours
    for other, words in _other_hours(case):
        if other:
            yield words, case.right * hours / other


def _other_hours(case: Case) -> Iterator[tuple[float, str]]:
    """Hours that are not those of the work."""
    run = case.claimed.run
    hours, elapsed = value_of(run.hands_on), value_of(run.elapsed)
    if elapsed:
        yield elapsed, "the hours that went by were taken, not those of the work"
    if hours:
        whole = int(hours)
        yield whole + (hours - whole) * 0.6, "minutes were read as decimals of an hour"
        for time, stage in zip(run.stage_times, run.run.stages, strict=False):
            part = value_of(time.hands_on)
            if part and part < hours:
                yield hours - part, f'the hours of "{stage.title}" were left out'


# Worth and price


def worth(case: Case) -> Slips:
    """The price of another day, of an ounce for a gram, or the costs taken off already."""
    claimed = case.claimed
    own = value_of(own_price(claimed))
    for metal in claimed.metals:
        counted = own or value_of(claimed.known.market.price(metal, claimed.day))
        for one in claimed.known.prices_beside(metal, claimed.day):
            other = value_of(one.price)
            if counted and other and abs(other - counted) > 1e-9:
                price = f"{digits(other)} {one.price.unit}"
                words = f"the price of {day_in_words(one.day)}, {price}, was used"
                yield words, case.right * other / counted
                yield words, _at(case, metal, one.day)
    troy = 31.1034768  # g; NIST Handbook 44, appendix C
    yield "the price of an ounce was taken for each gram", case.right * troy
    yield "the price of a gram was taken for each ounce", case.right / troy
    for net_of_it, words in (
        (value_of(claimed.run.net), "the costs were taken off: that is the net"),
        (value_of(claimed.run.worth_latest), "the latest price was used, not that of the day"),
    ):
        if net_of_it is not None and not claimed.claim.labels:
            yield words, net_of_it


def _at(case: Case, metal: str, day: object) -> float:
    """Worth by the terms of another day; not a number where that is not known."""
    market = case.claimed.known.market
    parts = [worth_of_thing(one, [metal], market, day) for one in case.things]  # type: ignore[arg-type]
    found = value_of(add_up("worth", market.currency, parts)) if parts else None
    return float("nan") if found is None else found


def price(case: Case) -> Slips:
    """The price of another day, or one price over another the wrong way round."""
    for one in case.claimed.known.prices_beside(case.claimed.metal, case.claimed.day):
        other = value_of(one.price)
        if other:
            yield f"it is the price of {day_in_words(one.day)}", other


def per_gram(case: Case) -> Slips:
    """Over the whole weight, turned round, or with a kind of cost left out."""
    run = case.claimed.run
    if case.right:
        yield "grams were taken over money, the wrong way round", 1.0 / case.right
    gross = value_of(add_up("", "g", [one.gross for one in case.claimed.products]))
    for balance in case.claimed.balances:
        made, head = value_of(balance.product), value_of(balance.head)
        feed = value_of(run.feed)
        if made and gross:
            yield (
                "it was taken over the whole weight, not the fine weight",
                case.right * made / gross,
            )
        if head and feed and case.kind.startswith("paid"):
            yield (
                "it was taken over the weight of the scrap, not its metal",
                case.right * head / feed,
            )
        if head and made:
            yield "it was taken over what came out, not what went in", case.right * head / made
            yield "it was taken over what went in, not what came out", case.right * made / head


def sale(case: Case) -> Slips:
    """A fee taken off twice."""
    for one in sales_of(case.claimed):
        fee = value_of(one.fee)
        if fee:
            yield "the fee was taken off twice", case.right - fee
            yield "the fee was added, not taken off", case.right + 2.0 * fee
