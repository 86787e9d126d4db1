"""One log's text becomes a `Run` and what there is to say about it. Nothing raises."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from logbook.findings import Finding
from logbook.model.book import Customs
from logbook.model.entry import Entry
from logbook.model.run import Block as PageBlock
from logbook.model.run import Fact, Prose, Run, Stage
from logbook.reading.blocks import Block, BlockKind, blocks_of
from logbook.reading.body import read_body
from logbook.reading.context import Reading
from logbook.reading.facts import (
    KNOWN_WORDS,
    fact,
    facts_alone,
    read_facts,
    run_day,
    run_metals,
    run_status,
    writes_comma,
)
from logbook.reading.likeness import read_likeness, read_meant
from logbook.reading.private import is_hidden, say_hidden
from logbook.reading.rooms import read_room
from logbook.reading.stages import read_heading
from logbook.source import SourceText, Span


def read_log(source: SourceText, customs: Customs) -> tuple[Run, tuple[Finding, ...]]:
    """The run that a log tells of, and the findings in it."""
    reading = Reading(source, customs)
    title, facts, rest = head_of(reading, blocks_of(source))
    if numbers := fact(facts, "numbers"):
        reading.customs = replace(customs, decimal_comma=writes_comma(numbers.value))
    day = run_day(reading, facts, source.name)
    reading.near = day
    if day is None:
        _without_date(reading)
    opening, stages = _stages(reading, rest)
    public = fact(facts, "public")
    continues = fact(facts, "continues")
    run = Run(
        source.name,
        source,
        title or source.name,
        day,
        run_status(reading, facts),
        run_metals(reading, facts),
        continues.value.strip("[]") if continues else "",
        None if public is None else public.value.lower() in {"yes", "true", "all"},
        facts,
        opening,
        stages,
        read_likeness(reading, facts),
        read_meant(reading, facts),
        read_room(reading, facts),
    )
    return run, tuple(reading.findings)


def head_of(reading: Reading, blocks: list[Block]) -> tuple[str, tuple[Fact, ...], list[Block]]:
    """Title, facts and the blocks after them."""
    title = ""
    if blocks and blocks[0].kind is BlockKind.TITLE:
        title, blocks = " ".join(blocks[0].words.text.split()), blocks[1:]
    facts: list[Fact] = []
    while blocks and blocks[0].kind is BlockKind.PARAGRAPH:
        found, end = read_facts(reading, blocks[0].words)
        # A later paragraph may begin "Idea: ...", and is prose unless the word is one of ours.
        later = bool(facts) and bool(found) and found[0].word.lower() not in KNOWN_WORDS
        if later or end == blocks[0].words.start:
            break
        facts += found
        if reading.source.text[end : blocks[0].words.end].strip():
            left = Span(reading.source, end, blocks[0].words.end)
            blocks = [Block(BlockKind.PARAGRAPH, left, left), *blocks[1:]]
            break
        blocks = blocks[1:]
    further, blocks = _facts_further_down(reading, blocks)
    facts += further
    # A private line among the facts becomes a block, which is hidden like any other.
    private = [Block(BlockKind.OTHER, span, span) for span in reading.hidden]
    return title, tuple(facts), [*private, *blocks]


def _facts_further_down(reading: Reading, blocks: list[Block]) -> tuple[list[Fact], list[Block]]:
    """Facts that stand below the prose of the opening, in a paragraph that holds nothing else."""
    facts: list[Fact] = []
    kept: list[Block] = []
    for index, block in enumerate(blocks):
        if block.kind in (BlockKind.STAGE, BlockKind.ITEM):
            return facts, [*kept, *blocks[index:]]
        found = facts_alone(reading, block.words) if block.kind is BlockKind.PARAGRAPH else ()
        facts += found
        if not found:
            kept.append(block)
    return facts, kept


def _without_date(reading: Reading) -> None:
    end = reading.source.text.find("\n")
    reading.doubt(
        "date-missing",
        0,
        end if end > 0 else len(reading.source.text),
        "this log has no date",
        "a run without a date: it is left out of totals by month and year",
        "put the date into the file's name, or a line such as: Date: 2026-03-14",
    )


def _stages(
    reading: Reading, blocks: list[Block]
) -> tuple[tuple[PageBlock, ...], tuple[Stage, ...]]:
    """The prose before the first stage, and the stages."""
    heads = [index for index, block in enumerate(blocks) if block.kind is BlockKind.STAGE]
    first = heads[0] if heads else len(blocks)
    opening = read_body(reading, blocks[:first])
    stages: list[Stage] = []
    entry = next((i for i, block in enumerate(opening) if isinstance(block, Entry)), None)
    if entry is not None:
        # Entries before the first heading are work of a stage that has no name.
        stages.append(Stage(opening[entry].span, "", (), None, False, opening[entry:]))
        opening = opening[:entry]
    for head, end in pairwise([*heads, len(blocks)]):
        if reading.speaks_of_private and is_hidden(blocks[head]):
            say_hidden(reading, blocks[head])
            span = Span(reading.source, blocks[head].whole.start, blocks[end - 1].whole.end)
            private = Prose(span, private=True)
            if stages:
                stages[-1] = replace(stages[-1], blocks=(*stages[-1].blocks, private))
            else:
                opening = (*opening, private)
            continue
        title, kinds, trial, when = read_heading(reading, blocks[head].words)
        if when is not None and when.day is not None:
            reading.near = when.day
        body = read_body(reading, blocks[head + 1 : end])
        stages.append(Stage(blocks[head].words, title, kinds, when, trial, body))
    return opening, tuple(stages)
