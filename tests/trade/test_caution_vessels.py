"""What meets in one labelled jar or waste container, across runs, months and paragraphs.

What must be raised is judged by chemistry, from the lists named in cautions.toml; every log
here is invented, and many describe what nobody should do.
"""

from __future__ import annotations

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.cautions.raised import cautions_of_runs
from logbook.calculation.results import Caution
from logbook.reading.read_book import read_book

Book = dict[str, str]
BLEACH = "hypochlorite-with-acid"


def raised_in(texts: Book) -> dict[str, list[Caution]]:
    """The cautions of each run of a book, as its pages are given them."""
    logs = {f"runs/{name}.md": f"# {name}\n\n{text}" for name, text in texts.items()}
    figures = work_out(read_book(logs))
    return {name: list(run.cautions) for name, run in figures.runs.items()}


def met(texts: Book, rule: str) -> list[tuple[str, int]]:
    """Where a rule is raised in a book: run and line."""
    found = raised_in(texts)
    return [
        (run, one.entry.line) for run, raised in found.items() for one in raised if one.rule == rule
    ]


@pytest.mark.parametrize(
    ("first", "second", "rule"),
    [
        # ACS list of incompatible chemicals, as reprinted by universities: hypochlorites and acids
        ("100 mL bleach", "50 mL muriatic acid", BLEACH),
        ("50 mL vinegar", "100 mL bleach", BLEACH),
        # McGill University, Office for Science and Society: ammonia and bleach
        ("100 mL bleach", "50 mL ammonia", "hypochlorite-with-ammonia"),
        ("20 g urea", "100 mL bleach", "hypochlorite-with-ammonia"),
        # ACS list: cyanides and acids; sulfides and acids
        ("5 g sodium cyanide", "50 mL vinegar", "cyanide-with-acid"),
        ("5 g sodium sulfide", "50 mL muriatic acid", "sulfide-with-acid"),
        # Steinhauser et al. 2008 (gold); Chem. Eng. News 74(2):2 (silver)
        ("5 g gold chloride", "30 mL ammonia", "gold-with-ammonia"),
        ("5 g silver chloride", "30 mL ammonia", "silver-with-ammonia"),
        ("30 mL ammonia", "5 g silver nitrate", "silver-with-ammonia"),
        # Oxley et al. 2012: acetone and peroxide
        ("50 mL hydrogen peroxide 3 %", "20 mL acetone", "peroxide-with-acetone"),
        # University of Illinois, nitric acid alert: nitric acid with ethanol, acetone
        ("50 mL nitric acid", "20 mL ethanol", "nitric-with-organics"),
        ("20 mL acetone", "50 mL nitric acid", "nitric-with-organics"),
        # Molecules 2023, 28(1), 162: urea nitrate
        ("20 g urea", "50 mL nitric acid", "urea-with-nitric"),
        # Virginia Tech, piranha solution
        ("50 mL sulfuric acid", "50 mL hydrogen peroxide 30 %", "piranha"),
        # AIHA and UCLA: aqua regia
        ("50 mL nitric acid", "50 mL muriatic acid", "aqua-regia"),
        # ACS list: chlorates and acids
        ("5 g sodium chlorate", "50 mL vinegar", "chlorate-with-acid"),
        # ACS list: iodine and ammonia
        ("5 g iodine", "30 mL ammonia", "iodine-with-ammonia"),
    ],
)
def test_two_things_of_different_months_meet_in_one_container(
    first: str, second: str, rule: str
) -> None:
    """What the second brings is told where it comes, with label, run and day of the first."""
    for verb in ("added", "poured"):
        book = {
            "2026-03-01-spring": f"## Treat waste\n- {verb} {first} into [W-2]\n",
            "2026-05-09-may": f"## Treat waste\n- {verb} {second} into [W-2]\n",
        }
        assert met(book, rule) == [("2026-05-09-may", 4)]
        (one,) = [c for c in raised_in(book)["2026-05-09-may"] if c.rule == rule]
        assert "[W-2]" in one.text
        assert "1 March 2026 (2026-03-01-spring, line 4)" in one.text
        assert one.other is not None and one.other.line == 4


def test_the_days_decide_and_not_the_order_of_the_logs() -> None:
    """A run that goes on for weeks pours in last, though its log is the first."""
    book = {
        "2026-03-01-long": (
            "## Strip\n- added 100 mL bleach\n- 2026-04-20 discarded 90 mL liquid into [W-2]\n"
        ),
        "2026-03-10-short": (
            "## Leach\n- added 100 mL muriatic acid\n- discarded 90 mL liquid into [W-2]\n"
        ),
    }
    assert met(book, BLEACH) == [("2026-03-01-long", 5)]


def test_what_is_taken_of_a_jar_counts_as_it_was_on_that_day() -> None:
    """A stage of March takes what came into the jar by then, not what an older log adds later."""
    jar = "## Strip\n- {day}added 100 mL bleach into [J-1]\n"
    use = {"2026-03-10-use": "## Leach\n- took 50 mL of [J-1]\n- added 100 mL muriatic acid\n"}
    before = use | {"2026-03-01-jar": jar.format(day="")}
    later = use | {"2026-03-01-jar": jar.format(day="2026-04-20 ")}
    assert met(before, BLEACH) == [("2026-03-10-use", 5)]
    assert met(later, BLEACH) == []


@pytest.mark.parametrize(
    "emptying",
    [
        "- took [W-2]\n- added 20 g soda\n",
        "- discarded [W-2], handed over to the collection point\n",
        "- discarded [W-2] into [W-9]\n",
        "- poured [W-2] into [W-9]\n",
    ],
)
def test_an_emptied_container_starts_anew(emptying: str) -> None:
    """After all of it was taken or discarded, what comes next is alone in it."""
    book = {
        "2026-03-01-first": "## Strip\n- added 100 mL bleach into [W-2]\n",
        "2026-04-01-out": f"## Treat waste\n{emptying}",
        "2026-05-01-next": "## Leach\n- added 100 mL vinegar into [W-2]\n",
    }
    assert met(book, BLEACH) == []
    del book["2026-04-01-out"]
    assert met(book, BLEACH) == [("2026-05-01-next", 4)]


@pytest.mark.parametrize("taken", ["- took half of [W-2]\n", "- took 50 mL of [W-2]\n"])
def test_a_part_that_was_taken_empties_nothing(taken: str) -> None:
    """What is left of a jar is still in it."""
    book = {
        "2026-03-01-first": "## Strip\n- added 100 mL bleach into [W-2]\n",
        "2026-04-01-some": f"## Treat waste\n{taken}",
        "2026-05-01-next": "## Leach\n- added 100 mL vinegar into [W-2]\n",
    }
    assert met(book, BLEACH) == [("2026-05-01-next", 4)]


def test_what_was_poured_over_is_in_the_next_container() -> None:
    """The content of a jar goes along, under whatever label it is then."""
    book = {
        "2026-03-01-first": "## Strip\n- added 100 mL bleach into [S-4]\n",
        "2026-04-01-over": "## Treat waste\n- discarded [S-4] into [W-2]\n",
        "2026-05-01-next": "## Leach\n- added 100 mL vinegar into [W-2]\n",
    }
    assert met(book, BLEACH) == [("2026-05-01-next", 4)]


def test_a_bottle_of_the_supplies_is_what_its_label_says() -> None:
    """A label that supplies.md gives a bottle stands for what is in it, in every run."""
    logs = {
        "runs/supplies.md": (
            "# Supplies\n\n- 2026-01-05 bought 1 L nitric acid 68 % [N-1] for 20 EUR\n"
        ),
        "runs/2026-03-01-a.md": (
            "# A\n\n## Dissolve\n- added 50 mL muriatic acid\n- added 10 mL of [N-1]\n"
        ),
    }
    figures = work_out(read_book(logs))
    found = {one.rule: one for one in figures.runs["2026-03-01-a"].cautions}
    assert "aqua-regia" in found
    assert "5 January 2026" in found["aqua-regia"].text
    assert "supplies.md, line 3" in found["aqua-regia"].text


def test_ammonia_poured_to_a_jar_of_gold() -> None:
    """The jar is named where the ammonia is said to go, however it is put."""
    gold = (
        "## Dissolve\n- took 5 g watch cases, gold 58 %\n- added 20 mL aqua regia\n"
        "- got 30 mL gold solution [S-1]\n"
    )
    for words in (
        "- added 20 mL ammonia into [S-1]",
        "- added 20 mL ammonia to [S-1]",
        "- added 20 mL ammonia to the jar [S-1]",
        "- put 20 mL ammonia into [S-1]",
        "- tipped ammonia in the jar [S-1]",
        "- tested [S-1] with ammonia: blue",
        "I poured some ammonia into [S-1] for the blue.",
        "Then the ammonia bottle fell over and most of it went into the jar [S-1].",
    ):
        book = {"2026-03-01-a": gold, "2026-06-01-b": f"## Trial\n- waited 1 h\n\n{words}\n"}
        assert [run for run, _ in met(book, "gold-with-ammonia")] == ["2026-06-01-b"], words


def test_what_a_paragraph_says_was_poured_stays_in_the_container() -> None:
    """Bleach that only the prose speaks of meets the acid of a later log."""
    book = {
        "2026-03-01-a": "## Clean\n- waited 1 h\n\nI poured the rest of the bleach into [W-2].\n",
        "2026-05-01-b": "## Leach\n- added 100 mL vinegar into [W-2]\n",
    }
    assert met(book, BLEACH) == [("2026-05-01-b", 4)]
    book["2026-03-01-a"] = "## Clean\n- waited 1 h\n\nNever pour bleach into [W-2].\n"
    assert met(book, BLEACH) == []


def test_a_plan_is_held_against_the_containers_as_they_stand() -> None:
    """A plan is warned of what is in the jar now, and puts nothing into it."""
    plan = "Status: planned\n\n## Leach\n- add 100 mL vinegar into [W-2]\n"
    book = {
        "2026-03-01-plan": plan,
        "2026-04-01-first": "## Strip\n- added 100 mL bleach into [W-2]\n",
        "2026-05-01-next": "## Strip\n- added 100 mL bleach into [W-2]\n",
    }
    assert met(book, BLEACH) == [("2026-03-01-plan", 6)]
    (one,) = [c for c in raised_in(book)["2026-03-01-plan"] if c.rule == BLEACH]
    assert "1 April 2026" in one.text


def test_a_log_that_tells_no_entry_is_still_read_in_its_place() -> None:
    """List items that could not be read as entries fill containers as well."""
    book = {
        "2026-03-01-a": "## Clean\n- put 100 mL bleach into [W-2]\n",
        "2026-05-01-b": "## Clean\n- put 100 mL vinegar into [W-2]\n",
    }
    assert [run for run, _ in met(book, BLEACH)] == ["2026-05-01-b"]


def test_a_meeting_is_told_once() -> None:
    """More of the same into the same container says nothing new."""
    more = "## Leach\n- added 100 mL vinegar into [W-2]\n"
    book = {
        "2026-03-01-a": "## Strip\n- added 100 mL bleach into [W-2]\n",
        "2026-04-01-b": more,
        "2026-05-01-c": more,
    }
    assert met(book, BLEACH) == [("2026-04-01-b", 4)]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("- added 100 mL bleach into [W-1]\n", "- added 100 mL vinegar into [W-2]\n"),
        ("- added 100 mL bleach\n", "- added 100 mL vinegar into [W-2]\n"),
        # what was added after the liquid had gone is not in it
        (
            "- added 50 mL vinegar\n- discarded 50 mL liquid into [W-2]\n- rinsed until clear\n"
            "- got 5 g powder\n\n## Strip\n- added 50 mL bleach\n",
            "- added 50 mL vinegar into [W-2]\n",
        ),
        ("- added 50 mL water into [W-2]\n", "- added 50 mL bleach into [W-2]\n"),
        # a bar in a bag of its own takes nothing of the acid bench along
        (
            "- added 50 mL bleach\n- got 20 g silver bar [AG-1]\n",
            "- took [AG-1]\n- added 50 mL vinegar\n",
        ),
    ],
)
def test_things_that_do_not_meet_raise_nothing(first: str, second: str) -> None:
    """Two containers, or a container and a stage that never saw each other, are no meeting."""
    book = {
        "2026-03-01-a": f"## Treat waste\n{first}",
        "2026-05-01-b": f"## Treat waste\n{second}",
    }
    assert met(book, BLEACH) == []


def test_a_label_that_goes_on_with_the_charge_is_free_again() -> None:
    """A beaker's label used for each run's solution in turn makes no mixture of the runs."""
    book = {
        "2026-03-01-a": (
            "## Dissolve\n- took 9 g contacts, silver 80 %\n- added 20 mL nitric acid\n"
            "- got 50 mL solution [S-1]\n\n## Cement\n- added 5 g copper bar\n"
        ),
        "2026-05-01-b": (
            "## Dissolve\n- took 9 g gold scrap\n- added 20 mL muriatic acid\n"
            "- got 50 mL solution [S-1]\n"
        ),
    }
    assert met(book, "aqua-regia") == []


def test_runs_of_one_name_and_runs_without_entries_do_no_harm() -> None:
    """Odd books give cautions or none, and never a mistake of the program."""
    logs = {
        "runs/a/2026-03-01-x.md": "# X\n\n## Strip\n- added 9 mL bleach into [W-2]\n",
        "runs/b/2026-03-01-x.md": "# X\n\n## Strip\n- added 9 mL vinegar into [W-2]\n",
        "runs/2026-03-02-y.md": "# Y\n",
        "runs/2026-03-03-z.md": "# Z\n\nContinues: 2026-03-03-z\n\n## Melt\n",
    }
    runs = read_book(logs).runs
    assert set(cautions_of_runs(runs)) == {run.name for run in runs}
