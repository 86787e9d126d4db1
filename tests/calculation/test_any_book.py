"""What holds for any book, however odd: nothing raises, no thing is in two places."""

from __future__ import annotations

from random import Random

import pytest
from build import book, entry, euros, g, hours, litres, page, part, pieces, priced, run, stage

from logbook.calculation.balance import way_out
from logbook.calculation.book_figures import whole_book_findings, work_out
from logbook.calculation.results import BookFigures, Content, Fate, Standing
from logbook.model.amount import Amount, Dimension
from logbook.model.book import Book
from logbook.model.entry import Entry
from logbook.model.run import Run, Status

ACTIONS = (
    *("took", "added", "got", "kept", "sampled", "lost", "discarded", "left", "weighed"),
    *("measured", "assayed", "sold", "bought", "had", "broke", "spent", "rinsed", "filtered"),
    *("worked", "heated", "waited", "tested", "found", "ask", "private", "reckoned"),
)
NAMES = ("A", "B", "C", "W", "LOT", "F-1", "F-2")
THINGS = ("", "silver bar", "filters", "blue solution", "nitric acid", "cement silver")


def any_amount(random: Random) -> Amount | None:
    """A mass, a volume, a count, a limit, something unknown or nothing."""
    below = Amount(g(0.0).span, Dimension.MASS, "g", None, None, low=0.0, high=0.01)
    size = random.choice([0.0, 1.0, 10.0, 250.0])
    choices = (g(size, 0.1), g(None), litres(size, 0.05), pieces(3), below, None, g(-1.0), hours(1))
    return random.choice(choices)


def any_entry(random: Random) -> Entry:
    """An entry that need not make sense."""
    names = tuple(random.sample(NAMES, random.choice([0, 0, 1, 1, 2])))
    fineness = part(random.choice([0.0, 0.5, 1.0, None]), 0.01)
    return entry(
        random.choice(ACTIONS),
        any_amount(random),
        random.choice(THINGS),
        *names,
        holds={random.choice(["silver", "gold"]): fineness} if random.random() < 0.4 else None,
        source=random.choice(["", "", "", *NAMES]),
        into=random.choice(["", "", "", *NAMES]),
        share=random.choice([None, None, 0.5, 1.0, 0.0, 2.0]),
        on=random.choice(["", "", "2026-01-20", "2025-12-31"]),
        clock=random.choice(["", "", "09:30", "23:59"]),
        cost=random.choice([None, euros(10.0), euros(0.0)]),
        moisture=random.choice(["", "damp", "dry"]),
        duration=random.choice([None, hours(1.0), hours(None)]),
        repeats=random.choice([1, 3, None, 0]),
        in_all=random.random() < 0.1,
        as_product=random.random() < 0.05,
    )


def any_run(random: Random, number: int) -> Run:
    """A run of a few stages that may continue any other, even itself."""
    stages = [
        stage(
            random.choice(["Dissolve", "Melt", "Odd", "Trial"]),
            *(any_entry(random) for _ in range(random.randrange(6))),
            on=random.choice(["", "", "2026-01-15"]),
            trial=random.random() < 0.1,
        )
        for _ in range(random.randrange(5))
    ]
    return run(
        f"2026-01-{random.randrange(1, 20):02}-{number % 7}",
        *stages,
        metals=random.choice([("silver",), ("gold", "silver"), ()]),
        status=random.choice(list(Status)),
        continues=random.choice(["", "", "2026-01-05-1", "nowhere"]),
    )


def any_book(seed: int) -> Book:
    """A book of odd runs, the same for the same seed."""
    random = Random(seed)
    odd = (any_entry(random) for _ in range(8))
    return book(
        *(any_run(random, number) for number in range(random.randrange(12))),
        supplies=page("supplies", *odd),
        prices=page("prices", priced("silver", 1.1, "2026-01-02"), any_entry(random)),
        hour=random.choice([None, 20.0]),
    )


def check_standing(content: Content) -> None:
    """A content has a value or a reason, and its standing says which."""
    best = content.best
    known = content.standing in (Standing.MEASURED, Standing.ADJUSTED, Standing.DEDUCED)
    assert best.known == known
    assert best.known or best.why
    assert content.standing is not Standing.BOUNDED or best.high is not None
    assert (content.standing is Standing.ADJUSTED) == (content.adjustment is not None)


def check(figures: BookFigures) -> None:
    """What must hold for the figures of any book."""
    keys = [thing.key for thing in figures.things]
    assert len(keys) == len(set(keys))
    for thing in figures.things:
        assert thing.part_of == "" or thing.part_of in keys
        assert set(thing.pooled_from) <= set(keys)
        assert not (thing.used_by is not None and thing.fate is not Fate.USED)
        for content in thing.held.values():
            check_standing(content)
    for one in figures.runs.values():
        for balance in one.balances:
            out = balance.unaccounted.value
            if out is not None and balance.closes == "yes":
                assert abs(out.value) <= 2.0 * out.u + 1e-9
            assert balance.closes in ("yes", "no", "unknown")
            assert balance.recovery.known or balance.recovery.why
            assert balance.head.known or balance.head.why
    for finding in figures.findings:
        assert finding.headline and finding.understood and finding.hint


@pytest.mark.parametrize("first", range(0, 400, 50))
def test_no_book_makes_it_raise(first: int) -> None:
    """Fifty odd books: figures come out, add up, and name every reason."""
    for seed in range(first, first + 50):
        written = any_book(seed)
        figures = work_out(written)
        check(figures)
        assert whole_book_findings(written) == figures.findings


def test_the_same_book_gives_the_same_figures() -> None:
    """Nothing depends on a clock or on an order that changes."""
    one, other = work_out(any_book(7)), work_out(any_book(7))
    assert [thing.key for thing in one.things] == [thing.key for thing in other.things]
    assert [f.headline for f in one.findings] == [f.headline for f in other.findings]


def test_things_leave_a_run_once() -> None:
    """No thing is told twice among what left a run, and each has one way out."""
    for seed in range(100):
        for one in work_out(any_book(seed)).runs.values():
            keys = [thing.key for thing in one.things_out]
            assert len(keys) == len(set(keys))
            assert {way_out(thing) for thing in one.things_out} <= {
                "product",
                "shelf",
                "waste",
                "lost",
            }


def test_a_long_chain_of_draws_and_weighings_is_followed_to_its_end() -> None:
    """A lot drawn from and weighed two thousand times does not exhaust anything."""
    entries = [entry("got", g(100000.0), "silver powder", "J", holds={"silver": part(0.5)})]
    for k in range(2000):
        entries.append(entry("sampled", g(1.0), "", "J"))
        entries.append(entry("weighed", g(99999.0 - k), "", "J"))
    figures = work_out(
        book(run("2026-01-01-a", stage("Store", *entries), metals=("silver", "gold")))
    )
    (rest,) = [thing for thing in figures.shelf if thing.role.value == "product"]
    assert rest.contents["silver"].value is not None
    assert rest.contents["silver"].value.value == pytest.approx((100000.0 - 2000.0) * 0.5)


def one_of_many(k: int) -> Run:
    """A run of ten entries that draws on a lot, fills a bag and a waste container."""
    return run(
        f"20{k // 336 + 10}-{k % 12 + 1:02}-{k % 28 + 1:02}-r{k}",
        stage(
            "Dissolve",
            entry("took", g(10.0, 0.1), "", source="LOT"),
            entry("added", litres(0.5, 0.03), "nitric acid", reagent="nitric acid"),
            entry("heated", duration=hours(1.0)),
            entry("worked", duration=hours(0.5)),
            entry("kept", g(1.0, 0.1), "filters", into="BAG"),
            entry("got", litres(0.3), "solution"),
        ),
        stage(
            "Melt",
            entry("lost", g(0.1, 0.01), ""),
            entry("discarded", litres(0.5), "blue", into="W"),
            entry("worked", duration=hours(0.5)),
            entry("got", g(4.0, 0.1), "silver bar", f"AG-{k}", holds={"silver": part(0.99)}),
        ),
    )


def thousand_runs() -> Book:
    """A book of a thousand such runs."""
    lot = entry("bought", g(20000.0, 1.0), "sweeps", "LOT", holds={"silver": part(0.4, 0.01)})
    acid = entry("bought", litres(5.0), "nitric acid", reagent="nitric acid", cost=euros(40.0))
    return book(*map(one_of_many, range(1000)), supplies=page("supplies", lot, acid), hour=20.0)


def test_speed_of_a_thousand_runs(benchmark) -> None:  # type: ignore[no-untyped-def]
    """Ten thousand entries, to be looked at with the benchmark's own table."""
    written = thousand_runs()
    figures = benchmark.pedantic(work_out, args=(written,), rounds=1)
    assert len(figures.runs) == 1000
