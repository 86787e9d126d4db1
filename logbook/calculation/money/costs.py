"""What a run cost: reagents, labour, energy, breakage, other money, and the scrap itself.

A cost that was not written is not known, and the total is then "at least". What things from
earlier runs bring with them is followed in `costing.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.money.exchange import Exchange
from logbook.calculation.results import CostLine, ReagentUse, Role, StageCost, StageTime, Thing
from logbook.calculation.sums import add_up, product, zero
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Dimension
from logbook.model.book import Bench
from logbook.model.entry import Entry
from logbook.model.run import Run

SPENT_IN_ALL = "money spent in all is left aside: what was noted lies inside it"
NO_HOUR = "hours are not priced: bench.md gives no worth of an hour"


@dataclass(frozen=True, slots=True)
class Costs:
    """The costs of a run by kind, their sum without the scrap, and with it."""

    lines: tuple[CostLine, ...]
    cost: Figure
    cost_with_feed: Figure


def lot_prices(by_origin: Iterable[Thing], exchange: Exchange) -> dict[str, Figure]:
    """What the scrap in each thing cost, by key: of a draw, the share that was drawn.

    A thing that a run made has no price of its own and is left out.
    """
    prices: dict[str, Figure] = {}
    currency = exchange.currency
    for thing in by_origin:
        name = f"price of {_title(thing)}"
        parts = [prices[key] for key in thing.pooled_from if key in prices]
        first = thing.entries[0] if thing.entries else None
        priced_here = first is not None and first.action == "took" and first.price is not None
        if thing.part_of and not priced_here:
            if thing.part_of in prices and thing.share is not None:
                prices[thing.key] = product(name, currency, prices[thing.part_of], thing.share)
        elif parts:
            prices[thing.key] = add_up(name, currency, parts)
        elif first is not None and thing.role is Role.FEED:
            prices[thing.key] = _written_price(name, first, thing, exchange)
    return prices


def _title(thing: Thing) -> str:
    return f"[{thing.label}]" if thing.label else f"the {thing.what}"


def _written_price(name: str, entry: Entry, thing: Thing, exchange: Exchange) -> Figure:
    per = entry.per
    if entry.price is None and per is not None and per.per == "g" and thing.gross.value is not None:
        rate = exchange.money(f"price of a gram of {_title(thing)}", per, thing.day)
        return product(name, exchange.currency, thing.gross, rate, "weight × price per gram")
    if entry.price is None:
        why = f"no price was noted for {_title(thing)}"
        return Figure(name, exchange.currency, why=why)
    figure = exchange.money(name, entry.price.amount, thing.day)
    if entry.price.would_cost:
        figure = replace(figure, notes=(*figure.notes, "what it would cost, not what was paid"))
    return figure


def feed_cost(entering: Sequence[Thing], prices: Mapping[str, Figure], currency: str) -> Figure:
    """What went into a run cost where it came from. One price of an entry counts once.

    Only what came from outside the book is counted: what earlier runs made brings its own part
    of their cost, see `costing.py`.
    """
    parts: list[Figure] = []
    entries: set[int] = set()
    for thing in entering:
        if thing.key not in prices:
            continue
        first = thing.entries[0] if thing.entries else None
        if first is not None and first.action == "took" and first.price is not None:
            if id(first) in entries:
                continue
            entries.add(id(first))
        parts.append(prices[thing.key])
    if not parts:
        return zero("feed", currency, "no scrap from outside the book went in")
    return add_up("feed", currency, parts)


def energy_cost(entries: Iterable[Entry], tariff: Amount | None, currency: str) -> Figure | None:
    """What the electricity cost, where a power and a time are written; None where none is.

    Equation: cost = Σ P t × tariff [kW × h × currency/kWh], with P in W read as P/1000 kW.
    Source: the definition of the kilowatt-hour.

    A hotplate of 500 W on for 2 h takes 1 kWh, at 0.30 EUR/kWh 0.30 EUR, by hand:

    >>> from logbook.source import SourceText, Span
    >>> place = Span(SourceText("runs/a.md", ""), 0, 0)
    >>> power = Amount(place, Dimension.POWER, "W", 500.0, 500.0)
    >>> time = Amount(place, Dimension.TIME, "h", 2.0, 2.0)
    >>> tariff = Amount(place, Dimension.PRICE, "", 0.3, 0.3, currency="EUR", per="kWh")
    >>> heated = Entry("heated", place, 1, conditions=(power,), duration=time)
    >>> energy_cost([heated], tariff, "EUR").value.value
    0.3
    """
    used = [figure for entry in entries if (figure := _energy(entry)) is not None]
    if not used:
        return None
    total = add_up("energy", "kWh", used)
    if tariff is None:
        why = "bench.md gives no price of a kilowatt-hour"
        return Figure("energy", currency, terms=(total,), why=why)
    return product("energy", currency, total, _rate("price of a kilowatt-hour", tariff))


def _energy(entry: Entry) -> Figure | None:
    for amount in entry.conditions:
        if amount.dimension is Dimension.ENERGY:  # what was read off, whatever the power was
            return leaf("energy", amount, "the energy is not written as a figure")
    for amount in entry.conditions:
        if amount.dimension is Dimension.POWER:
            why = "how long the power was on is not written"
            power = leaf("power", amount, "the power is not written as a figure")
            kilowatts = replace(
                power, unit="kW", value=power.value.times(0.001) if power.value else None
            )
            if entry.duration is None:
                return Figure("energy", "kWh", terms=(kilowatts,), why=why)
            return product("energy", "kWh", kilowatts, leaf("time", entry.duration, why))
    return None


def _rate(name: str, amount: Amount) -> Figure:
    """A rate as it was written, with the doubt of a range."""
    return leaf(name, amount, f"{name} is not a figure")


def run_costs(
    run: Run,
    bench: Bench,
    exchange: Exchange,
    feed: Figure,
    hands_on: Figure,
    reagents: Sequence[ReagentUse],
) -> Costs:
    """The costs of a run, by kind, and their sums."""
    lines = [CostLine("feed", feed)]
    lines += _spent(run, run.entries, hands_on, reagents, bench, exchange)
    notes = [] if bench.hour is not None else [NO_HOUR]
    if any(entry.action == "spent" and entry.in_all for entry in run.entries):
        notes.append(SPENT_IN_ALL)
    return _summed(lines, notes, exchange.currency)


def stage_costs(
    run: Run,
    bench: Bench,
    exchange: Exchange,
    times: Sequence[StageTime],
    reagents: Sequence[ReagentUse],
) -> tuple[StageCost, ...]:
    """What was spent in each stage of a run, by kind; labour where work was noted there.

    The sums over the stages are the lines of the run, but for the scrap, which comes with the
    things, and for what only the run as a whole knows.
    """
    found: list[StageCost] = []
    for time, stage in zip(times, run.stages, strict=True):
        used = [use for use in reagents if use.stage == time.stage]
        worked = any(one.action == "worked" and not one.in_all for one in stage.entries)
        hours = time.hands_on if worked else None
        spent = _spent(run, stage.entries, hours, used, bench, exchange)
        found += [StageCost(time.stage, line.kind, line.amount) for line in spent]
    return tuple(found)


def _spent(
    run: Run,
    entries: Sequence[Entry],
    hands_on: Figure | None,
    reagents: Sequence[ReagentUse],
    bench: Bench,
    exchange: Exchange,
) -> list[CostLine]:
    """All that some entries of a run cost, but for the scrap, by kind."""
    currency, lines = exchange.currency, []
    if reagents:
        spent = add_up("reagents", currency, [use.cost for use in reagents])
        lines.append(CostLine("reagent", spent))
    if bench.hour is not None and hands_on is not None:
        hour = _rate("worth of an hour", bench.hour)
        labour = product("labour", currency, hands_on, hour, "hours × worth of an hour")
        lines.append(CostLine("labour", labour))
    energy = energy_cost(entries, bench.tariff, currency)
    if energy is not None:
        lines.append(CostLine("energy", energy))
    lines.extend(_noted_costs(entries, run, exchange))
    return lines


def _noted_costs(entries: Iterable[Entry], run: Run, exchange: Exchange) -> Iterable[CostLine]:
    """What broke, what a sale cost and what else was spent, as written."""
    kinds: dict[str, list[Figure]] = {}
    for entry in entries:
        kind = _kind(entry)
        if kind:
            day = entry.when.day if entry.when is not None and entry.when.day else run.day
            kinds.setdefault(kind, []).append(_noted(entry, kind, day, exchange))
    for kind, figures in kinds.items():
        yield CostLine(kind, add_up(kind, exchange.currency, figures))


def _kind(entry: Entry) -> str:
    """The kind of cost that an entry is; empty for one that costs nothing by itself.

    A sum for supplies in general is a lump: nothing tells of what, or how much.
    """
    if entry.action == "broke":
        return "breakage"
    if entry.action == "sold" and entry.fee is not None:
        return "fee"
    if entry.action == "spent" and not entry.in_all:
        return "lump" if _IN_GENERAL.search(entry.span.text) else "other"
    return ""


_IN_GENERAL = re.compile(
    r"\b(chemicals?|reagents?|acids?|supplies|materials?|consumables?)\b", re.I
)


def _noted(entry: Entry, kind: str, day: date | None, exchange: Exchange) -> Figure:
    words = entry.span.text.strip()
    paid = entry.fee if kind == "fee" else entry.price.amount if entry.price else None
    if paid is None:
        why = f'no money was noted for "{words}"'
        return Figure(kind, exchange.currency, why=why, rests_on=(entry.span,))
    return exchange.money(kind, paid, day)


def _summed(lines: Sequence[CostLine], notes: Sequence[str], currency: str) -> Costs:
    direct = [line.amount for line in lines if line.kind != "feed"]
    cost = add_up("cost", currency, direct)
    if not direct:
        cost = zero("cost", currency, "no cost was noted")
    if notes:
        cost = replace(cost, notes=(*cost.notes, *notes))
    with_feed = add_up("cost with feed", currency, [cost, lines[0].amount])
    return Costs(tuple(lines), cost, with_feed)
