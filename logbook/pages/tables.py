"""Every table of the site's data folder, in the order in which the guide lists them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from logbook.calculation.results import BookFigures
from logbook.pages import book_tables, log_tables, money_tables, run_tables, thing_tables
from logbook.pages.table import KEPT_BACK, Table, source_of

OF_MONEY = frozenset({"costs", "prices"})
TABLES = (
    run_tables.runs,
    run_tables.balances,
    thing_tables.things,
    log_tables.entries,
    run_tables.reagents,
    money_tables.supplies,
    money_tables.costs,
    log_tables.tests,
    thing_tables.waste,
    log_tables.claims,
    log_tables.cautions,
    log_tables.problems,
    run_tables.stages,
    run_tables.gas,
    money_tables.prices,
    money_tables.sales,
    book_tables.totals,
    book_tables.lots,
)


def tables(figures: BookFigures, with_private: bool) -> tuple[Table, ...]:
    """The tables of a book. Private notes are left out, unless the keeper asks for them."""
    source = source_of(figures, with_private=with_private)
    found = tuple(table(source) for table in TABLES)
    return found if figures.book.edition.money else tuple(_without_money(found))


def _without_money(found: Iterable[Table]) -> Iterator[Table]:
    """Tables without columns of money, and without those that hold nothing else."""
    for one in found:
        kept = [at for at, column in enumerate(one.columns) if KEPT_BACK not in column.unit]
        if one.name not in OF_MONEY:
            yield replace(
                one,
                columns=tuple(one.columns[at] for at in kept),
                rows=tuple(tuple(row[at] for at in kept) for row in one.rows),
            )
