"""Hours: labour as noted, elapsed time from what was written and from date to date."""

from __future__ import annotations

import pytest
from build import book, entry, g, hours, run, stage, worked

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import RunFigures
from logbook.model.run import Run


def figures_of(only: Run) -> RunFigures:
    """The figures of a run in a book of its own."""
    return work_out(book(only)).runs[only.name]


def test_hands_on_is_the_sum_of_what_was_worked() -> None:
    """50 min and 1 h 10 min are 2 h; heating and waiting are no labour."""
    only = run(
        "2026-01-01-a",
        stage("Dissolve", worked(50 / 60), entry("heated", duration=hours(2.5))),
        stage("Melt", worked(70 / 60), entry("waited", duration=hours(3.0))),
    )
    figures = figures_of(only)
    assert figures.hands_on.value is not None
    assert figures.hands_on.value.value == pytest.approx(2.0)
    assert figures.elapsed.value is not None
    assert figures.elapsed.value.value == pytest.approx(5.5)


def test_no_time_noted_is_not_known_and_never_nothing() -> None:
    """A run without a word on time has no hours, with the reason."""
    figures = figures_of(run("2026-01-01-a", stage("Melt", entry("got", g(1.0), "silver bar"))))
    assert figures.hands_on.value is None
    assert figures.hands_on.why == "no time was noted"
    assert figures.elapsed.value is None
    assert figures.elapsed.why == "no time was noted"


def test_work_of_unknown_length_makes_the_sum_at_least_the_rest() -> None:
    """1 h and "a while" are at least 1 h."""
    figures = figures_of(run("2026-01-01-a", stage("Melt", worked(1.0), worked(None))))
    assert figures.hands_on.value is None
    assert figures.hands_on.low == pytest.approx(1.0)


def test_an_overnight_is_as_long_as_the_dates_tell() -> None:
    """From 17:00 on the 15th to 08:30 on the 16th are 15.5 h."""
    only = run(
        "2026-03-15-a",
        stage(
            "Cement",
            entry("waited", duration=hours(None)),
            entry("tested", on="2026-03-16", clock="08:30"),
            on="2026-03-15",
            clock="17:00",
        ),
    )
    figures = figures_of(only)
    (time,) = figures.stage_times
    assert time.elapsed.value is not None
    assert time.elapsed.value.value == pytest.approx(15.5)
    assert time.elapsed.value.u == pytest.approx(2**0.5 * 0.5 / 60 / 3**0.5)
    assert not time.hands_on.known


def test_an_overnight_up_to_the_next_stage_leaves_out_what_that_noted_before() -> None:
    """The next stage's start ends it: 18:00 to 09:00 are 15 h, with 2 h of heating inside."""
    only = run(
        "2026-03-15-a",
        stage(
            "Cement",
            entry("heated", duration=hours(2.0)),
            entry("waited", duration=hours(None)),
            on="2026-03-15",
            clock="18:00",
        ),
        stage("Melt", entry("heated", duration=hours(1.0)), on="2026-03-16", clock="09:00"),
    )
    figures = figures_of(only)
    elapsed = [time.elapsed.value for time in figures.stage_times]
    assert [one.value for one in elapsed if one] == [pytest.approx(15.0), pytest.approx(1.0)]
    assert figures.elapsed.value is not None
    assert figures.elapsed.value.value == pytest.approx(16.0)


def test_an_overnight_without_clock_times_is_not_known() -> None:
    """A next day without a time of day does not tell how long a night was."""
    only = run(
        "2026-03-15-a",
        stage(
            "Cement", entry("heated", duration=hours(2.0)), entry("waited", duration=hours(None))
        ),
        stage("Melt", entry("heated", duration=hours(1.0)), on="2026-03-16"),
    )
    figures = figures_of(only)
    assert figures.stage_times[0].elapsed.value is None
    assert figures.stage_times[0].elapsed.low == pytest.approx(2.0)
    assert figures.elapsed.value is None
    assert figures.elapsed.low == pytest.approx(3.0)


def test_a_clock_time_that_goes_back_is_left_out() -> None:
    """Without a new date, 07:00 after 18:00 may be any morning: it is not used."""
    only = run(
        "2026-03-15-a",
        stage(
            "Cement",
            entry("waited", duration=hours(None)),
            entry("tested", clock="07:00"),
            on="2026-03-15",
            clock="18:00",
        ),
    )
    assert not figures_of(only).elapsed.known


def test_hours_in_all_stand_for_a_run_that_took_nothing_from_others() -> None:
    """2 h noted and 5 h in all are 5 h; what was noted lies inside."""
    figures = figures_of(run("2026-01-01-a", stage("Melt", worked(2.0), worked(5.0, in_all=True))))
    assert figures.hands_on.value is not None
    assert figures.hands_on.value.value == pytest.approx(5.0)


def test_hours_in_all_are_left_aside_where_earlier_runs_lie_in_them() -> None:
    """A run that took another's filters counts what it noted itself."""
    first = run("2026-01-01-a", stage("Filter", entry("kept", g(1.0), "filters", "F")))
    second = run(
        "2026-02-01-b",
        stage("Melt", entry("took", None, "", "F"), worked(2.0), worked(5.0, in_all=True)),
    )
    figures = work_out(book(first, second)).runs["2026-02-01-b"]
    assert figures.hands_on.value is not None
    assert figures.hands_on.value.value == pytest.approx(2.0)
    assert any("left aside" in note for note in figures.hands_on.notes)


def test_more_hours_noted_than_in_all_is_a_doubt() -> None:
    """5 h noted and 3 h in all cannot both be."""
    only = run("2026-01-01-a", stage("Melt", worked(5.0), worked(3.0, in_all=True)))
    assert [one.code for one in work_out(book(only)).findings] == ["in-all-less"]
