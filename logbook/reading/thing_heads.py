"""Entries about things: what was taken, added, got, kept, weighed, bought, broken.

A reader returns whether the words are an entry at all; an action that has nothing it can act
on is asked about and stays prose.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion, Price
from logbook.reading.amounts import amount_in, amount_reader
from logbook.reading.checks import ounces_checked, said_twice, solids_checked, strengths_checked
from logbook.reading.clauses import read_clause, replaced
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.fees import read_fee
from logbook.reading.hallmarks import claim_by_name, names_an_alloy
from logbook.reading.labels import LABEL, labels_in, names_behind
from logbook.reading.moisture import MOISTURE, moisture_named
from logbook.reading.own_strengths import with_strength
from logbook.reading.packages import filled_by_the_maker, packages_as_factor, price_of_each
from logbook.reading.segments import segments
from logbook.reading.things import STRENGTHS, ThingReader, mixture, times
from logbook.reading.vocabulary import (
    describing_words,
    equipment_words,
    prose_words,
    reagent_named,
)
from logbook.reference import metals
from logbook.source import Span

WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_WEIGHED = frozenset({Dimension.MASS, Dimension.VOLUME})
_SUPPLYING = frozenset({"added", "bought", "had", "rinsed", "washed", "stirred"})
_LOOKED_AT = frozenset({"weighed", "measured"})
_SECOND_LOOKS = frozenset({"weighed", "measured", "got", "kept", "lost", "sampled"})
_ARTICLE = re.compile(r"(?:the|them|it|this|that|these|those|both|everything)\b", re.I)


def head_and_clauses(reading: Reading, draft: Draft, start: int, end: int) -> tuple[int, int]:
    """Read every clause after the head; return the head."""
    pieces = segments(reading.text, start, end)
    text = reading.text
    for word, first, last in pieces[1:]:
        word = " ".join(word.split())
        if text.find("[", first, last) >= 0 and draft.action.reads == "thing":
            unnamed = not draft.more_labels and not LABEL.search(text, *pieces[0][1:])
            if unnamed and not _supplies(reading, draft, word, first, last):
                draft.more_labels, last = names_behind(reading, word, first, last)
        read_clause(reading, draft, word, first, last)
    _, first, last = pieces[0]
    while first < last and text[first] in " :\t":
        first += 1
    while last > first and text[last - 1] in " :\t":
        last -= 1
    return first, last


def _supplies(reading: Reading, draft: Draft, word: str, start: int, end: int) -> bool:
    """Whether a clause names something that goes in too, and may have a label of its own."""
    if word != "with":
        return False
    name = draft.action.name
    if name == "took":
        return any(map(str.isdigit, reading.text[start:end]))
    return name in {"added", "discarded", "lost"}


def keep_remarks(reading: Reading, draft: Draft) -> None:
    """Keep as remarks what stands in parentheses and said no amount again."""
    text = reading.source.text
    for start, end in draft.remark_spans:
        if len(draft.portions) == 1 and draft.portions[0].span.start < start:
            again = said_twice(draft.portions[0], reading, (start, end), draft.scale)
            if again is not None:
                draft.portions = (again,)
                continue
        if _strength_said(reading, draft, start, end):
            continue
        _fee_said(reading, draft, start, end)
        if draft.duration is None and draft.action.reads == "time":
            draft.duration = _time_said(reading, start, end)
        if not draft.moisture and (said := MOISTURE.fullmatch(text, start, end)):
            draft.moisture = moisture_named(said)
        draft.remarks += (" ".join(text[start:end].split()),)


def _fee_said(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """The fee of a sale in parentheses, which is money all the same: "(fee 12 EUR)"."""
    if draft.action.name == "sold":
        blanked, reading.text = reading.text, reading.source.text
        read_fee(reading, draft, start, end)
        reading.text = blanked


def _strength_said(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    """A strength in parentheses behind a reagent is its strength: "nitric acid (68 %)"."""
    things = [one for one in (*draft.portions, *draft.supplies) if one.span.start < start]
    if not things or not reading.source.text[start : start + 1].isdigit():
        return False
    thing = max(things, key=lambda one: one.span.start)
    if not thing.reagent or thing.strength is not None:
        return False
    blanked, reading.text = reading.text, reading.source.text
    heard, before, broken = set(reading.heard), len(reading.findings), reading.broken
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    reading.text = blanked
    if found is None or found[1] != end or found[0].dimension not in STRENGTHS:
        del reading.findings[before:]
        reading.heard, reading.broken = heard, broken
        return False
    draft.portions, draft.supplies = (
        tuple([replace(one, strength=found[0]) if one is thing else one for one in of])
        for of in (draft.portions, draft.supplies)
    )
    return True


def _time_said(reading: Reading, start: int, end: int) -> Amount | None:
    """A time in parentheses: "worked all afternoon (about 5 h)"."""
    blanked, reading.text = reading.text, reading.source.text
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    reading.text = blanked
    return found[0] if found is not None and found[0].dimension is Dimension.TIME else None


def read_things(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Read the things of the head, with everything the clauses said about them."""
    if start < end:
        packages_as_factor(reading, draft, start, end)
        reader = ThingReader(reading, draft.scale)
        draft.portions = tuple([_moist(draft, one) for one in reader.portions(start, end)])
        draft.compositions = (*reader.compositions, *draft.compositions)
        for first, last in reader.loose:
            read_clause(reading, draft, ",", first, last)
    with_strength(reading, draft)
    if len(draft.portions) == 1 and draft.portions[0].amount and not draft.portions[0].labels:
        draft.portions = mixture(draft.portions[0], reading, draft.parts)
    if draft.more_labels and draft.portions:
        ending = draft.portions[-1]
        share = ending.share if ending.labels or ending.amount else 1.0
        joined = (*ending.labels, *draft.more_labels)
        draft.portions = (*draft.portions[:-1], replace(ending, labels=joined, share=share))
    keep_remarks(reading, draft)
    claim_by_name(reading, draft)
    _count_plating(reading, draft)
    if draft.further is not None or draft.each or draft.vessels != 1:
        draft.portions = tuple([_multiplied(draft, portion) for portion in draft.portions])
    filled_by_the_maker(draft)
    price_of_each(reading, draft)
    check_readings(reading, draft)


def _count_plating(reading: Reading, draft: Draft) -> None:
    """A plated layer counts as a content, for each of counted things where that was said."""
    if draft.layer is not None:  # without an area it says nothing of a weight
        reading.unhear(draft.layer[1].span.start, draft.layer[1].span.end)
    layer = draft.plated
    if layer is None:
        return
    amount = draft.portions[0].amount if len(draft.portions) == 1 else None
    if draft.each and amount is not None and amount.dimension is Dimension.COUNT:
        layer = replace(layer, amount=times(layer.amount, amount.base_value or 1.0))
    draft.compositions += (layer,)


def _moist(draft: Draft, portion: Portion) -> Portion:
    """A thing that is named damp, wet or dry: "288 g damp cement silver"."""
    if portion.reagent or (said := MOISTURE.match(portion.what)) is None:
        return portion
    draft.moisture = draft.moisture or moisture_named(said)
    alone = said.end() == len(portion.what)
    return replace(portion, what="") if alone else portion


def _multiplied(draft: Draft, portion: Portion) -> Portion:
    """`each` and `in 3 beakers` multiply; a further amount is the mass of counted things."""
    amount, further = portion.amount, draft.further
    count = 1.0
    if amount is not None and amount.dimension is Dimension.COUNT and amount.base_value:
        count = amount.base_value
    if further is not None and amount is None and draft.action.name in _SECOND_LOOKS:
        return replace(portion, amount=further, share=None)
    if further is not None:
        factor = count if draft.each else 1.0
        return replace(portion, second=times(further, factor) if factor != 1.0 else further)
    factor = float(draft.vessels)
    if draft.each and draft.vessels == 1 and len(portion.labels) > 1:
        factor = float(len(portion.labels))
    if amount is None or factor == 1.0:
        return portion
    return replace(portion, amount=times(amount, factor))


def check_readings(reading: Reading, draft: Draft) -> None:
    """Report what has two readings in the things of an entry, and settle which is used."""
    said = draft.compositions
    precious = bool(said) and any(metals()[content.metal].precious for content in said)
    draft.portions = tuple([ounces_checked(one, reading, precious) for one in draft.portions])
    for portion in (*draft.portions, *draft.supplies):
        if draft.action.name in _SUPPLYING:
            solids_checked(portion, reading)
        strengths_checked(portion, reading)


def thing_head(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    """Read an entry about things, with its clauses; whether it is an entry at all."""
    start, end = head_and_clauses(reading, draft, start, end)
    text = reading.text
    first = WORD.match(text, start, end)
    if first and is_prose(first[0].lower()) and not _describes(reading, first[0], draft):
        if weighed := amount_in(reading, start, end, _WEIGHED):
            _no_thing(reading, draft, weighed.span, "in words of prose")
        return False
    read_things(reading, draft, start, end)
    if draft.action.name in _MONEY_HEADS:
        return _MONEY_HEADS[draft.action.name](reading, draft)
    if draft.action.name == "assayed" and not draft.compositions and draft.sampling is None:
        return _no_thing(reading, draft, draft.span, "without a metal and its share")
    if not draft.portions:
        if draft.sources or draft.compositions or draft.destinations:
            if draft.sources:
                portion = Portion(draft.span, labels=draft.sources, share=1.0)
                draft.portions = (portion,)
            return True
        return _without_thing(reading, draft)
    return _acts_on_its_things(reading, draft)


def _describes(reading: Reading, word: str, draft: Draft) -> bool:
    """Whether a word of prose stands before a thing here: the entry names a label."""
    return word.lower() in describing_words() and bool(labels_in(reading, *draft.head))


def is_prose(word: str) -> bool:
    """Whether a word after an action makes it plain prose: an adjective, a word in -ing."""
    if word in prose_words():
        return True
    if len(word) <= 4 or not word.endswith(("ing", "ly")):
        return False
    return word.endswith("ly") or not (reagent_named(word) or names_an_alloy(word))


def _without_thing(reading: Reading, draft: Draft) -> bool:
    """An action that names nothing: `weighed, 12.3 g` may mean the charge, the rest is prose.

    A plan says `weigh` and no more: what it will be is written on the sheet.
    """
    if draft.planned and draft.action.name in _LOOKED_AT:
        return True
    if draft.further is not None and draft.action.name in _SECOND_LOOKS:
        draft.portions = (Portion(draft.further.span, draft.further, labels=draft.more_labels),)
        return True
    return False


def _acts_on_its_things(reading: Reading, draft: Draft) -> bool:
    allowed = draft.action.acts_on
    for portion in draft.portions:
        amount = portion.amount
        if amount is not None and amount.dimension not in allowed:
            return _no_thing(reading, draft, amount.span, f"by {amount.dimension.value}")
        if amount is None and portion.share is None and not portion.labels:
            article = _ARTICLE.match(reading.text, portion.span.start, portion.span.end)
            if draft.action.name == "took" and not portion.reagent and not draft.sources:
                if not draft.compositions:
                    return _no_thing(reading, draft, portion.span, "without an amount or a label")
            elif draft.planned and draft.action.name in _LOOKED_AT:
                draft.portions = ()
            elif article and not portion.reagent and not draft.compositions:
                return _no_thing(reading, draft, portion.span, "without an amount or a label")
    return True


def _no_thing(reading: Reading, draft: Draft, span: Span, how: str) -> bool:
    reading.doubt(
        "action-without-thing",
        span.start,
        span.end,
        f'"{draft.action.name}" needs a thing it can act on, and this is said {how}',
        "prose: nothing in it is counted",
        "say how much of what, or name its label in square brackets",
    )
    return False


def _spent(reading: Reading, draft: Draft) -> bool:
    portion = draft.portions[0] if draft.portions else None
    if draft.price is None and portion is not None and portion.amount is not None:
        if portion.amount.dimension is not Dimension.MONEY:
            return _acts_on_its_things(reading, draft)
        draft.price = Price(portion.amount)
    elif portion is not None:
        replaced(reading, portion.amount)
    if draft.price is None:
        if portion is not None:
            _no_thing(reading, draft, portion.span, "without an amount of money in figures")
        return False
    draft.words = (portion.what if portion else "") or " ".join(draft.equipment)
    if not draft.words and draft.remarks and draft.remarks[0].startswith("for "):
        draft.words = draft.remarks[0].removeprefix("for ")  # paid 12 EUR for the assay
    draft.portions = ()
    return True


def _broke(reading: Reading, draft: Draft) -> bool:
    portion = draft.portions[0] if draft.portions else None
    if portion is None:
        return draft.price is not None
    named = any(word.strip(",") in equipment_words() for word in portion.what.lower().split())
    if draft.price is None and not named:
        return _no_thing(reading, draft, portion.span, "of nothing that could be replaced")
    draft.words = portion.what
    return True


_MONEY_HEADS: Mapping[str, Callable[[Reading, Draft], bool]] = {"spent": _spent, "broke": _broke}
