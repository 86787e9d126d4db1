"""What a question puts together in one vessel, however it joins the words: and, +, on, poured over.

A supply that is named without an amount is found too: for what comes off, it counts. Nothing is
worked out here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from logbook.model.entry import Portion
from logbook.model.question import Material
from logbook.reading.context import Reading
from logbook.reading.question_parts import Part, materials_in, supplies_in, trimmed
from logbook.reading.vocabulary import metal_named

_JOINT = re.compile(
    r"\s*[+,]\s*(?:and\s+)?"
    r"|\s+(?:(?:is\s+|are\s+)?(?:poured|added|mixed|put|dropped)\s+)?"
    r"(?:and|plus|with|on|onto|over|into|to|meets?|touch(?:es)?)\s+",
    re.I,
)
_DOING = re.compile(
    r"\s*(?:I\s+|you\s+|we\s+|one\s+)?(?:add|mix|pour|put|combin|drop|heat|boil|warm|evaporat)(?:e?s?|[pt]?ing)\s+",
    re.I,
)
_NUMBER = re.compile(r"[\d½¼¾]")


def together(
    reading: Reading, part: Part
) -> tuple[tuple[Material, ...], tuple[Portion, ...], tuple[str, ...]]:
    """The things with an amount, the supplies without, and the words that became nothing.

    What was read is blanked out, or its joint made a comma, in the copy that is read.
    """
    doing = _DOING.match(reading.text, part.start, part.end)
    if doing:
        part = trimmed(reading, doing.end(), part.end)
    alone: list[Portion] = []
    for piece in list(_pieces(reading, part)):
        found = _alone(reading, piece)
        if found is not None:
            alone.append(found)
            _put(reading, piece, " ")
    for joint in list(_JOINT.finditer(reading.text, part.start, part.end)):
        goes_on = reading.text[joint.end() : part.end].strip()
        if not goes_on or _NUMBER.match(goes_on):
            _put(reading, Part(joint.start(), joint.end()), ",")
    materials, unread = materials_in(reading, trimmed(reading, part.start, part.end))
    return materials, tuple(alone), unread


def weighed_first(
    supplies: tuple[Portion, ...],
) -> tuple[tuple[Material, ...], tuple[Portion, ...]]:
    """Supplies that have an amount as what is worked on, and those that have none."""
    weighed = tuple(Material(one) for one in supplies if one.amount is not None)
    return weighed, tuple(one for one in supplies if one.amount is None)


def _pieces(reading: Reading, part: Part) -> Iterator[Part]:
    position = part.start
    for joint in _JOINT.finditer(reading.text, part.start, part.end):
        yield trimmed(reading, position, joint.start())
        position = joint.end()
    yield trimmed(reading, position, part.end)


def _alone(reading: Reading, piece: Part) -> Portion | None:
    """A supply, or a metal by its plain name, without any figure."""
    words = reading.text[piece.start : piece.end]
    if not words or _NUMBER.search(words):
        return None
    found = supplies_in(reading, piece)
    if len(found) != 1 or found[0].amount is not None or found[0].labels:
        return None
    return found[0] if found[0].reagent or metal_named(words.strip()) else None


def _put(reading: Reading, part: Part, mark: str) -> None:
    """Overwrite a stretch, so that every place stays."""
    text = reading.text
    blank = mark.ljust(part.end - part.start)[: part.end - part.start]
    reading.text = text[: part.start] + blank + text[part.end :]
