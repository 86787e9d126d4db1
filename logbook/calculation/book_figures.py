"""Everything that is worked out for a book, in one call.

The order of the work stands here and nothing else: each figure has a module of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from logbook.calculation.across.of_book import across_runs
from logbook.calculation.answers.of_book import with_answers
from logbook.calculation.balance import metal_balance
from logbook.calculation.bench.cells import cell_bounds, cell_gases
from logbook.calculation.bench.density_checks import contradicted, density_checks
from logbook.calculation.bench.gas import gases_of_run, in_all, room_of
from logbook.calculation.bench.needed import far_more, with_needs
from logbook.calculation.bench.stage_chemistry import chemistry_of_runs
from logbook.calculation.cautions.raised import cautions_of_runs
from logbook.calculation.claims.checked import with_claims
from logbook.calculation.feed import is_feed, weight_of
from logbook.calculation.figure import Figure, not_known
from logbook.calculation.later import follow, with_later
from logbook.calculation.lineage import Lineage, trace
from logbook.calculation.lots import lot_totals
from logbook.calculation.money.account import costing_of_book
from logbook.calculation.money.clock import at_two_runs, stretches_of
from logbook.calculation.money.costs import (
    feed_cost,
    lot_prices,
    run_costs,
    stage_costs,
)
from logbook.calculation.money.earnings import book_earnings, with_earnings
from logbook.calculation.money.exchange import Exchange, exchange, rates_without_date
from logbook.calculation.money.held import held_worth
from logbook.calculation.money.hours import (
    hands_on_of_run,
    heated,
    in_all_findings,
    stage_times,
)
from logbook.calculation.money.in_all import spent_in_all_findings, with_rests
from logbook.calculation.money.markets import (
    Market,
    book_currency,
    day_prices,
    every_step,
    market,
)
from logbook.calculation.money.nets import with_costing
from logbook.calculation.money.sales import sales
from logbook.calculation.money.terms import buyer_terms
from logbook.calculation.money.worth import net_of, product_worth
from logbook.calculation.monthly import monthly_recovery
from logbook.calculation.plans.check import plan_checks, plan_findings
from logbook.calculation.plans.like_runs import like_findings
from logbook.calculation.plans.sheets import plans_of_book
from logbook.calculation.plans.things import things_of_plans
from logbook.calculation.purity import purities
from logbook.calculation.results import (
    BookFigures,
    Caution,
    Fate,
    ReagentUse,
    Role,
    RunFigures,
    StageChemistry,
    StageGas,
    Thing,
)
from logbook.calculation.schedule import continued_by, distinct_runs, last_day
from logbook.calculation.sums import ratio
from logbook.calculation.supplies.accounts import Accounts, supply_accounts, supply_findings
from logbook.calculation.supplies.known import SupplyList, supply_list
from logbook.calculation.supplies.uses import SupplyUse, in_rows, reagent_use, supply_uses
from logbook.calculation.things import Stock, take_stock
from logbook.calculation.trends import metal_points, period_totals
from logbook.calculation.waste.containers import waste_of_book
from logbook.collector import collector_paused
from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.kept import Kept
from logbook.model.run import Run

PLANNED = "planned, nothing done yet"


@dataclass(frozen=True, slots=True)
class _Terms:
    """What every run is counted with."""

    book: Book
    currency: str
    market: Market
    exchange: Exchange
    supplies: SupplyList
    accounts: Accounts
    stock: Stock
    lots: Mapping[str, Figure]
    cautions: Mapping[str, tuple[Caution, ...]]
    uses: Mapping[str, tuple[SupplyUse, ...]]
    chemistry: Mapping[str, tuple[StageChemistry, ...]]

    def reagents(self, run: Run) -> tuple[ReagentUse, ...]:
        """What a run used, or a plan means to use, against what its chemistry asks for."""
        groups = in_rows(self.uses[run.name])
        rows = [reagent_use(group, self.currency, self.accounts.cost_of) for group in groups]
        return with_needs(rows, groups, self.chemistry[run.name], self.supplies)

    def gases(self, run: Run) -> tuple[StageGas, ...]:
        """The gas of each stage, and what the current of a cell can set free."""
        given = gases_of_run(run, self.chemistry[run.name], self.book.bench)
        room = room_of(run, self.book.bench)
        return in_all((*given, *cell_gases(run, room)), self.cautions[run.name], room)


@collector_paused()
def work_out(book: Book, kept: Kept | None = None) -> BookFigures:
    """Work out every figure of a book. Nothing a writer can write makes this raise.

    Parts of the metal network that are as they were before are taken from `kept`.
    """
    currency = book_currency(book)
    steps = tuple(every_step(book))
    rates = exchange(steps, currency)
    prices, about_prices = day_prices(steps, rates)
    agreed, about_terms = buyer_terms(steps, rates)
    lineage = trace(book)
    stock = take_stock(book, lineage, kept)
    lots = lot_prices(stock.by_origin, rates)
    distinct = distinct_runs(book)
    supplies = supply_list(book)
    uses = {run.name: tuple(supply_uses(run, supplies)) for run in distinct}
    accounts = supply_accounts(book, _of_done(distinct, uses), rates, supplies)
    planned = things_of_plans(book, stock.things)
    terms = _Terms(
        book,
        currency,
        market(prices, currency, agreed, book.newest_day),
        rates,
        supplies,
        accounts,
        stock,
        lots,
        cautions_of_runs(distinct, book.supplies),
        uses,
        _chemistry(distinct, stock.things, planned, uses, supplies),
    )
    alone = with_rests({run.name: _run_figures(run, terms) for run in distinct}, rates)
    followed = follow(alone, stock.things)
    costing = costing_of_book(
        {name: one for name, one in alone.items() if not one.run.planned},
        stock.things,
        lots,
        accounts.supplies,
        terms.market,
    )
    later = with_later(alone, followed)
    about = (*about_prices, *about_terms, *accounts.supplies.findings)
    costed = with_costing(later, stock.things, costing, terms.market)
    runs = with_earnings(costed, terms.market, book.bench.hour)
    plans = plans_of_book(book, runs, uses, stock.things, planned, accounts)
    figures = BookFigures(
        book=book,
        runs=runs,
        things=stock.things,
        shelf=tuple(thing for thing in stock.things if thing.fate is Fate.SHELF),
        totals=period_totals(runs, stock.things, book),
        points=metal_points(runs.values(), stock.things),
        prices=prices,
        sales=sales(steps, stock.things, terms.market, rates),
        held_worth=held_worth(stock.things, terms.market),
        findings=_findings(
            book, lineage, about, (*_far_more(runs.values()), *spent_in_all_findings(runs, rates))
        ),
        gaps=stock.balance.gaps,
        lots=lot_totals(stock.things, followed),
        supplies=accounts.supplies,
        plans=plans,
        plan_checks=plan_checks(book, runs, plans),
        costing=costing,
        across=across_runs(book, runs, stock.things, terms.market),
        months=monthly_recovery(runs, stock.things),
        waste=waste_of_book(
            stock.things, distinct, terms.chemistry, uses, terms.cautions, lineage.days
        ),
    )
    earned = book_earnings(figures, terms.market, book.bench.hour)
    figures = replace(figures, earnings=earned)
    return with_claims(with_answers(figures))


def whole_book_findings(book: Book) -> tuple[Finding, ...]:
    """What only a whole book can show: labels, charges, prices, supplies. Quick for `proof`."""
    steps = tuple(every_step(book))
    rates = exchange(steps, book_currency(book))
    _, about_prices = day_prices(steps, rates)
    _, about_terms = buyer_terms(steps, rates)
    supplies, distinct = supply_list(book), distinct_runs(book)
    uses = {run.name: tuple(supply_uses(run, supplies)) for run in distinct if not run.planned}
    short = supply_findings(book, _of_done(distinct, uses), rates, supplies)
    return _findings(book, trace(book), (*about_prices, *about_terms, *short))


def _of_done(runs: Iterable[Run], uses: Mapping[str, Sequence[SupplyUse]]) -> tuple[SupplyUse, ...]:
    """The uses of the runs that were done: a plan uses nothing."""
    return tuple(use for run in runs if not run.planned for use in uses[run.name])


def _findings(
    book: Book, lineage: Lineage, prices: Sequence[Finding], more: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    done = [run for run in distinct_runs(book) if not run.planned]
    totals = [run for run in done if any(one.in_all for one in run.entries)]
    hours = [one for run in totals for one in in_all_findings(run, continued_by(run, done))]
    hours += [*at_two_runs(done), *rates_without_date(every_step(book))]
    plans = (*like_findings(book), *plan_findings(book))
    found = (*lineage.findings, *prices, *hours, *plans, *more)
    return tuple(sorted(found, key=lambda one: one.sort_key))


def _far_more(runs: Iterable[RunFigures]) -> Iterator[Finding]:
    for run in runs:
        yield from far_more(run.reagents)
        yield from contradicted(run.densities)


def _chemistry(
    runs: Sequence[Run],
    things: Sequence[Thing],
    planned: Mapping[str, Sequence[Thing]],
    uses: Mapping[str, tuple[SupplyUse, ...]],
    supplies: SupplyList,
) -> Mapping[str, tuple[StageChemistry, ...]]:
    """The chemistry of every stage; a plan stands alone, with what it means to take."""
    done = [run for run in runs if not run.planned]
    found = dict(chemistry_of_runs(done, uses, things, supplies))
    for run in runs:
        if run.planned:
            own = {run.name: uses[run.name]}
            found |= chemistry_of_runs([run], own, planned[run.name], supplies)
    return found


def _run_figures(run: Run, terms: _Terms) -> RunFigures:
    if run.planned:
        return _planned(run, terms)
    entering, leaving = terms.stock.entering[run.name], terms.stock.leaving[run.name]
    balance = terms.stock.balance
    balances = tuple(
        metal_balance(
            run.name,
            metal,
            entering,
            leaving,
            balance.unaccounted.get((run.name, metal)),
            balance.gaps_of(run.name, metal),
        )
        for metal in terms.stock.metals[run.name]
    )
    times, elapsed = stage_times(run)
    alone = all(thing.made_by is None for thing in entering)
    hands_on = hands_on_of_run(run, alone=alone)
    reagents = terms.reagents(run)
    feed_money = feed_cost(entering, terms.lots, terms.currency)
    bench = terms.book.bench
    costs = run_costs(run, bench, terms.exchange, feed_money, hands_on, reagents)
    end = last_day(run)
    worth, latest = product_worth(run, balances, entering, leaving, terms.market, end)
    net, net_per_hour = net_of(worth, costs.cost_with_feed, hands_on)
    feed = weight_of("feed", [one for one in entering if is_feed(run, one)])
    return RunFigures(
        run=run,
        end=end,
        feed=feed,
        mass_yield=_mass_yield(run, entering, leaving),
        balances=balances,
        purities=purities(leaving, run.metals),
        hands_on=hands_on,
        elapsed=elapsed,
        heated=heated(run.entries, stretches_of(run)),
        stage_times=times,
        costs=costs.lines,
        stage_costs=stage_costs(run, bench, terms.exchange, times, reagents),
        cost=costs.cost,
        cost_with_feed=costs.cost_with_feed,
        worth=worth,
        worth_latest=latest,
        net=net,
        net_per_hour=net_per_hour,
        reagents=reagents,
        things_in=entering,
        things_out=leaving,
        cautions=terms.cautions[run.name],
        chemistry=terms.chemistry[run.name],
        gases=terms.gases(run),
        cells=cell_bounds(run),
        densities=density_checks(run, (*entering, *leaving)),
    )


def _mass_yield(run: Run, entering: Sequence[Thing], leaving: Sequence[Thing]) -> Figure:
    """Product weight over feed weight [g/g]: neither recovery nor purity.

    Metal that was added, as silver is to inquart, weighs in with the feed: it comes out again.
    """
    put_in = [one for one in entering if one.role is not Role.ADDITION]
    added = any(not is_feed(run, one) for one in put_in)
    feed = weight_of("feed and added metal" if added else "feed", put_in)
    product = weight_of("product weight", [one for one in leaving if one.role is Role.PRODUCT])
    return ratio("mass yield", "g/g", product, feed, f"product weight / {feed.name}")


def _planned(run: Run, terms: _Terms) -> RunFigures:
    """A plan has no figures yet but what it asks for; its cautions count all the same."""
    currency = terms.currency

    def nothing(name: str, unit: str) -> Figure:
        return not_known(name, unit, PLANNED)

    return RunFigures(
        run=run,
        end=None,
        feed=nothing("feed", "g"),
        mass_yield=nothing("mass yield", "g/g"),
        balances=(),
        purities=(),
        hands_on=nothing("hands-on", "h"),
        elapsed=nothing("elapsed", "h"),
        stage_times=(),
        costs=(),
        cost=nothing("cost", currency),
        cost_with_feed=nothing("cost with feed", currency),
        worth=nothing("worth", currency),
        worth_latest=nothing("worth at the latest price", currency),
        net=nothing("net", currency),
        net_per_hour=nothing("net per hour", f"{currency}/h"),
        reagents=terms.reagents(run),
        things_in=(),
        things_out=(),
        cautions=terms.cautions[run.name],
        chemistry=terms.chemistry[run.name],
        gases=terms.gases(run),
        cells=cell_bounds(run),
    )
