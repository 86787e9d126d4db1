"""Tables of money: costs by kind, the accounts of supplies, prices and sales."""

from __future__ import annotations

from collections.abc import Iterator

from logbook.calculation.results import RunFigures
from logbook.pages.run_tables import RUN
from logbook.pages.table import Cell, Source, Table, as_day, day, number, table, text, value, words

COST_KINDS = (
    "feed, reagent, labour, energy, breakage, lump, fee, other: spent here; carried-in: came "
    "with things from earlier runs; carried-out: went on with side streams and charges; "
    "written-off: lies on what went to waste, or made nothing"
)
SIGNS = (
    "the cost; carried-out and written-off are negative, so that the rows of a run add up to "
    "what lies in its products and in work that is still open"
)


def _cost_lines(one: RunFigures) -> Iterator[tuple[str, str, Cell]]:
    """The costs of a run by kind, and what came in, went on or was written off, with signs."""
    for line in one.costs:
        yield one.run.name, line.kind, value(line.amount)
    if one.costing is None:
        return
    for kind, figure, sign in (
        ("carried-in", one.costing.carried_in, 1.0),
        ("carried-out", one.costing.carried_out, -1.0),
        ("written-off", one.costing.written_off, -1.0),
    ):
        amount = value(figure)
        if amount is None or amount:
            yield one.run.name, kind, None if amount is None else sign * amount


def costs(source: Source) -> Table:
    """One row for each kind of cost of each run."""
    return table(
        "costs",
        "a kind of cost of a run",
        (line for one in source.figures.runs.values() for line in _cost_lines(one)),
        (RUN, lambda row: row[0]),
        (text("kind", COST_KINDS), lambda row: row[1]),
        (number("amount", source.currency, SIGNS), lambda row: row[2]),
    )


def supplies(source: Source) -> Table:
    """One row for each supply in one strength: had or bought, used, left, at moving average."""
    money = source.currency
    accounts = source.figures.supplies.accounts
    return table(
        "supplies",
        "a supply in one strength",
        sorted(accounts, key=lambda one: (one.supply, one.strength, one.unit)),
        (text("supply", "name of the supply"), lambda one: one.supply),
        (text("strength", "strength as it was written"), lambda one: words(one.strength)),
        (
            number("bought", "", "how much was bought, or there at the start, in unit"),
            lambda one: value(one.bought),
        ),
        (number("used", "", "how much all runs used, in unit"), lambda one: value(one.used)),
        (number("left", "", "how much is left, in unit"), lambda one: value(one.left)),
        (text("unit", "L, g or 1 (pieces)"), lambda one: one.unit),
        (
            number("unit_cost", money, "what one unit of what is left cost on average"),
            lambda one: value(one.average),
        ),
        (
            day("runs_out", "day on which it ran out, or will at the pace of the book"),
            lambda one: as_day(one.runs_out),
        ),
        (
            text("runs_out_why", "which of the two, and on what that rests"),
            lambda one: words(one.runs_out_words),
        ),
        (number("paid", money, "money that came in with it"), lambda one: value(one.paid)),
        (
            number("consumed", money, "money that left with its uses"),
            lambda one: value(one.consumed),
        ),
        (
            number("left_cost", money, "money in what is left: paid less consumed"),
            lambda one: value(one.stock_cost),
        ),
        (number("left_low", "", "least that can be left, in unit"), lambda one: one.left.low),
        (number("left_high", "", "most that can be left, in unit"), lambda one: one.left.high),
    )


def prices(source: Source) -> Table:
    """One row for each price of a metal on a day."""
    return table(
        "prices",
        "the price of a metal on a day",
        (row for row in source.figures.prices if source.privacy.shows(row.entry)),
        (text("metal", "the metal"), lambda row: row.metal),
        (day("date", "first day of the price"), lambda row: as_day(row.day)),
        (number("price", "", "price of the metal, in unit"), lambda row: value(row.price)),
        (text("unit", "currency, and the weight it buys"), lambda row: row.price.unit),
    )


def sales(source: Source) -> Table:
    """One row for each sale."""
    money = source.currency
    return table(
        "sales",
        "a sale",
        (row for row in source.figures.sales if source.privacy.shows(row.entry)),
        (
            text("run", "the run in which it was noted; empty for the fixed pages"),
            lambda row: words(row.run),
        ),
        (day("date", "day of the sale"), lambda row: as_day(row.day)),
        (text("label", "what was sold"), lambda row: words(row.label)),
        (text("metal", "the metal"), lambda row: words(row.metal)),
        (number("gross_g", "g", "weight of what was sold"), lambda row: value(row.gross)),
        (number("fine_g", "g", "metal in what was sold"), lambda row: value(row.fine)),
        (number("received", money, "money received"), lambda row: value(row.received)),
        (
            number("estimated", money, "worth at the price and the terms of the day"),
            lambda row: value(row.estimated),
        ),
        (number("fee", money, "what the sale itself cost"), lambda row: value(row.fee)),
        (
            number("difference", money, "received less estimated"),
            lambda row: value(row.difference),
        ),
    )
