"""One list item becomes one entry, or stays prose.

Each kind of entry has a small reader in the table `HEADS`; what stands in clauses is read in
clauses.py. A reader returns whether the item is an entry at all.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.findings import nearest_word
from logbook.model.amount import Dimension
from logbook.model.entry import Claim, Entry, Portion, Price
from logbook.reading.amounts import amount_reader
from logbook.reading.clauses import read_clause, segments, times_said, with_strength
from logbook.reading.context import Reading
from logbook.reading.dates import read_when
from logbook.reading.draft import Draft
from logbook.reading.spot_tests import read_spot_test
from logbook.reading.things import (
    ThingReader,
    mixture,
    ounces_checked,
    said_twice,
    solids_checked,
    strengths_checked,
    times,
    words_of,
)
from logbook.reading.vocabulary import (
    action_words,
    equipment_words,
    metal_named,
    prose_words,
    reagent_named,
)
from logbook.reference import metal_words, metals
from logbook.source import Span

_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_JOINT = re.compile(r"[\s:,–-]+")
_REMARK = re.compile(r"(?<=[\s,])\((?!k\s?=)([^()]*)\)")
_HAS_AMOUNT = re.compile(
    r"\d\s?(?:g|kg|mg|mL|ml|L|l|oz|ozt|dwt|gr|lb|gal|h|min|%|[$€£])(?!\w)|[$€£]\s?\d"
)
_ARTICLE = re.compile(r"(?:the|them|it|this|that|these|those|both|everything)\b", re.I)

HeadReader = Callable[[Reading, Draft, int, int], bool]


def read_entry(reading: Reading, words: Span, nested: tuple[Span, ...] = ()) -> Entry | None:
    """The entry in the words of a list item; None where the item is prose.

    What stops an entry from being used is reported in `reading.findings`.
    """
    start, end = words.start, words.end
    text = reading.source.text
    while end > start and text[end - 1] in " .\t\r\n":
        end -= 1
    position, when = start, None
    word = _WORD.match(text, position, end)
    found = action_words().get(word[0].lower()) if word else None
    if found is None and (when := read_when(reading, start, end)) is not None:
        joint = _JOINT.match(text, when.span.end, end)
        position = joint.end() if joint else when.span.end
        word = _WORD.match(text, position, end)
        found = action_words().get(word[0].lower()) if word else None
    if word is None or found is None:
        _asked_about(reading, words, word, position)
        return None
    after = text[word.end() : word.end() + 1]
    if after and after not in " :,\t\n\r.":
        return None
    action, planned = found
    line = words.line
    draft = Draft(action, reading.span(start, end), line, planned, when, (word.end(), end))
    before = len(reading.findings)
    reading.broken = False
    _blank_remarks(reading, draft, word.end(), end)
    is_entry = HEADS[action.reads](reading, draft, word.end(), end)
    if is_entry and nested and action.reads == "test":
        draft.tests = tuple(
            test
            for span in nested
            if (test := read_spot_test(reading, span.start, span.end, draft.tests))
        )
    reading.text = text
    if not is_entry and not reading.broken:
        # What turned out to be prose is no place for doubts about its amounts.
        kept = [f for f in reading.findings[before:] if f.code in _ABOUT_PROSE]
        reading.findings[before:] = kept
    return draft.finished() if is_entry and not reading.broken else None


_ABOUT_PROSE = frozenset({"action-without-thing", "entry-not-read"})


def _blank_remarks(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Blank out remarks in parentheses and line ends, so that every other place stays."""
    text = reading.source.text
    blanked = text[start:end]
    if "(" in blanked:
        for match in _REMARK.finditer(text, start, end):
            draft.remark_spans.append((match.start(1), match.end(1)))
            blank = " " * (match.end() - match.start())
            blanked = blanked[: match.start() - start] + blank + blanked[match.end() - start :]
    if "\n" in blanked:
        blanked = blanked.replace("\n", " ").replace("\r", " ")
    if blanked != text[start:end]:
        reading.text = text[:start] + blanked + text[end:]


def _asked_about(reading: Reading, words: Span, word: re.Match[str] | None, position: int) -> None:
    """Say once where a list item looks like an entry that was meant to count."""
    text = words.text
    if not _HAS_AMOUNT.search(text):
        return
    known = action_words()
    near = nearest_word(word[0], known) if word and len(word[0]) > 2 else None
    others = [found[0] for found in _WORD.finditer(text) if found[0].lower() in known]
    if near is None and not others:
        return
    suggestion = near or others[0].lower()
    start, end = (word.start(), word.end()) if word else (position, words.end)
    reading.doubt(
        "entry-not-read",
        start,
        end,
        "this looks like an entry, and begins with no action that is known",
        "prose: nothing in it is counted",
        f'begin it with the action, for example "{suggestion}"',
    )


def _clauses(reading: Reading, draft: Draft, start: int, end: int) -> tuple[int, int]:
    """Read every clause after the head; return the head."""
    pieces = segments(reading.text, start, end)
    for word, first, last in pieces[1:]:
        read_clause(reading, draft, " ".join(word.split()), first, last)
    _, first, last = pieces[0]
    text = reading.text
    while first < last and text[first] in " :\t":
        first += 1
    while last > first and text[last - 1] in " :\t":
        last -= 1
    return first, last


def _remarks(reading: Reading, draft: Draft) -> None:
    """Keep as remarks what stands in parentheses and said no amount again."""
    text = reading.source.text
    for start, end in draft.remark_spans:
        if len(draft.portions) == 1 and draft.portions[0].span.start < start:
            again = said_twice(draft.portions[0], reading, (start, end))
            if again is not None:
                draft.portions = (again,)
                continue
        draft.remarks.append(" ".join(text[start:end].split()))


def _things(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Read the things of the head, with everything the clauses said about them."""
    if start < end:
        reader = ThingReader(reading, draft.scale)
        draft.portions = reader.portions(start, end)
        draft.compositions[:0] = reader.compositions
        for first, last in reader.loose:
            read_clause(reading, draft, ",", first, last)
    with_strength(draft)
    if len(draft.portions) == 1 and draft.portions[0].amount and not draft.portions[0].labels:
        draft.portions = mixture(draft.portions[0], reading, draft.parts)
    if draft.more_labels and draft.portions:
        ending = draft.portions[-1]
        share = ending.share if ending.labels or ending.amount else 1.0
        joined = (*ending.labels, *draft.more_labels)
        draft.portions = (*draft.portions[:-1], replace(ending, labels=joined, share=share))
    _remarks(reading, draft)
    draft.portions = tuple(_multiplied(draft, portion) for portion in draft.portions)
    _checked(reading, draft)


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


_SECOND_LOOKS = frozenset({"weighed", "measured", "got", "kept", "lost", "sampled"})


def _checked(reading: Reading, draft: Draft) -> None:
    symbols = metals()
    precious = any(symbols[c.metal].precious for c in draft.compositions)
    draft.portions = tuple(ounces_checked(portion, reading, precious) for portion in draft.portions)
    for portion in (*draft.portions, *draft.supplies):
        solids_checked(portion, reading)
        strengths_checked(portion, reading)


def _thing(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = _clauses(reading, draft, start, end)
    text = reading.text
    first = _WORD.match(text, start, end)
    if first and _is_prose(first[0].lower()):
        return False
    _things(reading, draft, start, end)
    if draft.action.name in _MONEY_HEADS:
        return _MONEY_HEADS[draft.action.name](reading, draft)
    if not draft.portions:
        if draft.sources or draft.compositions or draft.destinations:
            if draft.sources:
                portion = Portion(draft.span, labels=draft.sources, share=1.0)
                draft.portions = (portion,)
            return True
        return _without_thing(reading, draft)
    return _acts_on_its_things(reading, draft)


def _is_prose(word: str) -> bool:
    if word in prose_words():
        return True
    return (word.endswith("ing") and len(word) > 4 and not reagent_named(word)) or (
        word.endswith("ly") and len(word) > 4
    )


def _without_thing(reading: Reading, draft: Draft) -> bool:
    """An action that names nothing: `weighed, 12.3 g` may mean the charge, the rest is prose."""
    if draft.further is not None and draft.action.name in _SECOND_LOOKS:
        draft.portions = (Portion(draft.further.span, draft.further),)
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
    if draft.price is None:
        return False
    draft.words = (portion.what if portion else "") or " ".join(draft.equipment)
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


def _step(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = _clauses(reading, draft, start, end)
    start = times_said(draft, reading, start, end)
    said = draft.duration, len(draft.conditions)
    _times_and_conditions(reading, draft, start, end)
    names_a_thing = start < end and said == (draft.duration, len(draft.conditions))
    draft.supplies = [
        replace(p, amount=times(p.amount, draft.repeats * draft.vessels))
        if p.amount is not None and draft.repeats is not None and draft.repeats * draft.vessels > 1
        else p
        for p in draft.supplies
    ]
    if draft.end_point and not draft.repeats_said and draft.supplies:
        draft.repeats = None
    if names_a_thing:
        _things(reading, draft, start, end)
        draft.words = words_of(reading, start, end)
        # What a step bubbles or stirs in is used, as if it stood after "with".
        draft.supplies += [p for p in draft.portions if p.reagent and not p.labels]
        draft.portions = tuple(p for p in draft.portions if not p.reagent or p.labels)
    else:
        _remarks(reading, draft)
        _checked(reading, draft)
    return True


def _times_and_conditions(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Durations, temperatures and the like in a head, as many as there are."""
    reader = amount_reader(reading.customs.decimal_comma)
    text = reading.text
    position = start
    while position < end:
        if text[position] in " \t":
            position += 1
            continue
        found = reader.read(reading, position, end)
        if found is None:
            word = _WORD.match(text, position, end)
            position = word.end() if word else position + 1
            continue
        amount, position = found
        if amount.dimension is Dimension.TIME:
            draft.duration = amount
        elif amount.dimension in _CONDITIONS:
            draft.conditions.append(amount)


_CONDITIONS = frozenset(
    {
        Dimension.TEMPERATURE,
        Dimension.PH,
        Dimension.VOLTAGE,
        Dimension.CURRENT,
        Dimension.POWER,
        Dimension.BAUME,
        Dimension.DENSITY,
    }
)


def _time(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = _clauses(reading, draft, start, end)
    _times_and_conditions(reading, draft, start, end)
    _remarks(reading, draft)
    first = _WORD.match(reading.text, start, end)
    if draft.duration is not None or draft.conditions:
        draft.words = words_of(reading, start, end)
        return True
    if draft.action.name != "heated" or (first and _is_prose(first[0].lower())):
        return False
    draft.words = words_of(reading, start, end)
    return True


def _reading(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = _clauses(reading, draft, start, end)
    _times_and_conditions(reading, draft, start, end)
    _remarks(reading, draft)
    return bool(draft.conditions)


def _price(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    start, end = _clauses(reading, draft, start, end)
    name = words_of(reading, start, end)
    metal = metal_named(name)
    if metal is None:
        near = nearest_word(name, metal_words()) if name else None
        reading.error(
            "metal-unknown",
            start,
            max(end, start + 1),
            f'"{name}" is not a metal that is known',
            f'did you mean "{near}"?' if near else "write: priced silver at 1.08 EUR/g",
        )
        return False
    if draft.per is None:
        reading.error(
            "price-without-unit",
            draft.span.start,
            draft.span.end,
            f"the price of {metal} is not said per gram or per ounce",
            "write: at 1.08 EUR/g, or at 31 EUR per ozt",
        )
        return False
    draft.metal = metal
    return True


def _claim(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    text = reading.text
    reader = amount_reader(reading.customs.decimal_comma)
    first = start
    while first < end and text[first] in " :\t":
        first += 1
    number = re.compile(r"(?<![\w.])(?:about\s+|~)?[$€£]?\d|(?<![\w])(?:EUR|USD|GBP|CHF)\s?\d")
    match = number.search(text, first, end)
    found = reader.read(reading, match.start(), end) if match else None
    if match is None or found is None:
        reading.doubt(
            "claim-without-figure",
            draft.span.start,
            draft.span.end,
            "no figure was found in what was reckoned",
            "prose: nothing in it is checked",
            "write: reckoned recovery 95 %",
        )
        return False
    amount, position = found
    for word, one, last in segments(text, position, end)[1:]:
        read_clause(reading, draft, " ".join(word.split()), one, last)
    rest = re.compile(r"\s*(?:of\s+)?([^,;\[]*?)(?=\s*(?:,|;|\bat\b|\bin all\b|$))")
    of = rest.match(text, position, end)
    of_words = " ".join(of[1].split()) if of else ""
    what = words_of(reading, first, match.start())
    if not what:
        what, of_words = of_words, ""
    draft.claim = Claim(reading.span(first, end), what, amount, of_words, draft.per)
    _remarks(reading, draft)
    return True


def _words(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    text = reading.source.text
    draft.words = " ".join(text[start:end].strip(" :,").split())
    return bool(draft.words)


def _test(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    test = read_spot_test(reading, start, end, ())
    if test is not None:
        draft.tests = (test,)
    return test is not None


HEADS: Mapping[str, HeadReader] = {
    "thing": _thing,
    "step": _step,
    "time": _time,
    "reading": _reading,
    "price": _price,
    "claim": _claim,
    "words": _words,
    "test": _test,
}
