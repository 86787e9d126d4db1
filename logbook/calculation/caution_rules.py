"""The rules of cautions.toml as records. Holds no knowledge of its own and judges nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from logbook.reference import load

Signs = frozenset[str]
"""What speaks for a danger, each as a kind and a name: "class acid", "stage melt"."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of cautions.toml: one sign of each group in `meets` raises it.

    `covered_by` names a graver rule that says it all, where that one is raised.
    """

    name: str
    signal: str  # danger, warning
    meets: tuple[Signs, ...]
    text: str
    do: str
    source: str
    standing: str
    note: str
    covered_by: str


@dataclass(frozen=True, slots=True)
class RuleBook:
    """The rules, and the words and steps by which an entry gives a sign.

    `hot` are the kinds of stage that are hot whatever their entries say; `done` are verbs by
    which an item that is no entry tells of something done.
    """

    rules: tuple[Rule, ...]
    words: Mapping[str, Signs]
    steps: Mapping[str, Signs]
    hot: frozenset[str]
    done: frozenset[str]


@cache
def rule_book() -> RuleBook:
    """The content of cautions.toml."""
    data = load("cautions.toml")
    sources = data["sources"]
    rules = tuple(
        Rule(
            row["id"],
            row["signal"],
            tuple(frozenset(group) for group in row["meets"]),
            row["text"],
            row["do"],
            "; ".join(sources[name] for name in row["source"]),
            row["standing"],
            row.get("note", ""),
            row.get("covered_by", ""),
        )
        for row in data["caution"]
    )
    words = {word: frozenset(signs) for word, signs in data["words"].items()}
    steps = {step: frozenset(signs) for step, signs in data["steps"].items()}
    hot = frozenset(data["hot"]["stages"])
    return RuleBook(rules, words, steps, hot, frozenset(data["done"]["verbs"]))


@cache
def words_asked_for(kind: str) -> frozenset[str]:
    """The words that rules ask for as signs of a kind: "word" or "said"."""
    prefix = f"{kind} "
    groups = (group for rule in rule_book().rules for group in rule.meets)
    return frozenset(
        sign.removeprefix(prefix) for group in groups for sign in group if sign.startswith(prefix)
    )
