"""The log itself as a page shows it: facts, prose and stages in the writer's order.

Runs and plans share it; what stands beside the lines comes from `margin.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.model.run import Block, Fact, Run, Stage
from logbook.pages.addresses import Here, Link
from logbook.pages.block_view import Beside, BlockView, block_views
from logbook.pages.frame import Site
from logbook.pages.margin import Margin
from logbook.pages.privacy import shown
from logbook.pages.wording import day_text

RUNS_NAMED = frozenset({"continues", "like", "plan"})
"""The facts whose value names runs."""


@dataclass(frozen=True, slots=True)
class FactView:
    """A `Word: value` line, as written: its value in parts, those that name a run with a link."""

    word: str
    value: tuple[Link, ...]
    anchor: str


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage: its heading, and what stands below it in the writer's order."""

    title: str
    anchor: str
    when: str
    trial: bool
    beside: Beside
    blocks: tuple[BlockView, ...]


def fact_views(run: Run, here: Here) -> tuple[FactView, ...]:
    """The facts of a log, with links to the runs that they name."""
    return tuple(
        FactView(fact.word, tuple(_value(fact, run, here)), f"line-{fact.span.line}")
        for fact in run.facts
    )


def _value(fact: Fact, run: Run, here: Here) -> Iterator[Link]:
    """The words of a fact: all of it where that is a run, else each run of a `Like:` line."""
    if fact.word.lower() not in RUNS_NAMED:
        yield Link(fact.value)
        return
    whole = here.run(fact.value.strip("[] "))
    if whole.href:
        yield Link(fact.value, whole.href)
        return
    at = fact.span.start
    text = run.source.text
    for like in run.like:
        start = text.find(like.run, like.span.start, like.span.end) if like.run else -1
        href = here.run(like.run).href
        if at <= start < fact.span.end and href:
            if at < start:
                yield Link(text[at:start])
            at = start + len(like.run)
            yield Link(like.run, href)
    if at < fact.span.end:
        yield Link(text[at : fact.span.end])


def shown_blocks(
    blocks: tuple[Block, ...], site: Site, margin: Margin, below: int = 1
) -> tuple[BlockView, ...]:
    """The blocks that may stand on a page, under a heading of the level `below`."""
    visible = shown(site.privacy, blocks)
    return block_views(visible, margin.here, margin.beside, site.book.pictures, below=below)


def stage_views(run: Run, site: Site, margin: Margin) -> tuple[StageView, ...]:
    """The stages of a run in order."""
    above = 2 if run.planned else 1  # the steps of a plan stand below a heading of their own
    return tuple(
        _stage(place, stage, site, margin, above) for place, stage in enumerate(run.stages)
    )


def _stage(place: int, stage: Stage, site: Site, margin: Margin, above: int) -> StageView:
    when = day_text(stage.when.day) if stage.when is not None and stage.when.day else ""
    return StageView(
        title=stage.title,
        anchor=f"line-{stage.span.line}" if stage.title else "",
        when=when,
        trial=stage.trial,
        beside=margin.heading(place, stage),
        blocks=shown_blocks(stage.blocks, site, margin, above + 1 if stage.title else above),
    )
