"""Slips with hours: minutes as decimals, a stage left out, waiting taken for work.

Each is a name in words and what it makes of the right figure.
"""

from __future__ import annotations

from logbook.calculation.claims.case import Case, Slips, value_of
from logbook.calculation.sums import add_up
from logbook.calculation.weights import leaf

DECIMALS = "minutes were read as decimals of an hour"
ADDED = "hours and minutes were added like decimals"


def hours(case: Case) -> Slips:
    """Hours of work by another way of adding them up."""
    whole = int(case.right)
    part = case.right - whole
    yield DECIMALS, whole + part * 0.6
    yield "decimals of an hour were read as minutes", whole + part / 0.6
    yield from _like_decimals(case)
    run = case.claimed.run
    for time, stage in zip(run.stage_times, run.run.stages, strict=False):
        spent = value_of(time.hands_on)
        if spent and stage.title:
            yield f'the hours of "{stage.title}" were left out', case.right - spent
            yield f'the hours of "{stage.title}" were counted twice', case.right + spent
    yield from _single_lines(case)
    elapsed = value_of(run.elapsed)
    if elapsed:
        yield "it is the time that went by, not the hours of work", elapsed
        yield "the time that went by was taken in", case.right + elapsed
    for figure, words in _other_waits(case):
        yield words, case.right + figure


def _worked(case: Case) -> list[float]:
    """The single times of work of the run."""
    lines = [one for one in case.claimed.lines("worked") if not one.in_all]
    return [one.duration.base_value for one in lines if one.duration and one.duration.base_value]


def _like_decimals(case: Case) -> Slips:
    """1 h 10 and 50 min added as 1.10 + 0.50, and the sum read as hours or as hours and minutes."""
    total = sum(int(one + 1e-9) + (one - int(one + 1e-9)) * 0.6 for one in _worked(case))
    yield ADDED, total
    yield ADDED, int(total + 1e-9) + (total - int(total + 1e-9)) / 0.6


def _single_lines(case: Case) -> Slips:
    times = _worked(case)
    for one in times if len(times) > 1 else ():
        minutes = f"{round(one * 60)} min"
        yield f"one line, {minutes}, was left out", case.right - one
        yield f"one line, {minutes}, was counted twice", case.right + one


def _other_waits(case: Case) -> list[tuple[float, str]]:
    """Heating and waiting counted as work."""
    found = []
    for action in ("heated", "waited"):
        spells = [
            leaf(action, one.duration, "")
            for one in case.claimed.lines(action)
            if one.duration is not None
        ]
        total = value_of(add_up(action, "h", spells)) if spells else None
        if total:
            found.append((total, f"the hours that it was {action} were counted as work"))
    return found
