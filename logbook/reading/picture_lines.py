"""Pictures on lines of their own, and those that stand where they are not shown."""

from __future__ import annotations

import re

from logbook.model.run import Picture
from logbook.reading.blocks import Block, BlockKind
from logbook.reading.context import Reading
from logbook.source import SourceText, Span

_PICTURE = re.compile(  # CommonMark 0.31, 6.4 and 6.3: words, address, title
    r"!\[(?P<words>[^\[\]\n]*)\]\([ \t]*"
    r"(?:<(?P<framed>[^<>\n]+)>|(?P<bare>(?:[^()<>\s]|\([^()\s]*\))+))"
    r"(?:[ \t]+\"(?P<title>[^\"\n]*)\")?[ \t]*\)"
)
_MEANT = re.compile(r"!\[[^\[\]\n]*\]\([^()\n]*\)")


def pictures_of(block: Block) -> list[Picture]:
    """The pictures of a paragraph that holds nothing else."""
    text = block.whole.text
    if "![" not in text or not text.lstrip().startswith("!["):
        return []
    found = list(_PICTURE.finditer(text))
    rest = _PICTURE.sub("", text)
    if not found or rest.strip():
        return []
    return [_picture(match, block.whole.source, block.whole.start) for match in found]


def _picture(match: re.Match[str], source: SourceText, start: int) -> Picture:
    """A picture: its title is the caption, and its words are where it has no title."""
    words, title = match["words"].strip(), (match["title"] or "").strip()
    span = Span(source, start + match.start(), start + match.end())
    return Picture(span, match["framed"] or match["bare"], title or words, words if title else "")


def ask_about_pictures(reading: Reading, block: Block) -> None:
    """Say where a picture stands among words, where it is not shown."""
    if block.kind is BlockKind.OTHER or "![" not in block.whole.text:
        return
    for match in _MEANT.finditer(block.whole.text):
        spaced = " " in match[0].partition("](")[2]
        reading.doubt(
            "picture-in-words",
            block.whole.start + match.start(),
            block.whole.start + match.end(),
            "this picture is not shown",
            "only its words are",
            "a name with spaces stands in angle brackets: ![the bar](<the bar.jpg>)"
            if spaced
            else "give it a line of its own, with an empty line above it",
        )
