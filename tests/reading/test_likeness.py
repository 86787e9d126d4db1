"""`Like:` and `For:` lines: which runs a plan names, which stages it leaves out, what it is for."""

from __future__ import annotations

import pytest

from logbook.model.run import Run
from logbook.reading.read_book import read_book


def plan(*facts: str, bench: str = "# Bench\n") -> Run:
    """A plan with some facts."""
    head = "\n".join(("Status: planned", *facts))
    log = f"# The next lot\n\n{head}\n\n## Dissolve\n\n- take 3 g wire\n"
    return read_book({"runs/2026-03-28-next.md": log, "runs/bench.md": bench}).runs[0]


@pytest.mark.parametrize(
    ("line", "runs"),
    [
        ("lot-2", [("lot-2", "", ())]),
        ("[lot-2]", [("lot-2", "", ())]),
        ("lot-1, lot-2 and lot-3", [("lot-1", "", ()), ("lot-2", "", ()), ("lot-3", "", ())]),
        ("lot-1, and lot-2", [("lot-1", "", ()), ("lot-2", "", ())]),
        ("lot-2 from dissolve on", [("lot-2", "dissolve", ())]),
        ("lot-2 from the melt", [("lot-2", "melt", ())]),
        ("lot-2 without cement", [("lot-2", "", ("cement",))]),
        ("lot-2, without cement", [("lot-2", "", ("cement",))]),
        ("lot-2 from dissolve on, without cement", [("lot-2", "dissolve", ("cement",))]),
        ("lot-2 without cement from dissolve on", [("lot-2", "dissolve", ("cement",))]),
        ("lot-2 without cement and melt", [("lot-2", "", ("cement", "melt"))]),
        (
            "lot-3, lot-4 from dissolve on, without treat waste and lot-5",
            [("lot-3", "", ()), ("lot-4", "dissolve", ("treat waste",)), ("lot-5", "", ())],
        ),
    ],
)
def test_a_like_line(line: str, runs: list[tuple[str, str, tuple[str, ...]]]) -> None:
    """Runs stand between commas and `and`; from and without belong to the run before them."""
    found = plan(f"Like: {line}").like
    assert [(one.run, one.from_stage, one.without) for one in found] == runs


def test_each_run_is_quoted_with_all_that_belongs_to_it() -> None:
    """The span of a run is the run with its stages, as they were written."""
    first, second = plan("Like: lot-3, lot-4 from dissolve on, without cement").like
    assert (first.span.text, second.span.text) == (
        "lot-3",
        "lot-4 from dissolve on, without cement",
    )


def test_several_lines_are_one_list() -> None:
    """`Like:` may stand twice."""
    assert [one.run for one in plan("Like: lot-3", "Like: lot-4").like] == ["lot-3", "lot-4"]


def test_without_a_like_line_there_is_none() -> None:
    """A log that names no run is like none."""
    assert plan("Metal: silver").like == ()


@pytest.mark.parametrize(
    ("line", "grams"),
    [
        ("For: 1.2 kg", 1200.0),
        ("For: 350 g relay contacts", 350.0),
        ("For: a friend", None),
        ("For: 3 h", None),
        ("For: 2 L", None),
        ("Hood: on", None),
    ],
)
def test_what_a_plan_is_for(line: str, grams: float | None) -> None:
    """A weight counts; anything else is words, as every unknown fact is."""
    run = plan(line)
    assert (run.meant.base_value if run.meant else None) == grams


def test_words_that_are_no_weight_raise_nothing() -> None:
    """`For` is a word of everyday."""
    log = "# Lot\n\nFor: 2 gramm of good\n\n## Work\n\n- took 3 g wire\n"
    assert read_book({"runs/2026-03-28-lot.md": log}).findings == ()


def test_a_decimal_comma_counts_in_what_a_plan_is_for() -> None:
    """The bench's way of writing numbers holds for `For:` as well."""
    run = plan("For: 1,2 kg", bench="# Bench\n\nNumbers: 1.250,5\n")
    assert run.meant is not None
    assert run.meant.base_value == 1200.0
