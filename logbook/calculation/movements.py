"""What each action does to the things of a book, in one table, and second looks at things.

A movement changes the walk and the open stage, and gives a finding where an entry cannot be
used; it never raises on what a writer wrote.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from logbook.calculation.charges import OpenRun
from logbook.calculation.holdings import Look, Statement
from logbook.calculation.losing import discarded, lost, sold
from logbook.calculation.making import got, kept, left, sampled, worked_into
from logbook.calculation.taking import added, bought, took
from logbook.calculation.walk import Step, Walk, amounts_of
from logbook.findings import Weight
from logbook.model.entry import Entry, Label

Movement = Callable[[Walk, OpenRun | None, Step], None]


def looked(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A weighing, a measuring or an assay of labelled things, or of the charge as it stands."""
    entry = step.entry
    labels = [label for portion in entry.portions for label in portion.labels]
    labels += list(entry.sources)
    looks = _looks(entry) if entry.action != "assayed" else []
    if entry.immersed and not labels:
        _say_of_what(walk, entry)
    if labels:
        for label in labels:
            _look_at(walk, step, label, looks, alone=len(labels) == 1)
    elif work is not None and work.stage is not None:
        work.stage.looks.extend(looks)
        work.stage.said.extend(Statement(one, entry) for one in entry.compositions)


def _looks(entry: Entry) -> list[Look]:
    """The weighings of an entry; what hangs in a liquid is borne up, and shows no mass."""
    if entry.immersed:
        return []
    return [Look(amount, entry) for portion in entry.portions for amount in amounts_of(portion)]


def _look_at(walk: Walk, step: Step, label: Label, looks: list[Look], *, alone: bool) -> None:
    entry, held = step.entry, walk.labels.get(label.name)
    if held is None:
        if label.name not in walk.bottles:
            walk.say_unknown(label)
        return
    if looks and not held.at_hand and not walk.in_pot(label, step.stage):
        walk.say_empty(label)
        return
    if looks and alone and held.at_hand and held.draws:
        held = walk.labels[label.name] = walk.take_all(held, None)
    if looks and not alone:
        _say_together(walk, label)
    held.looks.extend(looks if alone else ())
    held.said.extend(walk.statements(entry, held, alone=alone))
    held.entries.append(entry)


def _say_of_what(walk: Walk, entry: Entry) -> None:
    walk.say(
        "weighed-in-water",
        Weight.DOUBT,
        f"what was weighed in {entry.immersed} is not named",
        entry.span,
        "it is no weight of the charge, and gives no density",
        f"name its label: weighed [AG-7] 253.1 g in {entry.immersed} at 21 C",
    )


def _say_together(walk: Walk, label: Label) -> None:
    walk.say(
        "weighed-together",
        Weight.DOUBT,
        f"[{label.name}] was weighed together with others",
        label.span,
        "how much of it is this one is not known",
        "weigh each by itself, or pour them together `into` one label and weigh that",
    )


MOVEMENTS: Mapping[str, Movement] = {
    "took": took,
    "added": added,
    "got": got,
    "kept": kept,
    "left": left,
    "sampled": sampled,
    "lost": lost,
    "discarded": discarded,
    "sold": sold,
    "bought": bought,
    "had": bought,
    "weighed": looked,
    "measured": looked,
    "assayed": looked,
}


def move(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """Do what an entry says; an action without an entry in the table is a step of the work."""
    MOVEMENTS.get(step.entry.action, worked_into)(walk, work, step)
