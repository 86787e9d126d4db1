"""A plan beside the record that was made of it: how much was meant, how much it was.

A record names its plan by a line `Plan: RUN`; nothing is guessed from titles or days. Neither
of the two is called right: a factor is a division.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.hours import hands_on, stage_times
from logbook.calculation.plans.like_runs import stage_word
from logbook.calculation.results import Role, RunFigures
from logbook.calculation.results.plans import CheckRow, Part, PlanCheck, PlanFigures, Ratio
from logbook.calculation.schedule import distinct_runs, names_of_runs
from logbook.calculation.sums import add_up, ratio
from logbook.findings import Finding, Weight, nearest_word
from logbook.model.book import Book
from logbook.model.run import Fact, Run

Key = tuple[str, str, str, str]  # stage, reagent, strength, unit


def plan_fact(run: Run) -> Fact | None:
    """The line in which a record names its plan."""
    return next((fact for fact in run.facts if fact.word.lower() == "plan"), None)


def plan_checks(
    book: Book, runs: Mapping[str, RunFigures], plans: Mapping[str, PlanFigures]
) -> Mapping[str, PlanCheck]:
    """The records of a book beside the plans that they name, by the record's name."""
    names = _plan_names(book)
    found: dict[str, PlanCheck] = {}
    for run in distinct_runs(book):
        fact = plan_fact(run)
        name = names.get(fact.value.strip("[] ").lower(), "") if fact is not None else ""
        if name in plans and not run.planned:
            found[run.name] = _check(plans[name], runs[name], runs[run.name])
    return found


def plan_findings(book: Book) -> Iterator[Finding]:
    """Say where a record names a plan that is not there."""
    names = _plan_names(book)
    every = names_of_runs(distinct_runs(book))
    for run in distinct_runs(book):
        fact = plan_fact(run)
        if fact is None or run.planned or fact.value.strip("[] ").lower() in names:
            continue
        called = fact.value.strip("[] ")
        near = nearest_word(called, names)
        is_run = called.lower() in every
        yield Finding(
            "plan-unknown",
            Weight.DOUBT,
            f'"{called}" is no plan: its log does not say Status: planned'
            if is_run
            else f'there is no plan "{called}"',
            fact.span,
            "nothing is set beside this run",
            f'did you mean "{near}"?' if near else "write the name of the plan's file",
        )


def _plan_names(book: Book) -> Mapping[str, str]:
    return names_of_runs([run for run in distinct_runs(book) if run.planned])


def _check(plan: PlanFigures, planned: RunFigures, done: RunFigures) -> PlanCheck:
    return PlanCheck(
        plan=plan.run,
        record=done.run.name,
        feed=_row("", "scrap, gross", plan.feed, done.feed),
        reagents=tuple(_reagents(planned, done)),
        product=tuple(_products(plan, done)),
        hours=tuple(_hours(plan, planned.run, done)),
    )


def _row(stage: str, what: str, planned: Figure, done: Figure) -> CheckRow:
    factor = ratio(f"{what}, done over planned", "1", done, planned, "done / planned")
    return CheckRow(stage, what, planned, done, factor)


def _reagents(planned: RunFigures, done: RunFigures) -> Iterator[CheckRow]:
    """Each supply in each kind of stage, in the order of the plan and then of the record."""
    meant, used = _by_stage(planned), _by_stage(done)
    for key in dict.fromkeys((*meant, *used)):
        stage, reagent, strength, unit = key
        what = f"{reagent} {strength}".strip()
        not_meant = not_known(what, unit, "the plan does not name it")
        not_used = not_known(what, unit, "the record does not name it")
        yield _row(stage, what, meant.get(key, not_meant), used.get(key, not_used))


def _by_stage(figures: RunFigures) -> dict[Key, Figure]:
    found: dict[Key, list[Figure]] = {}
    for use in figures.reagents:
        word = stage_word(figures.run.stages[use.stage.index])
        strength = use.strength.replace(" %", "%").replace("%", " %")
        key = word, use.reagent, strength, use.used.unit
        found.setdefault(key, []).append(use.used)
    return {
        key: group[0] if len(group) == 1 else add_up(group[0].name, group[0].unit, group)
        for key, group in found.items()
    }


def _products(plan: PlanFigures, done: RunFigures) -> Iterator[CheckRow]:
    """The product as the like runs would have given it of what the plan takes, and as it was."""
    gross = [one.gross for one in done.things_out if one.role is Role.PRODUCT]
    got = add_up("product", "g", gross) if gross else not_known("product", "g", "none was got")
    expected = _expected(plan, Part.PRODUCT, fine=False)
    yield _row("", "product, gross", expected, got)
    for balance in done.balances:
        if balance.metal in done.run.metals:
            what = f"fine {balance.metal} in the product"
            yield _row("", what, _expected(plan, Part.PRODUCT, what), balance.product)


def _expected(plan: PlanFigures, part: Part, what: str = "", *, fine: bool = True) -> Figure:
    found = [
        one.expected.mean
        for one in _ratios(plan)
        if one.part is part
        and one.expected is not None
        and (one.what == what if fine else not one.what.startswith("fine "))
    ]
    if not found:
        return not_known("expected", "g", "the plan is like no run that gave it")
    return found[0] if len(found) == 1 else add_up("expected", "g", found)


def _ratios(plan: PlanFigures) -> tuple[Ratio, ...]:
    return plan.like.ratios if plan.like is not None else ()


def _hours(plan: PlanFigures, run: Run, done: RunFigures) -> Iterator[CheckRow]:
    """Hours as the plan's own lines say them; hours of work else as the like runs took them."""
    work = hands_on(run.entries)
    like = [one for one in _ratios(plan) if one.part is Part.HANDS_ON and not one.stage]
    if not work.known and like:
        work = like[0].per_run.mean
    yield _row("", "hands-on", work, done.hands_on)
    yield _row("", "elapsed", stage_times(run)[1], done.elapsed)
