"""What the runs that a plan is like tell of danger, against hand calculation.

The run took 100 g and poured 1.500 L of nitric acid; a plan for 250 g takes 2.5 times as much.
"""

from __future__ import annotations

from math import sqrt

import pytest

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures, StageGas
from logbook.calculation.results.plans import LikeSafety
from logbook.reading.read_book import read_book

RUN, PLAN = "2026-03-01-lot-4", "2026-06-01-next"
DONE = """\
# Lot 4

Date: 2026-03-01
Metal: silver

## Dissolve

- took 100.0 g relay contacts, silver 70 ± 1 %
- added 1.500 L nitric acid 68 %

## Evaporate

- evaporated for 2 h

## Cement

- added 80 g copper bar
- rinsed 4 times with 200 mL distilled water
- got 70 g silver powder

## Melt

- added 4 g borax
- got 60.0 g silver bar, silver 99 %

## Trial

- added 20 mL bleach
"""
WITHIN = 2 * 0.05 / sqrt(3)  # no measure is named: within 5 %, two standard uncertainties


def book(like: str = RUN, words: str = "", feed: str = "For: 250.0 g") -> BookFigures:
    """A book of that run and of a plan that is like it."""
    plan = f"# Next\n\nStatus: planned\nMetal: silver\n{feed}\nLike: {like}\n\n{words}\n"
    return work_out(read_book({f"runs/{RUN}.md": DONE, f"runs/{PLAN}.md": plan}))


def safety(like: str = RUN, words: str = "", feed: str = "For: 250.0 g") -> LikeSafety:
    """What the run tells the plan."""
    found = book(like, words, feed).plans[PLAN].like_safety
    assert found is not None
    return found


def rules(found: LikeSafety) -> set[str]:
    """The rules of the cautions."""
    return {one.rule for one in found.cautions}


def gas(found: LikeSafety, name: str, place: int) -> StageGas:
    """One gas of one stage."""
    (one,) = [one for one in found.gases if (one.gas, one.stage.index) == (name, place)]
    return one


def test_the_cautions_of_its_stages_come_along() -> None:
    """Acid, boiling it and the melt; the trial with bleach is no part of the way."""
    found = safety()
    assert {"nitrogen-dioxide", "hot-acid", "molten-metal-and-water", "borax"} <= rules(found)
    assert not any("hypochlorite" in rule for rule in rules(found))
    acid = next(one for one in found.cautions if one.rule == "nitrogen-dioxide")
    assert (acid.stage.run, acid.entry.line) == (RUN, 9)


def test_only_the_stages_that_count() -> None:
    """`without melt` leaves the borax out, `from cement on` the boiling."""
    assert "borax" not in rules(safety(f"{RUN} without melt"))
    later = rules(safety(f"{RUN} from cement on"))
    assert "borax" in later and "hot-acid" not in later
    assert safety(f"{RUN} from cement on without cement").vessels == ()


def test_what_the_plan_says_itself_is_not_said_again() -> None:
    """A plan that names nitric acid has that caution of its own, and the others besides."""
    found = safety(words="## Dissolve\n\n- add 10 mL nitric acid 68 %")
    assert "nitrogen-dioxide" not in rules(found)
    assert "borax" in rules(found)


def test_gas_is_at_most_that_of_the_run_times_as_much() -> None:
    """250.0 / 100.0 times as much, and the doubt of both weighings on top."""
    whole = book()
    done = next(one for one in whole.runs[RUN].gases if one.gas == "NO2" and one.stage.index == 0)
    like = whole.plans[PLAN].like
    assert like is not None and like.runs[0].times.value is not None
    times = 2.5 + 2 * like.runs[0].times.value.u
    assert done.litres.high is not None and done.air is not None and done.air.high is not None
    found = gas(safety(), "NO2", 0)
    assert found.litres.high == pytest.approx(times * done.litres.high)
    assert found.litres.high >= 2.5 * done.litres.high
    assert found.air is not None and found.air.high == pytest.approx(times * done.air.high)
    assert found.stage.run == RUN


def test_without_a_weight_the_gas_is_not_known() -> None:
    """Nobody knows how many times as much it will be: no figure, with the reason."""
    found = gas(safety(feed=""), "NO2", 0)
    assert found.litres.high is None
    assert "For: 1.2 kg" in found.litres.why
    assert all(not one.least.known for one in safety(feed="").vessels)


def test_gas_of_a_stated_room_is_for_the_room_of_the_plan() -> None:
    """Litres over litres of room, evenly mixed: by hand v / 30 000 L × 10⁶."""
    found = gas(safety(feed="For: 250.0 g\nRoom: 30 m3"), "NO2", 0)
    assert found.litres.high is not None and found.room is not None
    assert found.room.high is not None
    assert found.room.high >= found.litres.high / 30_000 * 1e6


def test_the_vessel_is_for_the_liquid_times_as_much() -> None:
    """1.500 L within 5 %, 2.5 times: 3.97 L at most, half full: 7.9 L, and no such beaker."""
    (dissolve,) = [one for one in safety().vessels if one.stage.index == 0]
    assert dissolve.liquid.value is not None and dissolve.least.value is not None
    assert dissolve.liquid.value.value == pytest.approx(1.5 * (1 + WITHIN) * 2.5, rel=0.01)
    assert dissolve.liquid.value.value >= 1.5 * (1 + WITHIN) * 2.5
    assert dissolve.least.value.value == pytest.approx(2 * dissolve.liquid.value.value)
    assert dissolve.beaker is None


def test_a_plan_that_says_more_itself_keeps_its_own_vessel() -> None:
    """5 L of the plan's own are more than 4 L of the run; 1 L are not."""
    more = "## Dissolve\n\n- add {} nitric acid 68 %"
    assert not any(one.stage.index == 0 for one in safety(words=more.format("5 L")).vessels)
    assert any(one.stage.index == 0 for one in safety(words=more.format("1.0 L")).vessels)
    assert any(one.stage.index == 0 for one in safety(words=more.format("some")).vessels)


def test_a_plan_that_is_like_nothing_has_none() -> None:
    """No `Like:`, or a run that is not there."""
    assert book("2026-03-01-lot-44").plans[PLAN].like_safety is None
