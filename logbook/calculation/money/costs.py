"""What a run cost: reagents, labour, energy, breakage, other money, and the scrap itself.

A cost that was not written is not known, and the total is then "at least". Money spent on
things in earlier runs is not carried into later ones here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.figure import Figure
from logbook.calculation.results import CostLine, ReagentUse, Role, Thing
from logbook.calculation.sums import add_up, product, zero
from logbook.calculation.weights import leaf
from logbook.model.amount import Amount, Dimension, Uncertain
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


def lot_prices(by_origin: Iterable[Thing], currency: str) -> dict[str, Figure]:
    """What the scrap in each thing cost, by key: of a draw, the share that was drawn.

    A thing that a run made has no price of its own and is left out.
    """
    prices: dict[str, Figure] = {}
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
            prices[thing.key] = _written_price(name, first, thing, currency)
    return prices


def _title(thing: Thing) -> str:
    return f"[{thing.label}]" if thing.label else f"the {thing.what}"


def _written_price(name: str, entry: Entry, thing: Thing, currency: str) -> Figure:
    if entry.price is None:
        return Figure(name, currency, why=f"no price was noted for {_title(thing)}")
    figure = money(name, entry.price.amount, currency)
    if entry.price.would_cost:
        figure = replace(figure, notes=(*figure.notes, "what it would cost, not what was paid"))
    return figure


def money(name: str, amount: Amount, currency: str) -> Figure:
    """A sum of money as written, which has no uncertainty; not known in a foreign currency."""
    if amount.currency not in ("", currency):
        why = f"{amount.span.text} is in {amount.currency}, the book counts in {currency}"
        return Figure(name, currency, why=why, rests_on=(amount.span,))
    figure = leaf(name, amount, f"{name} is not written as a figure")
    value = None if amount.base_value is None else Uncertain(amount.base_value)
    return replace(figure, unit=currency, value=value, formula="as written")


def feed_cost(entering: Sequence[Thing], prices: Mapping[str, Figure], currency: str) -> Figure:
    """What went into a run cost where it came from. One price of an entry counts once.

    What earlier runs made is not free: its cost is not known here, and so neither is the sum.
    """
    parts: list[Figure] = []
    entries: set[int] = set()
    carried = []
    for thing in entering:
        if thing.key not in prices:
            if thing.role is not Role.ADDITION:
                carried.append(_title(thing))
            continue
        first = thing.entries[0] if thing.entries else None
        if first is not None and first.action == "took" and first.price is not None:
            if id(first) in entries:
                continue
            entries.add(id(first))
        parts.append(prices[thing.key])
    if not parts and not carried:
        return zero("feed", currency, "no scrap from outside the book went in")
    parts += [_not_carried(title, currency) for title in carried]
    return add_up("feed", currency, parts)


def _not_carried(title: str, currency: str) -> Figure:
    """What a thing from an earlier run cost there: not nothing, and not carried over yet."""
    why = f"what {title} cost in an earlier run is not carried over yet"
    return Figure(f"cost of {title}", currency, why=why, low=0.0)


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
        if amount.dimension is Dimension.ENERGY:
            return leaf("energy", amount, "the energy is not written as a figure")
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
    value = None if amount.base_value is None else Uncertain(amount.base_value)
    return replace(leaf(name, amount, f"{name} is not a figure"), value=value)


def run_costs(
    run: Run,
    bench: Bench,
    currency: str,
    feed: Figure,
    hands_on: Figure,
    reagents: Sequence[ReagentUse],
) -> Costs:
    """The costs of a run, by kind, and their sums."""
    lines = [CostLine("feed", feed)]
    notes = []
    if reagents:
        spent = add_up("reagents", currency, [use.cost for use in reagents])
        lines.append(CostLine("reagent", spent))
    if bench.hour is not None:
        hour = _rate("worth of an hour", bench.hour)
        labour = product("labour", currency, hands_on, hour, "hours × worth of an hour")
        lines.append(CostLine("labour", labour))
    else:
        notes.append(NO_HOUR)
    energy = energy_cost(run.entries, bench.tariff, currency)
    if energy is not None:
        lines.append(CostLine("energy", energy))
    lines.extend(_noted_costs(run.entries, currency))
    if any(entry.action == "spent" and entry.in_all for entry in run.entries):
        notes.append(SPENT_IN_ALL)
    return _summed(lines, notes, currency)


def _noted_costs(entries: Iterable[Entry], currency: str) -> Iterable[CostLine]:
    """What broke and what else was spent, as written."""
    for action, kind in (("broke", "breakage"), ("spent", "lump")):
        found = [one for one in entries if one.action == action and not one.in_all]
        if found:
            figures = [_noted(entry, kind, currency) for entry in found]
            yield CostLine(kind, add_up(kind, currency, figures))


def _noted(entry: Entry, kind: str, currency: str) -> Figure:
    words = entry.span.text.strip()
    if entry.price is None:
        why = f'no money was noted for "{words}"'
        return Figure(kind, currency, why=why, rests_on=(entry.span,))
    return money(kind, entry.price.amount, currency)


def _summed(lines: Sequence[CostLine], notes: Sequence[str], currency: str) -> Costs:
    direct = [line.amount for line in lines if line.kind != "feed"]
    cost = add_up("cost", currency, direct)
    if not direct:
        cost = zero("cost", currency, "no cost was noted")
    if notes:
        cost = replace(cost, notes=(*cost.notes, *notes))
    with_feed = add_up("cost with feed", currency, [cost, lines[0].amount])
    return Costs(tuple(lines), cost, with_feed)
