"""Which cautions a question meets: by what it names, and by what stands in such a vessel anyway.

Where it is open whether something is there, it is taken to be there: a caution too many beats
one missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from logbook.calculation.cautions.rules import Signs, rule_book
from logbook.calculation.cautions.signs import thing_signs, told_signs
from logbook.calculation.results.answers import Warned
from logbook.model.question import Kind, Question, Refusal

_STAGES: Mapping[Kind, str] = {
    Kind.DISSOLVE: "dissolve",
    Kind.DROP: "drop",
    Kind.CEMENT: "cement",
    Kind.DESTROY: "denox",
    Kind.NEUTRALISE: "treat waste",
    Kind.CONVERT: "convert",
    Kind.GAS: "dissolve",
    Kind.INQUART: "inquart",
    Kind.CELL: "electrolyse",
}
# What a metal stands in when it is dropped or cemented: from general chemistry, from memory.
_CHLORIDES = frozenset({"class acid", "class hydrochloric", "class chloride"})
_DISSOLVED: Mapping[str, Signs] = {
    "gold": _CHLORIDES | {"class gold salt"},
    "platinum": _CHLORIDES,
    "palladium": _CHLORIDES,
    "silver": frozenset({"class acid", "class nitric", "class silver salt"}),
    "copper": frozenset({"class acid", "class copper salt"}),
}
_IN_SOLUTION = frozenset({Kind.DROP, Kind.CEMENT})
_SIGNALS = ("danger", "warning")


def signs_of(question: Question | Refusal) -> Signs:
    """What speaks for a danger in a question."""
    signs = told_signs(question.text)
    if isinstance(question, Refusal):
        return signs
    portions = (*question.asked, *(material.portion for material in question.of))
    signs = signs.union(*map(thing_signs, portions))
    if question.kind in _STAGES:
        signs |= {f"stage {_STAGES[question.kind]}"}
    if question.kind in _IN_SOLUTION:
        signs = signs.union(*(_DISSOLVED.get(metal, frozenset()) for metal in _metals(signs)))
    if question.kind is Kind.GAS and not question.asked:
        signs |= {"class acid"}  # without one there would hardly be a gas to ask about
    if question.kind is Kind.DILUTE:
        signs |= told_signs("water")
    return signs


def _metals(signs: Signs) -> Iterable[str]:
    return (sign.removeprefix("metal ") for sign in signs if sign.startswith("metal "))


def warned_of(question: Question | Refusal) -> tuple[Warned, ...]:
    """The cautions that a question meets, dangers first."""
    signs = signs_of(question)
    met = [rule for rule in rule_book().rules if rule.meets_in(signs)]
    names = {rule.name for rule in met}
    found = [
        Warned(
            rule.name,
            rule.signal,
            rule.text,
            rule.do,
            f"{rule.source}. {rule.note}" if rule.note else rule.source,
        )
        for rule in met
        if rule.covered_by not in names
    ]
    return tuple(sorted(found, key=lambda one: _SIGNALS.index(one.signal)))
