"""What money, time, supplies and claims of a whole book cost, against reading the book.

Run it as `python -m tests.benchmarks.money_of_a_book [RUNS ...]`; without numbers it takes books
of 100, 200 and 400 runs, the last of 10,000 entries. Ratios of one run can be trusted, times
cannot. Target: 10,000 entries take at most a second beyond reading, on a quiet machine, and the
cost grows no faster than the book.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date, timedelta
from functools import wraps
from random import Random
from time import perf_counter
from typing import Any

from logbook.calculation import book_figures
from logbook.reading.read_book import read_book

FIRST = date(2024, 1, 1)
SIZES = (100, 200, 400)
# The steps of `work_out` that are about money, time, supplies and claims.
STEPS = (
    *("exchange", "day_prices", "buyer_terms", "lot_prices", "feed_cost", "market"),
    *("supply_list", "supply_uses", "supply_accounts", "in_rows", "reagent_use"),
    *("stage_times", "hands_on_of_run", "heated", "run_costs", "stage_costs", "net_of"),
    *("product_worth", "with_rests", "costing_of_book", "with_costing", "with_earnings"),
    *("book_earnings", "sales", "held_worth", "spent_in_all_findings", "with_claims"),
)

RUN = """\
# Lot {number}

Date: {day}
Metal: silver

## Dissolve, 09:00

- took {mass}.0 g relay contacts [RC-{number}], silver 70 ± 1 %, for {price} EUR
{earlier}- added {mass} mL nitric acid 68 %
- added {mass} mL distilled water
- heated at 70 C for 2 h with 500 W on the hotplate
- worked from 9:00 to 10:{minutes}
- filtered, rinsed with 150 mL distilled water
- kept 3 filters [F-{number}], silver 2 ± 1 g
- got 1.2 L silver nitrate solution

## Cement, 13:00

- added {copper} g copper bar
- waited 4 h
- worked 30 min
- tested salt: no cloud
- kept {left} g copper bar [CU-{number}]
- discarded 1.8 L blue solution into [W-{waste}]
- rinsed 3 times with 200 mL distilled water
- spent 3 EUR on gas
- got {cement} g cement silver, dry

## Melt, 18:00

- added 3 g borax
- worked 40 min
- broke a dish, 2 EUR
- got {silver} g silver bar [AG-{number}], silver 99.5 ± 0.3 % by density
- reckoned cost {claim} EUR
- reckoned recovery 95 %
"""


def odd_book(runs: int, seed: int = 7) -> dict[str, str]:
    """A book of runs that take filters of the run before, with purchases, prices and claims."""
    random = Random(seed)
    texts = {
        "runs/bench.md": "# Bench\n\nCurrency: EUR\nHour: 18 EUR\nTariff: 0.3 EUR per kWh\n",
        "runs/supplies.md": "# Supplies\n\n" + "".join(_bought(runs, random)),
        "runs/prices.md": "# Prices\n\n" + "".join(_priced(runs)),
    }
    for number in range(runs):
        mass = random.randint(100, 400)
        silver = round(mass * 0.7 * 0.95, 1)
        day = FIRST + timedelta(days=number)
        texts[f"runs/{day}-lot-{number}.md"] = RUN.format(
            number=number,
            day=day,
            mass=mass,
            price=random.randint(20, 90),
            earlier=f"- took [F-{number - 1}]\n" if number % 4 else "",
            minutes=random.randint(10, 50),
            copper=mass // 2,
            left=mass // 5,
            waste=number // 20,
            cement=silver + 2.0,
            silver=silver,
            claim=random.randint(40, 150),
        )
    return texts


def _bought(runs: int, random: Random) -> list[str]:
    lines = []
    for number in range(runs):
        day = FIRST + timedelta(days=number)
        litres, paid = random.choice([1, 2.5, 5]), random.randint(10, 60)
        lines.append(f"- {day} bought {litres} L nitric acid 68 % for {paid} EUR\n")
        if number % 3 == 0:
            lines.append(f"- {day} bought 1 kg copper bar for {random.randint(9, 15)} EUR\n")
    return lines


def _priced(runs: int) -> list[str]:
    days = (FIRST + timedelta(days=7 * week) for week in range(runs // 7 + 1))
    return [f"- {day} priced silver at {1 + day.day / 1000:.3f} EUR/g\n" for day in days]


class Watch:
    """Counts the time in some functions, of which none calls another."""

    def __init__(self) -> None:
        self.spent: dict[str, float] = {}
        self._inside = False

    def over(self, name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        """The function, with its time counted unless another is being counted."""

        @wraps(function)
        def watched(*args: Any, **named: Any) -> Any:
            if self._inside:
                return function(*args, **named)
            self._inside, start = True, perf_counter()
            try:
                return function(*args, **named)
            finally:
                self.spent[name] = self.spent.get(name, 0.0) + perf_counter() - start
                self._inside = False

        return watched


def measure(runs: int) -> None:
    """Read and work out one book, and print what the steps took."""
    texts = odd_book(runs)
    start = perf_counter()
    book = read_book(texts)
    reading = perf_counter() - start
    entries = sum(len(run.entries) for run in book.runs)
    entries += sum(len(page.entries) for page in (book.supplies, book.prices) if page is not None)
    watch, kept = Watch(), {name: getattr(book_figures, name) for name in STEPS}
    for name, function in kept.items():
        setattr(book_figures, name, watch.over(name, function))
    start = perf_counter()
    book_figures.work_out(book)
    whole = perf_counter() - start
    for name, function in kept.items():
        setattr(book_figures, name, function)
    money = sum(watch.spent.values())
    print(
        f"{entries} entries: reading {reading:.2f} s, money {money:.2f} s "
        f"({money / reading:.2f} of it), all figures {whole:.2f} s"
    )
    for name, spent in sorted(watch.spent.items(), key=lambda one: -one[1])[:6]:
        print(f"    {name} {spent:.2f} s")


if __name__ == "__main__":
    for size in [int(word) for word in sys.argv[1:]] or SIZES:
        measure(size)
