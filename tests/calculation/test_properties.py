"""What must not change a balance: the unit, the order within a stage, a run next to it.

No figure is expected here; two ways of writing the same work are held against each other.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from random import Random

import pytest
from build import entry, g, part, run, stage
from test_any_book import any_book

from logbook.calculation.book_figures import work_out
from logbook.calculation.figure import Figure
from logbook.calculation.results import BookFigures, Content, RunFigures, Standing
from logbook.model.book import Book
from logbook.reading.read_book import read_book

OUNCE = 31.1034768  # g, the troy ounce: 480 grains of 64.79891 mg (definition)
SIDES = ("filters", "grey residue", "slag", "beads", "washings")


def told(figures: RunFigures) -> list[tuple[str, float | None, float | None]]:
    """The balances, weights and money of a run in figures, for comparing."""
    money = (figures.feed, figures.mass_yield, figures.cost, figures.worth, figures.net)
    balances = [
        getattr(balance, name)
        for balance in figures.balances
        for name in ("head", "product", "shelf", "waste", "lost", "unaccounted", "recovery")
    ]
    return [(one.name, *_numbers(one)) for one in (*balances, *money)]


def _numbers(figure: Figure) -> tuple[float | None, float | None]:
    if figure.value is None:
        return figure.low, figure.high
    return figure.value.value, figure.value.u


def compare(one: RunFigures, other: RunFigures) -> None:
    """Hold two runs against each other; sums in another order differ in the last digit."""
    for first, second in zip(told(one), told(other), strict=True):
        assert first[0] == second[0]
        for a, b in zip(first[1:], second[1:], strict=True):
            assert a is b is None or a == pytest.approx(b, rel=1e-9, abs=1e-9), first[0]


def some_log(random: Random, ounces: bool) -> str:
    """A run of two stages with a few side streams, in grams or in troy ounces."""

    def mass(grams: float) -> str:
        by, unit = (OUNCE, "ozt") if ounces else (1.0, "g")
        return f"{grams / by:.12f} ± {0.02 / by:.12f} {unit}"

    def side(number: int, what: str) -> str:
        content = random.choice(["", ", silver 3 ± 1 %", ", silver 0.2 %"])
        return f"- kept {mass(random.uniform(0.5, 9.0))} {what} [S-{number}]{content}"

    feed = random.uniform(50.0, 500.0)
    bar = mass(feed * random.uniform(0.6, 0.72))
    sides = [side(*one) for one in enumerate(random.sample(SIDES, random.randrange(4)))]
    return "\n".join(
        [
            "# Points\n\nDate: 14 March 2026\nMetal: silver\n\n## Dissolve\n",
            f"- took {mass(feed)} relay points [RC-1], silver 70 ± 1 %",
            *sides,
            "\n## Melt\n",
            f"- lost {mass(random.uniform(0.1, 0.5))} silver in the dish",
            f"- got {bar} silver bar [AG-1], silver 99.5 ± 0.3 %",
        ]
    )


def of_log(text: str) -> RunFigures:
    """The figures of the run of one log."""
    book = read_book({"runs/2026-03-14-a.md": text})
    assert book.findings == ()
    return work_out(book).runs["2026-03-14-a"]


@pytest.mark.parametrize("seed", range(20))
def test_grams_and_troy_ounces_give_the_same_figures(seed: int) -> None:
    """The same masses and doubts in the other unit: the same balance, read from the log."""
    in_grams, in_ounces = (of_log(some_log(Random(seed), ounces)) for ounces in (False, True))
    assert in_grams.balances[0].head.known
    compare(in_grams, in_ounces)


@pytest.mark.parametrize("seed", range(20))
def test_any_order_of_entries_within_a_stage_gives_the_same_figures(seed: int) -> None:
    """The list items of each stage, shuffled."""
    random = Random(seed)
    text = some_log(random, ounces=False)
    head, *stages = text.split("## ")
    shuffled = []
    for one in stages:
        title, *items = one.split("\n- ")
        items = [item.strip() for item in items]
        random.shuffle(items)
        shuffled.append("\n- ".join([title.rstrip() + "\n", *items]))
    compare(of_log(text), of_log(head + "\n\n## ".join(["", *shuffled])))


def test_what_was_adjusted_is_conserved_to_the_last_digit() -> None:
    """Where all that went in and came out was adjusted, as much came out as went in.

    To 1e-9 of what went in; and of sixty logs, with odd readings, it is so in several.
    """
    balanced = 0
    for seed in range(60):
        figures = of_log(some_log(Random(seed), ounces=False))
        inside, outside = (
            [thing.held["silver"] for thing in things if "silver" in thing.held]
            for things in (figures.things_in, figures.things_out)
        )
        if all(content.standing is Standing.ADJUSTED for content in (*inside, *outside)):
            balanced += 1
            assert _total(inside) == pytest.approx(_total(outside), rel=1e-9)
            assert figures.balances[0].closes == "yes"
    assert balanced > 5


def _total(contents: Iterable[Content]) -> float:
    values = [content.best.value for content in contents]
    return sum(value.value for value in values if value is not None)


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_a_run_with_things_of_its_own_changes_no_other(first: int) -> None:
    """Odd books, each with and without a run that shares no label with them."""
    for seed in range(first, first + 10):
        written = any_book(seed)
        alone, beside = work_out(written), work_out(with_another_run(written, seed))
        assert _but_one(alone) == _but_one(beside)
        for name, figures in alone.runs.items():
            compare(figures, beside.runs[name])


def with_another_run(written: Book, seed: int) -> Book:
    """The book with a run on a day of January beside its own."""
    another = run(
        f"2026-01-{seed % 28 + 1:02}-another",
        stage("Melt", entry("took", g(90.0), "own scrap", "OWN-1", holds={"silver": part(0.5)})),
        stage("Pour", entry("got", g(44.0), "silver bar", "OWN-2", holds={"silver": part(0.99)})),
    )
    runs = sorted((*written.runs, another), key=lambda one: (one.day is None, one.day, one.name))
    return replace(written, runs=tuple(runs))


def _but_one(figures: BookFigures) -> list[str]:
    return [
        thing.key
        for thing in figures.things
        if not thing.label.startswith("OWN") and "-another: " not in thing.key
    ]
