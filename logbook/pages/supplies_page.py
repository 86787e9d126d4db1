"""The page of supplies: what was bought, used and left of each, at what money, line by line.

Bought and used stay apart: a bottle that is half full is paid for whole and consumed by half.
Below the accounts stands what the writer wrote, as it was written.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.calculation.figure import Figure
from logbook.calculation.money.markets import book_currency
from logbook.calculation.results import BookFigures, SupplyAccount, SupplyMove
from logbook.calculation.sums import add_up
from logbook.findings import Finding
from logbook.pages.addresses import SUPPLIES, Here, LineLink, Link
from logbook.pages.block_view import BlockView
from logbook.pages.figure_view import FigureView, bare_figure, figure_view
from logbook.pages.finding_view import FindingView, finding_view
from logbook.pages.fixed_page import fixed_view
from logbook.pages.frame import Frame, Site
from logbook.pages.rounding import plural
from logbook.pages.slugs import run_slug
from logbook.pages.wording import day_text, sentence

MEASURED_BY = {"1": "counted", "g": "weighed", "L": "measured by volume"}
MOVE_WORDS = {"had": "there at the start", "returned": "came back"}


@dataclass(frozen=True, slots=True)
class MoveRow:
    """One line of an account, and where it stands in the logs."""

    day: str
    kind: str
    quantity: FigureView
    cost: FigureView
    left: FigureView
    average: FigureView
    place: LineLink


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """One supply in one strength. `until` says when it ran out or will, and on what that rests.

    `told_apart` says how it was measured, where the same supply has an account of another kind.
    """

    anchor: str
    supply: str
    strength: str
    told_apart: str
    bought: FigureView
    used: FigureView
    left: FigureView
    average: FigureView
    money: FigureView
    until: str
    out: bool
    moves: tuple[MoveRow, ...]
    moves_count: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SuppliesView:
    """The page of supplies; `written` are the lines of supplies.md itself."""

    frame: Frame
    title: str
    summary: str
    sums: tuple[FigureView, ...]
    out: tuple[Link, ...]
    findings: tuple[FindingView, ...]
    rows: tuple[SupplyRow, ...]
    unallocated: tuple[FigureView, ...]
    file: str
    written: tuple[BlockView, ...]


def supplies_view(figures: BookFigures, findings: Sequence[Finding], site: Site) -> SuppliesView:
    """The page of supplies; `findings` are those of the lines of supplies.md."""
    here = site.addresses.at(SUPPLIES)
    page = figures.book.supplies
    written = fixed_view(page, SUPPLIES, findings, site) if page is not None else None
    accounts = _in_order(figures.supplies.accounts)
    named = Counter(supply_words(account) for account in accounts)
    told = [one for one in figures.supplies.findings if site.privacy.shows_finding(one)]
    return SuppliesView(
        frame=site.frame(here, "Supplies"),
        title=page.title if page is not None else "Supplies",
        summary=_summary(accounts, site.newest_day),
        sums=tuple(_sums(accounts, book_currency(figures.book), here)) if here.money else (),
        out=tuple(ran_out(figures, site, here)),
        findings=tuple(finding_view(one, here) for one in told),
        rows=tuple(_row(one, named[supply_words(one)] > 1, site, here) for one in accounts),
        unallocated=tuple(
            figure_view(one, here) for one in figures.supplies.unallocated if here.money
        ),
        file=page.source.path if page is not None else "",
        written=written.blocks if written is not None else (),
    )


def ran_out(figures: BookFigures, site: Site, here: Here) -> Iterator[Link]:
    """The supplies of which nothing is left, each with the way to its account."""
    for account in _in_order(figures.supplies.accounts):
        if is_out(account, site.newest_day):
            words = f"{supply_words(account)} ran out on {day_text(account.runs_out)}"
            yield Link(words, f"{here.to(SUPPLIES)}#{account_anchor(account)}")


def is_out(account: SupplyAccount, newest: date | None) -> bool:
    """Whether a supply had run out by the newest day of the book."""
    return account.runs_out is not None and newest is not None and account.runs_out <= newest


def supply_words(account: SupplyAccount) -> str:
    """A supply with its strength."""
    return f"{account.supply} {account.strength}".strip()


def _in_order(accounts: Sequence[SupplyAccount]) -> list[SupplyAccount]:
    return sorted(accounts, key=lambda one: (one.supply.lower(), one.strength, one.unit))


def account_anchor(account: SupplyAccount) -> str:
    """The anchor of an account: by its name, strength and unit, which no other account shares."""
    return f"account-{run_slug('-'.join((account.supply, account.strength, account.unit)))}"


def _summary(accounts: Sequence[SupplyAccount], newest: date | None) -> str:
    if not accounts:
        return "No supply was bought or used in this book yet."
    out = sum(is_out(account, newest) for account in accounts)
    parts = [plural(len(accounts), "supply", "supplies")]
    parts += [f"{plural(out, 'of them has', 'of them have')} run out"] if out else []
    return sentence("; ".join(parts))


def _sums(accounts: Sequence[SupplyAccount], currency: str, here: Here) -> Iterator[FigureView]:
    """What came in, what was consumed of it, and what stands on the shelf of supplies."""
    if not accounts:
        return
    yield _sum("paid for supplies", currency, accounts, [one.paid for one in accounts], here)
    yield _sum("consumed", currency, accounts, [one.consumed for one in accounts], here)
    yield _sum("still in supplies", currency, accounts, [one.stock_cost for one in accounts], here)


def _sum(
    name: str,
    currency: str,
    accounts: Sequence[SupplyAccount],
    figures: Sequence[Figure],
    here: Here,
) -> FigureView:
    named = [
        replace(figure, name=supply_words(account))
        for account, figure in zip(accounts, figures, strict=True)
    ]
    whole = add_up(name, currency, named, "sum over the supplies")
    return figure_view(whole, here, levels=1)


def _row(account: SupplyAccount, twice: bool, site: Site, here: Here) -> SupplyRow:
    moves = [move for move in account.moves if site.privacy.shows(move.entry)]
    return SupplyRow(
        anchor=account_anchor(account),
        supply=account.supply,
        strength=account.strength,
        told_apart=MEASURED_BY.get(account.unit, account.unit) if twice else "",
        bought=bare_figure(account.bought),
        used=bare_figure(account.used),
        left=bare_figure(account.left),
        average=bare_figure(account.average),
        money=bare_figure(account.stock_cost),
        until=account.runs_out_words,
        out=is_out(account, site.newest_day),
        moves=tuple(_move(move, here) for move in moves),
        moves_count=plural(len(moves), "line"),
        notes=(*account.notes, *(account.unpriced if here.money else ())),
    )


def _move(move: SupplyMove, here: Here) -> MoveRow:
    return MoveRow(
        day=day_text(move.day),
        kind=MOVE_WORDS.get(move.kind, move.kind),
        quantity=bare_figure(move.quantity),
        cost=bare_figure(move.cost),
        left=bare_figure(move.left),
        average=bare_figure(move.average),
        place=here.line(move.entry.span),
    )
