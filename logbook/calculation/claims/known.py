"""A claim with all that the book knows about what it speaks of: its run, things, prices, rates.

Only looked up here, and nothing is worked out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.calculation.claims.index import Known
from logbook.calculation.claims.written import Written
from logbook.calculation.figure import Figure
from logbook.calculation.results import MetalBalance, Role, RunFigures, Thing
from logbook.model.entry import Claim, Composition, Entry
from logbook.reference import metal_words


@dataclass(frozen=True, slots=True)
class Reading:
    """One way in which a claim can be meant: what the book gives for it, and what that is."""

    figure: Figure
    basis: str  # ends "it is less than ..."


@dataclass(frozen=True, slots=True)
class Found:
    """What the book gives for a claim: the kind of it, each way to read it, what it rests on."""

    kind: str
    readings: tuple[Reading, ...]
    premises: tuple[str, ...] = ()
    said: Written | None = None  # the figure that was claimed, where it is not the first one


@dataclass(frozen=True, slots=True)
class Claimed:
    """A claim with the run that it stands in, and all that the book knows."""

    entry: Entry
    claim: Claim
    run: RunFigures
    known: Known

    @property
    def words(self) -> str:
        """The words of the claim, in small letters."""
        return f"{self.claim.what} {self.claim.of}".strip().lower()

    def says(self, pattern: str) -> bool:
        """Whether the words of the claim hold a pattern."""
        return re.search(pattern, self.words) is not None

    @property
    def in_all(self) -> bool:
        """Whether it covers everything that led there."""
        return self.entry.in_all or self.says(r"\bin all\b|\ball in all\b|\bin total\b")

    @property
    def day(self) -> date | None:
        """The day that its prices are of: that of the line, else the last of the run."""
        when = self.entry.when
        return when.day if when is not None and when.day is not None else self.run.end

    def lines(self, action: str) -> Sequence[Entry]:
        """The lines of an action in its run."""
        return self.known.lines(self.run).of(action)

    def follows(self, line: Entry) -> bool:
        """Whether it stands behind a line of its own log."""
        here, there = self.entry.span, line.span
        return there.path == here.path and there.start < here.start

    @property
    def named_metal(self) -> str:
        """The metal that its words name; empty where they name none."""
        words = metal_words()
        return next((words[one] for one in re.findall(r"\w+", self.words) if one in words), "")

    @property
    def metals(self) -> tuple[str, ...]:
        """The metals that it may be about: the one that is named, else those of the run."""
        named = self.named_metal
        if named:
            return (named,)
        held = [metal for thing in self.things for metal in thing.held]
        aims = [metal for metal in self.run.run.metals if not held or metal in held]
        return tuple(aims or dict.fromkeys(held))

    @property
    def metal(self) -> str:
        """The first metal that it may be about."""
        return next(iter(self.metals), "metal")

    @property
    def things(self) -> list[Thing]:
        """The things that its labels name, each in the state it had then."""
        found = [self._state(label.name) for label in self.claim.labels]
        return [one for one in found if one is not None]

    @property
    def unknown_labels(self) -> list[str]:
        """Labels that nothing in the book goes by."""
        return [one.name for one in self.claim.labels if self._state(one.name) is None]

    def _state(self, name: str) -> Thing | None:
        states = self.known.states.get(name, ())
        whole = [one for one in states if not one.part_of] or states
        day = self.day
        then = [one for one in whole if day is None or one.day is None or one.day <= day]
        found = then or whole
        return found[-1] if found else None

    @property
    def said(self) -> Mapping[str, Composition]:
        """The fineness that the claim itself states, by metal."""
        return {one.metal: one for one in self.entry.compositions}

    def balance(self, metal: str) -> MetalBalance | None:
        """The balance of a metal in the run."""
        return next((one for one in self.run.balances if one.metal == metal), None)

    @property
    def balances(self) -> list[MetalBalance]:
        """The balances of the metals that it may be about."""
        return [one for metal in self.metals if (one := self.balance(metal)) is not None]

    @property
    def products(self) -> list[Thing]:
        """What the run made."""
        return [one for one in self.run.things_out if one.role is Role.PRODUCT]

    @property
    def last_made(self) -> Thing | None:
        """The product that the log got last before the claim."""
        for thing in reversed(self.products):
            if any(line.action == "got" and self.follows(line) for line in thing.entries):
                return thing
        return None


def title_of(thing: Thing) -> str:
    """What to call a thing in a sentence."""
    return f"[{thing.label}]" if thing.label else f"the {thing.what or thing.role.value}"


def listed(words: Iterable[str], joint: str = "and") -> str:
    """Words in a row.

    >>> listed(["lot 1", "lot 2", "lot 3"])
    'lot 1, lot 2 and lot 3'
    """
    found = list(dict.fromkeys(words))
    if len(found) < 2:
        return "".join(found)
    return f"{', '.join(found[:-1])} {joint} {found[-1]}"
