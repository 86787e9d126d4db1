"""A record beside the plan it was done by, as the record's page shows it."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.calculation.results.plans import CheckRow, PlanCheck
from logbook.pages.addresses import Here, Link
from logbook.pages.figure_view import FigureView, figure_view


@dataclass(frozen=True, slots=True)
class CheckRowView:
    """One figure as it was planned and as it was done."""

    stage: str
    what: str
    planned: FigureView
    done: FigureView
    factor: FigureView


@dataclass(frozen=True, slots=True)
class CheckGroup:
    """Figures of one kind."""

    title: str
    rows: tuple[CheckRowView, ...]


@dataclass(frozen=True, slots=True)
class PlanCheckView:
    """Planned and done."""

    plan: Link
    groups: tuple[CheckGroup, ...]


def plan_check_view(check: PlanCheck, here: Here) -> PlanCheckView:
    """A plan and its record in rows."""
    groups = (
        ("scrap", (check.feed,)),
        ("supplies", check.reagents),
        ("product, by the runs that the plan is like", check.product),
        ("hours", check.hours),
    )
    return PlanCheckView(
        plan=here.run(check.plan),
        groups=tuple(
            CheckGroup(title, tuple(_row(row, here) for row in rows))
            for title, rows in groups
            if rows
        ),
    )


def _row(row: CheckRow, here: Here) -> CheckRowView:
    return CheckRowView(
        stage=row.stage,
        what=row.what,
        planned=figure_view(row.planned, here, levels=1),
        done=figure_view(row.done, here, levels=1),
        factor=figure_view(row.factor, here, levels=1),
    )
