"""What is in the charge of one stage as its entries go by, and which rules its signs meet.

Knows nothing of runs and labels beyond what it is given, and judges no rule harmless.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from logbook.calculation.cautions.rules import Rule, Signs, rule_book, rules_asking
from logbook.calculation.cautions.signs import told_signs
from logbook.calculation.cautions.unread import TOLD, told_labels, without_denials
from logbook.calculation.cautions.vessels import Deposit, Vessels, signs_of
from logbook.model.entry import Entry

UNWASHED = "state unwashed"
"""The sign of a nitrate that no later stage has rinsed out."""


def lasting(signs: Signs) -> Signs:
    """What neither a rinse nor a new charge takes away."""
    return frozenset(sign for sign in signs if sign.startswith(("metal ", "word ")))


def staying(signs: Signs) -> Signs:
    """What can go on with a charge when its stage ends."""
    kinds = ("metal ", "word ", "class ", "reagent ", "strong ", "state damp", UNWASHED)
    return frozenset(sign for sign in signs if sign.startswith(kinds))


def kept_by_a_bar(entry: Entry, signs: Signs) -> Signs:
    """What a bar keeps of what was about it: the liquids it came from are no part of it."""
    damp = entry.moisture in ("damp", "wet")
    return lasting(signs) | (signs & {"state damp"} if damp else frozenset())


@dataclass(slots=True)
class Charge:
    """What is in a stage as its entries go by; lives only while one stage is looked at.

    `carried` was there before, `new` came in this stage and by which entry (None: the
    heading), `holds` is what the charge holds now, after what was rinsed out of it.
    `from_label` tells of signs that came with the content of a label alone.
    """

    carried: Signs
    new: dict[str, Entry | None] = field(default_factory=dict)
    holds: Signs = frozenset()
    from_label: dict[str, tuple[str, Deposit]] = field(default_factory=dict)

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
        self.holds = lasting(self.holds)
        if not any(sign.startswith("class ") for sign in self.new):
            self.carried = lasting(self.carried)

    def wash(self) -> None:
        """Something is rinsed, if not surely the charge: what an earlier stage left is less."""
        self.carried -= {UNWASHED}
        if UNWASHED not in self.new:
            self.holds -= {UNWASHED}

    def behind(self, rule: Rule) -> list[Entry]:
        """The entries, and items not read as entries, that gave a sign of a rule here."""
        asked = frozenset().union(*rule.meets)
        return [e for sign, e in self.new.items() if sign in asked and e is not None]

    def label_behind(self, rule: Rule) -> tuple[str, Deposit] | None:
        """The label without whose content a rule would not be met, if there is one."""
        if rule.meets_in(self.signs - self.from_label.keys()):
            return None
        asked = frozenset().union(*rule.meets)
        return next((self.from_label[s] for s in sorted(asked) if s in self.from_label), None)


def raised(signs: Signs, fresh: Signs) -> list[Rule]:
    """The rules that signs meet, at least one group of each by something fresh."""
    places = {place for sign in fresh for place in rules_asking().get(sign, ())}
    rules = (rule_book().rules[place] for place in sorted(places))
    met = [rule for rule in rules if rule.meets_in(signs)]
    names = {rule.name for rule in met}
    return [rule for rule in met if rule.covered_by not in names]


def told(
    texts: Iterable[Entry], charge: Signs, vessels: Vessels, known: set[str]
) -> Iterator[tuple[Rule, Entry]]:
    """The gravest rules that a text meets by itself: each once, and none that is known.

    What must not be poured together at any price is looked for in the charge as well, and in
    the labelled vessels that the text names.
    """
    book = rule_book()
    for text in texts:
        words = text.words if text.action == TOLD else text.span.text
        signs = told_signs(without_denials(words))
        held = [one for label in told_labels(words) for one in vessels.deposits(label)]
        alone = [rule for rule in raised(signs, signs) if rule.name in book.told]
        there = signs | charge | signs_of(held)
        poured = [rule for rule in raised(there, signs) if rule.name in book.poured]
        for rule in (*alone, *poured):
            if rule.name not in known:
                known.add(rule.name)
                yield rule, text
