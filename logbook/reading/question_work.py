"""Questions of chemistry: what dissolves, drops, cements, destroys, neutralises; what gas comes."""

from __future__ import annotations

import re
from collections.abc import Callable

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question, Refusal
from logbook.reading.asking import Asking, Read
from logbook.reading.question_parts import (
    Part,
    amount_near,
    materials_in,
    names_supply,
    supplies_in,
    trimmed,
)
from logbook.reading.question_together import together, weighed_first
from logbook.reading.rooms import sides_in
from logbook.reference import reagents

_VOLUMES = frozenset({Dimension.VOLUME})
IN_WITH = re.compile(r"(?<!\S)(?:in|with|using|by)\s+", re.I)
_OUT_OF = re.compile(
    r"(?<!\S)(?:out\s+of|from|in)\s+(?:a\s+|the\s+)?(?:\w+\s+)*(?:solution|liquid)", re.I
)
_VERBS = {
    Kind.DISSOLVE: r"(?:dissolv(?:e|es|ing)|digest(?:s|ing)?|leach(?:es|ing)?)",
    Kind.DROP: r"(?:drop(?:s|ping)?|precipitat(?:e|es|ing)|bring(?:s|ing)?\s+down|throw\s+down)",
    Kind.CEMENT: r"cement(?:s|ing)?(?:\s+out)?",
    Kind.DESTROY: r"(?:destroy(?:s|ing)?|get(?:ting)?\s+rid\s+of|remov(?:e|es|ing)|kill(?:s|ing)?"
    r"|use\s+up|expel(?:s|ling)?|denox)",
    Kind.NEUTRALISE: r"neutrali[sz](?:e|es|ing)",
    Kind.CONVERT: r"(?:convert(?:s|ing)?|reduc(?:e|es|ing))",
}
JOINTS = {
    kind: re.compile(
        rf"(?<!\S)(?:(?:to|for|will|would|can|does|do|that)\s+)?{verb}(?!\w)"
        r"(?:\s+(?:all|the|my|any|remaining|leftover|excess|rest\s+of)(?=\s))*",
        re.I,
    )
    for kind, verb in _VERBS.items()
}
_LACKS_SUPPLY = {
    Kind.DISSOLVE: "which acid, and how strong it is: for example nitric acid 68 %",
    Kind.DROP: "what is to drop it: for example sodium metabisulfite, or salt",
    Kind.CEMENT: "which metal is to cement it: for example copper",
    Kind.DESTROY: "what is to destroy it: for example sulfamic acid",
    Kind.NEUTRALISE: "which base: for example sodium carbonate",
    Kind.CONVERT: "what is to convert it: for example zinc, or sodium hydroxide",
}
_LACKS_MATERIAL = {
    Kind.DISSOLVE: "how much of which metal: for example 100 g silver",
    Kind.DROP: "how much of which metal is in solution: for example 12 g gold",
    Kind.CEMENT: "how much of which metal is in solution: for example 100 g silver",
    Kind.DESTROY: "how much of what: for example 1 mL nitric acid 70 %",
    Kind.NEUTRALISE: "how much of which acid, and how strong: for example 100 mL nitric acid 70 %",
    Kind.CONVERT: "how much of which salt: for example 100 g silver chloride",
}


def worked(kind: Kind) -> Callable[[Asking], Read]:
    """The reader of `SUPPLY to VERB MATERIAL` and `to VERB MATERIAL in SUPPLY`."""

    def read(asking: Asking) -> Read:
        joint = asking.search(JOINTS[kind])
        if joint is None:
            return None
        before, behind = asking.around(joint)
        if away := asking.search(_OUT_OF, behind):
            asking.without(Part(away.start(), away.end()))
            behind = trimmed(asking.reading, behind.start, asking.whole.end)
        more = Part(behind.end, behind.end)
        for place in IN_WITH.finditer(asking.reading.text, behind.start, behind.end):
            rest = trimmed(asking.reading, place.end(), behind.end)
            if names_supply(asking.reading, rest):
                behind, more = trimmed(asking.reading, behind.start, place.start()), rest
                break
        asked = (*supplies_in(asking.reading, before), *supplies_in(asking.reading, more))
        asked = tuple(one for one in asked if not _is_water(one)) or asked
        return _of_supplies(asking, kind, asked, behind)

    return read


def _is_water(portion: Portion) -> bool:
    """Whether it is what a work goes on in, and nothing that it uses up."""
    return bool(portion.reagent) and reagents()[portion.reagent].formula == "H2O"


def _of_supplies(
    asking: Asking, kind: Kind, asked: tuple[Portion, ...], behind: Part
) -> Question | Refusal:
    materials, unread = materials_in(asking.reading, behind)
    if not materials and asked and all(one.amount is not None for one in asked) and not unread:
        # "will 100 mL nitric acid dissolve ..." without an amount of what is worked on
        unread = (asking.words(behind),) if behind else ()
    missing = []
    if not asked:
        missing.append(_LACKS_SUPPLY[kind])
    if not materials:
        missing.append(_LACKS_MATERIAL[kind])
    if missing:
        return asking.refusal(*missing)
    return Question(kind, asking.text, asking.span, asked, materials, unread=unread)


_GAS = re.compile(r"(?<!\w)(?:gas(?:es)?|fumes?)(?!\w)", re.I)
_GIVEN_OFF = re.compile(
    r"(?<!\w)(?:(?:is|are|does|do|will|would|come[s]?|comes)\s+)?(?:given\s+off|give[s]?\s+off|"
    r"give|make[s]?|evolved?|come[s]?)(?!\w)(?:\s+(?:off|by))?",
    re.I,
)
_FROM = re.compile(r"(?<!\S)(?:from|of|off|by|when|if|for|does|do|will|would|is|are)(?!\S)", re.I)
_ROOM = re.compile(
    r"(?:,\s*)?(?<!\S)(?:in|into|for|inside)?\s*(?:a|the|my)?\s*\broom\b(?:\s+of)?", re.I
)
_DISSOLVED = re.compile(r"(?<!\S)(?:(?:is|are|being|when)\s+)?dissolv(?:ed|ing|es?)(?!\w)", re.I)


def gas(asking: Asking) -> Read:
    """`gas from 100 g copper in nitric acid 68 %, in a room of 30 m3`."""
    found = asking.search(_GAS)
    if found is None or names_supply(asking.reading, Part(found.end(), found.end() + 4)):
        return None
    asking.without(Part(found.start(), found.end()))
    room = _room(asking)
    for pattern in (_GIVEN_OFF, _DISSOLVED, _FROM):
        while word := asking.search(pattern):
            asking.without(Part(word.start(), word.end()))
    asked: tuple[Portion, ...] = ()
    before = asking.whole
    if place := asking.search(IN_WITH):
        before, behind = asking.around(place)
        asked = supplies_in(asking.reading, behind)
    materials, alone, unread = together(asking.reading, before)
    asked = (*asked, *alone)
    if not materials:
        materials, asked = weighed_first(asked)
    if not materials:
        return asking.refusal(
            "how much of what gives it off: for example 100 g copper in nitric acid 68 %"
        )
    amounts = (("room", room),) if room is not None else ()
    return Question(
        Kind.GAS, asking.text, asking.span, asked, materials, amounts=amounts, unread=unread
    )


def _room(asking: Asking) -> Amount | None:
    """The room of a question, by its volume or by its sides, blanked out where it was read."""
    room = sides_in(asking.reading, asking.whole.start, asking.whole.end)
    if room is not None:
        asking.without(Part(room.span.start, room.span.end))
        while word := asking.search(_ROOM):
            asking.without(Part(word.start(), word.end()))
        return room
    near = amount_near(asking.reading, asking.whole, _ROOM, _VOLUMES)
    if near is None:
        return None
    asking.without(near[1])
    return near[0]
