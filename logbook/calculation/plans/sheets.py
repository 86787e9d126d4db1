"""A plan before the work: what it takes against what is there, and what other runs took.

The order of the work stands here; ratios, stock, vessels and blanks have modules of their own.
Nothing here says that a plan may be carried out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from logbook.calculation.bench.gas import room_of
from logbook.calculation.feed import is_feed, weight_of
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.plans.blanks import blanks_of
from logbook.calculation.plans.like_runs import likes_of, stage_word
from logbook.calculation.plans.like_safety import like_safety
from logbook.calculation.plans.likeness import like_figures
from logbook.calculation.plans.vessels import vessel_loads
from logbook.calculation.results import ReagentUse, RunFigures, Thing
from logbook.calculation.results.plans import (
    LikeFigures,
    Part,
    PlanFigures,
    PlannedReagent,
    PlannedSupply,
    Spread,
)
from logbook.calculation.schedule import distinct_runs
from logbook.calculation.sums import add_up, difference, highest, lowest
from logbook.calculation.supplies.accounts import Accounts
from logbook.calculation.supplies.names import (
    Strength,
    strength_in_words,
    strength_of,
    supply_name,
)
from logbook.calculation.supplies.uses import SupplyUse
from logbook.calculation.weights import leaf
from logbook.model.amount import Dimension
from logbook.model.book import Book
from logbook.model.run import Run

SURE = 2.0  # standard uncertainties between what is there and what is planned, to call it enough


def plans_of_book(
    book: Book,
    runs: Mapping[str, RunFigures],
    uses: Mapping[str, Sequence[SupplyUse]],
    things: Sequence[Thing],
    planned: Mapping[str, Sequence[Thing]],
    stock: Accounts,
) -> Mapping[str, PlanFigures]:
    """Every plan of a book by its name.

    `uses` are those of all its runs, `things` of those that were done, `planned` of the plans,
    `stock` the accounts of its supplies.
    """
    distinct = distinct_runs(book)
    if not any(run.planned for run in distinct):
        return {}
    likes = likes_of(book)
    found: dict[str, PlanFigures] = {}
    for run in distinct:
        if run.planned:
            own = planned[run.name]
            like = like_figures(run, likes, runs, things, stated_feed(run, own))
            plan = _plan(runs[run.name], uses[run.name], own, like, stock)
            if like is not None:
                room, own_words = room_of(run, book.bench), runs[run.name]
                safety = like_safety(own_words, plan.vessels, like, runs, things, room)
                plan = replace(plan, like_safety=safety)
            found[run.name] = plan
    return found


def _plan(
    plan: RunFigures,
    uses: Sequence[SupplyUse],
    things: Sequence[Thing],
    like: LikeFigures | None,
    stock: Accounts,
) -> PlanFigures:
    """Everything for one plan; `things` are what it speaks of, `like` its ratios."""
    run = plan.run
    return PlanFigures(
        run=run.name,
        feed=stated_feed(run, things),
        like=like,
        reagents=tuple(PlannedReagent(use, _like_use(use, run, like)) for use in plan.reagents),
        supplies=tuple(_supplies(uses, stock)),
        vessels=vessel_loads(run, things),
        blanks={entry.span.start: found for entry in run.entries if (found := blanks_of(entry))},
    )


def stated_feed(run: Run, things: Sequence[Thing]) -> Figure:
    """How much scrap a plan takes: by its own `take` entries, else by its `For:` line."""
    taken = [
        thing
        for thing in things
        if thing.made_by is None
        and thing.used_by is not None
        and not run.stages[thing.used_by.index].trial
        and is_feed(run, thing)
    ]
    feed = weight_of("feed of the plan", taken)
    if feed.known or (run.meant is None and taken):
        return feed
    if run.meant is not None:
        return leaf("feed of the plan", run.meant, "no weight is written")
    why = "the plan takes nothing by weight, and no line such as For: 1.2 kg says how much"
    return not_known("feed of the plan", "g", why)


def _like_use(use: ReagentUse, run: Run, like: LikeFigures | None) -> Spread | None:
    """What the like runs would use of a supply in the same kind of stage."""
    word = stage_word(run.stages[use.stage.index])
    for ratio in like.ratios if like is not None else ():
        same = (ratio.stage, ratio.what, _close(ratio.strength)) == (
            word,
            use.reagent,
            _close(use.strength),
        )
        if ratio.part is Part.USED and same and ratio.per_run.mean.unit == use.used.unit:
            return ratio.expected
    return None


def _close(strength: str) -> str:
    return strength.replace(" ", "")


def _supplies(uses: Iterable[SupplyUse], stock: Accounts) -> Iterable[PlannedSupply]:
    """Each supply over the whole plan, in the order in which the plan names them."""
    rows: dict[tuple[str, Strength, Dimension | None], list[SupplyUse]] = {}
    for use in uses:
        key = supply_name(use.portion), strength_of(use.portion), use.dimension
        rows.setdefault(key, []).append(use)
    for (_, _, dimension), found in rows.items():
        portion = found[0].portion
        planned = add_up("planned in all", found[0].used.unit, [use.used for use in found])
        name, strength = portion.reagent or portion.what, strength_in_words(portion)
        if dimension is None:
            why = "the plan does not say how much"
            left: Figure | None = not_known("in stock", planned.unit, why)
        else:
            left = stock.in_stock(portion, dimension)
        yield PlannedSupply(name, strength, planned, left, *_enough(planned, left))


def _enough(planned: Figure, left: Figure | None) -> tuple[str, Figure | None]:
    """Whether there is enough, beyond the doubt of what was read, and what is missing.

    Equation: short = planned − in stock. It is enough where the least that is left is more
    than the most that is planned, and not where the most is less than the least; in between
    it is not known. The doubt is two standard uncertainties (common practice, no source).
    """
    if left is None:
        return "from the tap", None
    short = difference("short of it", planned.unit, planned, left)
    if short.value is not None:
        missing, doubt = short.value.value, SURE * short.value.u
        if missing + doubt <= 0:
            return "yes", None
        return ("no" if missing > doubt else "not known"), short if missing > 0 else None
    most, least = highest(planned), lowest(planned)
    if most is not None and most <= lowest(left):
        return "yes", None
    top = highest(left)
    return ("no" if top is not None and least > top else "not known"), None
