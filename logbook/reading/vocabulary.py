"""The words of the reader, gathered once from logbook/data/: actions, metals, reagents, vessels.

Looking a word up is all that happens here; what follows from it is decided by the readers.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from logbook.reference import Action, actions, load, metal_words, metals, reagent_words


@cache
def action_words() -> Mapping[str, tuple[Action, bool]]:
    """Every form of every action, with whether it is the plain form of a plan."""
    words: dict[str, tuple[Action, bool]] = {}
    for action in actions().values():
        for form in action.plain:
            words[form] = (action, True)
        for form in (action.name, *action.forms):
            words[form] = (action, False)
    return words


@cache
def action_starts() -> frozenset[str]:
    """The first words of actions that are written in several."""
    return frozenset(form.split(" ", 1)[0] for form in action_words() if " " in form)


@cache
def action_phrases() -> re.Pattern[str]:
    """Actions that are written in several words: "topped up with"."""
    forms = sorted((form for form in action_words() if " " in form), key=len, reverse=True)
    words = "|".join(re.escape(form).replace(r"\ ", r"\s+") for form in forms)
    return re.compile(rf"(?:{words})(?![\w-])", re.I)


@cache
def _lists() -> dict[str, Any]:
    return load("actions.toml")


@cache
def prose_words() -> frozenset[str]:
    """Words after an action that make it plain prose."""
    return frozenset(_lists()["prose"]["after"])


@cache
def describing_words() -> frozenset[str]:
    """Words of prose that may also describe a thing."""
    return frozenset(_lists()["prose"]["describing"])


@cache
def equipment_words() -> frozenset[str]:
    """Things of the bench that can break."""
    return frozenset(_lists()["equipment"]["words"])


@cache
def share_pattern() -> re.Pattern[str]:
    """Words for a part of a thing: "half of"."""
    words = sorted(_lists()["shares"], key=len, reverse=True)
    return re.compile(
        r"\s*(" + "|".join(map(re.escape, words)) + r")(?=\s|$)(?!\s+(?:a|an)\s)", re.I
    )


@cache
def shares() -> Mapping[str, float]:
    """The part that each of those words means."""
    table: dict[str, float] = _lists()["shares"]
    return table


@cache
def vessel_pattern() -> re.Pattern[str]:
    """A number of vessels: "3 beakers"."""
    words = "|".join(_lists()["vessels"]["words"])
    number = r"(\d+|two|three|four|five|six)"
    return re.compile(
        rf"\s*(?:each of\s+)?(?:the\s+)?{number}\s+(?:[a-z]+\s+)?(?:{words})\b",
        re.I,
    )


_LONGEST_NAME = 8  # words of a thing's name that are looked at
SMALL_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}


@cache
def metal_pattern() -> re.Pattern[str]:
    """A precious metal's name anywhere in some words."""
    precious = {metal.name for metal in metals().values() if metal.precious}
    words = [word for word, name in metal_words().items() if name in precious and len(word) > 2]
    return re.compile(r"\b(?:" + "|".join(map(re.escape, words)) + r")\b", re.I)


def metal_named(word: str) -> str | None:
    """The metal a word names; a symbol only as it is written in chemistry."""
    words = metal_words()
    return words.get(word) if len(word) <= 2 else words.get(word.lower())


@cache
def reagent_named(words: str) -> str:
    """The reagent some words name, with leading and trailing words of the writer's own dropped.

    >>> reagent_named("cold distilled water")
    'distilled water'
    >>> reagent_named("relay contacts")
    ''

    What a thing is for names no reagent:

    >>> reagent_named("urea to kill the nitric")
    'urea'

    Some are called by half their names:

    >>> reagent_named("hot distilled")
    'distilled water'
    """
    known = reagent_words()
    parts = words.lower().partition(" to ")[0].split()[:_LONGEST_NAME]
    for length in range(len(parts), 0, -1):
        for start in range(len(parts) - length, -1, -1):
            name = known.get(" ".join(parts[start : start + length]))
            if name is not None:
                return name
    return _lists()["short"].get(parts[-1], "") if parts else ""


@cache
def finding_words() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Words by which the finding of a spot test is known, in the order they are looked for."""
    table = _lists()["findings"]

    def words(name: str) -> str:
        return "(?:" + "|".join(map(re.escape, table[name])) + ")"

    none = rf"^{words('none')}\b|^{words('none_alone')}$"
    patterns = {
        "unclear": rf"\b{words('unclear')}\b",
        "none": none,
        "faint": rf"\b{words('faint')}\b",
        "strong": rf"\b{words('strong')}\b",
    }
    return tuple((name, re.compile(pattern, re.I)) for name, pattern in patterns.items())


def finding_of(seen: str) -> str:
    """What a spot test found, from the words for what was seen.

    >>> finding_of("no cloud"), finding_of("faint purple"), finding_of("clear violet")
    ('none', 'faint', 'clear')
    """
    if not seen:
        return "unclear"
    for name, pattern in finding_words():
        if pattern.search(seen):
            return name
    return "clear"
