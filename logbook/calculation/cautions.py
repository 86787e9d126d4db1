"""Cautions: which rules of cautions.toml the stages of a run meet.

Rules are matched on what was added, used, taken and kept, stage by stage, together with what
an earlier stage left in the vessel or under a label. Where it is open whether something is
still there, it is taken to be there: a caution too many beats one missing. Nothing here ever
says that a step is safe. Entries count, and list items that may have been meant as entries;
a paragraph is looked at by itself, for the gravest pairs only.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from logbook.calculation.caution_rules import Rule, Signs, rule_book, rules_asking
from logbook.calculation.caution_signs import (
    OUT,
    brought_signs,
    got,
    heading_signs,
    labels,
    metal_signs,
    rinses_charge,
    stated_signs,
    thing_signs,
    told_signs,
    word_signs,
)
from logbook.calculation.caution_unread import (
    TOLD,
    UNREAD,
    heading_told,
    told_paragraphs,
    unread_items,
    without_denials,
)
from logbook.calculation.results import Caution, StageKey
from logbook.model.entry import Entry
from logbook.model.run import Run, Stage
from logbook.source import Span

DEFERRAL = (
    "These cautions are reminders, not permission and not advice. Local law and codes, proper "
    "ventilation, protective equipment and licensed practice come first. A danger that is not "
    "named here is still a danger: the absence of a caution says nothing about safety."
)
"""The sentences that follow wherever cautions are shown."""

SILENT = frozenset(
    {"bought", "had", "spent", "sold", "priced", "reckoned", "ask", "private", "broke"}
)
"""Actions that bring nothing into a vessel and say nothing about one."""


def _lasting(signs: Signs) -> Signs:
    """What neither a rinse nor a new charge takes away."""
    return frozenset(sign for sign in signs if sign.startswith(("metal ", "word ")))


def _staying(signs: Signs) -> Signs:
    """What can go on with a charge when its stage ends."""
    kinds = ("metal ", "word ", "class ", "reagent ", "state damp")
    return frozenset(sign for sign in signs if sign.startswith(kinds))


@dataclass(slots=True)
class _Vessel:
    """What is in a stage as its entries go by; lives only while one stage is looked at.

    `carried` was there before, `new` came in this stage and by which entry (None: the
    heading), `holds` is what the charge holds now, after what was rinsed out of it.
    """

    carried: Signs
    new: dict[str, Entry | None] = field(default_factory=dict)
    holds: Signs = frozenset()

    @property
    def signs(self) -> Signs:
        """Everything that was ever together here."""
        return self.carried | self.new.keys()

    def note(self, signs: Signs, entry: Entry | None) -> None:
        """Something is said of the stage that the charge does not keep."""
        self.new |= dict.fromkeys(signs, entry)

    def bring(self, signs: Signs, entry: Entry | None) -> None:
        """Something enters the charge."""
        self.note(signs, entry)
        self.holds |= signs

    def rinse(self) -> None:
        """The charge is washed; what was carried meets nothing added after it."""
        self.holds = _lasting(self.holds)
        if not any(sign.startswith("class ") for sign in self.new):
            self.carried = _lasting(self.carried)


def _raised(signs: Signs, fresh: Signs) -> list[Rule]:
    """The rules that signs meet, at least one group of each by something fresh."""
    places = {place for sign in fresh for place in rules_asking().get(sign, ())}
    rules = (rule_book().rules[place] for place in sorted(places))
    met = [rule for rule in rules if rule.meets_in(signs)]
    names = {rule.name for rule in met}
    return [rule for rule in met if rule.covered_by not in names]


def _entry_behind(rule: Rule, vessel: _Vessel, stage: Stage, run: Run) -> Entry:
    """The entry that completed the meeting: the last that gave one of the rule's signs.

    Where the whole run has none that was read, the heading of the stage stands for it.
    """
    entries = _behind(rule, vessel)
    read = [entry for entry in entries if entry.words != UNREAD]
    if read:
        return max(read, key=lambda entry: entry.span.start)
    others = (*stage.entries, *run.entries, *entries)
    written = (entry for entry in others if entry.action != "private")
    return next(written, None) or heading_told(stage)


def _behind(rule: Rule, vessel: _Vessel) -> list[Entry]:
    """The entries, and items not read as entries, that gave a sign of a rule in this stage."""
    asked = frozenset().union(*rule.meets)
    return [entry for sign, entry in vessel.new.items() if sign in asked and entry is not None]


def _place(rule: Rule, vessel: _Vessel) -> str:
    """Where a rule was met, if the line itself was not read as an entry."""
    lines = sorted({entry.line for entry in _behind(rule, vessel) if entry.words == UNREAD})
    if not lines:
        return ""
    numbers = " and ".join(map(str, lines))
    return f"With line {numbers}, not read as an entry: "


def _told(texts: Iterable[Entry], vessel: Signs, known: set[str]) -> Iterator[tuple[Rule, Entry]]:
    """The gravest rules that a text meets by itself: each once, and none that is known.

    What must not be poured together at any price is looked for in the vessel as well.
    """
    book = rule_book()
    for text in texts:
        signs = told_signs(without_denials(text.words if text.action == TOLD else text.span.text))
        alone = [rule for rule in _raised(signs, signs) if rule.name in book.told]
        poured = [rule for rule in _raised(signs | vessel, signs) if rule.name in book.poured]
        for rule in (*alone, *poured):
            if rule.name not in known:
                known.add(rule.name)
                yield rule, text


def _caution(rule: Rule, where: StageKey, entry: Entry, place: str = "") -> Caution:
    source = f"{rule.source}. {rule.note}" if rule.note else rule.source
    return Caution(rule.name, rule.signal, place + rule.text, rule.do, source, where, entry)


@dataclass(slots=True)
class _Walk:
    """Goes through one run, stage by stage; lives only while that run is looked at.

    `shelf` is what each label has held so far, `carried` what the vessel holds.
    """

    run: Run
    shelf: dict[str, Signs]
    carried: Signs
    raised: list[Caution] = field(default_factory=list)
    stated: dict[tuple[Span, str], Signs] = field(default_factory=dict)

    def through(self) -> None:
        """Look at every stage in order."""
        stated = frozenset().union(*map(self._stated, self.run.entries))
        metals = frozenset(sign for sign in stated if sign.startswith("metal "))
        self.carried |= metals | {f"metal {metal}" for metal in self.run.metals}
        for index, stage in enumerate(self.run.stages):
            opening = _Vessel(self.carried, holds=self.carried)
            if index == 0:
                title = self.run.title
                opening.bring(word_signs("word", title) | metal_signs(title), None)
            self._stage(StageKey(self.run.name, index), stage, opening)

    def _stated(self, entry: Entry) -> Signs:
        key = entry.span, entry.action
        if key not in self.stated:
            self.stated[key] = stated_signs(entry)
        return self.stated[key]

    def _stage(self, where: StageKey, stage: Stage, vessel: _Vessel) -> None:
        written = sorted((*stage.entries, *unread_items(stage)), key=lambda e: e.span.start)
        entries = [entry for entry in written if entry.action not in SILENT]
        vessel.note(heading_signs(stage), None)
        if any(entry.action == "took" for entry in entries):
            vessel.carried = _lasting(vessel.carried)
            vessel.holds = _lasting(vessel.holds)
        for entry in entries:
            self._enter(entry, stage, vessel)
        for rule in _raised(vessel.signs, frozenset(vessel.new)):
            behind = _entry_behind(rule, vessel, stage, self.run)
            self.raised.append(_caution(rule, where, behind, _place(rule, vessel)))
        self._tell(where, stage, vessel.signs)
        for entry in entries:
            self._put_away(where, entry, vessel)
        self._go_on(stage, vessel)

    def _tell(self, where: StageKey, stage: Stage, vessel: Signs) -> None:
        """What paragraphs of the stage say, and with the first stage those above it."""
        opening = self.run.opening if where.index == 0 else ()
        leaving = (entry for entry in stage.entries if entry.action in OUT)
        known = {caution.rule for caution in self.raised if caution.stage == where}
        found = (
            *_told((*leaving, *told_paragraphs(opening)), frozenset(), known),
            *_told(told_paragraphs(stage.blocks), vessel, known),
        )
        for rule, told in found:
            others = (*stage.entries, *self.run.entries, told)
            read = told.action != TOLD
            behind = told if read else next(e for e in others if e.action != "private")
            place = "" if read else f"In the text of line {told.line}: "
            self.raised.append(_caution(rule, where, behind, place))

    def _enter(self, entry: Entry, stage: Stage, vessel: _Vessel) -> None:
        """One entry's part, and with a label whatever that label has held."""
        if rinses_charge(entry, stage):
            vessel.rinse()
            vessel.note(self._stated(entry) | brought_signs(entry), entry)
            return
        signs = self._stated(entry) | brought_signs(entry)
        taken = () if entry.action in OUT else tuple(labels(entry))
        for label in (*taken, *(source.name for source in entry.sources)):
            signs |= self.shelf.get(label, frozenset())
        vessel.bring(signs, entry)

    def _put_away(self, where: StageKey, entry: Entry, vessel: _Vessel) -> None:
        """What leaves under a label: what it meets there, and what the label then holds."""
        destinations = (label.name for label in entry.destinations)
        for label in (*destinations, *(labels(entry) if entry.action in OUT else ())):
            held = self.shelf.get(label, frozenset())
            leaving = self._leaving(entry, vessel)
            self.shelf[label] = held | leaving
            if leaving <= held or not held:
                continue
            known = {rule.name for signs in (vessel.signs, held) for rule in _raised(signs, signs)}
            for rule in _raised(held | leaving, leaving):
                if rule.name not in known:
                    self.raised.append(_caution(rule, where, entry, f"In [{label}]: "))

    @staticmethod
    def _leaving(entry: Entry, vessel: _Vessel) -> Signs:
        """A bar or powder of metal takes itself along; anything else all that was about it."""
        things = frozenset().union(*(thing_signs(portion) for portion in entry.portions))
        if "class metal" in things:
            return things
        about = vessel.holds if entry.action == "got" else vessel.signs
        return _staying(about | things)

    def _go_on(self, stage: Stage, vessel: _Vessel) -> None:
        """What the next stage starts with."""
        things = frozenset().union(*(thing_signs(portion) for portion in got(stage)))
        self.carried = _staying(vessel.holds | things | _lasting(vessel.signs))
        moisture = {entry.moisture for entry in stage.entries if entry.action == "got"}
        dried = "stage dry" in vessel.signs or "dry" in moisture
        if dried and not moisture & {"damp", "wet"}:
            self.carried -= {"state damp"}


def cautions_of_runs(runs: Iterable[Run]) -> Mapping[str, tuple[Caution, ...]]:
    """The cautions of each run, by its name, with jars and waste containers followed through.

    The runs are taken in the order given. A label keeps what was ever put into it, so that a
    waste container filled in two runs is looked at as one mixture. `Continues` takes up what
    the earlier run left in the vessel. A plan looks at the jars and leaves them as they are.
    """
    shelf: dict[str, Signs] = {}
    ends: dict[str, Signs] = {}
    cautions: dict[str, tuple[Caution, ...]] = {}
    for run in runs:
        walk = _Walk(
            run, dict(shelf) if run.planned else shelf, ends.get(run.continues, frozenset())
        )
        walk.through()
        ends[run.name] = walk.carried
        cautions[run.name] = tuple(walk.raised)
    return cautions
