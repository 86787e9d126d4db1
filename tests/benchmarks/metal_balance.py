"""What the metal balance of a whole book costs, against reading the book and writing its pages.

Run it as `python -m tests.benchmarks.metal_balance [RUNS ...]`; without numbers it takes books of
100, 1,000 and 10,000 runs, which is a few minutes. Ratios of one run can be trusted, times
cannot. Targets: the balance of 1,000 runs in groups of 20 takes at most half as long as writing
their pages; that of a chain of 2,000 linked things at most a second; and the cost grows no
faster than n log n.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from math import log
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Any

from logbook.build import guide_chapters
from logbook.calculation import things
from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures
from logbook.model.book import Book
from logbook.pages.site_pages import PageOptions, site_pages
from logbook.reading.read_book import read_book
from logbook.writing.site_folder import SiteFolder
from logbook.writing.templates import Theme
from logbook.writing.theme_folders import theme_folders

GROUP = 20  # runs that are linked by labels
LINKS = 2000  # things in the chain
HANDED = 6.0  # g of silver in the powder that one run of a group hands to the next
STAGES = 10  # of a run of the chain
SIZES = (100, 1000, 10_000)
WITH_PAGES = 1000  # runs; pages of a larger book tell nothing more
FIRST = date(2001, 1, 1)

Texts = Mapping[str, str]


def grouped_book(runs: int, seed: int = 1) -> Texts:
    """Runs that dissolve scrap, keep papers, and hand their powder on; each twentieth burns."""
    random = Random(seed)
    texts = {}
    in_papers = 0.0
    for number in range(runs):
        day = FIRST + timedelta(days=number)
        papers = random.uniform(0.5, 2.0)
        last = number % GROUP == GROUP - 1
        texts[f"runs/{day}-lot-{number}.md"] = _lot(
            number, day, random, in_papers if last else -papers
        )
        in_papers = 0.0 if last else in_papers + papers
    return texts


def _lot(number: int, day: date, random: Random, from_papers: float) -> str:
    """One run; `from_papers` is the silver that its papers took, or gave back [g]."""
    group, place = divmod(number, GROUP)
    feed = random.uniform(100.0, 400.0)
    silver = feed * random.gauss(0.71, 0.006)
    dish = random.uniform(0.1, 0.4)
    last = place == GROUP - 1
    taken = f"- took cement silver [P-{group}-{place - 1}]\n" if place else ""
    burnt = "".join(f"- took filters [F-{group}-{n}]\n" for n in range(place)) if last else ""
    guess = f", silver {-from_papers:.1f} ± 0.2 g" if group % 2 else ""  # every other group
    kept = "" if last else f"- kept 2 filters [F-{group}-{place}]{guess}\n"
    handed = 0.0 if last else HANDED
    bar = silver + from_papers - dish - handed + (HANDED if place else 0.0)
    powder = (
        f"- kept {handed / 0.97:.2f} ± 0.02 g cement silver [P-{group}-{place}], silver 97 ± 1 %\n"
        if not last
        else ""
    )
    return f"""\
# Relay contacts, lot {number}

Date: {day}
Metal: silver

The jar of the month, one make of relay. Water first, then the acid in small pours.

## Dissolve

- took {feed:.2f} g relay contacts [RC-{number}], silver 71 ± 1 %
{taken}{burnt}- added 300 mL distilled water
- added 300 mL nitric acid 68 %, in small portions
- heated at 65 C for 2 h on the hotplate
- worked 50 min
{kept}
## Cement

- added 120.4 g copper bar
- waited overnight
- tested salt: no cloud
{powder}- discarded 0.9 L blue solution into [W-{group}], silver 0.02 ± 0.02 g/L

The powder was grey and even; a few pieces of the bar broke off and were picked out by hand.

## Melt

- lost about {dish:.1f} g in the dish
- got {bar / 0.995:.2f} ± 0.05 g silver bar [AG-{number}], silver 99.5 ± 0.3 %
"""


def chain_book(links: int = LINKS, *, weighed: bool = True, seed: int = 2) -> Texts:
    """One bar that is melted again and again: all in a single block.

    Each time it is weighed and assayed, or only at both ends of the chain.
    """
    random = Random(seed)
    texts, content = {}, 1000.0
    for run in range(links // STAGES):
        day = FIRST + timedelta(days=run)
        stages = []
        for stage in range(STAGES):
            at = run * STAGES + stage
            came = (
                f"took silver bar [B-{at - 1}]" if at else _bar("took", content, "B-first", random)
            )
            chips = random.uniform(0.02, 0.08)
            content -= chips
            bar = _bar("- kept", content, f"B-{at}", random)
            if not weighed and at < links - 1:
                bar = f"- kept silver bar [B-{at}]"
            stages.append(
                f"## Melt {stage}\n\n- {came}\n"
                f"- kept {chips:.3f} ± 0.003 g silver chips [C-{at}], silver 99 ± 1 %\n"
                f"{bar}\n"
            )
        head = f"# Melting again, {run}\n\nDate: {day}\nMetal: silver\n\n"
        texts[f"runs/{day}-melt-{run}.md"] = head + "\n".join(stages)
    return texts


def _bar(action: str, content: float, label: str, random: Random) -> str:
    gross = (content + random.gauss(0.0, 0.05)) / 0.99
    return f"{action} {gross:.2f} ± 0.05 g silver bar [{label}], silver 99.0 ± 0.1 %"


@dataclass
class Cost:
    """What one book cost, in seconds; pages are None where they were not written."""

    runs: int
    things: int
    open: int
    reading: float
    balance: float
    figures: float
    pages: float | None


@contextmanager
def timed_balance() -> Iterator[list[float]]:
    """Times every call of the balance from within the figures of a book."""
    times: list[float] = []
    balance_book = things.balance_book

    def timed(*arguments: Any, **more: Any) -> Any:
        start = perf_counter()
        found = balance_book(*arguments, **more)
        times.append(perf_counter() - start)
        return found

    things.balance_book = timed  # type: ignore[assignment]
    try:
        yield times
    finally:
        things.balance_book = balance_book


def seconds(work: Callable[[], Any]) -> tuple[float, Any]:
    """How long something takes, with no rubbish collected in between, and what comes of it."""
    gc.collect()
    gc.disable()
    try:
        start = perf_counter()
        made = work()
        return perf_counter() - start, made
    finally:
        gc.enable()


def cost_of(texts: Texts, *, with_pages: bool, rounds: int = 1) -> Cost:
    """Read a book, work it out, and write its pages; the figures are the fastest of some rounds."""
    reading, book = seconds(lambda: read_book(dict(texts)))
    assert isinstance(book, Book)
    balance = figured = float("inf")
    for _ in range(rounds):
        with timed_balance() as times:
            took, figures = seconds(lambda: work_out(book))
        balance, figured = min(balance, sum(times)), min(figured, took)
    assert isinstance(figures, BookFigures)
    pages = seconds(lambda: write_pages(figures))[0] if with_pages else None
    found = len(figures.things)
    return Cost(len(book.runs), found, len(figures.gaps), reading, balance, figured, pages)


def write_pages(figures: BookFigures) -> None:
    """Every page, rendered and written into a folder of its own."""
    theme = Theme(*theme_folders("bench"))
    with TemporaryDirectory() as folder:
        site = SiteFolder(Path(folder) / "site")
        for page in site_pages(figures, guide_chapters(), PageOptions()):
            site.write(page.path, theme.render(page))
        site.finish()


def growth(one: Cost, other: Cost) -> float:
    """The exponent of n log n by which the balance grew: 1 where it grew just as that."""
    work = [cost.runs * log(cost.runs) for cost in (one, other)]
    return log(other.balance / one.balance) / log(work[1] / work[0])


def line(name: str, cost: Cost) -> str:
    """One line about one book."""
    pages = "          -" if cost.pages is None else f"{cost.pages:9.2f} s"
    share = "" if cost.pages is None else f"  balance/pages {cost.balance / cost.pages:5.2f}"
    return (
        f"{name:>18}  {cost.runs:6} runs {cost.things:6} things {cost.open:4} open"
        f"  reading {cost.reading:7.2f} s  balance {cost.balance:7.3f} s"
        f"  figures {cost.figures:7.2f} s  pages {pages}{share}"
    )


def main(sizes: Sequence[int]) -> None:
    """Print a line for each book, then how the cost grew."""
    cost_of(grouped_book(GROUP), with_pages=True)  # what is imported at first use
    for name, weighed in (("chain, weighed", True), ("chain, ends only", False)):
        chain = cost_of(chain_book(weighed=weighed), with_pages=False, rounds=2)
        print(line(name, chain), flush=True)
    costs = []
    for size in sizes:
        costs.append(
            cost_of(
                grouped_book(size),
                with_pages=size <= WITH_PAGES,
                rounds=3 if size <= WITH_PAGES else 1,
            )
        )
        print(line("groups of 20", costs[-1]), flush=True)
    for one, other in pairwise(costs):
        grew = f"(n log n)^{growth(one, other):.2f}"
        print(f"{one.runs} → {other.runs} runs: the balance grew as {grew}")


if __name__ == "__main__":
    main([int(arg) for arg in sys.argv[1:]] or SIZES)
