"""Hours: labour as noted, elapsed time from what was written and from date to date."""

from __future__ import annotations

import pytest
from build import book, entry, g, hours, run, stage, worked
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import RunFigures
from logbook.model.run import Run
from logbook.reading.read_book import read_book


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


def of_log(text: str) -> RunFigures:
    """The figures of a run as a writer would write it."""
    book_of_one = read_book({"runs/2026-01-01-a.md": f"# A\n\n## Dissolve\n\n{text}\n"})
    return work_out(book_of_one).runs["2026-01-01-a"]


def test_minutes_that_two_lines_name_count_once() -> None:
    """09:00 to 10:30 and 10:00 to 11:00 are 09:00 to 11:00, 2 h by hand; heat is no work."""
    log = "- worked from 09:00 to 10:30\n- worked from 10:00 to 11:00\n"
    log += "- heated from 09:00 to 11:00\n- heated from 09:30 to 12:00\n"
    figures = of_log(log)
    assert figures.hands_on.value is not None
    assert figures.hands_on.value.value == pytest.approx(2.0)
    assert figures.heated is not None
    assert figures.heated.value is not None
    assert figures.heated.value.value == pytest.approx(3.0)  # 09:00 to 12:00


@pytest.mark.parametrize("words", ["a day", "all day", "1 shift", "a while", "8", "overnight"])
def test_unknown_work_is_never_zero_and_never_eight_hours(words: str) -> None:
    """No number of hours stands in these words, so none is given, nor a lower limit above 0."""
    figures = of_log(f"- worked {words}")
    assert figures.hands_on.value is None
    assert figures.hands_on.why
    assert not figures.hands_on.low


def test_heat_of_unknown_length_is_not_known() -> None:
    """2 h and "at 60 C" are at least 2 h of heat; no heat noted is not known."""
    figures = of_log("- heated for 2 h\n- heated at 60 C")
    assert figures.heated is not None
    assert (figures.heated.value, figures.heated.low) == (None, pytest.approx(2.0))
    none = of_log("- worked 1 h").heated
    assert none is not None
    assert none.why == "no line says how long anything was heated"


def test_work_at_two_runs_at_once_is_a_doubt() -> None:
    """09:00 to 10:30 and 10:00 to 11:00 of one day overlap by 30 min."""
    logs = {
        "runs/2026-01-01-a.md": "# A\n\n## Melt\n\n- worked from 09:00 to 10:30\n",
        "runs/2026-01-01-b.md": "# B\n\n## Melt\n\n- worked from 10:00 to 11:00\n",
    }
    found = work_out(read_book(logs)).findings
    (finding,) = [one for one in found if one.code == "two-runs-at-once"]
    assert finding.headline.startswith("30 min of this work on 1 January 2026")


def test_a_rate_without_a_date_is_reported_and_not_used() -> None:
    """5 USD at a rate of no day are not known, and never 5 EUR."""
    logs = {
        "runs/bench.md": "# B\n\nCurrency: EUR\n",
        "runs/prices.md": "# Prices\n\n- priced USD at 0.92 EUR\n",
        "runs/2026-01-01-a.md": "# A\n\n## Melt\n\n- spent 5 USD on gloves\n",
    }
    figures = work_out(read_book(logs))
    assert "rate-without-date" in [one.code for one in figures.findings]
    assert not figures.runs["2026-01-01-a"].cost.known


@given(
    st.lists(st.tuples(st.integers(0, 1438), st.integers(1, 300)), min_size=1, max_size=8),
)
@settings(deadline=None, max_examples=60)
def test_a_union_of_clock_times_is_what_a_minute_counter_counts(
    times: list[tuple[int, int]],
) -> None:
    """Each minute of two days is ticked off in a set, and the set is counted."""
    lines, ticked = [], set()
    for start, length in times:
        end = start + length
        clocks = [f"{at // 60 % 24:02}:{at % 60:02}" for at in (start, end)]
        lines.append(f"- worked from {clocks[0]} to {clocks[1]}")
        ticked.update(range(start, end))
    found = of_log("\n".join(lines)).hands_on
    assert found.value is not None
    assert found.value.value == pytest.approx(len(ticked) / 60)


def test_the_rest_of_hours_in_all_belongs_to_no_stage() -> None:
    """6 h in all less 1 h 30 min and 30 min are 4 h; 1 h in all less 2 h is not known."""
    rest = of_log("- worked 1 h 30 min\n- worked 30 min\n- worked 6 h in all").hours_unallocated
    assert rest is not None
    assert rest.value is not None
    assert rest.value.value == pytest.approx(4.0)
    less = of_log("- worked 2 h\n- worked 1 h in all").hours_unallocated
    assert less is not None
    assert less.value is None
    assert of_log("- worked 2 h").hours_unallocated is None


def test_hours_in_all_cover_the_run_that_is_continued() -> None:
    """4 h there and 2 h here are 6 h: 5 h in all cannot be, 7 h can."""
    first = run("2026-01-01-a", stage("Dissolve", worked(4.0)))
    codes = {}
    for total in (5.0, 7.0):
        here = stage("Melt", worked(2.0), worked(total, in_all=True))
        second = run("2026-01-02-b", here, continues="2026-01-01-a")
        found = work_out(book(first, second)).findings
        codes[total] = "in-all-less" in [one.code for one in found]
    assert codes == {5.0: True, 7.0: False}


def test_beakers_that_wait_side_by_side_take_their_time_once() -> None:
    """From 9:00 to 11:00 and from 10:00 to 12:00 are 3 h from start to end, and 1 h more after."""
    beside = "- heated from 9:00 to 11:00\n- waited from 10:00 to 12:00\n- waited 1 h"
    elapsed = of_log(beside).elapsed.value
    assert elapsed is not None
    assert elapsed.value == pytest.approx(4.0)
