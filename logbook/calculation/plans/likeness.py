"""What other runs used and gave per gram of scrap, and what that comes to for a plan's feed.

A ratio is a division and nothing more: it says how much those runs used, not how much is
needed. Nothing is fitted and nothing is extended in silence: where a plan takes more than
twice or less than half of what a run took, that run is marked. Heat and foam do not scale.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum, sqrt

from logbook.calculation.feed import is_feed, weight_of
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.hours import hands_on
from logbook.calculation.plans.like_runs import Likes, counted, likenesses, stage_word
from logbook.calculation.results import Fate, Role, RunFigures, Thing
from logbook.calculation.results.plans import LikeFigures, LikeRun, Part, Ratio, Spread
from logbook.calculation.sums import add_up, product, ratio
from logbook.model.amount import Uncertain, combined
from logbook.model.run import Run

FAR = 2.0  # times as much, or as little, from which on a run is marked (common practice, no source)
ENOUGH_FOR_A_DEVIATION = 3
SCALING = (
    "Heat, foam and gas do not grow in step with the weight: a larger charge loses its heat more "
    "slowly, boils over sooner and fills a room faster. These figures divide and multiply what "
    "was used; they do not say that a larger charge can be handled as a smaller one was."
)
"""The sentence that follows wherever ratios of other runs are shown."""

HUNDRED = Figure("100 g of feed", "g", Uncertain(100.0), "exactly")
Key = tuple[Part, str, str, str, str]  # part, stage, what, strength, unit
Amounts = dict[Key, Figure]


def like_figures(
    plan: Run, likes: Likes, runs: Mapping[str, RunFigures], things: Sequence[Thing], feed: Figure
) -> LikeFigures | None:
    """The ratios of the runs that a plan is like; None where it names none that is known."""
    found = _bases(list(_like_runs(plan, likes, runs, things)))
    if not found:
        return None
    against = tuple(_against(one.like, feed) for one in found)
    amounts = [_amounts(one.figures, one.like) for one in found]
    keys = sorted({key for of_run in amounts for key in of_run}, key=_order(found))
    feeds = [one.like.feed for one in found]
    return LikeFigures(against, tuple(_ratio(key, amounts, feeds, feed) for key in keys))


@dataclass(frozen=True, slots=True)
class _Base:
    """A like run before its feed is settled: `scrap` is what it took in all."""

    like: LikeRun
    figures: RunFigures
    scrap: Figure


def _like_runs(
    plan: Run, likes: Likes, runs: Mapping[str, RunFigures], things: Sequence[Thing]
) -> Iterator[_Base]:
    seen: set[str] = set()
    for like in likenesses(plan, likes):
        run = likes.named(like.run)
        if run is None or run.name in seen:
            continue
        seen.add(run.name)
        stages = counted(run, like)
        no_trial = frozenset(at for at, stage in enumerate(run.stages) if not stage.trial)
        entering = _entering(run, stages, things)
        out = tuple(stage.title for at, stage in enumerate(run.stages) if at not in stages)
        charge = any(one.made_by is not None and one.made_by.run == run.name for one in entering)
        own = weight_of("scrap taken", entering)
        words = " ".join(like.span.text.split())
        unknown = not_known("times as much", "1", "nothing to divide")
        yield _Base(
            LikeRun(run.name, words, stages, out, own, charge, unknown),
            runs[run.name],
            weight_of("scrap taken", _entering(run, no_trial, things)),
        )


def _entering(run: Run, stages: frozenset[int], things: Sequence[Thing]) -> list[Thing]:
    """What went into some stages of a run, from outside of them, to be worked on."""

    def inside(thing: Thing) -> bool:
        made = thing.made_by
        return made is not None and made.run == run.name and made.index in stages

    return [
        thing
        for thing in things
        if thing.used_by is not None
        and thing.used_by.run == run.name
        and thing.used_by.index in stages
        and not inside(thing)
        and is_feed(run, thing)
    ]


def _bases(found: list[_Base]) -> list[_Base]:
    """Settle what each run's ratios are per gram of: the charge only where all have one.

    A run that counts from a later stage on has what went into that stage, if it was weighed;
    scrap and charges are never mixed in one mean.
    """
    charges = all(one.like.charge and one.like.feed.known for one in found)
    return [
        replace(one, like=replace(one.like, feed=one.scrap, charge=False))
        if one.like.charge and not charges
        else one
        for one in found
    ]


def _against(like: LikeRun, feed: Figure) -> LikeRun:
    """A like run with how many times as much the plan takes."""
    times = ratio("times as much", "1", feed, like.feed)
    far = times.value is None or not 1 / FAR <= times.value.value <= FAR
    return replace(like, times=times, far=far)


def _order(found: Sequence[_Base]) -> Callable[[Key], tuple[int, int, Key]]:
    """Ratios in the order of parts, then of the stages as the first run has them."""
    words = [stage_word(stage) for one in found for stage in one.figures.run.stages]
    places = {word: place for place, word in reversed(list(enumerate(words)))}
    parts = list(Part)
    return lambda key: (parts.index(key[0]), places.get(key[1], -1), key)


def _amounts(figures: RunFigures, like: LikeRun) -> Amounts:
    """What the stages of a run that count used and gave, each thing once for a kind of stage."""
    found: dict[Key, list[Figure]] = {}
    for key, figure in (
        *_used(figures, like),
        *_given(figures, like),
        *_times(figures, like),
        *_recovered(figures, like),
    ):
        found.setdefault(key, []).append(figure)
    return {
        key: group[0] if len(group) == 1 else add_up(group[0].name, group[0].unit, group)
        for key, group in found.items()
    }


def _used(figures: RunFigures, like: LikeRun) -> Iterator[tuple[Key, Figure]]:
    for use in figures.reagents:
        if use.stage.index in like.stages:
            word = stage_word(figures.run.stages[use.stage.index])
            strength = use.strength.replace(" %", "%").replace("%", " %")
            yield (Part.USED, word, use.reagent, strength, use.used.unit), use.used


def _given(figures: RunFigures, like: LikeRun) -> Iterator[tuple[Key, Figure]]:
    """Products by weight, side streams and waste by weight or else by volume.

    What was neither weighed nor measured, such as filters that were counted, has no ratio.
    """
    for thing in figures.things_out:
        made = thing.made_by
        if made is None or made.run != like.run or made.index not in like.stages:
            continue
        word = stage_word(figures.run.stages[made.index])
        if thing.role is Role.PRODUCT:
            yield (Part.PRODUCT, "", thing.what or "product", "", "g"), thing.gross
            for metal in figures.run.metals:
                if (fine := thing.contents.get(metal)) is not None:
                    yield (Part.PRODUCT, "", f"fine {metal} in the product", "", "g"), fine
        elif thing.fate is Fate.WASTE:
            for figure in _measured(thing):
                yield (Part.WASTE, word, "liquid and other waste", "", figure.unit), figure
        elif thing.role in (Role.SIDE, Role.LEFT):
            for figure in _measured(thing):
                yield (Part.KEPT, word, thing.what, "", figure.unit), figure


def _measured(thing: Thing) -> tuple[Figure, ...]:
    return tuple(figure for figure in (thing.gross, thing.volume) if figure.known)[:1]


def _times(figures: RunFigures, like: LikeRun) -> Iterator[tuple[Key, Figure]]:
    stages = figures.run.stages
    for time in figures.stage_times:
        if time.stage.index in like.stages:
            word = stage_word(stages[time.stage.index])
            for part, figure in ((Part.HANDS_ON, time.hands_on), (Part.ELAPSED, time.elapsed)):
                if figure.known or figure.low:
                    yield (part, word, "", "", "h"), figure
    entries = [entry for at in sorted(like.stages) for entry in stages[at].entries]
    yield (Part.HANDS_ON, "", "in all", "", "h"), hands_on(entries)


def _recovered(figures: RunFigures, like: LikeRun) -> Iterator[tuple[Key, Figure]]:
    """The recovery of the whole run, for each of its metals."""
    for balance in figures.balances:
        if balance.metal in figures.run.metals:
            yield (Part.RECOVERY, "", balance.metal, "", "g/g"), balance.recovery


def _ratio(key: Key, amounts: Sequence[Amounts], feeds: Sequence[Figure], feed: Figure) -> Ratio:
    part, stage, what, strength, unit = key
    found = [of_run.get(key) for of_run in amounts]
    name = " ".join(word for word in (what or part.value, strength) if word)
    per_run = spread(name, unit, [one for one in found if one is not None], len(amounts))
    if part is Part.RECOVERY:
        return Ratio(part, stage, what, strength, per_run)
    rates = [
        ratio(f"{name} per gram of feed", f"{unit}/g", one, base)
        for one, base in zip(found, feeds, strict=True)
        if one is not None
    ]
    per_gram = spread(f"{name} per gram of feed", f"{unit}/g", rates, len(amounts))
    hundred = scaled(name, per_gram, HUNDRED)
    expected = scaled(name, per_gram, feed)
    return Ratio(part, stage, what, strength, per_run, per_gram, hundred, expected)


def spread(name: str, unit: str, figures: Sequence[Figure], of: int) -> Spread:
    """The mean of a figure over runs, with the least, the most and the standard deviation.

    Equation: m = Σ x_i / n; s² = Σ (x_i − m)² / (n − 1). One standard uncertainty of what a
    next run may show is s √(1 + 1/n), and never less than the readings give for m; one run
    alone says nothing of how far the next may differ. Source: JCGM 100:2008, 4.2.1 and 4.2.2
    for m and s (clause numbers from memory); the variance of the difference between one
    further value and the mean of n. `deviation` is given from three runs on.

    2, 4 and 9 mL have the mean 5 and s = √(26/2) = 3.606 by hand (9 + 1 + 16 = 26):

    >>> found = spread("acid", "mL", [Figure("", "mL", Uncertain(x)) for x in (2.0, 4.0, 9.0)], 3)
    >>> found.mean.value.value, found.least, found.most, round(found.deviation, 3)
    (5.0, 2.0, 9.0, 3.606)
    >>> round(found.mean.value.u, 3)
    4.163
    """
    known = [one.value for one in figures if one.value is not None]
    unknown = tuple(dict.fromkeys(one.why for one in figures if one.value is None))
    if not known:
        why = "; ".join(unknown) or "none of those runs tells"
        return Spread(Figure(name, unit, why=why, terms=tuple(figures)), of=of)
    values, n = [one.value for one in known], len(known)
    mean = fsum(values) / n
    u = combined((1 / n, one) for one in known)
    value = Uncertain(mean, u.errors)
    deviation = (
        sqrt(fsum((one - mean) * (one - mean) for one in values) / (n - 1)) if n > 1 else 0.0
    )
    if (ahead := deviation * sqrt(1 + 1 / n)) > value.u:
        value = Uncertain.of(mean, ahead, ("between runs", name, *sorted(values)))
    notes = tuple(f"one run is left out: {why}" for why in unknown)
    words = f"mean of {n} runs" if n > 1 else "as that run had it"
    figure = Figure(name, unit, value, words, tuple(figures), notes=notes)
    shown = deviation if n >= ENOUGH_FOR_A_DEVIATION else None
    return Spread(figure, min(values), max(values), shown, n, of)


def scaled(name: str, per_gram: Spread, feed: Figure) -> Spread:
    """A ratio times the feed of a plan: mean, least, most and deviation alike.

    Equation: y = r m [unit of r per gram × g]; s(y) = s(r) m. Source: the definition of a ratio.

    2.0 mL/g of 150 g are 300 mL by hand:

    >>> rate = spread("acid", "mL/g", [Figure("", "mL/g", Uncertain(2.0))], 1)
    >>> scaled("acid", rate, Figure("feed", "g", Uncertain(150.0))).mean.value.value
    300.0
    """
    unit = per_gram.mean.unit.removesuffix("/g")
    mean = product(f"{name} at those ratios", unit, per_gram.mean, feed)
    if feed.value is None or per_gram.least is None or per_gram.most is None:
        return replace(per_gram, mean=mean, least=None, most=None, deviation=None)
    grams = feed.value.value
    deviation = None if per_gram.deviation is None else per_gram.deviation * grams
    least, most = per_gram.least * grams, per_gram.most * grams
    return replace(per_gram, mean=mean, least=least, most=most, deviation=deviation)
