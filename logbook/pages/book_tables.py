"""Tables of the whole book: totals by period, and lots over all the runs that took of them."""

from __future__ import annotations

from logbook.pages.table import Source, Table, doubt, number, table, text, value


def totals(source: Source) -> Table:
    """One row for each metal in each period."""
    money = source.currency
    return table(
        "totals",
        "a metal in a period",
        source.figures.totals,
        (text("period", "a month (2026-03), a year (2026) or all"), lambda row: row.period),
        (text("metal", "the metal"), lambda row: row.metal),
        (number("head_g", "g", "metal that went in"), lambda row: value(row.head)),
        (number("product_g", "g", "metal in the products"), lambda row: value(row.product)),
        (number("product_u_g", "g", "its standard uncertainty"), lambda row: doubt(row.product)),
        (number("recovery", "g/g", "product over head"), lambda row: value(row.recovery)),
        (
            number("cost", money, "cost of the runs that were after this metal"),
            lambda row: value(row.cost),
        ),
        (number("hours", "h", "hours of work in those runs"), lambda row: value(row.hours)),
        (number("net", money, "net of those runs"), lambda row: value(row.net)),
        (
            number("unaccounted_g", "g", "sum of the gaps of those runs, one of several once"),
            lambda row: value(row.unaccounted),
        ),
        (
            number("unaccounted_u_g", "g", "its standard uncertainty"),
            lambda row: doubt(row.unaccounted),
        ),
        (
            number("stock_g", "g", "metal in stock at the end of the period, waste not counted"),
            lambda row: value(row.stock),
        ),
        (number("stock_u_g", "g", "its standard uncertainty"), lambda row: doubt(row.stock)),
        (
            number("stock_low_g", "g", "least that it can be, where only limits are known"),
            lambda row: row.stock.low if row.stock is not None else None,
        ),
        (
            number("stock_high_g", "g", "most that it can be, where only limits are known"),
            lambda row: row.stock.high if row.stock is not None else None,
        ),
        (
            number("accountability", "g/g", "head less unaccounted, over head"),
            lambda row: value(row.accountability),
        ),
    )


def lots(source: Source) -> Table:
    """One row for each metal of each labelled lot from outside the book."""
    return table(
        "lots",
        "a metal in a lot",
        source.figures.lots,
        (text("lot", "label of the lot, as it came from outside"), lambda row: row.label),
        (text("metal", "the metal"), lambda row: row.metal),
        (number("head_g", "g", "metal in the whole lot"), lambda row: value(row.head)),
        (number("head_u_g", "g", "its standard uncertainty"), lambda row: doubt(row.head)),
        (
            number("product_g", "g", "made of it so far, also later of the rest, by content"),
            lambda row: value(row.product),
        ),
        (number("product_u_g", "g", "its standard uncertainty"), lambda row: doubt(row.product)),
        (
            number("shelf_g", "g", "metal in what is left of it as it came"),
            lambda r: value(r.shelf),
        ),
        (number("recovery", "g/g", "product so far over head"), lambda row: value(row.recovery)),
        (text("runs", "runs that took of it, a space between"), lambda row: " ".join(row.runs)),
    )
