"""What was meant to be private though it is not written as a private entry.

The safe side is to hide it: the whole block is left out of the site and counts for nothing,
and `proof` says so. Words that only look alike ("a private seller", at the head of a paragraph)
are hidden too; whoever reads that can write them otherwise.
"""

from __future__ import annotations

import re

from logbook.reading.blocks import Block, BlockKind
from logbook.reading.context import Reading

_MARKUP = r"[\s>*_+#.`~(\[\]xX\d-]*"
_OPENS = re.compile(rf"{_MARKUP}privat", re.I)
_INSIDE = re.compile(
    rf"[(\[]\s*[*_]*privat|[,;]\s*[*_]*privat\w*\s*:|\n{_MARKUP}privat\w*\s*[*_]*:", re.I
)
_ENTRY = re.compile(r"private\b", re.I)


def meant_as_private(text: str) -> bool:
    """Whether some words open a private note, at their head or within.

    >>> meant_as_private("> **Private:** the neighbour complained")
    True
    >>> meant_as_private("added 20 g salt, private: from the shop next door")
    True
    >>> meant_as_private("a tin from a private seller")
    False
    """
    return bool(_OPENS.match(text) or _INSIDE.search(text))


def is_hidden(block: Block) -> bool:
    """Whether a block is to be hidden, apart from entries that say `private` as they should."""
    if block.kind is BlockKind.ITEM and _ENTRY.match(block.words.text):
        return False
    return meant_as_private(block.whole.text)


def say_hidden(reading: Reading, block: Block) -> None:
    """Report a block that is hidden, so that its writer can put it right."""
    reading.doubt(
        "private-elsewhere",
        block.whole.start,
        block.whole.end,
        "this speaks of something private, and is no private entry",
        "left out of the site, and nothing in it is counted",
        'put what is private on a line of its own that begins with "- private"',
    )
