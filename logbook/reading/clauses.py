"""The clauses of an entry, each in its own small reader, found by the word it begins with.

A clause that is not understood is kept as a remark: it is shown and never counted.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Label, Price
from logbook.reading.amounts import amount_reader
from logbook.reading.compositions import read_composition
from logbook.reading.context import Reading
from logbook.reading.doubt import named_scale
from logbook.reading.draft import Draft
from logbook.reading.electric import power_alone
from logbook.reading.fees import read_fee
from logbook.reading.gifts import GIFT, free
from logbook.reading.hallmarks import read_mark
from logbook.reading.immersed import is_immersion, is_under_water, read_immersion
from logbook.reading.labels import ONLY_LABELS, labels_in, without_brackets
from logbook.reading.moisture import MOISTURE, moisture_named
from logbook.reading.packages import is_for_each
from logbook.reading.plating import laid_on, read_layer
from logbook.reading.repeats import REPEATS, repeat
from logbook.reading.sampling import read_sampling
from logbook.reading.second_actions import second_action_checked
from logbook.reading.things import STRENGTHS, ThingReader, words_of
from logbook.reading.vocabulary import (
    SMALL_NUMBERS,
    vessel_pattern,
)

_RATIO = re.compile(r"\d+(?:\.\d+)?(?:\s?:\s?\d+(?:\.\d+)?)+$")
_BEGINS_AMOUNT = re.compile(r"[\d~≈½¼¾$€£]|[-−]\d|(?:about|approx|around|roughly|pH)\b")
_OF_VESSELS = re.compile(r"of\s+(?:the\s+)?(?=\d|two|three|four|five|six)", re.I)
_BEHIND_COLON = re.compile(r"\s*:\s*")
_IN_ALL = re.compile(r"(?:\s*(?:in\s+)?(?:all|total))\s*$", re.I)
_TOTALS = frozenset({"spent", "worked"})
_AT_A_PRICE = frozenset({"bought", "sold"})
_ALL_FIRST = re.compile(r"(?:all|total)\s*[,:]?\s+(?=[\d~$€£½¼¾]|about\b)", re.I)

ClauseReader = Callable[[Reading, Draft, int, int], None]


def read_clause(reading: Reading, draft: Draft, word: str, start: int, end: int) -> None:
    """Read one clause into the draft."""
    text = reading.text
    while start < end and text[start] in " \t\n":
        start += 1
    while end > start and text[end - 1] in " \t\n.":
        end -= 1
    if start < end or word == "each":
        draft.latest = draft.latest if word == "," else word
        CLAUSES.get(word, _comma)(reading, draft, start, end)


def _whole_amount(reading: Reading, start: int, end: int) -> Amount | None:
    """The amount that fills a clause, apart from `in all` and the like; None where none does."""
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    return found[0] if found is not None else None


def _remark(reading: Reading, draft: Draft, word: str, start: int, end: int) -> None:
    words = words_of(reading, start, end)
    draft.remarks += (f"{word} {words}" if word else words,)
    reading.unhear(start, end)


def _comma(reading: Reading, draft: Draft, start: int, end: int) -> None:
    text = reading.text
    first = text[start]
    begins_label = first == "[" or text.startswith(("and [", "to ["), start)
    if begins_label and ONLY_LABELS.match(text, start, end):
        _more_labels(draft, labels_in(reading, start, end))
        return
    if read_fee(reading, draft, start, end):
        return
    if composition := read_composition(reading, start, end):
        draft.compositions += (composition[0],)
        return
    if mark := read_mark(reading, draft.head[0], start, end):
        draft.compositions += (mark,)
        return
    if layer := read_layer(reading, start, end):
        draft.layer, over = layer
        read_clause(reading, draft, "on", over, end)
        return
    if is_under_water(draft, text, start, end):
        draft.immersed = "water"
        return
    if moisture := MOISTURE.match(text, start, end):
        draft.moisture = moisture_named(moisture)
    elif GIFT.match(text, start, end):
        draft.price = free(reading, start, end)
    elif first.isdigit() and _RATIO.match(text[start:end]):
        draft.parts = tuple(float(part) for part in text[start:end].split(":"))
    elif repeats := REPEATS.match(text, start, end):
        repeat(draft, repeats)
    elif _BEGINS_AMOUNT.match(text, start, end):
        _amount_clause(reading, draft, start, end)
    else:
        second_action_checked(reading, start, end)
        _remark(reading, draft, "", start, end)


def _more_labels(draft: Draft, labels: tuple[Label, ...]) -> None:
    """Labels after a comma go on with what stood before it: "into [B-1], [B-2]"."""
    if draft.destinations and draft.latest == "into":
        draft.destinations += labels
    elif draft.sources and draft.latest == "from":
        draft.sources += labels
    else:
        draft.more_labels += labels


def replaced(reading: Reading, earlier: Amount | None) -> None:
    """An amount whose place another of the same kind takes counts no more."""
    if earlier is not None:
        reading.unhear(earlier.span.start, earlier.span.end)


def _amount_clause(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """An amount that is a clause of its own: what it is for follows from its kind."""
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    if found is None or found[0].dimension is Dimension.COUNT:
        _remark(reading, draft, "", start, end)
        return
    amount, position = found
    read_clause(reading, draft, ",", position, end)
    if amount.dimension in STRENGTHS:
        draft.strength, draft.strength_of = amount, words_of(reading, position, end)
    elif amount.dimension is Dimension.TIME:
        replaced(reading, draft.duration)
        draft.duration = amount
    elif amount.dimension is Dimension.MONEY:
        replaced(reading, draft.price.amount if draft.price else None)
        _paid(reading, draft, amount, end)
    elif amount.dimension is Dimension.PRICE:
        _paid_per(reading, draft, amount)
    elif amount.dimension in (Dimension.MASS, Dimension.VOLUME):
        draft.further = amount
    else:
        draft.conditions += (amount,)


def _at(reading: Reading, draft: Draft, start: int, end: int) -> None:
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    amount = found[0] if found is not None else None
    if found is not None and (behind := _BEHIND_COLON.match(reading.text, found[1], end)):
        read_clause(reading, draft, ",", behind.end(), end)  # in water at 20 C: 16.21 g
    if amount is None or amount.dimension is Dimension.COUNT:
        _remark(reading, draft, "at", start, end)
    elif amount.dimension is Dimension.PRICE:
        _paid_per(reading, draft, amount)
    elif amount.dimension is Dimension.MONEY:
        _paid(reading, draft, amount, end)
    else:
        draft.conditions += (amount,)


def _paid(reading: Reading, draft: Draft, amount: Amount, end: int) -> None:
    """A price, of the whole or of each: "12 EUR a bottle", "12 EUR apiece"."""
    draft.price = Price(amount)
    draft.price_each = is_for_each(reading.text, amount.span.end, end)


def _paid_per(reading: Reading, draft: Draft, amount: Amount) -> None:
    """A price for a unit of weight or volume; "12 EUR per bottle" is paid for each bottle."""
    if amount.per != "1" or draft.action.name not in _AT_A_PRICE:
        draft.per = amount
        return
    replaced(reading, draft.price.amount if draft.price else None)
    sign = amount.unit.partition("/")[0]
    draft.price = Price(replace(amount, dimension=Dimension.MONEY, unit=sign, per=""))
    draft.price_each = True


def _for(reading: Reading, draft: Draft, start: int, end: int) -> None:
    if GIFT.match(reading.text, start, end) or reading.text[start:end] == "nothing":
        draft.price = free(reading, start, end)
        return
    amount = _whole_amount(reading, start, end)
    if amount is not None and amount.dimension is Dimension.TIME:
        replaced(reading, draft.duration)
        draft.duration = amount
        draft.in_all = draft.in_all or _IN_ALL.search(reading.text[start:end]) is not None
    elif amount is not None and amount.dimension is Dimension.MONEY:
        _paid(reading, draft, amount, end)
        read_fee(reading, draft, amount.span.end, end)
    elif (
        amount is not None
        and amount.dimension is Dimension.PRICE
        and draft.action.name in _AT_A_PRICE
    ):
        _paid_per(reading, draft, amount)
    else:
        _remark(reading, draft, "for", start, end)


def _would_cost(reading: Reading, draft: Draft, start: int, end: int) -> None:
    amount = _whole_amount(reading, start, end)
    if amount is not None and amount.dimension is Dimension.MONEY:
        draft.price = Price(amount, would_cost=True)
    else:
        _remark(reading, draft, "would cost", start, end)


def _with(reading: Reading, draft: Draft, start: int, end: int) -> None:
    if reading.text[start].isdigit() and (power := power_alone(reading, start, end)):
        draft.conditions += (power,)
        return
    things = ThingReader(reading, None)
    portions = things.portions(start, end)
    counted = tuple([portion for portion in portions if portion.amount or portion.reagent])
    draft.supplies += counted
    if not counted:
        draft.equipment += (words_of(reading, start, end),)


def _into(reading: Reading, draft: Draft, start: int, end: int) -> None:
    labels = labels_in(reading, start, end)
    if labels:
        draft.destinations += labels
    else:
        without_brackets(reading, start, end)
        draft.equipment += (words_of(reading, start, end),)


def _from(reading: Reading, draft: Draft, start: int, end: int) -> None:
    labels = labels_in(reading, start, end)
    if labels:
        draft.sources += labels
    else:
        without_brackets(reading, start, end)
        _remark(reading, draft, "from", start, end)


def _by(reading: Reading, draft: Draft, start: int, end: int) -> None:
    draft.method = words_of(reading, start, end)


def _as(reading: Reading, draft: Draft, start: int, end: int) -> None:
    words = words_of(reading, start, end)
    if words.startswith(("product", "the product")):
        draft.as_product = True
    elif GIFT.match(words):
        draft.price = free(reading, start, end)
    else:
        draft.remarks += (f"as {words}",)


def _on(reading: Reading, draft: Draft, start: int, end: int) -> None:
    if draft.layer is not None and (content := laid_on(reading, draft.layer, start, end)):
        draft.layer, draft.plated = None, content
        return
    words = words_of(reading, start, end)
    draft.scale = draft.scale or named_scale(reading.customs.scales, words)
    _stands_in(reading, draft, start, end)


def _in(reading: Reading, draft: Draft, start: int, end: int) -> None:
    words = words_of(reading, start, end)
    if words in {"all", "total"}:
        draft.in_all = True
    elif draft.action.name in _TOTALS and (total := _ALL_FIRST.match(reading.text, start, end)):
        draft.in_all = True
        read_clause(reading, draft, ",", total.end(), end)
    elif is_immersion(draft, words):
        read_clause(reading, draft, ",", read_immersion(reading, draft, start, end), end)
    elif vessels := vessel_pattern().match(reading.text, start, end):
        draft.vessels = SMALL_NUMBERS.get(vessels[1].lower()) or int(vessels[1]) or 1
    elif draft.action.reads == "step" and reading.text[start].isdigit():
        _with(reading, draft, start, end)  # stirred in 5 g of something
    else:
        _stands_in(reading, draft, start, end)


def _stands_in(reading: Reading, draft: Draft, start: int, end: int) -> None:
    """Equipment; a label in it names the thing (kept foils in the jar [F-1]), or where it goes."""
    draft.equipment += (words_of(reading, start, end),)
    if draft.action.reads != "thing":
        return
    labels = labels_in(reading, start, end)
    if labels_in(reading, draft.head[0], start) or draft.action.name in POURED:
        draft.destinations += labels
    else:
        draft.more_labels += labels


def _until(reading: Reading, draft: Draft, start: int, end: int) -> None:
    draft.end_point = words_of(reading, start, end)


def _sampling(reading: Reading, draft: Draft, start: int, end: int) -> None:
    found = read_sampling(reading, start, end)
    if found is None:
        _remark(reading, draft, "sampling", start, end)
        return
    draft.sampling = found[0]
    read_clause(reading, draft, ",", found[1], end)


def _each(reading: Reading, draft: Draft, start: int, end: int) -> None:
    price = draft.price.amount.span if draft.price is not None else None
    if price is not None and reading.text[price.end : start].strip().lower() == "each":
        draft.price_each = True
        return
    draft.each = True
    if vessels := _OF_VESSELS.match(reading.text, start, end):  # in each of 3 beakers
        _in(reading, draft, vessels.end(), end)
    elif start < end:
        _comma(reading, draft, start, end)


POURED = frozenset({"added", "discarded"})
"""Actions for which a label after `in` is the vessel and not the thing."""

CLAUSES: Mapping[str, ClauseReader] = {
    ",": _comma,
    "at": _at,
    "for": _for,
    "would cost": _would_cost,
    "with": _with,
    "into": _into,
    "from": _from,
    "by": _by,
    "as": _as,
    "on": _on,
    "in": _in,
    "until": _until,
    "each": _each,
    "sampling": _sampling,
}
