"""What goes into a stage: feed, bought lots, labelled things, and supplies that hold metal.

Nothing here raises on what a writer wrote: a label that is not there gives a finding, and a
thing of which nothing is known goes in, so that no balance is claimed without it.
"""

from __future__ import annotations

from logbook.calculation.charges import OpenRun, OpenStage, enter
from logbook.calculation.holdings import Holding
from logbook.calculation.products import metals_named
from logbook.calculation.results import Fate, Role
from logbook.calculation.schedule import names_itself
from logbook.calculation.walk import Step, Walk, amounts_of
from logbook.findings import Weight
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Label, Portion


def share_of(portion: Portion) -> float | None:
    """The share of an amount that each of several labels has: 1 for one label, None if mixed."""
    count, amount = len(portion.labels), portion.amount
    if count <= 1:
        return 1.0
    counted = amount is not None and amount.dimension is Dimension.COUNT
    same = amount is not None and (amount.times == count or (counted and amount.value == count))
    return 1.0 / count if same else None


def sourced(entry: Entry) -> tuple[Portion, ...]:
    """The portions of an entry; `took from [X]` without one means all of it."""
    return entry.portions or ((Portion(entry.span),) if entry.sources else ())


def took(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """Feed, a bought lot or a labelled thing goes into the stage."""
    if work is None or work.stage is None:
        return
    for portion in sourced(step.entry):
        for thing in _taken(walk, work.stage, step, portion):
            enter(walk, work.stage, thing)


def _taken(walk: Walk, stage: OpenStage, step: Step, portion: Portion) -> list[Holding]:
    if step.entry.sources:
        sources = [one for one in step.entry.sources if one.name not in walk.bottles]
        return [drawn_from(walk, step, portion, source) for source in sources]
    if not portion.labels:
        left = [held for held in stage.behind + stage.passed if _is_meant(held, portion)]
        if left:
            return [_of_the_charge(walk, step, portion, left[0])]
        return [walk.keep_loose(step.where, new_feed(walk, step, portion))]
    things = [labelled(walk, step, portion, label) for label in portion.labels]
    mixed = amounts_of(portion) or step.entry.compositions
    if len(things) > 1 and mixed and share_of(portion) is None:
        return [_together(walk, step, portion, things)]
    return things


def _is_meant(held: Holding, portion: Portion) -> bool:
    """Whether a portion without a label speaks of the charge that stands by."""
    same = held.what.lower() == portion.what.lower()
    return held.at_hand and not held.label and bool(portion.what) and same


def _of_the_charge(walk: Walk, step: Step, portion: Portion, held: Holding) -> Holding:
    walk.say(
        "charge-taken",
        Weight.DOUBT,
        f"{held.title} is taken without a label",
        portion.span,
        f"read as {held.title} of the stage before, not as new feed",
        "leave out this `took`, the charge goes on by itself; or give what was got a label",
    )
    return walk.take(step, held, portion, Label(portion.span, held.what))


def new_feed(walk: Walk, step: Step, portion: Portion, label: str = "") -> Holding:
    """A thing that comes into the book from outside."""
    held = walk.build(step, portion, Role.FEED, label, share_of(portion))
    held.made_by = None
    return held


def labelled(walk: Walk, step: Step, portion: Portion, label: Label) -> Holding:
    """What is taken from one label: what it stands for, or a new thing that it names."""
    held = walk.find(label)
    if held is not None:
        single = len(portion.labels) == 1
        taken = walk.take(step, held, portion if single else _each(portion), label)
        taken.said.extend(walk.statements(step.entry, taken, alone=single))
        return taken
    if names_itself(step.entry, portion):
        return walk.put(step, new_feed(walk, step, portion, label.name), label, adding=False)
    return not_there(walk, step, label)


def _each(portion: Portion) -> Portion:
    """What is taken of each of several labels: all of it, or the same part."""
    return Portion(portion.span, what=portion.what, share=portion.share)


def not_there(walk: Walk, step: Step, label: Label) -> Holding:
    """A thing of which nothing is known, in place of one that is not there."""
    if label.name in walk.labels:
        walk.say_empty(label)
        why = f"nothing of [{label.name}] was left on this day"
    else:
        walk.say_unknown(label)
        why = f"nothing called [{label.name}] was there on this day"
    nothing = Holding("", label.name, f"[{label.name}]", Role.FEED, None, step.day)
    nothing.entries.append(step.entry)
    nothing.missing = why
    return walk.keep_loose(step.where, nothing)


def drawn_from(walk: Walk, step: Step, portion: Portion, source: Label) -> Holding:
    """What is drawn `from [X]`; a label of its own names the part that was drawn."""
    held = walk.find(source)
    if held is None:
        return not_there(walk, step, source)
    alone = len(step.entry.sources) == 1
    piece = walk.take(step, held, portion if alone else Portion(portion.span), source)
    piece.said.extend(walk.statements(step.entry, piece, alone=alone))
    drawn = {label.name for label in step.entry.sources}
    names = [label for label in portion.labels if label.name not in drawn]
    if alone and names:
        walk.put(step, piece, names[0], adding=False)
    return piece


def _together(walk: Walk, step: Step, portion: Portion, things: list[Holding]) -> Holding:
    """Several labelled things that were weighed, or assayed, together when they were taken."""
    pool = walk.build(step, portion, Role.SIDE)
    pool.what, pool.made_by = portion.what or "things taken together", None
    walk.keep_loose(step.where, pool)
    runs = {thing.made_by.run if thing.made_by else "" for thing in things}
    if len(runs) == 1:
        pool.made_by = things[-1].made_by
    for thing in dict.fromkeys(things):
        whole = walk.take_all(thing, step.day)
        whole.pool, whole.fate = pool, Fate.USED
        pool.poured.append(whole)
    return pool


def added(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A reagent or another supply goes in; it is a thing where it may hold the run's metal."""
    if work is None or work.stage is None:
        return
    for portion in sourced(step.entry):
        if step.entry.sources:
            for source in step.entry.sources:
                if source.name not in walk.bottles and not walk.in_pot(source, step.stage):
                    enter(walk, work.stage, drawn_from(walk, step, portion, source))
            continue
        there = [label for label in portion.labels if walk.find(label) is not None]
        absent = [
            label
            for label in portion.labels
            if label not in there and not walk.in_pot(label, step.stage)
        ]
        for label in there:
            enter(walk, work.stage, labelled(walk, step, portion, label))
        for label in absent:
            if not portion.what and label.name not in walk.bottles:
                enter(walk, work.stage, not_there(walk, step, label))
        if not there and len(absent) == len(portion.labels) and (portion.what or not absent):
            _addition(walk, work, step, portion)


def _addition(walk: Walk, work: OpenRun, step: Step, portion: Portion) -> None:
    metals = metals_named(portion.what) & set(work.run.metals)
    if work.stage is not None and (step.entry.compositions or metals):
        held = walk.build(step, portion, Role.ADDITION)
        held.made_by = None
        enter(walk, work.stage, walk.keep_loose(step.where, held))


def bought(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A lot of scrap with a label comes on the shelf; a supply's label is only a bottle's."""
    for portion in step.entry.portions:
        if portion.reagent and not step.entry.compositions:
            walk.bottles.update(label.name for label in portion.labels)
            continue
        for label in portion.labels:
            walk.put(step, new_feed(walk, step, portion, label.name), label, adding=False)
