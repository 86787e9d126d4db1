"""One run looked at entry by entry: which rules of cautions.toml its stages meet, and where.

Where it is open whether something is still there, it is taken to be there: a caution too many
beats one missing. Entries count, and list items that may have been meant as entries; a paragraph
is looked at by itself, for the gravest pairs only. Nothing here knows another run: what comes
from one is in the labelled vessels that both share.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from logbook.calculation.cautions.charge import (
    UNWASHED,
    Charge,
    kept_by_a_bar,
    lasting,
    raised,
    staying,
    told,
)
from logbook.calculation.cautions.rules import Rule, Signs
from logbook.calculation.cautions.signs import (
    OUT,
    RINSING,
    brought_signs,
    got,
    heading_signs,
    is_bar,
    labels,
    metal_signs,
    rinses_charge,
    stated_signs,
    thing_signs,
    told_signs,
    word_signs,
)
from logbook.calculation.cautions.unread import (
    TOLD,
    UNREAD,
    heading_told,
    told_paragraphs,
    told_pours,
    unread_items,
    written,
)
from logbook.calculation.cautions.vessels import (
    ENTERS,
    Deposit,
    Vessels,
    drawn,
    emptied,
    filled,
    first_with,
    named,
    signs_of,
)
from logbook.calculation.cautions.wrong_advice import (
    NOT_SO,
    Belief,
    WrongAdvice,
    contradicted,
    possible,
)
from logbook.calculation.results import Caution, StageKey
from logbook.model.entry import Entry
from logbook.model.run import Run, Stage
from logbook.source import Span

SILENT = frozenset(
    {"bought", "had", "spent", "sold", "priced", "reckoned", "ask", "private", "broke"}
)
"""Actions that bring nothing into a stage and say nothing about one."""


@dataclass(slots=True)
class Walk:
    """Goes through one run as far as it is asked to; lives only while a book is looked at.

    `vessels` are the labelled vessels of the whole book, `carried` what the charge holds.
    """

    run: Run
    vessels: Vessels
    carried: Signs = frozenset()
    raised: list[Caution] = field(default_factory=list)
    done: bool = False
    _at: int = -1
    _day: date | None = None
    _charge: Charge = field(default_factory=lambda: Charge(frozenset()))
    _waiting: list[Entry] = field(default_factory=list)
    _stated: dict[tuple[Span, str], Signs] = field(default_factory=dict)
    _beliefs: tuple[Belief, ...] = ()
    _contradicted: set[str] = field(default_factory=set)

    def begin(self, carried: Signs) -> None:
        """Start with what an earlier run left, and with the metals that are named anywhere."""
        stated = frozenset().union(*map(self._signs_stated, self.run.entries))
        metals = frozenset(sign for sign in stated if sign.startswith("metal "))
        self.carried = carried | metals | {f"metal {metal}" for metal in self.run.metals}
        self._day = self.run.day
        self._beliefs = possible(self.run.source.text)

    def reach(self, stage: int, entry: Entry, day: date | None) -> None:
        """Go on up to an entry and over it."""
        while self._at < stage:
            self._next_stage()
        self._day = day
        while self._waiting and self._waiting[0].span.start <= entry.span.start:
            self._pass(self._waiting.pop(0))

    def finish(self) -> None:
        """Go on to the end of the run."""
        while self._at < len(self.run.stages):
            self._next_stage()
        self.done = True

    @property
    def _where(self) -> StageKey:
        return StageKey(self.run.name, self._at)

    def _signs_stated(self, entry: Entry) -> Signs:
        key = entry.span, entry.action
        if key not in self._stated:
            self._stated[key] = stated_signs(entry)
        return self._stated[key]

    def _next_stage(self) -> None:
        while self._waiting:
            self._pass(self._waiting.pop(0))
        if self._at >= 0:
            self._close(self.run.stages[self._at])
        self._at += 1
        if self._at < len(self.run.stages):
            self._open(self.run.stages[self._at])

    def _open(self, stage: Stage) -> None:
        brought = self._charge.from_label.items()
        still = {sign: source for sign, source in brought if sign in self.carried}
        charge = self._charge = Charge(self.carried, holds=self.carried, from_label=still)
        if self._at == 0:
            title = self.run.title
            charge.bring(word_signs("word", title) | metal_signs(title), None)
        items = (*stage.entries, *unread_items(stage))
        self._waiting = sorted(items, key=lambda entry: entry.span.start)
        charge.note(heading_signs(stage), None)
        if any(entry.action == "took" for entry in self._waiting):
            charge.carried = lasting(charge.carried)
            charge.holds = lasting(charge.holds)
        elif self._at:  # the charge goes on, label and all
            before = self.run.stages[self._at - 1].entries
            self.vessels.empty(
                label for one in before if one.action == "got" for label in labels(one)
            )

    def _pass(self, entry: Entry) -> None:
        if entry.action not in SILENT:
            self._enter(entry)
            leaving = self._leaving(entry)
            for label in filled(entry):
                self._put(label, leaving, entry)
            self._look(entry)
        for label, portion in named(entry):
            stated = (f"metal {one.metal}" for one in entry.compositions)
            named_signs = thing_signs(portion) | word_signs("word", portion.what)
            self._put(label, staying(named_signs.union(stated)), entry)
        self.vessels.empty(emptied(entry))

    def _enter(self, entry: Entry) -> None:
        """One entry's part, and with a label whatever that label has held."""
        stage, charge = self.run.stages[self._at], self._charge
        own = self._signs_stated(entry) | brought_signs(entry)
        if entry.action in RINSING:
            charge.wash()
        elif "class nitrate" in own:
            own |= {UNWASHED}
        content: set[str] = set()
        if entry.action not in OUT or entry.words == UNREAD:
            for label in drawn(entry):
                for deposit in self.vessels.deposits(label):
                    content |= deposit.signs
                    for sign in deposit.signs - charge.signs:
                        charge.from_label.setdefault(sign, (label, deposit))
        for sign in own:
            charge.from_label.pop(sign, None)
        if rinses_charge(entry, stage):
            charge.rinse()
            charge.note(own | content, entry)
        else:
            charge.bring(own | content, entry)

    def _leaving(self, entry: Entry) -> Signs:
        """What an entry pours or puts away.

        A bar or powder of metal takes itself along, the content of a label or a reagent goes as
        it is; anything else takes along all that was about it.
        """
        things = frozenset().union(*(thing_signs(portion) for portion in entry.portions))
        content = signs_of(one for label in drawn(entry) for one in self.vessels.deposits(label))
        itself = entry.action in ENTERS and any(sign.startswith("class ") for sign in things)
        if "class metal" in things or content or itself:
            return staying(things | content)
        charge = self._charge
        about = charge.holds if entry.action == "got" else charge.signs
        return staying(things | (kept_by_a_bar(entry, about) if is_bar(entry) else about))

    def _put(self, label: str, signs: Signs, entry: Entry) -> None:
        """Something goes into a labelled vessel: what it meets there, and that it stays."""
        self._meet(label, signs, entry, self.vessels.standing(label))
        self.vessels.put(label, Deposit(signs, entry, self.run.name, self._day))

    def _look(self, entry: Entry) -> None:
        """What a spot test meets in a drop of what a label holds."""
        tested = frozenset(s for s in self._signs_stated(entry) if s.startswith("tested "))
        for label in (one.name for test in entry.tests for one in test.labels):
            self._meet(label, tested, entry, self.vessels.deposits(label))

    def _meet(
        self,
        label: str,
        signs: Signs,
        entry: Entry,
        held: tuple[Deposit, ...],
        place: str = "",
    ) -> None:
        """The rules that something meets in a vessel, and that are not told already.

        A plan is told of all that it would meet, whatever an older log has met there.
        """
        before = signs_of(held)
        if not held or (signs <= before and not self.run.planned):
            return
        alone = (self._charge.signs, signs, *(() if self.run.planned else (before,)))
        known = {rule.name for some in alone for rule in raised(some, some)}
        if place:
            known |= {caution.rule for caution in self.raised if caution.stage == self._where}
        for rule in raised(before | signs, signs):
            if rule.name in known:
                continue
            asked = frozenset().union(*rule.meets) - signs
            first = first_with(held, asked) or held[0]
            met = f"In [{label}], with what went in {first.since(self.run.name)}: "
            self._say(rule, entry, place + met, first.entry, label)

    def _close(self, stage: Stage) -> None:
        """The end of a stage: what met in it, what its paragraphs tell, what goes on."""
        for rule in raised(self._charge.signs, frozenset(self._charge.new)):
            self._say_of_stage(rule, stage)
        self._tell(stage)
        self._contradict(stage)
        self._go_on(stage)

    def _say(
        self,
        rule: Rule,
        entry: Entry,
        place: str = "",
        other: Entry | None = None,
        vessel: str = "",
    ) -> None:
        source = f"{rule.source}. {rule.note}" if rule.note else rule.source
        said = (rule.name, rule.signal, place + rule.text, rule.do, source)
        self.raised.append(Caution(*said, self._where, entry, other, vessel))

    def _say_of_stage(self, rule: Rule, stage: Stage) -> None:
        """Tell of a rule beside the last entry that gave one of its signs.

        Where the whole run has none that was read, the heading of the stage stands for it.
        """
        behind = self._charge.behind(rule)
        unread = sorted({entry.line for entry in behind if entry.words == UNREAD})
        lines = " and ".join(map(str, unread))
        place = f"With line {lines}, not read as an entry: " if unread else ""
        found = self._charge.label_behind(rule)
        if found is not None and found[1].run != self.run.name:
            label, deposit = found
            place += f"With what went into [{label}] {deposit.since(self.run.name)}: "
        read = [entry for entry in behind if entry.words != UNREAD]
        last = max(read, key=lambda entry: entry.span.start, default=None)
        entry = last or self._beside(stage, behind)
        self._say(rule, entry, place, found[1].entry if found is not None else None)

    def _beside(self, stage: Stage, more: Iterable[Entry]) -> Entry:
        """An entry to stand beside, where none that was read tells of it."""
        others = (*stage.entries, *self.run.entries, *more)
        shown = (entry for entry in others if entry.action != "private")
        return next(shown, None) or heading_told(stage)

    def _tell(self, stage: Stage) -> None:
        """What paragraphs of the stage say, and with the first stage those above it."""
        opening = self.run.opening if self._at == 0 else ()
        leaving = (entry for entry in stage.entries if entry.action in OUT)
        known = {caution.rule for caution in self.raised if caution.stage == self._where}
        above = (*leaving, *told_paragraphs(opening))
        found = (
            *told(above, frozenset(), self.vessels, known),
            *told(told_paragraphs(stage.blocks), self._charge.signs, self.vessels, known),
        )
        for rule, text in found:
            read = text.action != TOLD
            entry = text if read else self._beside(stage, (text,))
            self._say(rule, entry, "" if read else f"In the text of line {text.line}: ")
        for text in told_paragraphs((*opening, *stage.blocks)):
            self._pour_told(stage, text)

    def _contradict(self, stage: Stage) -> None:
        """Well-known wrong advice that the entries or the prose of a stage show: each once."""
        if not self._beliefs:
            return
        opening = self.run.opening if self._at == 0 else ()
        entries = [entry for entry in stage.entries if entry.action != "private"]
        for text in (*entries, *written((*opening, *stage.blocks))):
            words = text.words if text.action == TOLD else text.span.text
            for advice in contradicted(words, among=self._beliefs):
                self._say_wrong(advice, text, stage)

    def _say_wrong(self, advice: WrongAdvice, text: Entry, stage: Stage) -> None:
        if advice.name in self._contradicted:
            return
        self._contradicted.add(advice.name)
        told_of = text.action == TOLD
        entry = self._beside(stage, (text,)) if told_of else text
        place = f"In the text of line {text.line}: " if told_of else ""
        said = f"{place}{NOT_SO} {advice.belief}"
        self.raised.append(
            Caution(advice.name, "warning", said, advice.true, advice.source, self._where, entry)
        )

    def _pour_told(self, stage: Stage, text: Entry) -> None:
        """What a paragraph says was poured into a labelled vessel stays there as well."""
        for label, sentence in told_pours(text.words):
            things = frozenset(s for s in told_signs(sentence) if s.startswith(("class ", "rea")))
            beside = self._beside(stage, (text,))
            held = self.vessels.standing(label)
            self._meet(label, things, beside, held, f"In the text of line {text.line}: ")
            self.vessels.put(label, Deposit(things, text, self.run.name, self._day))

    def _go_on(self, stage: Stage) -> None:
        """What the next stage starts with."""
        charge = self._charge
        things = frozenset().union(*(thing_signs(portion) for portion in got(stage)))
        self.carried = staying(charge.holds | things | lasting(charge.signs))
        moisture = {entry.moisture for entry in stage.entries if entry.action == "got"}
        dried = "stage dry" in charge.signs or "dry" in moisture
        if dried and not moisture & {"damp", "wet"}:
            self.carried -= {"state damp"}
