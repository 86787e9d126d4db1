"""The ratios of the runs that a plan is like, as its sheet shows them.

Every mean stands with its spread and with how many runs gave it.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.plans.likeness import FAR, SCALING
from logbook.calculation.results.plans import LikeFigures, LikeRun, Part, Ratio, Spread
from logbook.pages.addresses import Here, Link
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.rounding import between, rounded
from logbook.pages.wording import listed

PARTS = {
    Part.USED: "used",
    Part.PRODUCT: "product",
    Part.KEPT: "kept",
    Part.WASTE: "discarded",
    Part.HANDS_ON: "hands-on",
    Part.ELAPSED: "elapsed",
    Part.RECOVERY: "recovery",
}


@dataclass(frozen=True, slots=True)
class SpreadView:
    """A mean, between which limits the runs lay, and how many of them gave it."""

    mean: FigureView
    limits: str
    deviation: str
    runs: str


@dataclass(frozen=True, slots=True)
class LikeRunView:
    """A run whose ratios are taken. `far` warns where the plan is far from what it took."""

    run: Link
    words: str
    left_out: tuple[str, ...]
    feed: FigureView
    base: str
    times: FigureView
    far: bool


@dataclass(frozen=True, slots=True)
class RatioRow:
    """One thing in one kind of stage."""

    part: str
    stage: str
    what: str
    per_run: SpreadView
    per_hundred: SpreadView | None
    expected: SpreadView | None


@dataclass(frozen=True, slots=True)
class LikeView:
    """What the like runs used and gave."""

    runs: tuple[LikeRunView, ...]
    far: str
    rows: tuple[RatioRow, ...]
    scaling: str


def like_view(like: LikeFigures, here: Here) -> LikeView:
    """The ratios of a plan."""
    return LikeView(
        runs=tuple(_run(one, here) for one in like.runs),
        far=_far(like, here),
        rows=tuple(_ratio(one, here) for one in like.ratios),
        scaling=SCALING,
    )


def _far(like: LikeFigures, here: Here) -> str:
    """The warning where the plan is far from what those runs took; empty where it is not."""
    far = [one for one in like.runs if one.far]
    known = [
        f"{rounded(one.times.value.value, 0.0, '1').text} times as much as {here.run(one.run).text}"
        for one in far
        if one.times.value is not None
    ]
    if known:
        return (
            f"This plan takes {listed(known)}: more than {FAR:g} times as much, or less than half "
            "of it. The figures are multiplied all the same; whether they hold so far away is not "
            "known."
        )
    why = far[0].times.why if far else ""
    return f"How far this plan is from those runs is not known, because {why}." if far else ""


def _run(one: LikeRun, here: Here) -> LikeRunView:
    return LikeRunView(
        run=here.run(one.run),
        words=one.words if one.words.strip("[]") != one.run else "",
        left_out=one.left_out,
        feed=figure_view(one.feed, here, levels=1),
        base="what went into the first stage that counts" if one.charge else "scrap, gross",
        times=figure_view(one.times, here, levels=1),
        far=one.far,
    )


def _ratio(one: Ratio, here: Here) -> RatioRow:
    return RatioRow(
        part=PARTS[one.part],
        stage=one.stage,
        what=f"{one.what} {one.strength}".strip(),
        per_run=spread_view(one.per_run, here),
        per_hundred=spread_view(one.per_hundred, here) if one.per_hundred is not None else None,
        expected=spread_view(one.expected, here) if one.expected is not None else None,
    )


def spread_view(spread: Spread, here: Here) -> SpreadView:
    """A mean with its spread in words."""
    unit = spread.mean.unit
    differ = spread.least != spread.most
    deviation = ""
    if spread.deviation is not None:
        deviation = f"standard deviation {rounded(spread.deviation, 0.0, unit).text}"
    return SpreadView(
        mean=figure_view(spread.mean, here, levels=2),
        limits=between(spread.least, spread.most, unit) if differ else "",
        deviation=deviation,
        runs=f"{spread.runs} of {spread.of}",
    )
