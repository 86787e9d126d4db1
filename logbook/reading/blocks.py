"""The blocks of a text with their lines: headings, list items, paragraphs, the rest.

The Markdown parser finds them; what stands in them is read from the raw lines, because only
those keep every character in its place.
"""

from __future__ import annotations

import re
from enum import Enum, auto

from markdown_it.token import Token

from logbook.commonmark import block_tokens
from logbook.record import record
from logbook.source import SourceText, Span


class BlockKind(Enum):
    """What a block is to the reader."""

    TITLE = auto()  # a first-level heading
    STAGE = auto()  # a second-level heading
    ITEM = auto()  # the first paragraph of a list item
    PARAGRAPH = auto()
    OTHER = auto()  # quotations, code, rules, lower headings: prose as it stands


@record(frozen=True, slots=True)
class Block:
    """A block: `words` is its own text without marker or hashes, `whole` its full lines.

    `depth` is 0 outside lists, 1 for an item of a list, 2 for one nested below it.
    """

    kind: BlockKind
    words: Span
    whole: Span
    depth: int = 0


_MARKER = re.compile(r"[ \t]*(?:[-*+]|\d{1,9}[.)])[ \t]+")
_MARKER_SIGNS = frozenset("-*+0123456789")
_HASHES = re.compile(r"[ \t]*#{1,6}[ \t]*")
_CLOSING = re.compile(r"[ \t]+#+[ \t]*$")


def blocks_of(source: SourceText) -> list[Block]:
    """Every block of a text, in order."""
    tokens = block_tokens(source.text)
    blocks: list[Block] = []
    index = 0
    while index < len(tokens):
        token = tokens[index]
        if token.type in _LISTS:
            index = _list_blocks(source, tokens, index, blocks)
            continue
        if token.map is not None and token.nesting >= 0 and token.level == 0:
            blocks.append(_top_block(source, token))
        index += 1
    return blocks


_LISTS = frozenset({"bullet_list_open", "ordered_list_open"})
_LIST_ENDS = frozenset({"bullet_list_close", "ordered_list_close"})
_QUOTES = frozenset({"blockquote_open", "blockquote_close"})


def _lines(source: SourceText, lines: list[int]) -> tuple[int, int]:
    """Offsets of a range of lines, without the line end and trailing space."""
    starts = source.line_starts
    start = starts[lines[0]] if lines[0] < len(starts) else len(source.text)
    end = starts[lines[1]] if lines[1] < len(starts) else len(source.text)
    text = source.text
    while end > start and text[end - 1] in " \t\r\n":
        end -= 1
    return start, end


def _top_block(source: SourceText, token: Token) -> Block:
    start, end = _lines(source, token.map or [0, 0])
    whole = Span(source, start, end)
    if token.type == "heading_open" and token.tag in {"h1", "h2"}:
        kind = BlockKind.TITLE if token.tag == "h1" else BlockKind.STAGE
        hashes = _HASHES.match(source.text, start, end)
        first = hashes.end() if hashes else start
        last = source.text.find("\n", first, end) if token.markup in {"=", "-"} else -1
        last = last if last >= 0 else end
        closing = _CLOSING.search(source.text, first, last) if hashes else None
        return Block(kind, Span(source, first, closing.start() if closing else last), whole)
    kind = BlockKind.PARAGRAPH if token.type == "paragraph_open" else BlockKind.OTHER
    return Block(kind, whole, whole)


def _list_blocks(source: SourceText, tokens: list[Token], index: int, blocks: list[Block]) -> int:
    """The items of a list and of the lists nested in it; the index after the list."""
    depth = in_quote = 0
    fresh = False  # whether the next paragraph is the first of its item
    while index < len(tokens):
        token = tokens[index]
        kind = token.type
        index += 1
        if kind == "list_item_open":
            fresh = True
        elif kind in _LISTS:
            depth += 1
        elif kind in _LIST_ENDS:
            depth -= 1
            if depth == 0:
                return index
        elif kind in _QUOTES:
            in_quote += token.nesting
        elif token.map is not None and kind != "inline" and not in_quote:
            blocks.append(_block_in_list(source, token, depth, fresh))
            fresh = False
    return index


def _block_in_list(source: SourceText, token: Token, depth: int, fresh: bool) -> Block:
    """A block in an item of a list; the words of a fresh item begin after its marker."""
    start, end = _lines(source, token.map or [0, 0])
    whole = Span(source, start, end)
    if not fresh:
        return Block(BlockKind.OTHER, whole, whole, depth)
    text = source.text
    marker = _MARKER.match(text, start, end)
    while marker and text[marker.end()] in _MARKER_SIGNS:
        again = _MARKER.match(text, marker.end(), end)
        if again is None:
            break
        marker = again if depth > 1 else None
    words = Span(source, marker.end(), end) if marker else whole
    is_item = token.type == "paragraph_open" and marker is not None
    return Block(BlockKind.ITEM if is_item else BlockKind.OTHER, words, whole, depth)
