"""The page of money: what an hour earned, where the money went, and what would change it most.

It begins with one sentence and ends with what the writer reckoned otherwise. Nothing is worked
out here but sums of rows that stand on the page; what is not known says what is missing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.calculation.figure import Figure
from logbook.calculation.money.markets import book_currency
from logbook.calculation.results import BookAccount, BookFigures, Earnings
from logbook.pages.addresses import MONEY, PRICES, Here
from logbook.pages.attention_page import checked_claims
from logbook.pages.charts.money_charts import MoneyCharts, money_charts
from logbook.pages.claim_view import ClaimView, claim_view
from logbook.pages.cost_view import CarriedRow, earned_figures
from logbook.pages.figure_view import FigureView, figure_view, known_text
from logbook.pages.frame import Frame, Site
from logbook.pages.money_account import AccountView, account_view
from logbook.pages.money_change import ChangeView, change_view
from logbook.pages.money_even import EvenView, even_view
from logbook.pages.money_missing import Missing, missing_of
from logbook.pages.money_runs import (
    RUN_HEADINGS,
    RUN_NAMES,
    Period,
    RunRow,
    periods,
    run_rows,
)
from logbook.pages.money_worth import (
    AgeRow,
    HeldRow,
    SaleRow,
    TermsRow,
    age_rows,
    carried_on_shelf,
    held_rows,
    sale_rows,
    sale_sums,
    terms_rows,
)
from logbook.pages.rounding import MINUS, between, plural
from logbook.pages.shelf_page import held_figures
from logbook.pages.wording import listed

TITLE = "Money"
RUNS_OPEN = 10
NOTHING_DONE = "no run is done yet"
NOT_WORKED_OUT = "no run of the book gives enough to work it out"


@dataclass(frozen=True, slots=True)
class ReckonedView:
    """What the writer reckoned and the book does not bear out."""

    agreeing: str
    wrong: tuple[ClaimView, ...]
    unchecked: tuple[ClaimView, ...]


@dataclass(frozen=True, slots=True)
class MoneyView:
    """The page of money, in the order in which it is read."""

    frame: Frame
    sentence: str
    key: tuple[FigureView, ...]
    missing: tuple[Missing, ...]
    account: AccountView | None
    charts: MoneyCharts
    run_headings: tuple[tuple[str, str], ...]  # in full, and as they stand on a narrow page
    runs: tuple[RunRow, ...]
    earlier_runs: tuple[RunRow, ...]  # below those that stand open
    earlier_count: str
    years: tuple[Period, ...]
    months: tuple[Period, ...]
    change: ChangeView | None
    even: EvenView
    sales: tuple[SaleRow, ...]
    sale_sums: tuple[FigureView, ...]
    held: tuple[FigureView, ...]
    held_things: tuple[HeldRow, ...]
    ages: tuple[AgeRow, ...]
    terms: tuple[TermsRow, ...]
    prices_href: str
    carried: tuple[CarriedRow, ...]
    carried_count: str
    reckoned: ReckonedView


def money_view(figures: BookFigures, site: Site) -> MoneyView:
    """The page of money of a book."""
    here, currency = site.addresses.at(MONEY), book_currency(figures.book)
    account, earnings = figures.costing.account, figures.earnings
    carried, runs = carried_on_shelf(figures, here), run_rows(figures, here)
    return MoneyView(
        frame=site.frame(here, TITLE),
        sentence=earned_sentence(earnings, _why_none(figures)),
        key=tuple(_key(earnings, here)) if earnings is not None else (),
        missing=tuple(missing_of(figures, currency, here)),
        account=_account(account, currency, here),
        charts=money_charts(figures, here, currency),
        run_headings=tuple(zip(RUN_HEADINGS, RUN_NAMES, strict=True)),
        runs=runs[:RUNS_OPEN],
        earlier_runs=runs[RUNS_OPEN:],
        earlier_count=plural(len(runs) - RUNS_OPEN, "earlier run"),
        years=periods(figures, years=True),
        months=periods(figures, years=False),
        change=change_view(earnings) if earnings is not None else None,
        even=even_view(figures, here),
        sales=sale_rows(figures, site, here),
        sale_sums=tuple(sale_sums(figures, site, currency, here)),
        held=tuple(held_figures(figures, here)),
        held_things=held_rows(figures, here),
        ages=age_rows(figures, here),
        terms=terms_rows(figures, site, here),
        prices_href=here.to(PRICES) if figures.book.prices is not None else "",
        carried=carried,
        carried_count=plural(len(carried), "thing"),
        reckoned=_reckoned(figures, site, here),
    )


def _account(account: BookAccount | None, currency: str, here: Here) -> AccountView | None:
    """The account; None where there is none, or no money and nothing that was left out."""
    if account is None or not (account.came_in or account.stands or account.not_counted):
        return None
    return account_view(account, currency, here)


def earned_sentence(earnings: Earnings | None, why_none: str) -> str:
    """What an hour earned over the book, with the scrap and without, or why it is not known."""
    if earnings is None:
        return f"What an hour at the bench earned is not known, because {why_none}."
    hourly, without = earnings.per_hour, earnings.per_hour_without_feed
    if hourly.value is None:
        limits = between(hourly.low, hourly.high, hourly.unit)
        known = (
            f"Over the whole book an hour at the bench earned {limits}. More is not known"
            if limits
            else "What an hour at the bench earned is not known"
        )
        free = f" {_had_it_been_free(without)}." if without.value is not None else ""
        return f"{known}, because {_why(hourly)}.{free}"
    words = f"Over the whole book an hour at the bench {_earned(hourly)}"
    if without.value is None:
        return f"{words}. Without what the scrap cost it is not known, because {_why(without)}."
    if without.value.value == hourly.value.value:
        return f"{words}, with what the scrap cost or without."
    return f"{words}. {_had_it_been_free(without)}."


def _had_it_been_free(without: Figure) -> str:
    return f"Had the scrap cost nothing, it would have {_earned(without)}"


def _earned(hourly: Figure) -> str:
    """What an hour earned or cost, in words that follow "an hour"."""
    gained = hourly.value is not None and hourly.value.value >= 0
    money = known_text(hourly).removesuffix("/h").removeprefix(MINUS)
    return f"{'earned' if gained else 'cost'} {money}"


def _why(figure: Figure) -> str:
    """The first reason why a figure is not known; the rest stands with the figure."""
    first, _, more = figure.why.partition("; ")
    return f"{first}, among other reasons" if more else first or "nothing in the logs gives it"


def _why_none(figures: BookFigures) -> str:
    done = any(not one.run.planned for one in figures.runs.values())
    return NOT_WORKED_OUT if done else NOTHING_DONE


def _key(earnings: Earnings, here: Here) -> Iterator[FigureView]:
    """What an hour earned, and what that was worked out from."""
    yield from earned_figures(earnings, here)
    yield figure_view(earnings.earned, here, name="earned in all, before any hour is paid")
    yield figure_view(earnings.hours, here, levels=1, name="in hours of work")


def _reckoned(figures: BookFigures, site: Site, here: Here) -> ReckonedView:
    checked = checked_claims(figures, site)
    found = {word: [one for one in checked if one.agrees == word] for word in ("no", "unknown")}
    agreeing = sum(one.agrees == "yes" for one in checked)
    agree = "agrees" if agreeing == 1 else "agree"
    parts = [f"{plural(agreeing, 'reckoned figure')} {agree} with the book"] if agreeing else []
    return ReckonedView(
        agreeing=f"{listed(parts)}." if parts else "",
        wrong=tuple(claim_view(one, here) for one in found["no"]),
        unchecked=tuple(claim_view(one, here) for one in found["unknown"]),
    )
