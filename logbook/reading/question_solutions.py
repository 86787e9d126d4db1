"""Questions about solutions: diluting, making, mixing, and what a solution can hold."""

from __future__ import annotations

import re

from logbook.model.amount import Amount, Dimension
from logbook.model.question import Kind, Question
from logbook.reading.asking import Asking, Read
from logbook.reading.question_parts import (
    Part,
    amount_near,
    amounts_in,
    materials_in,
    supplies_in,
    trimmed,
)
from logbook.reading.question_work import IN_WITH
from logbook.reading.things import STRENGTHS

_AMOUNTS = frozenset({Dimension.MASS, Dimension.VOLUME})
_TEMPERATURES = frozenset({Dimension.TEMPERATURE})
_DILUTE = re.compile(
    r"(?<!\w)(?:to\s+)?(?:dilut(?:e|es|ing)|thin(?:\s+down)?|bring|water\s+down)(?!\w)", re.I
)
_TO = re.compile(r"(?<!\S)(?:(?:down\s+)?to|until|into)(?=\s+(?:about\s+)?[\d~])", re.I)
_MAKE = re.compile(r"(?<!\w)(?:to\s+|for\s+)?(?:make|making|mix(?:ing)?|get|prepare)(?!\w)", re.I)
_OUT = re.compile(r"(?<!\S)(?:from|out\s+of|of\s+(?=my))(?!\S)", re.I)


def dilute(asking: Asking) -> Read:
    """`dilute 500 mL nitric acid 68 % to 35 %`."""
    found = asking.search(_DILUTE)
    if found is None:
        return None
    before, behind = asking.around(found)
    down = asking.search(_TO, behind)
    target: Amount | None = None
    if down is not None:
        wanted = Part(down.end(), behind.end)
        target = next(amounts_in(asking.reading, wanted, STRENGTHS), None)
        asking.without(Part(down.start(), behind.end))  # "68 % to 35 %" is no range
        behind = trimmed(asking.reading, behind.start, down.start())
    materials, unread = materials_in(asking.reading, behind)
    missing = []
    if not materials:
        missing.append(
            "how much of which solution, and how strong: for example 500 mL nitric acid 68 %"
        )
    elif materials[0].portion.strength is None:
        missing.append("how strong it is before: for example nitric acid 68 %")
    if target is None:
        missing.append("the strength that is wanted: for example to 35 %")
    if missing or target is None:
        return asking.refusal(*missing)
    asked = supplies_in(asking.reading, before)
    return Question(
        Kind.DILUTE, asking.text, asking.span, asked, materials[:1], amounts=(("to", target),),
        unread=unread,
    )  # fmt: skip


def make(asking: Asking) -> Read:
    """`water to make 1 L hydrochloric acid 10 % from 32 %`."""
    found = asking.search(_MAKE)
    if found is None:
        return None
    before, behind = asking.around(found)
    out = asking.search(_OUT, behind)
    wanted = trimmed(asking.reading, behind.start, out.start() if out else behind.end)
    materials, unread = materials_in(asking.reading, wanted)
    named = [one for one in materials if one.portion.reagent or one.portion.strength]
    if not named or len(materials) > 1:
        return None
    given = Part(out.end(), behind.end) if out else before
    stock = next(amounts_in(asking.reading, given, STRENGTHS), None)
    missing = []
    if named[0].portion.strength is None:
        missing.append("the strength that is wanted: 1 L hydrochloric acid 10 %")
    if stock is None:
        missing.append("the strength it is made from: from 32 %")
    asked = (
        *supplies_in(asking.reading, before),
        *(supplies_in(asking.reading, given) if out else ()),
    )
    reagents = {one.reagent for one in asked if one.reagent} | {named[0].portion.reagent} - {""}
    if not reagents:
        missing.append("which acid or solution it is: for example hydrochloric acid")
    if missing or stock is None:
        return asking.refusal(*missing)
    return Question(
        Kind.DILUTE, asking.text, asking.span, asked, (named[0],), amounts=(("from", stock),),
        unread=unread,
    )  # fmt: skip


_MIXED = re.compile(
    r"(?<!\w)(?:mix(?:ed|ing|ture)?|strength|together|pour(?:ed|ing)?|blend(?:ed|ing)?)(?!\w)"
    r"(?:\s+of)?(?:\s+(?:a|the)\s+mixture\s+of)?",
    re.I,
)


def mix(asking: Asking) -> Read:
    """`mix 200 mL nitric acid 68 % and 300 mL nitric acid 30 %`."""
    found = asking.search(_MIXED)
    if found is None:
        return None
    while word := asking.search(_MIXED):
        asking.without(Part(word.start(), word.end()))
    place = asking.whole
    materials, unread = materials_in(asking.reading, place)
    solutions = tuple(one for one in materials if one.portion.reagent)
    if not solutions and "pour" in found[0].lower():
        return None  # what is poured away is another question
    if len(solutions) < 2:
        return asking.refusal(
            "two amounts of one solution with their strengths: for example 200 mL nitric acid 68 % "
            "and 300 mL nitric acid 30 %"
        )
    return Question(Kind.MIX, asking.text, asking.span, (), solutions, unread=unread)


_SATURATED = re.compile(r"(?<!\w)(?:saturat(?:ed?|ion)|solub(?:le|ility))(?!\w)(?:\s+of)?", re.I)


def saturation(asking: Asking) -> Read:
    """`saturation of 250 g copper sulfate in 1 L water at 20 C`."""
    found = asking.search(_SATURATED)
    if found is None:
        return None
    asking.without(Part(found.start(), found.end()))
    warmth = next(amounts_in(asking.reading, asking.whole, _TEMPERATURES), None)
    water = amount_near(
        asking.reading, asking.whole, re.compile(r"(?<!\w)(?:of\s+)?water\b", re.I), _AMOUNTS
    )
    place = asking.search(IN_WITH)
    head = trimmed(asking.reading, asking.whole.start, place.start() if place else asking.whole.end)
    supplies = supplies_in(asking.reading, head)
    materials, unread = materials_in(asking.reading, head)
    if not supplies:
        return asking.refusal(
            "of which salt: for example 250 g copper sulfate in 1 L water at 20 C"
        )
    amounts = [("temperature", warmth)] if warmth is not None else []
    amounts += [("water", water[0])] if water is not None else []
    return Question(
        Kind.SATURATION,
        asking.text,
        asking.span,
        supplies,
        materials,
        amounts=tuple(amounts),
        unread=unread if materials else (),
    )
