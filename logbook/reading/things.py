"""Things and their amounts: "412.6 g relay contacts [RC-3]", "half of [X]", a mixture of two.

A thing is read once the balance of its entry is known, so that its amount is made only once.
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from logbook.model.amount import Amount, Dimension
from logbook.model.book import Scale
from logbook.model.entry import Composition, Portion
from logbook.reading.amounts import amount_reader
from logbook.reading.compositions import BEFORE_AMOUNT, read_composition
from logbook.reading.context import Reading
from logbook.reading.hallmarks import MARKED, read_mark
from logbook.reading.labels import LABEL, labels_in
from logbook.reading.vocabulary import (
    metal_named,
    reagent_named,
    share_pattern,
    shares,
)

_JOINT = re.compile(
    r"\s+(?:and|&)\s+(?=[\d~≈½¼¾]|about\b|half\b|some\b|another\b|a (?:pinch|bit)\b)"
)
_FILLER = re.compile(r"\s*(?:of\s+)?(?:(?:the|my|our|its|this|that|all)\s+)?", re.I)
_STRENGTH = re.compile(
    r"\s(?=[\d½]+(?:[.,]\d+)?(?:\s?[-–±]\s?[\d.,]+)?\s?(?:%|‰|M\b|mol|vol|°|B[eé]|g/L|degrees))"
)
_DIGIT = re.compile(r"[\d~≈½¼¾]|about")
_LAST_NUMBER = re.compile(r"\s+(?=(?:about\s+|~)?\d[\d.,]*\s?[^\W\d]+$)")
_WEIGHED = frozenset({Dimension.MASS, Dimension.VOLUME})
STRENGTHS = frozenset(
    {
        Dimension.FRACTION,
        Dimension.MOLARITY,
        Dimension.PEROXIDE,
        Dimension.BAUME,
        Dimension.CONCENTRATION,
        Dimension.DENSITY,
    }
)


def words_of(reading: Reading, start: int, end: int) -> str:
    """The words between two offsets, with white space made plain."""
    return " ".join(reading.text[start:end].split())


class ThingReader:
    """Reads the things of one entry, and the compositions said in the same breath."""

    __slots__ = ("compositions", "loose", "reading", "scale")

    def __init__(self, reading: Reading, scale: Scale | None) -> None:
        self.reading = reading
        self.scale = scale
        self.compositions: list[Composition] = []
        self.loose: list[tuple[int, int]] = []  # words after a label, to be read as a clause

    def portions(self, start: int, end: int) -> tuple[Portion, ...]:
        """Every portion between two offsets."""
        text = self.reading.text
        found: list[Portion] = []
        position = start
        if text.find(" and ", start, end) >= 0 or text.find(" & ", start, end) >= 0:
            for joint in _JOINT.finditer(text, start, end):
                if self._is_amount(position, joint.start()):
                    continue  # "3 pounds and 4 ounces" of one thing
                found.append(self.portion(position, joint.start()))
                position = joint.end()
        found.append(self.portion(position, end))
        return tuple(found)

    def _is_amount(self, start: int, end: int) -> bool:
        """Whether nothing but an amount stands between two offsets."""
        while start < end and self.reading.text[start] == " ":
            start += 1
        reader = amount_reader(self.reading.customs.decimal_comma)
        found = reader.read(self.reading, start, end)
        return found is not None and found[1] == end and found[0].dimension is not Dimension.COUNT

    def portion(self, start: int, end: int) -> Portion:
        """One portion between two offsets: its part or amount, name, strength and labels."""
        reading = self.reading
        text = reading.text
        while start < end and text[start] in " \t\n":
            start += 1
        first = start
        share = None
        opens = text[start : start + 1]
        if opens.isalpha() and (match := share_pattern().match(text, start, end)):
            share, start = shares()[match[1].lower()], match.end()
            while start < end and text[start] == " ":
                start += 1
        amount: Amount | None = None
        reader = amount_reader(reading.customs.decimal_comma)
        if (
            share is None
            and opens != "["
            and (found := reader.read(reading, start, end, self.scale))
        ):
            amount, start = found
        if filler := _FILLER.match(text, start, end):
            start = filler.end()
        strength = None
        if amount is not None and text[start : start + 1].isdigit():
            strength, start = self._before_name(start, end)
        return self._named(first, start, end, amount, share, strength)

    def _before_name(self, start: int, end: int) -> tuple[Amount | None, int]:
        """What stands before a name: the strength of an acid, or how fine a thing is."""
        reading = self.reading
        if composition := read_composition(reading, start, end):
            self.compositions.append(composition[0])
            return None, composition[0].amount.span.end
        found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
        if found is None:
            return None, start
        if found[0].unit == "kt":  # karat is said of gold alone
            self.compositions.append(Composition(found[0].span, "gold", found[0]))
            return None, found[1]
        return found if found[0].dimension in STRENGTHS else (None, start)

    def _named(
        self,
        first: int,
        start: int,
        end: int,
        amount: Amount | None,
        share: float | None,
        before: Amount | None = None,
    ) -> Portion:
        reading = self.reading
        labels = labels_in(reading, start, end) if "[" in reading.text[start:end] else ()
        name_end = end
        if labels:
            name_end = reading.text.index("[", start)
            last = max(match.end() for match in LABEL.finditer(reading.text, start, end))
            if last < end:
                self.loose.append((last, end))
        name_end, strength = self._strength(start, name_end)
        if amount is None and share is None:
            amount, name_end = self._after_name(start, name_end)
        what = words_of(reading, start, name_end)
        if labels and amount is None and share is None:
            share = 1.0
        return Portion(
            reading.span(first, end),
            amount,
            what.removeprefix("a ").removeprefix("an "),
            labels,
            share,
            before or strength,
            reagent_named(what) if what else "",
        )

    def _after_name(self, start: int, end: int) -> tuple[Amount | None, int]:
        """An amount that stands behind the name it belongs to: "gold button 10.1 g"."""
        text = self.reading.text
        at = _LAST_NUMBER.search(text, start, end)
        if at is None:
            return None, end
        reader = amount_reader(self.reading.customs.decimal_comma)
        found = reader.read(self.reading, at.end(), end, self.scale)
        if found is None or found[1] != end or found[0].dimension not in _WEIGHED:
            return None, end
        return found[0], at.start()

    def _strength(self, start: int, end: int) -> tuple[int, Amount | None]:
        """What stands after a thing's name: a composition, or the strength of a solution."""
        reading = self.reading
        text = reading.text
        # A plain search first: nearly nothing is marked, and the pattern takes its time.
        if text.find("ed ", start, end) >= 0 and (at := MARKED.search(text, start, end)):
            mark = read_mark(reading, start, at.start(), end)
            if mark is not None:
                self.compositions.append(mark)
                return at.start(), None
        if _DIGIT.search(text, start, end) is None:
            return end, None
        for match in BEFORE_AMOUNT.finditer(text, start, end):
            if metal_named(match[1]) is None:
                continue
            found = read_composition(reading, match.start(), end)
            if found is None:
                continue
            self.compositions.append(found[0])
            return (match.end(1) if match.start() == start else match.start()), None
        strength_at = _STRENGTH.search(text, start, end)
        if strength_at is None:
            return end, None
        reader = amount_reader(reading.customs.decimal_comma)
        read = reader.read(reading, strength_at.end(), end)
        if read is None or read[0].dimension not in STRENGTHS:
            return end, None
        return strength_at.start(), read[0]


def mixture(portion: Portion, reading: Reading, parts: tuple[float, ...]) -> tuple[Portion, ...]:
    """`900 mL of A 32 % and B 3 %, 2:1` as its reagents, each with its own part.

    `portion` is the whole as it was read; without parts the amounts are not known.
    """
    start, end = portion.span.start, portion.span.end
    joint = reading.text.find(" and ", start, end)
    if joint < 0 or portion.amount is None:
        return (portion,)
    first = reading.text.find(" of ", start, joint)
    start = first + 4 if first >= 0 else portion.amount.span.end
    things = ThingReader(reading, None)
    pieces = [things.portion(start, joint), things.portion(joint + 5, end)]
    if not all(piece.reagent for piece in pieces):
        return (portion,)
    whole = portion.amount
    if len(parts) != len(pieces) or not sum(parts):
        note = "the parts of the mixture were not said"
        unknown = replace(whole, value=None, base_value=None, base_u=None, note=note)
        return tuple(replace(piece, amount=unknown) for piece in pieces)
    return tuple(
        replace(piece, amount=times(whole, part / sum(parts)))
        for piece, part in zip(pieces, parts, strict=True)
    )


def times(amount: Amount, factor: float) -> Amount:
    """An amount for several vessels, or a part of one: value and doubt alike."""
    if amount.value is None or amount.base_value is None:
        return amount
    u = None if amount.base_u is None else amount.base_u * factor
    exact = Decimal(str(factor))
    return replace(
        amount,
        value=float(Decimal(str(amount.value)) * exact),
        base_value=float(Decimal(str(amount.base_value)) * exact),
        base_u=u,
        times=amount.times * int(factor) if factor == int(factor) else amount.times,
    )
