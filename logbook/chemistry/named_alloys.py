"""Alloys that go by a name: what named_alloys.toml lets one take of them. Assays nothing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from logbook.chemistry.ranges import Range
from logbook.reference import load


@dataclass(frozen=True, slots=True)
class NamedAlloy:
    """An alloy by its name. `parts` are shares of the weight [g/g] by metal."""

    name: str
    parts: Mapping[str, Range]
    source: str
    standing: str


@cache
def _words() -> Mapping[str, NamedAlloy]:
    data = load("named_alloys.toml")
    usual = data["meta"]["defaults"]["parts"]
    words: dict[str, NamedAlloy] = {}
    for row in data["alloy"]:
        parts = {metal: _share(share) for metal, share in row["parts"].items()}
        source = data["sources"][usual["source"]]
        alloy = NamedAlloy(row["name"], parts, source, usual["standing"])
        words |= dict.fromkeys([row["name"].lower(), *row["also"]], alloy)
    return words


def _share(said: Any) -> Range:
    return Range(*said) if isinstance(said, list) else Range.exactly(said)


@cache
def _pattern() -> re.Pattern[str]:
    words = sorted(_words(), key=len, reverse=True)
    return re.compile(r"(?<!\w)(?:" + "|".join(map(re.escape, words)) + r")(?!\w)", re.I)


def alloy_named(words: str) -> NamedAlloy | None:
    """The alloy that some words name; None where they name none.

    >>> alloy_named("old Sterling spoons").name, alloy_named("silver")
    ('sterling silver', None)
    """
    found = _pattern().search(words)
    return _words()[found[0].lower()] if found else None
