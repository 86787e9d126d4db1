"""The pages across runs: what they say of differences, and what they never say."""

from __future__ import annotations

from logbook.pages.methods_page import NOT_APART, MethodsOfMetal
from logbook.reading.read_book import read_book
from tests.calculation.test_across import CHLORIDE, COPPER, PRICES, SOURCES, log
from tests.pages.shown import pages, rendered


def files(*logs: str) -> dict[str, str]:
    """A book of some logs, with prices and kinds of scrap."""
    runs = {f"runs/2026-03-{number:02}-run.md": text for number, text in enumerate(logs, 1)}
    return {**runs, "runs/sources.md": SOURCES, "runs/prices.md": PRICES}


def silver(*logs: str) -> MethodsOfMetal:
    """What the page of methods says of silver."""
    (found,) = pages(read_book(files(*logs)))["methods.html"].view.metals
    assert isinstance(found, MethodsOfMetal)
    return found


def test_an_interval_that_holds_zero_tells_nothing_apart() -> None:
    """Bars of 60, 62, 64 g against 40 and 50 g: see the test of the figures."""
    found = silver(
        *(log(at, COPPER, bar) for at, bar in ((1, 60.0), (2, 62.0), (3, 64.0))),
        *(log(at, CHLORIDE, bar) for at, bar in ((4, 40.0), (5, 50.0))),
    )
    recovery = next(one for one in found.differences if one.measure == "recovery in the run")
    assert (recovery.pair, recovery.runs, recovery.words) == ("A less B", "3 and 2", NOT_APART)
    assert not recovery.apart


def test_what_is_apart_says_which_was_higher_and_with_which_scrap() -> None:
    """60.1, 60.2, 60.3 g against 40.4, 40.5, 40.6 g, the latter of other scrap."""
    found = silver(
        *(log(at, COPPER, 60.0 + at / 10, "70.0 ± 0.1") for at in (1, 2, 3)),
        *(log(at, CHLORIDE, 40.0 + at / 10, "70.0 ± 0.1", "forks") for at in (4, 5, 6)),
    )
    recovery = next(one for one in found.differences if one.measure == "recovery in the run")
    assert recovery.apart
    assert recovery.words == "higher by A than by B in these runs; with different scrap"


def test_one_run_against_one_speaks_of_these_two_alone() -> None:
    """It stands apart from the others, and says that other runs may show something else."""
    found = silver(log(1, COPPER, 60.0, "70.0 ± 0.1"), log(2, CHLORIDE, 40.0, "70.0 ± 0.1"))
    assert found.differences == ()
    recovery = next(one for one in found.single if one.measure == "recovery in the run")
    assert "what other runs would show is not known" in recovery.words


def test_no_page_calls_a_method_better() -> None:
    """Neither word stands on the page of methods or of scrap."""
    html = rendered(pages(read_book(files(log(1, COPPER, 60.0), log(2, CHLORIDE, 40.0)))))
    for name in ("methods.html", "scrap.html"):
        assert "better" not in html[name]
        assert "best" not in html[name]


def test_the_head_of_a_page_marks_the_room_and_the_page() -> None:
    """On the page of scrap the room of the runs and the page are marked, and nothing else."""
    html = rendered(pages(read_book(files(log(1, COPPER, 60.0)))))
    head = html["scrap.html"].split("<main")[0]
    assert head.count("aria-current") == 2
    assert '<a href="scrap.html" aria-current="page">Scrap</a>' in head
    assert '<a href="side-by-side.html" aria-current="true">Runs</a>' in head
    run = html["runs/2026-03-01-run.html"].split("<main")[0]
    assert '<a href="../side-by-side.html" aria-current="true">Runs</a>' in run
    assert 'aria-current="page"' not in run
