"""The body of a log or fixed page: its prose, pictures and entries, in the order written."""

from __future__ import annotations

import re
from itertools import takewhile

from logbook.model.run import Block as PageBlock
from logbook.model.run import Prose
from logbook.reading.blocks import Block, BlockKind
from logbook.reading.context import Reading
from logbook.reading.entries import read_entry
from logbook.reading.picture_lines import ask_about_pictures, pictures_of
from logbook.reading.private import is_hidden, say_hidden
from logbook.reading.stages import kinds_named
from logbook.reading.vocabulary import action_words
from logbook.source import Span

_HEADINGS = frozenset({BlockKind.TITLE, BlockKind.STAGE})
_LOOKS_LIKE_ENTRY = re.compile(
    r"([^\W\d_]+)\s+(?:about\s+|some\s+)?\d[\d.,]*\s?(?:g|kg|mg|mL|ml|L|oz|ozt|dwt|lb|gal)\b"
)


def read_body(reading: Reading, blocks: list[Block]) -> tuple[PageBlock, ...]:
    """The blocks of a stage as prose, pictures and entries."""
    body: list[PageBlock] = []
    index = 0
    while index < len(blocks):
        block = blocks[index]
        index += 1
        if reading.speaks_of_private and is_hidden(block):
            below = _below(blocks, index, block)
            say_hidden(reading, block)
            body += [Prose(one.whole, private=True) for one in (block, *below)]
            index += len(below)
        elif block.kind is BlockKind.ITEM:
            nested = _nested(blocks, index, block.depth)
            index += _read_item(reading, block, nested, body)
        elif pictures := pictures_of(block):
            body += pictures
        else:
            _asked_about(reading, block)
            body.append(Prose(block.whole))
    return _joined(body)


def _below(blocks: list[Block], index: int, block: Block) -> list[Block]:
    """What a private block hides with it: what is nested below it, or stands under a heading."""
    if block.depth:
        return _nested(blocks, index, block.depth)
    if not _is_heading(block):
        return []
    return list(takewhile(lambda one: not _is_heading(one), blocks[index:]))


def _is_heading(block: Block) -> bool:
    return block.kind in _HEADINGS or block.whole.text.startswith("#")


def _nested(blocks: list[Block], index: int, depth: int) -> list[Block]:
    """What is nested below a list item."""
    end = index
    while end < len(blocks) and (
        blocks[end].depth > depth
        or (blocks[end].depth == depth and blocks[end].kind is BlockKind.OTHER)
    ):
        end += 1
    return blocks[index:end]


def _read_item(reading: Reading, block: Block, nested: list[Block], body: list[PageBlock]) -> int:
    """Read a list item into the body; how many of the blocks below it belong to it.

    Lines below a test are its lines, and what stands below a private note is private.
    """
    if "![" in block.whole.text:
        ask_about_pictures(reading, block)
    hidden = [one for one in nested if reading.speaks_of_private and is_hidden(one)]
    lines = tuple([one.words for one in nested if one not in hidden])
    entry = read_entry(reading, block.words, lines)
    if entry is None:
        body.append(Prose(block.whole))
        return 0
    body.append(entry)
    if entry.action == "private":
        body += [Prose(one.whole, private=True) for one in nested]
        return len(nested)
    if not nested or entry.action != "tested" or len(entry.tests) != len(lines):
        return 0
    for one in hidden:
        say_hidden(reading, one)
    body += [Prose(one.whole, private=True) for one in hidden]
    return len(nested)


def _asked_about(reading: Reading, block: Block) -> None:
    """Say once where a paragraph begins like an entry, or a small heading like a stage."""
    if block.kind is BlockKind.OTHER and block.whole.text.startswith("###"):
        _small_heading(reading, block)
    if block.kind is not BlockKind.PARAGRAPH:
        return
    ask_about_pictures(reading, block)
    match = _LOOKS_LIKE_ENTRY.match(block.words.text)
    if match is None:
        return
    word = match[1].lower()
    if word not in action_words():
        return
    start = block.words.start
    reading.doubt(
        "entry-not-read",
        start,
        start + match.end(),
        "this paragraph begins like an entry",
        "prose: nothing in it is counted",
        'put it on a line of its own that begins with "- "',
    )


def _small_heading(reading: Reading, block: Block) -> None:
    if not kinds_named(block.whole.text.lstrip("# ")):
        return
    reading.doubt(
        "heading-small",
        block.whole.start,
        block.whole.end,
        "this heading names a stage, and is no second-level heading",
        "prose: what stands below it belongs to the stage above",
        f'write "## {block.whole.text.lstrip("# ")}" if a stage begins here',
    )


def _joined(body: list[PageBlock]) -> tuple[PageBlock, ...]:
    """Prose that follows prose is one block, so that lists and paragraphs stay whole."""
    joined: list[PageBlock] = []
    for block in body:
        before = joined[-1] if joined else None
        if (
            isinstance(block, Prose)
            and isinstance(before, Prose)
            and block.private == before.private
            and block.span.start >= before.span.end
        ):
            span = Span(block.span.source, before.span.start, block.span.end)
            joined[-1] = Prose(span, block.private)
        else:
            joined.append(block)
    return tuple(joined)
