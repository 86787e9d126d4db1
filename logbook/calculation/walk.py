"""What the walk through a book knows so far: every thing, what each label stands for now.

The rules of labels live here: a label given again, poured into, drawn from, used before it
is there. Nothing here raises on what a writer wrote: a slip gives a finding and costs only
its own entry.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from itertools import islice

from logbook.calculation import remarks
from logbook.calculation.holdings import COUNTED, Holding, Look, Statement, doubt_of
from logbook.calculation.results import Fate, Role, StageKey
from logbook.findings import Finding, Weight
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Entry, Label, Portion
from logbook.source import Span

ALL_OF_IT = 0.005  # a rest below this part of a lot, and below its doubt, is taken as nothing
LABELS_COMPARED = 200  # how many of the latest labels a label that is not known is held against


@dataclass(frozen=True, slots=True)
class Step:
    """One entry in its place: which stage, which day, and whether that day was written."""

    where: str  # the run's name, or the fixed page's
    stage: StageKey | None
    day: date
    dated: bool
    entry: Entry


@dataclass(slots=True)
class Walk:
    """The things met so far. `waste` are the labels into which anything is ever discarded."""

    waste: frozenset[str] = frozenset()
    holdings: list[Holding] = field(default_factory=list)
    labels: dict[str, Holding] = field(default_factory=dict)
    bottles: set[str] = field(default_factory=set)  # labels of supplies, which hold no metal
    findings: list[Finding] = field(default_factory=list)
    _keys: dict[str, int] = field(default_factory=dict)
    _missed: dict[str, list[int]] = field(default_factory=dict)  # label -> findings about it

    # Findings

    def say(
        self, code: str, weight: Weight, headline: str, span: Span, understood: str, hint: str
    ) -> None:
        """Note what there is to say about an entry."""
        self.findings.append(Finding(code, weight, headline, span, understood, hint))

    def say_unknown(self, label: Label, weight: Weight = Weight.ERROR) -> None:
        """Say that a label is used though nothing of that name is there."""
        latest = islice(reversed(self.labels), LABELS_COMPARED)
        self._missed.setdefault(label.name, []).append(len(self.findings))
        self.findings.append(remarks.unknown(label, latest, weight))

    def say_empty(self, label: Label) -> None:
        """Say that a label is used though all of what it named was taken before."""
        self.findings.append(remarks.empty(label))

    def say_into_itself(self, label: Label) -> None:
        """Say that an entry pours a jar into itself."""
        self.findings.append(remarks.into_itself(label))

    def _enter(self, step: Step, held: Holding, name: str) -> Holding:
        """Let a label stand for a thing, and say so beside uses of it that came too early."""
        self.labels[name] = held if held.key else self.keep(held, name)
        where = held.made_by.run if held.made_by is not None else step.where
        for at in self._missed.pop(name, ()):
            self.findings[at] = remarks.made_later(self.findings[at], name, where, step.day)
        return held

    # Things

    def build(
        self, step: Step, portion: Portion, role: Role, label: str = "", part: float | None = 1.0
    ) -> Holding:
        """A new thing with what the entry says of it, not yet at a label and without a key.

        `part` is its share of the amount where that was said of several things; None where
        the amount cannot be divided between them.
        """
        held = Holding("", label, portion.what, role, step.stage, step.day)
        held.entries.append(step.entry)
        held.as_product = step.entry.as_product
        if part is not None:
            held.looks = [Look(amount, step.entry, part) for amount in amounts_of(portion)]
        held.said = self.statements(step.entry, held, alone=part == 1.0)
        return held

    def statements(self, entry: Entry, held: Holding, *, alone: bool) -> list[Statement]:
        """What an entry says of one of its things. A content said of several is of none."""
        alone = alone and len(entry.portions) <= 1
        if alone:
            return [Statement(composition, entry) for composition in entry.compositions]
        shared = [one for one in entry.compositions if one.amount.dimension is Dimension.MASS]
        if shared:
            held.missing = "its content was written for several things together"
        return [Statement(one, entry) for one in entry.compositions if one not in shared]

    def keep(self, held: Holding, key: str) -> Holding:
        """Enter a thing in the book under a key of its own."""
        count = self._keys.get(key, 0) + 1
        self._keys[key] = count
        held.key = key if count == 1 else f"{key} ({count})"
        if count > 1 and held.key in self._keys:
            return self.keep(held, held.key)
        self._keys.setdefault(held.key, 1)
        self.holdings.append(held)
        return held

    def keep_loose(self, where: str, held: Holding) -> Holding:
        """Enter a thing without a label: it is called by its run and what it is."""
        return self.keep(held, f"{where}: {held.what or held.role.value}")

    # Labels

    def find(self, label: Label) -> Holding | None:
        """What a label stands for now; None, with nothing said, where nothing is there."""
        held = self.labels.get(label.name)
        return held if held is not None and held.at_hand else None

    def in_pot(self, label: Label, stage: StageKey | None) -> bool:
        """Whether a label names what is in this very stage: there it is part of the charge."""
        held = self.labels.get(label.name)
        return held is not None and stage is not None and held.used_by == stage

    def put(self, step: Step, held: Holding, label: Label, *, adding: bool) -> Holding:
        """Put a thing at a label: a new jar, its next state, or added to what it holds.

        Returns what the label then stands for. `adding` tells that the entry says `into`.
        """
        there = self.find(label)
        if there is held:
            return held
        if label.name in self.waste:
            held.fate = Fate.WASTE
            there = there or self._jar(step, held, label, Role.WASTE)
        elif there is None and held.label != label.name and self._is_named(held):
            there = self._jar(step, held, label, held.role)
        if there is None:
            held.label = label.name
            return self._enter(step, held, label.name)
        if there.provisional and there.made_by == held.made_by:
            there.settle(held)
            return there
        if not adding and there.fate is not Fate.WASTE:
            self.findings.append(remarks.again(label))
        self.pour(step, held, there)
        return there

    def _is_named(self, held: Holding) -> bool:
        return self.labels.get(held.label) is held

    def _jar(self, step: Step, held: Holding, label: Label, role: Role) -> Holding:
        """An empty jar, into which a thing with a name of its own is then poured."""
        jar = Holding("", label.name, held.what, role, None, step.day, held.fate)
        return self._enter(step, jar, label.name)

    def pour(self, step: Step, held: Holding, jar: Holding) -> None:
        """Pour a thing into another, which from then on is the two together."""
        if not held.key:
            self.keep_loose(step.where, held)
        fresh = not jar.entries
        if not fresh and (jar.looks or jar.said or jar.draws or not jar.poured):
            self._set_apart(jar)
        jar.poured.append(held)
        jar.entries.append(step.entry)
        held.pool, held.label = jar, held.label or jar.label
        held.fate = Fate.WASTE if jar.fate is Fate.WASTE else Fate.USED
        same = jar.made_by and held.made_by and jar.made_by.run == held.made_by.run
        jar.made_by = held.made_by if fresh or same else None
        jar.day = step.day

    def _set_apart(self, jar: Holding) -> None:
        """Make what a jar held so far a thing of its own, so that the jar can be a pool."""
        was = Holding("", jar.label, jar.what, jar.role, jar.made_by, jar.day, jar.fate)
        for name in ("looks", "said", "draws", "poured", "samples", "notes", "missing"):
            setattr(was, name, getattr(jar, name))
        was.parent, was.part, was.before = jar.parent, jar.part, jar.before
        was.drawn, was.estimates, was.entries = jar.drawn, jar.estimates, list(jar.entries)
        for one in was.draws:
            one.parent = was
        for one in was.poured:
            one.pool = was
        jar.looks, jar.said, jar.draws, jar.poured, jar.samples = [], [], [], [], []
        jar.notes, jar.missing, jar.drawn, jar.estimates = [], "", {}, {}
        jar.parent, jar.part, jar.before = None, None, 0
        self.keep(was, f"{jar.key}, before adding")
        rest = self.take_all(was, jar.day)
        if rest is was:
            was.estimate(was, 1.0)
        rest.pool, rest.fate = jar, Fate.WASTE if jar.fate is Fate.WASTE else Fate.USED
        jar.poured.append(rest)

    # Drawing

    def take(self, step: Step, held: Holding, portion: Portion, label: Label) -> Holding:
        """Take all or part of what a label stands for, and return what was taken."""
        amount, share = portion.amount, portion.share
        if share is not None and 0.0 < share < 1.0:
            return self.draw(step, held, None, share)
        if amount is None:
            return self.take_all(held, step.day)
        left = held.held(amount.dimension)
        if amount.base_value is None or left is None:
            return self._take_blind(step, held, amount, label)
        doubt = doubt_of(left, amount)
        if amount.base_value > left[0] + doubt:
            return self._overdrawn(step, held, amount, label)
        rest = left[0] - amount.base_value
        dried = step.entry.moisture == "dry" and held.looks and all(look.wet for look in held.looks)
        if rest <= 0.0 or dried or rest <= min(doubt, ALL_OF_IT * left[0]):
            return self._weighed_whole(step, held, amount)
        return self.draw(step, held, amount, None)

    def _take_blind(self, step: Step, held: Holding, amount: Amount, label: Label) -> Holding:
        """Take an amount of a thing of which nobody wrote how much it held."""
        beside = label not in step.entry.sources
        weighed = any(look.amount.dimension is not Dimension.COUNT for look in held.looks)
        if beside and amount.known and not weighed and not held.draws and not held.estimates:
            return self._weighed_whole(step, held, amount)
        self.findings.append(remarks.blind_draw(held, amount, label))
        return self.draw(step, held, amount, None)

    def _weighed_whole(self, step: Step, held: Holding, amount: Amount) -> Holding:
        taken = self.take_all(held, step.day)
        taken.looks.append(Look(amount, step.entry))
        return taken

    def _overdrawn(self, step: Step, held: Holding, amount: Amount, label: Label) -> Holding:
        self.findings.append(remarks.overdrawn(label, amount))
        piece = self.draw(step, held, amount, None)
        piece.missing = f"more was taken from [{label.name}] than it held"
        held.gone = True
        return piece

    def draw(self, step: Step, held: Holding, amount: Amount | None, part: float | None) -> Holding:
        """Draw an amount, or a part of what is left, as a thing of its own."""
        piece = Holding("", held.label, held.what, held.role, held.made_by, step.day)
        piece.parent, piece.part, piece.before = held, part, len(held.draws)
        piece.entries.append(step.entry)
        if amount is not None:
            piece.looks.append(Look(amount, step.entry))
        elif part is not None:
            piece.estimate(held, part)
        held.note_drawn(amount, part)
        held.draws.append(piece)
        return self.keep(piece, f"{held.key}, part {len(held.draws)}")

    def take_all(self, held: Holding, day: date | None) -> Holding:
        """All that is left: the thing itself, or, where it was drawn from, its rest."""
        if not held.draws:
            return held
        rest = Holding("", held.label, held.what, held.role, held.made_by, day, held.fate)
        rest.parent, rest.part, rest.before = held, 1.0, len(held.draws)
        rest.entries.extend(held.entries[:1])
        rest.estimate(held, 1.0)
        held.draws.append(rest)
        held.gone = True
        return self.keep(rest, f"{held.key}, rest")


def amounts_of(portion: Portion) -> list[Amount]:
    """The mass, volume or count written for a portion."""
    both = (portion.amount, portion.second)
    return [one for one in both if one is not None and one.dimension in COUNTED]
