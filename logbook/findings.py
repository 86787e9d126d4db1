"""What the program has to say about a text: a finding is a value, never an exception.

A finding names the doubtful words and says what was understood and what to write instead.
How it is printed, on the terminal or on a page, is decided elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from logbook.source import Span


class Weight(StrEnum):
    """How much a finding weighs."""

    ERROR = "error"  # the entry, or a part of it, could not be used
    DOUBT = "doubt"  # it was used, in the reading that is shown


@dataclass(frozen=True, slots=True)
class Finding:
    """One problem in a log.

    `headline` stands alone: lower case, without a full stop.
    `understood` says which reading was used; `hint` says what to write instead.
    """

    code: str
    weight: Weight
    headline: str
    span: Span
    understood: str = ""
    hint: str = ""

    @property
    def sort_key(self) -> tuple[str, int, int, str]:
        """Order in which findings are shown: by file, then by place."""
        return self.span.path, self.span.start, self.span.end, self.code


def nearest_word(word: str, known: Iterable[str]) -> str | None:
    """The known word most like a word that is not known, or None where none is alike.

    >>> nearest_word("gramm", ["gram", "grain", "litre"])
    'gram'
    """
    from difflib import get_close_matches  # needed only where something is wrong

    close = get_close_matches(word.lower(), sorted(known), n=1, cutoff=0.7)
    return close[0] if close else None


def differs_by_one(word: str, other: str) -> bool:
    """Whether one letter was added, dropped or changed, or two neighbours were swapped.

    >>> differs_by_one("aded", "added"), differs_by_one("tkoe", "take"), differs_by_one("a", "abc")
    (True, False, False)
    """
    if abs(len(word) - len(other)) > 1:
        return False
    start = 0
    while start < min(len(word), len(other)) and word[start] == other[start]:
        start += 1
    a, b = word[start:], other[start:]
    return a[1:] == b or a == b[1:] or a[1:] == b[1:] or (a[:2] == b[1::-1] and a[2:] == b[2:])
