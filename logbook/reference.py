"""The knowledge of the trade: metals, reagents, stages and actions, from logbook/data/.

Each file states the source and the standing of what it says. This module turns them into
records once per process; it holds no knowledge of its own.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from logbook.model.amount import Dimension


@dataclass(frozen=True, slots=True)
class Metal:
    """A metal of metals.toml."""

    name: str
    symbol: str
    also: tuple[str, ...]
    precious: bool
    atomic_weight: float  # g/mol
    density: float | None  # g/cm3 at 20 C


@dataclass(frozen=True, slots=True)
class Reagent:
    """A reagent or supply of reagents.toml.

    `state` is liquid, solid or gas; `classes` are what the rules of cautions.toml name.
    """

    name: str
    also: tuple[str, ...]
    formula: str
    state: str
    classes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StageKind:
    """A kind of stage of stages.toml.

    A wet stage leaves its charge standing where nothing was got from it; a separation
    conserves total mass; a trial counts in cost and hours and is shown apart. Where a stage
    stands by, the charge of the stage before does not go in by itself.
    """

    name: str
    also: tuple[str, ...]
    wet: bool
    separation: bool
    trial: bool
    stands_by: bool


@dataclass(frozen=True, slots=True)
class Action:
    """An action of actions.toml.

    `reads` names the reader for what follows the word; `acts_on` is the kinds of amount it
    can act on, empty where any will do; `says` is one line for the guide.
    """

    name: str
    forms: tuple[str, ...]
    plain: tuple[str, ...]
    reads: str
    acts_on: tuple[Dimension, ...]
    says: str


@cache
def load(name: str) -> dict[str, Any]:
    """The content of a file of logbook/data/, read once; nobody may change it."""
    return tomllib.loads((files("logbook") / "data" / name).read_text(encoding="utf-8"))


@cache
def metals() -> Mapping[str, Metal]:
    """Metals by name."""
    return {
        row["name"]: Metal(
            row["name"],
            row["symbol"],
            tuple(row.get("also", ())),
            row["precious"],
            float(row["atomic_weight"]),
            float(row["density"]) if "density" in row else None,
        )
        for row in load("metals.toml")["metal"]
    }


@cache
def metal_words() -> Mapping[str, str]:
    """Every word for a metal, in lower case, with the metal's name. Symbols keep their case."""
    words = {}
    for metal in metals().values():
        words[metal.symbol] = metal.name
        for word in (metal.name, *metal.also):
            words[word.lower()] = metal.name
    return words


@cache
def reagents() -> Mapping[str, Reagent]:
    """Reagents and supplies by name."""
    return {
        row["name"]: Reagent(
            row["name"],
            tuple(row.get("also", ())),
            row.get("formula", ""),
            row["state"],
            tuple(row.get("classes", ())),
        )
        for row in load("reagents.toml")["reagent"]
    }


@cache
def reagent_words() -> Mapping[str, str]:
    """Every word for a reagent, in lower case, with the reagent's name."""
    words = {}
    for reagent in reagents().values():
        for word in (reagent.name, *reagent.also):
            words[word.lower()] = reagent.name
    return words


@cache
def vocabularies() -> Mapping[str, frozenset[str]]:
    """The words of words.toml, in lower case, by the vocabulary they belong to.

    >>> "button" in vocabularies()["form"], "slag" in vocabularies()["not_metal"]
    (True, True)
    """
    return {row["name"]: frozenset(row["words"]) for row in load("words.toml")["vocabulary"]}


@cache
def marks() -> Mapping[tuple[str, int], float]:
    """The fineness that each mark of marks.toml promises, by metal and mark.

    >>> marks()["gold", 585]
    0.585
    """
    return {(row["metal"], row["mark"]): row["fineness"] for row in load("marks.toml")["mark"]}


@cache
def stage_kinds() -> Mapping[str, StageKind]:
    """Kinds of stage by name."""
    return {
        row["name"]: StageKind(
            row["name"],
            tuple(row.get("also", ())),
            row.get("wet", False),
            row.get("separation", False),
            row.get("trial", False),
            row.get("stands_by", False),
        )
        for row in load("stages.toml")["stage"]
    }


@cache
def stage_words() -> Mapping[str, str]:
    """Every word for a kind of stage, in lower case, with the kind's name."""
    words = {}
    for kind in stage_kinds().values():
        for word in (kind.name, *kind.also):
            words[word.lower()] = kind.name
    return words


@cache
def actions() -> Mapping[str, Action]:
    """Actions by name: the past form in which entries are shown."""
    return {
        row["name"]: Action(
            row["name"],
            tuple(row.get("past", [row["name"]])),
            tuple(row["plain"]),
            row["reads"],
            tuple(Dimension(word) for word in row.get("acts_on", ())),
            row.get("says", ""),
        )
        for row in load("actions.toml")["action"]
    }
