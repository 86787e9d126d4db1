"""How the charge of a run goes on from stage to stage.

What a stage got enters the next one by itself; where it got nothing, what it held goes on.
A stage with its own `took` starts from that instead, and what it left behind stands on the
shelf. This module moves things; it must not work out what they hold.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.holdings import Holding, Look, Statement
from logbook.calculation.products import is_liquid, is_product
from logbook.calculation.results import Role, StageKey
from logbook.calculation.walk import Walk
from logbook.findings import Weight
from logbook.model.amount import Dimension
from logbook.model.entry import Entry, Portion
from logbook.model.run import Run, Stage
from logbook.reference import stage_kinds

MOVES = frozenset({"took", "added", "got", "kept", "lost", "discarded", "left"})
FINISHING = frozenset({"kept", "discarded"})
GIVES = frozenset({"got", "kept", "discarded"})
WASTE = "treat waste"


@dataclass(slots=True)
class OpenStage:
    """A stage while its entries are read.

    `looks` and `said` were written without a label: they speak of the charge as it stands.
    """

    key: StageKey
    stage: Stage
    day: date
    charge: list[Holding] = field(default_factory=list)  # came from the stage before
    held: list[Holding] = field(default_factory=list)  # all that went in
    got: list[Holding] = field(default_factory=list)
    passed: list[Holding] = field(default_factory=list)  # stood by, or goes round a trial
    behind: list[Holding] = field(default_factory=list)  # left where it was by a `took`
    put_aside: list[Holding] = field(default_factory=list)  # kept or discarded
    samples: list[Holding] = field(default_factory=list)  # of the charge
    looks: list[Look] = field(default_factory=list)
    said: list[Statement] = field(default_factory=list)

    @property
    def takes(self) -> bool:
        """Whether the stage starts from things of its own."""
        return takes(self.stage)

    @property
    def moves(self) -> bool:
        """Whether anything goes in or out: a stage that only waits leaves the charge as it is."""
        return any(entry.action in MOVES or entry.supplies for entry in self.stage.entries)

    @property
    def wet(self) -> bool:
        """Whether the charge stands in its vessel where nothing was got from it."""
        kinds = stage_kinds()
        return any(kinds[kind].wet for kind in self.stage.kinds if kind in kinds)

    @property
    def stands_by(self) -> bool:
        """Whether the charge stays where it is while something else is seen to."""
        kinds = stage_kinds()
        named = [kinds[kind].stands_by for kind in self.stage.kinds if kind in kinds]
        return bool(named) and all(named) and not self.takes

    @property
    def treats_waste(self) -> bool:
        """Whether the stage is about waste, which is a charge of its own."""
        return WASTE in self.stage.kinds

    def gives(self, held: Holding) -> bool:
        """Whether the stage says what became of just this thing, by its label or its words."""
        return any(
            held.label in {label.name for label in portion.labels}
            if held.label and portion.labels
            else bool(held.what) and portion.what.lower() == held.what.lower()
            for entry in self.stage.entries
            if entry.action in GIVES
            for portion in entry.portions
        )


@dataclass(slots=True)
class OpenRun:
    """A run while its stages are read. `waiting` is the charge that the next stage enters."""

    run: Run
    waiting: list[Holding] = field(default_factory=list)
    stage: OpenStage | None = None


def takes(stage: Stage) -> bool:
    """Whether a stage has a `took` of its own."""
    return any(entry.action == "took" for entry in stage.entries)


def enter(walk: Walk, stage: OpenStage, held: Holding) -> None:
    """Let a thing go into a stage: all that is left of it."""
    thing = walk.take_all(held, stage.day)
    thing.used_by = stage.key
    stage.held.append(thing)


def open_stage(walk: Walk, work: OpenRun, key: StageKey, stage: Stage, day: date) -> None:
    """Begin a stage: the charge goes in, stands by, or is left behind."""
    opened = OpenStage(key, stage, day)
    work.stage = opened
    waiting = [held for held in work.waiting if held.at_hand]
    work.waiting = []
    if not opened.moves:
        opened.passed = waiting
    elif not opened.takes:
        opened.charge = [held for held in waiting if _goes_in(work.run, opened, held, waiting)]
        opened.passed = [held for held in waiting if held not in opened.charge]
        for held in opened.charge:
            enter(walk, opened, held)
    elif stage.trial:
        opened.passed = waiting
    else:
        opened.behind = waiting


def _goes_in(run: Run, opened: OpenStage, held: Holding, waiting: list[Holding]) -> bool:
    """Whether a charge goes into a stage without a `took`, or stands by.

    Waste that was treated goes on to more treatment of waste, and elsewhere only where
    nothing else waits. What is stored, tested or treated as waste is not the charge, unless
    the stage says so.
    """
    treated = _is_treated_waste(run, held)
    if not opened.stands_by:
        return not treated or all(_is_treated_waste(run, other) for other in waiting)
    if opened.gives(held) or (treated and opened.treats_waste):
        return True
    gets = any(entry.action == "got" for entry in opened.stage.entries)
    return gets and not held.label and not opened.treats_waste


def _is_treated_waste(run: Run, held: Holding) -> bool:
    maker = held.made_by
    if maker is None or maker.run != run.name:
        return False
    return WASTE in run.stages[maker.index].kinds


def close_stage(walk: Walk, work: OpenRun, following: Stage | None) -> None:
    """End a stage: decide what goes on, and look at the charge once more where it says so."""
    closed = work.stage
    if closed is None:
        return
    work.stage = None
    _say_left_behind(walk, work, closed)
    if not closed.moves:
        _look_again(walk, closed, closed.passed)
        _tie_samples(closed, closed.passed)
        work.waiting = closed.passed
        return
    result = closed.got or _what_it_held(walk, work, closed, following)
    seen = result or ([] if closed.takes else closed.passed)
    _look_again(walk, closed, seen)
    _tie_samples(closed, seen)
    work.waiting = closed.passed if closed.stage.trial and closed.takes else result + closed.passed


def _tie_samples(closed: OpenStage, result: list[Holding]) -> None:
    """Let an assay of a sample speak for the charge that it was taken from."""
    if len(result) == 1:
        result[0].samples.extend(closed.samples)


def _what_it_held(
    walk: Walk, work: OpenRun, closed: OpenStage, following: Stage | None
) -> list[Holding]:
    """What stands in a stage that got nothing, as a thing that nobody measured."""
    if not closed.held:
        return []
    stage = closed.stage.title or "the first stage"
    stays = following is None or takes(following)
    if stays and _is_finished(closed):
        note = f"taken to be all that {stage} left: nothing was got from it"
        for held in closed.put_aside:
            if held.made_by == closed.key:
                held.notes.append(note)
        return []
    pot = Holding("", "", f"charge of {stage}", Role.CHARGE, closed.key, closed.day)
    if stays:
        pot.notes.append(f"taken to stand where {stage} left it: nothing was got from it")
    return [walk.keep_loose(work.run.name, pot)]


def _is_finished(closed: OpenStage) -> bool:
    """Whether a stage that got nothing left nothing standing either.

    A dry stage did once it kept or discarded something. A wet one did where all that went
    in had a label, and its liquid was thrown away: then what went in as a liquid is gone,
    and what was leached is what it kept.
    """
    if not closed.wet:
        return any(one.action in FINISHING for one in closed.stage.entries)
    feed = [held for held in closed.held if held.role is not Role.ADDITION]
    if not feed or not all(held.label for held in feed):
        return False
    gone = [one for one in closed.stage.entries if one.action == "discarded"]
    kept = [one for one in closed.stage.entries if one.action == "kept"]
    poured_off = any(_is_liquid(portion) for entry in gone for portion in entry.portions)
    weighed = any(_is_weighed(portion) for entry in kept for portion in entry.portions)
    return poured_off and (weighed or all(_was_liquid(held) for held in feed))


def _is_liquid(portion: Portion) -> bool:
    amount = portion.amount
    return is_liquid(
        portion.what, poured=amount is not None and amount.dimension is Dimension.VOLUME
    )


def _is_weighed(portion: Portion) -> bool:
    amount = portion.amount
    return amount is not None and amount.dimension is Dimension.MASS


def _was_liquid(held: Holding) -> bool:
    return is_liquid(held.what, poured=held.held(Dimension.VOLUME) is not None)


def _look_again(walk: Walk, closed: OpenStage, result: list[Holding]) -> None:
    """Give a weighing or an assay without a label to the charge as it stands."""
    if not closed.looks and not closed.said:
        return
    if len(result) == 1:
        for look in closed.looks:
            _of_the_same_kind(look, result[0], closed).looks.append(look)
        result[0].said.extend(closed.said)
        return
    entry = closed.looks[0].entry if closed.looks else closed.said[0].entry
    what = "the stage has no charge" if not result else "the stage has several things"
    walk.say(
        "charge-unclear",
        Weight.DOUBT,
        f"it is not clear what was looked at: {what}",
        entry.span,
        "the entry is shown, and counts for nothing",
        "name the thing by its label",
    )


def _of_the_same_kind(look: Look, result: Holding, closed: OpenStage) -> Holding:
    """What was weighed: a charge that came in dry and left as a solution was weighed before."""
    kind = look.amount.dimension
    if result.looks and result.look(kind) is None and len(closed.charge) == 1:
        return closed.charge[0]
    return result


def _say_left_behind(walk: Walk, work: OpenRun, closed: OpenStage) -> None:
    """Say which charges a `took` left behind: those with a label or finished need no word."""
    for held in closed.behind:
        if not held.at_hand or held.label or is_product(held, work.run.metals):
            continue
        walk.say(
            "charge-left",
            Weight.DOUBT,
            f"{held.title} is left behind: this stage takes something else",
            _first_took(closed.stage).span,
            f"{held.title} stands on the shelf",
            "leave out this `took` where the charge goes on, or give what was got a label",
        )


def _first_took(stage: Stage) -> Entry:
    return next(entry for entry in stage.entries if entry.action == "took")
