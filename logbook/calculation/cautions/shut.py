"""Whether a text says that a working vessel was closed: the state `shut` of cautions.toml.

The lid of a bin, a bottle of borax and a vessel that was not closed are none of its business.
"""

from __future__ import annotations

import re
from functools import cache

from logbook.reference import load

_SENTENCE = re.compile(r"[^.!?;\n]+(?:\n(?![-*+])[^.!?;\n]+)*")
_NOT = re.compile(r"\b(?:not|never|without|nothing|no)\b|n't\b|n’t\b", re.IGNORECASE)


@cache
def _closing() -> re.Pattern[str]:
    """A verb, at most five words later a vessel, and what is said to be in it, if anything."""
    data = load("cautions.toml")["shut"]
    verbs = "|".join(map(re.escape, data["verbs"]))
    vessels = "|".join(map(re.escape, data["vessels"]))
    return re.compile(
        rf"\b(?:{verbs})\b(?:\s+[\w'’-]+){{0,5}}?\s+(?:{vessels})s?\b(?P<of>\s+of\b.*)?",
        re.IGNORECASE,
    )


@cache
def _content() -> re.Pattern[str]:
    words = "|".join(map(re.escape, load("cautions.toml")["shut"]["contents"]))
    return re.compile(rf"\b(?:{words})", re.IGNORECASE)


def tells_of_closing(text: str) -> bool:
    """Whether a sentence of a text says that a vessel at work was closed.

    >>> tells_of_closing("I closed the lid on the jar and went to bed.")
    True
    >>> tells_of_closing("I closed the lid of the bin. The jar stayed open.")
    False
    >>> tells_of_closing("I never closed the jar, and I closed the jar of borax.")
    False
    """
    return any(_closed(sentence) for sentence in _SENTENCE.findall(text))


def _closed(sentence: str) -> bool:
    return any(
        not _NOT.search(sentence, 0, found.end())
        and (found["of"] is None or _content().search(found["of"]) is not None)
        for found in _closing().finditer(sentence)
    )
