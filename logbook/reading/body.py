"""The body of a log or fixed page: its prose, pictures and entries, in the order written."""

from __future__ import annotations

import re

from logbook.model.entry import Entry
from logbook.model.run import Block as PageBlock
from logbook.model.run import Picture, Prose
from logbook.reading.blocks import Block, BlockKind
from logbook.reading.context import Reading
from logbook.reading.entries import read_entry
from logbook.reading.vocabulary import action_words
from logbook.source import Span

_PICTURE = re.compile(r"!\[([^\]\n]*)\]\(\s*<?([^)>\s]+)>?(?:\s+\"[^\"\n]*\")?\s*\)")
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
        if block.kind is BlockKind.ITEM:
            nested = _nested(blocks, index, block.depth)
            entry = read_entry(reading, block.words, tuple([b.words for b in nested]))
            if entry is None:
                body.append(Prose(block.whole))
                continue
            body.append(entry)
            if nested:
                index = _after_nested(entry, index, nested, body)
        elif pictures := _pictures(block):
            body += pictures
        else:
            _asked_about(reading, block)
            body.append(Prose(block.whole))
    return _joined(body)


def _nested(blocks: list[Block], index: int, depth: int) -> list[Block]:
    """What is nested below a list item."""
    end = index
    while end < len(blocks) and (
        blocks[end].depth > depth
        or (blocks[end].depth == depth and blocks[end].kind is BlockKind.OTHER)
    ):
        end += 1
    return blocks[index:end]


def _after_nested(entry: Entry, index: int, nested: list[Block], body: list[PageBlock]) -> int:
    """What lies below an entry belongs to it: lines of a test, or what a private note hides."""
    if entry.action == "private":
        body += [Prose(block.whole, private=True) for block in nested]
        return index + len(nested)
    if entry.action == "tested" and len(entry.tests) == len(nested):
        return index + len(nested)
    return index


def _pictures(block: Block) -> list[Picture]:
    """The pictures of a paragraph that holds nothing else."""
    text = block.whole.text
    if not text.startswith("!["):
        return []
    found = list(_PICTURE.finditer(text))
    rest = _PICTURE.sub("", text)
    if not found or rest.strip():
        return []
    start = block.whole.start
    return [
        Picture(
            Span(block.whole.source, start + match.start(), start + match.end()),
            match[2],
            match[1].strip(),
        )
        for match in found
    ]


def _asked_about(reading: Reading, block: Block) -> None:
    """Say once where a paragraph begins like an entry."""
    if block.kind is not BlockKind.PARAGRAPH:
        return
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
