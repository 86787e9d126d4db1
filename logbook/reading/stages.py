"""Stage markers: what kind of stage a heading names, and when it began."""

from __future__ import annotations

import re
from functools import cache

from logbook.model.entry import When
from logbook.reading.context import Reading
from logbook.reading.dates import read_when
from logbook.reference import stage_kinds, stage_words
from logbook.source import Span

_WORD = re.compile(r"[^\W_]+(?:-[^\W_]+)*")
_SPLIT = re.compile(r"\s*,\s+|\s+[–—-]\s+|\s*:\s+")
_LAST_WORDS = re.compile(r"\s(?=\d[^,]*$)")
_BETWEEN = frozenset({"and", "then", "or"})
_LONGEST = 3


@cache
def kinds_named(title: str) -> tuple[str, ...]:
    """The kinds of stage that the first words of a heading name.

    >>> kinds_named("Dissolve and filter the contacts")
    ('dissolve', 'filter')
    >>> kinds_named("A quiet evening")
    ()
    """
    words = [word.lower() for word in _WORD.findall(title)]
    known = stage_words()
    kinds: list[str] = []
    index = 0
    while index < len(words):
        for length in range(min(_LONGEST, len(words) - index), 0, -1):
            kind = known.get(" ".join(words[index : index + length]))
            if kind is not None:
                kinds.append(kind)
                index += length
                break
        else:
            if not kinds or words[index] not in _BETWEEN:
                break
            index += 1
    return tuple(dict.fromkeys(kinds))


def read_heading(reading: Reading, words: Span) -> tuple[str, tuple[str, ...], bool, When | None]:
    """Title, kinds, whether it is a trial, and when, from a stage marker.

    The title is the heading without its date.
    """
    text = reading.source.text
    when: When | None = None
    title = words.text
    for joint in _SPLIT.finditer(text, words.start, words.end):
        when = read_when(reading, joint.end(), words.end)
        if when is not None:
            rest = text[when.span.end : words.end]
            title = text[words.start : joint.start()] + rest
            break
    else:
        when, title = _date_at_end(reading, words)
    title = " ".join(title.split())
    kinds = kinds_named(title)
    trial = any(stage_kinds()[kind].trial for kind in kinds)
    return title, kinds, trial, when


def _date_at_end(reading: Reading, words: Span) -> tuple[When | None, str]:
    """A date that ends a heading without a comma before it: "Melt 2 February"."""
    text = reading.source.text
    for gap in _LAST_WORDS.finditer(text, words.start, words.end):
        when = read_when(reading, gap.end(), words.end)
        if when is not None and when.span.end == words.end:
            return when, text[words.start : gap.start()]
    return None, words.text
