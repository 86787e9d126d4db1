"""What comes out of a stage and stays: the charge, side streams, samples, what is left behind.

Nothing here raises on what a writer wrote.
"""

from __future__ import annotations

from logbook.calculation.charges import OpenRun
from logbook.calculation.holdings import Holding
from logbook.calculation.results import Role
from logbook.calculation.taking import drawn_from, labelled, share_of, sourced
from logbook.calculation.walk import Step, Walk
from logbook.findings import Weight
from logbook.model.entry import Entry, Label, Portion

# Actions whose labels are vessels, or that speak of things without touching them.
OF_VESSELS = frozenset(
    {"ask", "broke", "found", "heated", "priced", "private", "read", "reckoned", "spent"}
    | {"waited", "worked"}
)


def got(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """What the stage leaves for the next one, or the product."""
    if work is None or work.stage is None:
        return
    for portion in step.entry.portions:
        work.stage.got.extend(_made(walk, step, portion, Role.CHARGE))


def kept(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A side stream is set aside."""
    for portion in sourced(step.entry):
        made = _made(walk, step, portion, Role.SIDE)
        if work is not None and work.stage is not None:
            work.stage.put_aside.extend(made)


def left(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """Something stays behind in a vessel, a dish or a filter."""
    for portion in sourced(step.entry):
        _made(walk, step, portion, Role.LEFT)


def sampled(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A small part is taken for a test or an assay, of a labelled thing or of the charge."""
    for portion in sourced(step.entry):
        there = None if step.entry.sources else _first_there(walk, portion)
        if there is None and _say_not_there(walk, portion):
            continue
        if there is not None:
            sample = walk.take(step, walk.labels[there.name], portion, there)
            sample.role = Role.SAMPLE
            if sample.parent is not None:
                sample.parent.samples.append(sample)
            continue
        samples = _made(walk, step, portion, Role.SAMPLE)
        in_pot = [source for source in step.entry.sources if walk.in_pot(source, step.stage)]
        for source in in_pot:
            walk.labels[source.name].samples.extend(samples)
        if work is not None and work.stage is not None and not step.entry.sources:
            work.stage.samples.extend(samples)


def _say_not_there(walk: Walk, portion: Portion) -> bool:
    """Whether a sample is `of [X]` where no [X] is there: it is not called so itself."""
    absent = [label for label in portion.labels if not portion.what and _is_of(portion, label)]
    for label in absent:
        if label.name in walk.labels:
            walk.say_empty(label)
        else:
            walk.say_unknown(label)
    return bool(absent)


def _is_of(portion: Portion, label: Label) -> bool:
    before = portion.span.text[: max(label.span.start - portion.span.start, 0)]
    return label.span.source is portion.span.source and before.split()[-1:] == ["of"]


def _first_there(walk: Walk, portion: Portion) -> Label | None:
    return next((label for label in portion.labels if walk.find(label) is not None), None)


def _made(walk: Walk, step: Step, portion: Portion, role: Role) -> list[Holding]:
    """What an entry makes of one portion: at its labels, poured into a jar, or loose."""
    entry = step.entry
    if entry.destinations and portion.labels and not portion.what:
        there = [label for label in portion.labels if walk.find(label) is not None]
        if len(there) == len(portion.labels):
            return [_poured(walk, step, portion, label) for label in there]
    for source in entry.sources:
        held = walk.find(source)
        if held is None:
            _say_absent(walk, source)
        elif portion.amount is None or held.held(portion.amount.dimension) is not None:
            return [_drawn_aside(walk, step, portion, source, role)]
    if not portion.labels:
        held = walk.build(step, portion, role)
        return [_set_down(walk, step, held)]
    made = []
    for label in portion.labels:
        held = walk.build(step, portion, role, label.name, share_of(portion))
        held = walk.put(step, held, label, adding=False)
        made.append(_set_down(walk, step, held) if entry.destinations else held)
    return made


def _say_into_itself(walk: Walk, entry: Entry) -> None:
    """Say that an entry pours a jar into itself, and nothing else into it."""
    named = {label.name for portion in entry.portions for label in portion.labels}
    named.update(source.name for source in entry.sources)
    for label in entry.destinations[:1]:
        if named == {label.name}:
            walk.say_into_itself(label)


def _drawn_aside(walk: Walk, step: Step, portion: Portion, source: Label, role: Role) -> Holding:
    _say_into_itself(walk, step.entry)
    piece = drawn_from(walk, step, portion, source)
    piece.role = role
    if role is Role.SAMPLE and piece.parent is not None:
        piece.parent.samples.append(piece)
    return _set_down(walk, step, piece) if step.entry.destinations else piece


def _poured(walk: Walk, step: Step, portion: Portion, label: Label) -> Holding:
    """`kept some of [X] into [Y]`: what is there, or a part of it, goes into another jar."""
    _say_into_itself(walk, step.entry)
    return _set_down(walk, step, labelled(walk, step, portion, label))


def _set_down(walk: Walk, step: Step, held: Holding) -> Holding:
    """Leave a thing where the entry says: `into [X]`, or as a thing of its own."""
    if step.entry.destinations:
        return walk.put(step, held, step.entry.destinations[0], adding=True)
    return held if held.key else walk.keep_loose(step.where, held)


def worked_into(walk: Walk, work: OpenRun | None, step: Step) -> None:
    """A step of the work (rinsed, filtered, decanted ...) that leaves something `into [X]`."""
    _check_labels(walk, step)
    if work is None or not step.entry.destinations:
        return
    portion = step.entry.portions[0] if step.entry.portions else Portion(step.entry.span)
    held = walk.build(step, portion, Role.SIDE)
    held.what = held.what or f"what was {step.entry.action}"
    held.provisional = True
    walk.put(step, held, step.entry.destinations[0], adding=True)


def _check_labels(walk: Walk, step: Step) -> None:
    """Say which labels a step of the work or a test speaks of that were never there."""
    entry = step.entry
    if entry.action in OF_VESSELS:
        return
    named = [label for portion in entry.portions for label in portion.labels]
    named += [label for test in entry.tests for label in test.labels]
    for label in (*named, *entry.sources):
        _say_absent(walk, label)


def _say_absent(walk: Walk, label: Label) -> None:
    """Say that a label was never there, where the entry can be used without it."""
    if label.name not in walk.labels and label.name not in walk.bottles:
        walk.say_unknown(label, Weight.DOUBT)
