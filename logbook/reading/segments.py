"""Where one clause of an entry ends and the next begins: at a comma, or at a word that opens one.

What stands in a clause is read elsewhere.
"""

from __future__ import annotations

import re

_OPENERS = ("at", "for", "with", "into", "from", "by", "on", "until", "as", "each")
# Every alternative begins with a plain letter or sign, so that the engine can skip to the next
# place where one may stand; the look behind it comes after that letter.
_MARKS = re.compile(
    r"\[[^\[\]\n]+\]|[,;](?=\s|$)|w(?<![\w-]w)ould\s+cost(?![\w-])|"
    r"i(?<![\w-]i)(?<!\d sq i)n(?![\w-])|"  # 10 sq in
    r"s(?<![\w-]s)ampling(?=\s+(?:±|\+|\d|about\b|~))|"
    + "|".join(rf"{word[0]}(?<![\w-]{word[0]}){word[1:]}(?![\w-])" for word in _OPENERS)
)


def segments(text: str, start: int, end: int) -> list[tuple[str, int, int]]:
    """The clauses between two offsets as (opening word, start, end); the head has none.

    >>> text = "412 g contacts [RC-3], silver 71 % at 70 C"
    >>> [(word, text[a:b].strip()) for word, a, b in segments(text, 0, len(text))]
    [('', '412 g contacts [RC-3]'), (',', 'silver 71 %'), ('at', '70 C')]
    """
    pieces: list[tuple[str, int, int]] = []
    word, position = "", start
    for mark in _MARKS.finditer(text, start, end):
        sign = mark[0]
        if sign[0] == "[":
            continue
        pieces.append((word, position, mark.start()))
        word, position = ("," if sign == ";" else sign), mark.end()
    pieces.append((word, position, end))
    return pieces
