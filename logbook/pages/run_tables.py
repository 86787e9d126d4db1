"""Tables with a row for each run, or for a part of one: balances, stages, reagents, gas."""

from __future__ import annotations

from logbook.calculation.figure import Figure
from logbook.calculation.results import ReagentUse, RunFigures, StageGas
from logbook.calculation.sums import highest, lowest
from logbook.chemistry.air import limits, name_of
from logbook.pages.addresses import run_path
from logbook.pages.table import (
    Cell,
    Source,
    Table,
    as_day,
    day,
    doubt,
    number,
    table,
    text,
    value,
    words,
)

RUN = text("run", "name of the run: the name of its log without the ending")
STAGE = text("stage", "heading of the stage, numbered where the run has the same one twice")


def _all_runs(source: Source) -> tuple[RunFigures, ...]:
    return tuple(source.figures.runs.values())


def runs(source: Source) -> Table:
    """One row for each run."""
    money, hourly = source.currency, f"{source.currency}/h"
    return table(
        "runs",
        "a run",
        _all_runs(source),
        (RUN, lambda one: one.run.name),
        (day("date", "day of the run"), lambda one: as_day(one.run.day)),
        (day("end", "last day that the log names"), lambda one: as_day(one.end)),
        (text("title", "title of the log"), lambda one: one.run.title),
        (text("status", "planned, open, finished or abandoned"), lambda one: one.run.status.value),
        (text("page", "address of its page in the site"), lambda one: run_path(one.run.name)),
        (number("feed_g", "g", "gross weight of the scrap taken"), lambda one: value(one.feed)),
        (number("hours_hands_on", "h", "hours of work noted"), lambda one: value(one.hands_on)),
        (
            number("hours_elapsed", "h", "hours that the stages took from start to end, summed"),
            lambda one: value(one.elapsed),
        ),
        (
            number("hours_heated", "h", "hours that anything was heated; side by side once"),
            lambda one: value(one.heated),
        ),
        (
            number("hours_carried_in", "h", "hours spent earlier on what the run took"),
            lambda one: value(one.costing.hours_carried_in) if one.costing else None,
        ),
        (number("cost", money, "cost without the scrap"), lambda one: value(one.cost)),
        (
            number("cost_with_feed", money, "cost with the scrap"),
            lambda one: value(one.cost_with_feed),
        ),
        (
            number("cost_carried_in", money, "money spent earlier on what the run took"),
            lambda one: value(one.costing.carried_in) if one.costing else None,
        ),
        (
            number("cost_unallocated", money, "part of a total that no line accounts for"),
            _unallocated,
        ),
        (
            number("hours_unallocated", "h", "part of hours in all that no line accounts for"),
            lambda one: value(one.hours_unallocated),
        ),
        (
            number("worth", money, "worth of the product at the price of the run's last day"),
            lambda one: value(one.worth),
        ),
        (
            number("worth_latest", money, "worth of the product at the latest price"),
            lambda one: value(one.worth_latest),
        ),
        (number("net", money, "worth less cost with feed"), lambda one: value(one.net)),
        (
            number("net_per_hour", hourly, "net for each hour of work"),
            lambda one: value(one.net_per_hour),
        ),
        (
            number("earned_per_hour", hourly, "worth less every cost but labour, for each hour"),
            lambda one: value(one.earnings.per_hour) if one.earnings else None,
        ),
        (
            number("earned_per_hour_u", hourly, "its standard uncertainty"),
            lambda one: doubt(one.earnings.per_hour) if one.earnings else None,
        ),
        (
            number("earned_per_hour_without_feed", hourly, "the same, had the scrap cost nothing"),
            lambda one: value(one.earnings.per_hour_without_feed) if one.earnings else None,
        ),
    )


def balances(source: Source) -> Table:
    """One row for each metal of each run."""
    return table(
        "balances",
        "a metal in a run",
        (row for one in _all_runs(source) for row in one.balances),
        (RUN, lambda row: row.run),
        (text("metal", "the metal"), lambda row: row.metal),
        (number("head_g", "g", "metal that went in"), lambda row: value(row.head)),
        (number("head_u_g", "g", "its standard uncertainty"), lambda row: doubt(row.head)),
        (
            text("head_basis", "assayed, built-up from what came out, or unknown"),
            lambda row: row.head_basis,
        ),
        (number("product_g", "g", "metal in the product"), lambda row: value(row.product)),
        (number("product_u_g", "g", "its standard uncertainty"), lambda row: doubt(row.product)),
        (
            number("shelf_g", "g", "metal in what the run left on the shelf"),
            lambda row: value(row.shelf),
        ),
        (number("waste_g", "g", "metal in what went to waste"), lambda row: value(row.waste)),
        (number("lost_g", "g", "known losses"), lambda row: value(row.lost)),
        (
            number("unaccounted_g", "g", "metal in, less all that is known to have come out"),
            lambda row: value(row.unaccounted),
        ),
        (
            number("unaccounted_u_g", "g", "its standard uncertainty"),
            lambda row: doubt(row.unaccounted),
        ),
        (number("recovery", "g/g", "product over head"), lambda row: value(row.recovery)),
        (number("recovery_u", "g/g", "its standard uncertainty"), lambda row: doubt(row.recovery)),
        (
            number("accountability", "g/g", "all that is accounted for over head"),
            lambda row: value(row.accountability),
        ),
        (
            text("closes", "whether the scales can explain the gap: yes, no or unknown"),
            lambda row: row.closes,
        ),
        (
            text("gap_group", "name shared by runs that have one gap between them"),
            lambda row: words(row.gap_group),
        ),
        (
            text("why", "why the balance does not close, or cannot be known"),
            lambda row: words(row.why),
        ),
    )


def _needed(use: ReagentUse) -> Figure | None:
    """What is needed, where it is in the unit of what was used."""
    needed = use.needed
    return needed if needed is not None and needed.unit == use.used.unit else None


def _low(figure: Figure | None) -> float | None:
    """The lower limit of a figure; nothing where it is only that it is not negative."""
    return None if figure is None else lowest(figure) or None


def _high(figure: Figure | None) -> float | None:
    return None if figure is None else highest(figure)


def reagents(source: Source) -> Table:
    """One row for each reagent in each stage."""
    return table(
        "reagents",
        "a reagent in a stage",
        (use for one in _all_runs(source) if not one.run.planned for use in one.reagents),
        (RUN, lambda use: use.stage.run),
        (STAGE, lambda use: source.stage(use.stage)),
        (text("reagent", "name of the reagent or supply"), lambda use: use.reagent),
        (text("strength", "strength as it was written"), lambda use: words(use.strength)),
        (number("used", "", "how much was used, in used_unit"), lambda use: value(use.used)),
        (text("used_unit", "L, g or 1 (pieces)"), lambda use: use.used.unit),
        (
            number("needed_low", "", "least that the equations ask for, in used_unit"),
            lambda use: _low(_needed(use)),
        ),
        (
            number("needed_high", "", "most that the equations ask for, in used_unit"),
            lambda use: _high(_needed(use)),
        ),
        (number("excess_low", "", "used over needed_high, a factor"), lambda use: _low(use.excess)),
        (
            number("excess_high", "", "used over needed_low, a factor"),
            lambda use: _high(use.excess),
        ),
        (
            number("cost", source.currency, "cost of what was used"),
            lambda use: value(use.cost),
        ),
    )


def _unallocated(one: RunFigures) -> Cell:
    """What a total in all left over: nothing where a run that was done notes no total."""
    if one.cost_unallocated is None:
        return None if one.run.planned else 0.0
    return value(one.cost_unallocated)


def stages(source: Source) -> Table:
    """One row for each stage."""
    times = {time.stage: time for one in _all_runs(source) for time in one.stage_times}
    found = (
        (key, stage, times.get(key))
        for one in _all_runs(source)
        for key, stage in zip(source.of_run(one.run), one.run.stages, strict=True)
    )
    return table(
        "stages",
        "a stage of a run",
        found,
        (RUN, lambda row: row[0].run),
        (STAGE, lambda row: source.stage(row[0])),
        (
            text("kind", "kind of stage; empty where the heading is a name of the writer's own"),
            lambda row: words(" and ".join(row[1].kinds)),
        ),
        (
            day("date", "day that the heading names"),
            lambda row: as_day(row[1].when.day if row[1].when is not None else None),
        ),
        (
            number("hours_hands_on", "h", "hours of work noted in the stage"),
            lambda row: value(row[2].hands_on if row[2] is not None else None),
        ),
        (
            number("hours_elapsed", "h", "hours that the stage took from start to end"),
            lambda row: value(row[2].elapsed if row[2] is not None else None),
        ),
        (
            number("hours_heated", "h", "hours that anything was heated in the stage"),
            lambda row: value(row[2].heated if row[2] is not None else None),
        ),
    )


def gas(source: Source) -> Table:
    """One row for each gas that a stage can give off; limits only, never a value."""
    return table(
        "gas",
        "a gas given off in a stage",
        (row for one in _all_runs(source) if not one.run.planned for row in one.gases),
        (RUN, lambda row: row.stage.run),
        (STAGE, lambda row: source.stage(row.stage)),
        (text("gas", "the gas"), lambda row: name_of(row.gas)),
        (number("low_l", "L", "least volume given off"), lambda row: _low(row.litres)),
        (
            number("high_l", "L", "most volume given off, at 25 C; empty is not known, not none"),
            lambda row: _high(row.litres),
        ),
        (number("low_g", "g", "least mass given off"), lambda row: _low(row.grams)),
        (number("high_g", "g", "most mass given off"), lambda row: _high(row.grams)),
        (
            number("room_ppm", "ppm", "most that it makes of the stated room, not ventilated"),
            lambda row: _high(row.room),
        ),
        (
            number("air_m3", "m3", "air that the most of it brings to the limit"),
            lambda row: _high(row.air),
        ),
        (
            text("limit", "the limit it reaches first, with who says so and the year"),
            _limit,
        ),
    )


def _limit(row: StageGas) -> Cell:
    compared = limits(row.gas).held_against()
    return None if compared is None else compared.words
