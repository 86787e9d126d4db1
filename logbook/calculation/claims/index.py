"""What claims are held against, put in order once: a claim looks up, and walks through no book.

A book may hold thousands of claims and tens of thousands of lines. Whatever a claim needs of
the whole book stands here under the name by which it is asked for.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict, deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from itertools import accumulate
from typing import TypeVar

from logbook.calculation.figure import Figure
from logbook.calculation.holdings import WET_WORDS
from logbook.calculation.money.exchange import Exchange, exchange
from logbook.calculation.money.markets import Market, book_currency, every_step, market
from logbook.calculation.origins import Origins, maker, origins_of
from logbook.calculation.results import (
    BookFigures,
    DayPrice,
    RunFigures,
    Sale,
    SupplyAccount,
    SupplyMove,
    Thing,
)
from logbook.model.entry import Entry

Key = TypeVar("Key")
Value = TypeVar("Value")
PURCHASES = 4  # the latest: nobody takes the price of one that is much older


@dataclass(frozen=True)  # without slots, because what is cached lies in the dictionary
class Known:
    """The figures of a book, with what claims look up in them."""

    figures: BookFigures
    currency: str
    market: Market
    exchange: Exchange
    _led: dict[str, tuple[RunFigures, ...]] = field(default_factory=dict)
    _lines: dict[str, RunLines] = field(default_factory=dict)
    _accounts: dict[str, AccountLines] = field(default_factory=dict)

    @cached_property
    def states(self) -> Mapping[str, Sequence[Thing]]:
        """The states of each thing by its label, in their order."""
        return _grouped((one.label, one) for one in self.figures.things if one.label)

    @cached_property
    def origins(self) -> Origins:
        """Where each thing came from."""
        return origins_of(self.figures.things)

    @cached_property
    def sales_by_run(self) -> Mapping[str, Sequence[Sale]]:
        """What was sold, by the run that says so."""
        return _grouped((one.run, one) for one in self.figures.sales)

    @cached_property
    def sales_by_label(self) -> Mapping[str, Sequence[Sale]]:
        """What was sold, by its label."""
        return _grouped((one.label, one) for one in self.figures.sales)

    @cached_property
    def density_fineness(self) -> Mapping[str, Sequence[Figure]]:
        """What densities tell of a fineness, by the title of the thing."""
        return _grouped(
            (check.title, one)
            for run in self.figures.runs.values()
            for check in run.densities
            for one in check.fineness
        )

    def led_to(self, name: str) -> tuple[RunFigures, ...]:
        """The runs that led to a run, its own first, none of them twice."""
        found = self._led.get(name)
        if found is None:
            found = self._led[name] = _led_to(self, name)
        return found

    def lines(self, run: RunFigures) -> RunLines:
        """The lines of a run that claims ask for."""
        name = run.run.name
        found = self._lines.get(name)
        if found is None:
            found = self._lines[name] = run_lines(run)
        return found

    def account(self, account: SupplyAccount) -> AccountLines:
        """The lines of the account of a supply that claims ask for."""
        name = f"{account.strength} {account.supply} {account.unit}"
        found = self._accounts.get(name)
        if found is None:
            found = self._accounts[name] = account_lines(account)
        return found

    def prices_beside(self, metal: str, day: date | None) -> list[DayPrice]:
        """The prices beside the one that holds on a day: the one before, the next, the latest."""
        if metal not in self.market.prices:
            return []
        by_day = self.market.prices[metal]
        last = len(by_day.noted) - 1
        at = last if day is None else bisect_right(by_day.days, day) - 1
        return [
            by_day.noted[one] for one in dict.fromkeys((at - 1, at + 1, last)) if 0 <= one <= last
        ]


def known_of(figures: BookFigures) -> Known:
    """What claims are held against."""
    book = figures.book
    currency = book_currency(book)
    prices = market(figures.prices, currency, figures.held_worth.terms, book.newest_day)
    return Known(figures, currency, prices, exchange(every_step(book), currency))


def _grouped(pairs: Iterable[tuple[Key, Value]]) -> Mapping[Key, Sequence[Value]]:
    found: defaultdict[Key, list[Value]] = defaultdict(list)
    for key, one in pairs:
        found[key].append(one)
    return dict(found)


def _led_to(known: Known, first: str) -> tuple[RunFigures, ...]:
    """The run, what it continues, and what made the things it took, through jars and draws."""
    runs = known.figures.runs
    found: dict[str, RunFigures] = {}
    waiting = deque([first])
    while waiting:
        name = waiting.popleft()
        if name in found or name not in runs or runs[name].run.planned:
            continue
        run = found[name] = runs[name]
        made = [maker(leaf) for thing in run.things_in for leaf in known.origins.leaves(thing)]
        waiting.extend((run.run.continues, *made))
    return tuple(found.values())


# The lines of one run


@dataclass(frozen=True, slots=True)
class RunLines:
    """Lines of a run by their action, in their order; damp weighings; stages without hours."""

    by_action: Mapping[str, Sequence[Entry]]
    damp: tuple[Entry, ...]
    without_hours: tuple[str, ...]

    def of(self, action: str) -> Sequence[Entry]:
        """The lines of an action."""
        return self.by_action.get(action, ())


def run_lines(run: RunFigures) -> RunLines:
    """The lines of a run that claims ask for."""
    entries = run.run.entries
    damp = tuple(one for one in entries if one.moisture in WET_WORDS)
    by_action = _grouped((one.action, one) for one in entries)
    return RunLines(by_action, damp, tuple(_without_hours(run)))


_NO_WORK = frozenset({"reckoned", "sold", "ask", "private"})


def _without_hours(run: RunFigures) -> list[str]:
    """Stages in which something was done and no hours were noted."""
    return [
        f'"{stage.title}"'
        for stage in run.run.stages
        if stage.title
        if any(one.action not in _NO_WORK for one in stage.entries)
        if not any(one.action == "worked" for one in stage.entries)
    ]


def lines_before(lines: Sequence[Entry], entry: Entry) -> Sequence[Entry]:
    """Those of some lines of a log that stand before another."""
    return lines[: bisect_left(lines, entry.span.start, key=lambda one: one.span.start)]


# The lines of one account


@dataclass(frozen=True, slots=True)
class AccountLines:
    """Lines of the account of a supply in order of day: every line, and what came in.

    `paid` is all the money that came in with it up to each line of `came_in`.
    """

    days: tuple[date, ...]
    moves: tuple[SupplyMove, ...]
    days_in: tuple[date, ...]
    came_in: tuple[SupplyMove, ...]
    paid: tuple[float, ...]

    def up_to(self, day: date | None) -> SupplyMove | None:
        """The last line up to a day."""
        at = _place(self.days, day)
        return self.moves[at - 1] if at else None

    def came_in_up_to(self, day: date | None) -> Sequence[SupplyMove]:
        """What was bought or there up to a day, the latest few."""
        at = _place(self.days_in, day)
        return self.came_in[max(at - PURCHASES, 0) : at]

    def paid_up_to(self, day: date | None) -> float:
        """All that was paid up to a day."""
        at = _place(self.days_in, day)
        return self.paid[at - 1] if at else 0.0


def _place(days: Sequence[date], day: date | None) -> int:
    return len(days) if day is None else bisect_right(days, day)


def account_lines(account: SupplyAccount) -> AccountLines:
    """The lines of an account that claims ask for."""
    dated = sorted(((one.day or date.min, one) for one in account.moves), key=lambda one: one[0])
    came_in = [(day, one) for day, one in dated if one.kind in ("bought", "had")]
    money = [one.cost.value.value if one.cost.value is not None else 0.0 for _, one in came_in]
    return AccountLines(
        tuple(day for day, _ in dated),
        tuple(one for _, one in dated),
        tuple(day for day, _ in came_in),
        tuple(one for _, one in came_in),
        tuple(accumulate(money)),
    )
