"""What leaves for good: known losses, waste, and what is sold.

Nothing here raises on what a writer wrote.
"""

from __future__ import annotations

from logbook.calculation.charges import OpenRun
from logbook.calculation.holdings import Holding
from logbook.calculation.results import Fate, Role
from logbook.calculation.schedule import names_itself
from logbook.calculation.taking import drawn_from, labelled, not_there, share_of, sourced
from logbook.calculation.walk import Step, Walk
from logbook.model.entry import Label, Portion


def lost(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A known loss: of what the stage held, or of a labelled thing."""
    for portion in sourced(step.entry):
        for held in _removed(walk, step, portion, Role.LOSS):
            held.fate, held.gone = Fate.LOST, True


def discarded(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """Something goes to waste, into a waste container where one is named."""
    for portion in sourced(step.entry):
        for held in _removed(walk, step, portion, Role.WASTE):
            if work is not None and work.stage is not None:
                work.stage.put_aside.append(held)
            if step.entry.destinations:
                walk.put(step, held, step.entry.destinations[0], adding=True)
            elif held.pool is None:
                origin = held.parent or held
                if Fate.WASTE in (held.fate, origin.fate):
                    held.handed_over.append(step.entry)
                held.fate, held.gone = Fate.WASTE, True


def _removed(walk: Walk, step: Step, portion: Portion, role: Role) -> list[Holding]:
    """What is lost or thrown away: labelled things that are there, or part of the charge."""
    labels = (*step.entry.sources, *portion.labels)
    of_the_charge = bool(labels) and all(walk.in_pot(label, step.stage) for label in labels)
    if step.entry.sources and not of_the_charge:
        return [drawn_from(walk, step, portion, source) for source in step.entry.sources]
    if not portion.labels or of_the_charge:
        held = walk.build(step, portion, role)
        return [walk.keep_loose(step.where, held)]
    removed = []
    for label in portion.labels:
        if label.name in walk.waste and names_itself(step.entry, portion):
            held = walk.build(step, portion, role, part=share_of(portion))
            walk.put(step, held, label, adding=True)
        elif walk.find(label) is None and not names_itself(step.entry, portion):
            not_there(walk, step, label).fate = Fate.LOST
            continue
        else:
            held = _labelled_loss(walk, step, portion, label, role)
        removed.append(held)
    return removed


def _labelled_loss(walk: Walk, step: Step, portion: Portion, label: Label, role: Role) -> Holding:
    if walk.find(label) is not None:
        return labelled(walk, step, portion, label)
    held = walk.build(step, portion, role, label.name, share_of(portion))
    return walk.put(step, held, label, adding=False)


def sold(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A labelled thing, or part of it, leaves the book for money."""
    for portion in sourced(step.entry):
        for label in portion.labels or step.entry.sources:
            if walk.find(label) is None:
                not_there(walk, step, label).fate = Fate.SOLD
                continue
            held = labelled(walk, step, portion, label)
            held.fate, held.gone = Fate.SOLD, True
            if step.entry not in held.entries:
                held.entries.append(step.entry)
