"""The parts of a question: supplies, what they work on, metals, and amounts by what stands near.

Amounts, strengths, compositions and labels are read by the readers that logs are read with.
Which parts a question needs is decided in questions.py.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator
from dataclasses import dataclass, replace

from logbook.chemistry.named_alloys import alloy_named
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Composition, Label, Portion
from logbook.model.question import Material
from logbook.reading.amounts import amount_reader
from logbook.reading.checks import ounces_checked, strengths_checked
from logbook.reading.compositions import read_composition
from logbook.reading.context import Reading
from logbook.reading.labels import LABEL, labels_in
from logbook.reading.things import STRENGTHS, ThingReader, words_of
from logbook.reading.unit_words import unit_at
from logbook.reading.vocabulary import metal_named, reagent_named
from logbook.reference import metals

# Words that carry nothing in a question. They are blanked out, so that every place stays.
_SMALL_TALK = re.compile(
    r"^\W*(?:(?:and|so|please|tell\s+me)\s+)?"
    r"(?:(?:how\s+(?:much|many)|(?:what|which)(?:\s+(?:weight|volume|amount|mass|quantity))?)\b"
    r"(?:\s+(?:of|is|are|would|will|does|do)\b)*"
    r"|(?:is|are|does|do|will|would|can)\s+(?=there\b|it\b|one\b))"
    r"|\b(?:do|does|would|will|should|must|can|could|shall|did|to)?\s*\b(?:I|we|you|one|it)\s+"
    r"(?:need|want|use|take|require|have)(?:s|ed)?\b"
    r"|\b(?:is|are|would\s+be)\s+(?:needed|required|necessary|wanted|asked\s+for)\b"
    r"|\b(?:needed|required|necessary|please)\b"
    r"|\?",
    re.I,
)
# Written with so many digits that every place stays.
_NUMBERS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "ten": "10"}
_COUNT_OF = re.compile(
    rf"(?<!\w)(?:{'|'.join(_NUMBERS)})(?=\s+(?:troy\s+)?(?:pounds?|grams?|grammes?|kilos?|kilograms?|"
    r"ounces?|lit(?:re|er)s?|millilit(?:re|er)s?|lbs?|oz|ozt|g|kg|mL|L)\b)",
    re.I,
)
_UNITS_OF = re.compile(
    r"\s*(?:(?:the|a|some|any|more)\s+)*(?:(?:grams?|grammes?|kilos?|kilograms?|litres?|liters?|"
    r"millilit(?:re|er)s?|ounces?|g|kg|mL|L)\s+of\s+)?(?:the\s+)?",
    re.I,
)
_BETWEEN_SUPPLIES = re.compile(r"\s*,\s*(?:and\s+)?|\s+(?:and|plus|with)\s+|\s+\+\s+", re.I)
_BETWEEN_MATERIALS = re.compile(
    r"\s*[,;()]\s*(?:(?:and|holding|with|of\s+which)\s+)?"
    r"|\s+(?:and|plus|with|of\s+which|(?:that|which|it|already)?\s*(?:holds|holding|contains|"
    r"containing|has))\s+(?=(?:about\s+|~)?\d|[A-Za-z]+\s+(?:about\s+|~)?\d)",
    re.I,
)
_BEGINS_AMOUNT = re.compile(r"(?:about\s+|~|½|¼|¾)?\d|half\s+an?\s|an?\s+(?:kilo|pound|gram|lit)")
_NUMBER = re.compile(r"(?<![\w.,/\]-])(?:about\s+|~)?(?:[$€£]\s?)?(?:\d|[½¼¾])")
_HOLDING = re.compile(r"(?<!\w)(?:hold(?:s|ing)|contain(?:s|ing)|of\s+which|has)\s*$", re.I)
_WORD = re.compile(r"[^\W\d_]+")
_ONE = re.compile(r"(?<!\w)(?:an?|one)(?=\s)", re.I)
_OF_ALL = re.compile(r"\s*(?:all\s+(?:of\s+)?|the\s+(?:rest\s+of\s+)?)(?=\[)", re.I)
_IDLE = frozenset({"it", "alone", "pure", "fine", "only", "solution", "this", "that", "dissolved"})


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a question, from one offset up to another."""

    start: int
    end: int

    def __bool__(self) -> bool:
        return self.start < self.end


def without_small_talk(reading: Reading, start: int, end: int) -> str:
    """The whole text with what carries nothing in the question blanked out."""
    text = reading.text
    said = text[start:end].replace("\n", " ").replace("\r", " ")
    plain = _SMALL_TALK.sub(lambda match: " " * len(match[0]), said)
    plain = _COUNT_OF.sub(lambda match: _NUMBERS[match[0].lower()].zfill(len(match[0])), plain)
    return text[:start] + plain + text[end:]


def trimmed(reading: Reading, start: int, end: int) -> Part:
    """A stretch without white space and stops around it."""
    text = reading.text
    while start < end and text[start] in " \t\n\r,.;:":
        start += 1
    while start < end and text[end - 1] in " \t\n\r,.;:":
        end -= 1
    return Part(start, end)


def supplies_in(reading: Reading, part: Part) -> tuple[Portion, ...]:
    """The supplies that a stretch names, each with its strength and amount where they stand."""
    return tuple(
        portion
        for piece in _pieces(reading, part, _BETWEEN_SUPPLIES)
        if (portion := _supply(reading, piece)) is not None
    )


def _supply(reading: Reading, piece: Part) -> Portion | None:
    units = _UNITS_OF.match(reading.text, piece.start, piece.end)
    start = units.end() if units else piece.start
    portion = ThingReader(reading, None).portion(start, piece.end)
    if portion.amount is not None and portion.amount.dimension in STRENGTHS:
        portion = replace(portion, amount=None, strength=portion.strength or portion.amount)
    strengths_checked(portion, reading)
    if portion.reagent or any(metal_named(word) for word in portion.what.split()):
        return portion
    return None


def materials_in(reading: Reading, part: Part) -> tuple[tuple[Material, ...], tuple[str, ...]]:
    """What a stretch says is worked on, and the words of it that became nothing."""
    found: list[Material] = []
    unread: list[str] = []
    for piece in _pieces(reading, part, _BETWEEN_MATERIALS):
        composition = read_composition(reading, piece.start, piece.end) if found else None
        if composition is not None and composition[1] == piece.end:
            found[-1] = replace(found[-1], holds=(*found[-1].holds, composition[0]))
        elif found and (held := _content(reading, piece)) is not None:
            found[-1] = replace(found[-1], holds=(*found[-1].holds, held))
        elif (material := _material(reading, piece)) is not None:
            found.append(material)
        elif (words := words_of(reading, piece.start, piece.end)) and words not in _IDLE:
            unread.append(words)
    return tuple(found), tuple(unread)


def _content(reading: Reading, piece: Part) -> Composition | None:
    """`1 g silver` behind a word such as "holding" as a content."""
    if _HOLDING.search(reading.text, 0, piece.start) is None:
        return None
    reader = amount_reader(reading.customs.decimal_comma)
    found = reader.read(reading, piece.start, piece.end)
    if found is None or found[0].dimension is not Dimension.MASS:
        return None
    metal = metal_named(words_of(reading, found[1], piece.end).removeprefix("of "))
    if metal is None:
        return None
    return Composition(reading.span(piece.start, piece.end), metal, found[0])


def _material(reading: Reading, piece: Part) -> Material | None:
    """One portion with what is said to be in it; None where no amount and no label stands there."""
    opening = _OF_ALL.match(reading.text, piece.start, piece.end)
    start = opening.end() if opening else piece.start
    reader = ThingReader(reading, None)
    portion = reader.portion(start, piece.end)
    if portion.amount is None and not portion.labels:
        return None
    holds = tuple(reader.compositions)
    if not holds and (fine := _fineness(reading, portion)) is not None:
        holds = (fine,)
        portion = replace(portion, strength=None)
    named = metals_in(portion.what)
    precious = any(metals()[metal].precious for metal in (*named, *(one.metal for one in holds)))
    portion = ounces_checked(portion, reading, precious or alloy_named(portion.what) is not None)
    return Material(portion, holds)


def _fineness(reading: Reading, portion: Portion) -> Composition | None:
    """`silver 99 %`, `999 silver` of a thing that is named for one metal: how fine it is."""
    named = metals_in(portion.what)
    if portion.strength is None or portion.reagent or len(named) != 1:
        return None
    if portion.strength.dimension is not Dimension.FRACTION:
        return None
    return Composition(portion.strength.span, named[0], portion.strength)


def metals_in(words: str) -> tuple[str, ...]:
    """The metals that some words name, in their order, each once.

    >>> metals_in("gold and copper, not AgCl")
    ('gold', 'copper')
    """
    found = (metal_named(word) for word in _WORD.findall(words))
    return tuple(dict.fromkeys(metal for metal in found if metal is not None))


def amounts_in(reading: Reading, part: Part, kinds: Container[Dimension]) -> Iterator[Amount]:
    """Every amount of some kinds in a stretch, in their order."""
    reader = amount_reader(reading.customs.decimal_comma)
    position = part.start
    while number := _NUMBER.search(reading.text, position, part.end):
        found = reader.read(reading, number.start(), part.end)
        position = found[1] if found else number.end()
        if found is not None and found[0].dimension in kinds:
            yield found[0]


def amount_at(reading: Reading, part: Part) -> Amount | None:
    """The amount that opens a stretch."""
    found = amount_reader(reading.customs.decimal_comma).read(reading, part.start, part.end)
    return found[0] if found else None


def one_at(reading: Reading, part: Part) -> Amount | None:
    """`an ounce`, `a troy ounce` anywhere in a stretch, as one of them."""
    match = _ONE.search(reading.text, part.start, part.end)
    found = unit_at(reading.text, match.end(), part.end) if match else None
    if match is None or found is None or found[0].dimension is not Dimension.MASS:
        return None
    unit = found[0]
    span = reading.span(match.start(), found[1])
    return Amount(span, unit.dimension, unit.name, 1.0, unit.factor, 0.0, "counted", note=unit.note)


def amount_near(
    reading: Reading, part: Part, words: re.Pattern[str], kinds: Container[Dimension]
) -> tuple[Amount, Part] | None:
    """The amount that belongs to some words: right before or right behind them.

    The stretch that both take is given with it.
    """
    match = words.search(reading.text, part.start, part.end)
    if match is None:
        return None
    before = list(amounts_in(reading, Part(part.start, match.start()), kinds))[-1:]
    behind = next(amounts_in(reading, Part(match.end(), part.end), kinds), None)
    gap = reading.text[before[0].span.end : match.start()].strip() if before else "none"
    if before and not gap:
        return before[0], Part(before[0].span.start, match.end())
    if behind and not reading.text[match.end() : behind.span.start].strip(" :="):
        return behind, Part(match.start(), behind.span.end)
    return (before[0], Part(before[0].span.start, match.end())) if gap == "," else None


def labels_of(reading: Reading, part: Part) -> tuple[Label, ...]:
    """The labels in a stretch."""
    return labels_in(reading, part.start, part.end)


def names_supply(reading: Reading, part: Part) -> bool:
    """Whether a stretch names a reagent or a metal."""
    words = LABEL.sub(" ", reading.text[part.start : part.end])
    return bool(reagent_named(words)) or bool(metals_in(words))


def _pieces(reading: Reading, part: Part, between: re.Pattern[str]) -> Iterator[Part]:
    """The stretches between joints; an amount alone goes on into the next."""
    position = part.start
    for joint in between.finditer(reading.text, part.start, part.end):
        piece = trimmed(reading, position, joint.start())
        if not piece or _is_amount_alone(reading, piece):
            continue
        yield piece
        position = joint.end()
    if last := trimmed(reading, position, part.end):
        yield last


def _is_amount_alone(reading: Reading, piece: Part) -> bool:
    if not _BEGINS_AMOUNT.match(reading.text, piece.start, piece.end):
        return False
    found = amount_reader(reading.customs.decimal_comma).read(reading, piece.start, piece.end)
    return found is not None and found[1] == piece.end
