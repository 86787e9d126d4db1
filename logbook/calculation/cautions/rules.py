"""The rules of cautions.toml as records. Holds no knowledge of its own and judges nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

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

    def meets_in(self, signs: Signs) -> bool:
        """Whether the signs hold one of each group.

        A thing that is one or the other stands for one group only: it never meets itself.
        """
        for group in self.meets:
            if group.isdisjoint(signs):
                return False
        found = [group & signs for group in self.meets]
        open_kinds = [group for group in found if group <= _open_kinds()]
        return len(frozenset().union(*open_kinds)) >= len(open_kinds)


@dataclass(frozen=True, slots=True)
class RuleBook:
    """The rules, and the words and steps by which an entry gives a sign.

    `hot` are the kinds of stage that are hot whatever their entries say; `done` are verbs by
    which an item that is no entry tells of something done. `states` are words for a state,
    `goods` names of goods that are no places, `told` the rules that a paragraph can raise,
    `poured` those it can raise with what is in the vessel, `ignored` the words passed over in it.
    """

    rules: tuple[Rule, ...]
    words: Mapping[str, Signs]
    steps: Mapping[str, Signs]
    hot: frozenset[str]
    done: frozenset[str]
    states: Mapping[str, Signs]
    goods: frozenset[str]
    told: frozenset[str]
    poured: frozenset[str]
    ignored: tuple[str, ...]


@cache
def _data() -> dict[str, Any]:
    return load("cautions.toml")


@cache
def _open_kinds() -> Signs:
    """The signs of things that are one or the other."""
    return frozenset(_data()["either"])


def _with_open_kinds(group: list[str]) -> Signs:
    """A group of signs, with the things that may turn out to be one of them."""
    either = _data()["either"].items()
    return frozenset(group).union(
        sign for sign, kinds in either if not set(group).isdisjoint(kinds)
    )


@cache
def rule_book() -> RuleBook:
    """The content of cautions.toml."""
    data = _data()
    sources = data["sources"]
    rules = tuple(
        Rule(
            row["id"],
            row["signal"],
            tuple(_with_open_kinds(group) for group in row["meets"]),
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
    states = {w: frozenset({f"state {s}"}) for s, ws in data["states"].items() for w in ws}
    prose = data["prose"]
    told, poured = frozenset(prose["rules"]), frozenset(prose["poured"])
    done, goods = frozenset(data["done"]["verbs"]), frozenset(data["names"]["goods"])
    return RuleBook(
        rules, words, steps, hot, done, states, goods, told, poured, tuple(prose["ignored"])
    )


@cache
def rules_asking() -> Mapping[str, Sequence[int]]:
    """For each sign the places of the rules that ask for it."""
    places: dict[str, list[int]] = {}
    for place, rule in enumerate(rule_book().rules):
        for sign in frozenset().union(*rule.meets):
            places.setdefault(sign, []).append(place)
    return places


@cache
def words_asked_for(kind: str) -> frozenset[str]:
    """The words that rules ask for as signs of a kind: "word" or "said"."""
    prefix = f"{kind} "
    groups = (group for rule in rule_book().rules for group in rule.meets)
    return frozenset(
        sign.removeprefix(prefix) for group in groups for sign in group if sign.startswith(prefix)
    )
