"""What went into a container that must be handed over as it is: cyanide, bleach and their like.

Every sign counts: what was added, what a thing is called, what the container's own lines say,
and the cautions that were raised where it was filled. A treatment less beats a gas too many.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from logbook.calculation.cautions.rules import Rule, Signs, rule_book
from logbook.calculation.cautions.signs import (
    brought_signs,
    stated_signs,
    thing_signs,
    told_signs,
)
from logbook.calculation.cautions.unread import (
    told_paragraphs,
    told_pours,
    unread_items,
    without_denials,
)
from logbook.calculation.cautions.vessels import LOOKS
from logbook.calculation.results import Caution, Discarded, StageKey, Thing
from logbook.chemistry.waste_data import waste_data
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run

SILENT = LOOKS | {"private", "ask"}
"""Actions that put nothing anywhere: what is tested with a drop is not in the container."""


@dataclass(frozen=True, slots=True)
class AsItIs:
    """One thing that is never treated at a bench: the groups of its signs, and why."""

    name: str
    groups: tuple[Signs, ...]
    why: str

    def met_by(self, signs: Signs) -> bool:
        """Whether one sign of each group is there."""
        return all(not group.isdisjoint(signs) for group in self.groups)

    def told_by(self, rule: Rule) -> bool:
        """Whether nothing but this can have raised a rule."""
        return all(any(asked <= group for asked in rule.meets) for group in self.groups)


@cache
def as_it_is() -> tuple[AsItIs, ...]:
    """What is never treated, as waste.toml lists it."""
    return tuple(
        AsItIs(row["name"], tuple(frozenset(group) for group in row["signs"]), row["why"])
        for row in waste_data()["as_it_is"]
    )


@dataclass(slots=True)
class Poured:
    """What stages and labels are known to hold, by signs; each stage is looked at once.

    `inputs` are the things that each stage took, `supplies` what it used, a bottle's label told
    by its name, `raised` the cautions of each stage.
    """

    runs: Mapping[str, Run]
    inputs: Mapping[StageKey, Sequence[Thing]]
    supplies: Mapping[StageKey, Sequence[Portion]]
    raised: Mapping[StageKey, Sequence[Caution]]
    _told: dict[str, list[tuple[StageKey, Signs]]] | None = None
    _met: dict[str, list[Caution]] | None = None
    _stages: dict[StageKey, Signs] = field(default_factory=dict)

    def never_treated(
        self,
        label: str,
        stages: Iterable[StageKey],
        received: Iterable[Discarded],
        metals: Iterable[str],
    ) -> tuple[AsItIs, ...]:
        """What is, or may be, in a container that must be handed over as it is."""
        reached = tuple(stages)
        signs = frozenset(f"metal {metal}" for metal in metals).union(
            *(signs for _, signs in self._told_of(label)),
            *map(self._of_stage, reached),
            *(told_signs(without_denials(text)) for one in received for text in _words(one)),
        )
        cautions = [one for stage in reached for one in self.raised.get(stage, ())]
        rules = _rules_of((*cautions, *self.met_in(label)))
        return tuple(one for one in as_it_is() if one.met_by(signs) or any(map(one.told_by, rules)))

    def stages_told(self, label: str) -> Iterator[StageKey]:
        """The stages whose prose says that something was poured into a labelled vessel."""
        return (stage for stage, _ in self._told_of(label))

    def met_in(self, label: str) -> Sequence[Caution]:
        """The cautions for what met in a labelled vessel."""
        if self._met is None:
            self._met = {}
            for cautions in self.raised.values():
                for caution in cautions:
                    self._met.setdefault(caution.vessel, []).append(caution)
        return self._met.get(label, ()) if label else ()

    def _of_stage(self, key: StageKey) -> Signs:
        if key not in self._stages:
            run = self.runs.get(key.run)
            stage = run.stages[key.index] if run is not None else None
            self._stages[key] = frozenset().union(
                *(map(_signs_of, stage.entries) if stage is not None else ()),
                *(map(_signs_told, unread_items(stage)) if stage is not None else ()),
                *map(thing_signs, self.supplies.get(key, ())),
                *(told_signs(thing.what) for thing in self.inputs.get(key, ())),
                *(_signs_of(one) for thing in self.inputs.get(key, ()) for one in thing.entries),
            )
        return self._stages[key]

    def _told_of(self, label: str) -> Sequence[tuple[StageKey, Signs]]:
        """What prose, or an item that was not read, says was poured into a labelled vessel."""
        if self._told is None:
            self._told = {}
            for run in self.runs.values():
                for name, stage, signs in _poured_by_prose(run):
                    self._told.setdefault(name, []).append((stage, signs))
        return self._told.get(label, ()) if label else ()


def _words(one: Discarded) -> Iterator[str]:
    yield one.what
    yield from (entry.span.text for entry in one.entries)


def _signs_of(entry: Entry) -> Signs:
    """What an entry says was there, but not what only a drop of it met."""
    if entry.action in SILENT:
        return frozenset()
    things = (thing_signs(portion) for portion in (*entry.portions, *entry.supplies))
    return stated_signs(entry).union(brought_signs(entry), *things)


def _signs_told(entry: Entry) -> Signs:
    return told_signs(without_denials(entry.span.text))


def _poured_by_prose(run: Run) -> Iterator[tuple[str, StageKey, Signs]]:
    for place, stage in enumerate(run.stages):
        key = StageKey(run.name, place)
        for entry in unread_items(stage):
            for label in entry.destinations:
                yield label.name, key, _signs_told(entry)
        blocks = stage.blocks if place else (*run.opening, *stage.blocks)
        for text in told_paragraphs(blocks):
            if "[" in text.words:
                for name, sentence in told_pours(text.words):
                    yield name, key, told_signs(sentence)


def _rules_of(cautions: Iterable[Caution]) -> list[Rule]:
    """The rules behind cautions, without those of a spot test: a drop of it is not in there."""
    names = {caution.rule for caution in cautions if not caution.entry.tests}
    return [rule for rule in rule_book().rules if rule.name in names]
