"""Questions about one strength in other units, and about acids that are measured out by parts."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from logbook.chemistry.solutions import substances
from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question
from logbook.reading.asking import Asking, Read
from logbook.reading.question_parts import (
    Part,
    amount_at,
    amounts_in,
    supplies_in,
)
from logbook.reference import reagents

_NO_NUMBER = r"(?<![\d½])(?<![\d½]\s)"
_WANTED = {
    "per cent": r"per\s?cent(?:age)?|%|strength|(?:how\s+)?strong|concentration",
    "molarity": r"molarity|molar|moles\s+per\s+lit(?:re|er)|mol/L|M(?=\s+(?:is|are|has)\b|\W*$)",
    "grams": r"grams?\s+per\s+lit(?:re|er)|g/L",
    "density": r"density|specific\s+gravity",
    "volumes": r"volumes?(?:\s+(?:of\s+)?oxygen)?|vol(?=\W*$)",
}
_ASKED = re.compile(
    rf"{_NO_NUMBER}(?<!\w)(?:(?:in|as|into|the|what)\s+)*(?:"
    + "|".join(f"(?P<{name.replace(' ', '_')}>{words})" for name, words in _WANTED.items())
    + r")(?!\w)(?:\s+(?:is|are|has|of|by\s+(?:weight|mass)))*",
    re.I,
)


def in_other_units(asking: Asking) -> Read:
    """`molarity of hydrochloric acid 32 %`, `what per cent is 20 vol peroxide`."""
    found = asking.search(_ASKED)
    if found is None:
        return None
    asking.without(Part(found.start(), found.end()))
    wanted = str(found.lastgroup).replace("_", " ")
    supplies = supplies_in(asking.reading, asking.whole)
    if len(supplies) != 1 or supplies[0].amount is not None or not supplies[0].reagent:
        return None
    (supply,) = supplies
    if reagents()[supply.reagent].state != "liquid" and supply.strength is None:
        return None
    return Question(Kind.STRENGTH, asking.text, asking.span, supplies, unit=wanted)


_RATIO = re.compile(r"(?<![\d.:/])(?P<a>\d+(?:\.\d+)?)\s*:\s*(?P<b>\d+(?:\.\d+)?)(?![\d:/])")
_FROM = re.compile(r"(?<!\S)(?:from|of|out\s+of)(?!\S)", re.I)
_MAKE = re.compile(
    r"(?<!\w)(?:to\s+)?(?:make|making|mix(?:ing)?|prepare|get)(?!\w)|(?<!\w)(?:by|in)\s+parts?\b",
    re.I,
)
_REGIA = re.compile(r"(?<!\w)aqua\s+regia(?!\w)", re.I)
_HERE = frozenset({Dimension.VOLUME})
PLACES = ("first", "second")


_PART_OF = re.compile(
    r"(?:(?<!\S)(?:and|to|with)\s+)?(?<![\w.])(?P<n>\d+(?:\.\d+)?)\s+parts?(?:\s+of)?(?!\w)", re.I
)
Written = tuple[Amount | None, ...]


def by_parts(asking: Asking) -> Read:
    """`1 L aqua regia 3:1 from hydrochloric acid 32 % and nitric acid 68 %`."""
    each = list(_PART_OF.finditer(asking.reading.text, asking.whole.start, asking.whole.end))
    ratio, regia = asking.search(_RATIO), asking.search(_REGIA)
    numbers: Written = ()
    if ratio is not None:
        numbers = _numbers(asking, ratio.span("a"), ratio.span("b"))
        asking.without(Part(ratio.start(), ratio.end()))
    elif len(each) == 2:
        numbers = _numbers(asking, *(one.span("n") for one in each))
    if len(numbers) != 2:
        return None
    for pattern in (_REGIA, _MAKE, _FROM) if ratio is not None else (_REGIA, _MAKE):
        while word := asking.search(pattern):
            asking.without(Part(word.start(), word.end()))
    whole = next(amounts_in(asking.reading, asking.whole, _HERE), None)
    if whole is not None:
        asking.without(Part(whole.span.start, whole.span.end))
    acids = _acids(asking, () if ratio is not None else each)
    if regia is not None and not acids:
        acids = _acids_of_aqua_regia(asking)
    if regia is None and len(acids) < 2:
        return None
    missing = list(_lacking(acids, numbers, whole, named=regia is not None))
    if missing or whole is None:
        return asking.refusal(*missing)
    amounts = [("whole", whole)]
    amounts += [(name, one) for name, one in zip(PLACES, numbers, strict=True) if one is not None]
    return Question(Kind.PARTS, asking.text, asking.span, acids, amounts=tuple(amounts))


def _numbers(asking: Asking, *places: tuple[int, int]) -> Written:
    return tuple(amount_at(asking.reading, Part(*place)) for place in places)


def _acids(asking: Asking, each: Sequence[re.Match[str]]) -> tuple[Portion, ...]:
    """The acids of the question; behind each number of parts the one that it counts."""
    if not each:
        return supplies_in(asking.reading, asking.whole)
    ends = (*(one.start() for one in each[1:]), asking.whole.end)
    stretches = [Part(one.end(), end) for one, end in zip(each, ends, strict=True)]
    for one in each:
        asking.without(Part(one.start(), one.end()))
    return tuple(acid for part in stretches for acid in supplies_in(asking.reading, part)[:1])


def _lacking(
    acids: tuple[Portion, ...], numbers: Written, whole: Amount | None, *, named: bool
) -> Iterator[str]:
    if whole is None:
        yield "how much of it in all: for example 1 L"
    if len(acids) != 2 or not all(_is_acid(one) for one in acids):
        yield "which two acids: for example hydrochloric acid 32 % and nitric acid 68 %"
    elif named and not _as_the_name_says(acids, numbers):
        yield (
            "which acid has how many parts: aqua regia is mostly hydrochloric acid; name the acids "
            "in the order of their parts"
        )


def _acids_of_aqua_regia(asking: Asking) -> tuple[Portion, ...]:
    """The two acids that the name means, of whatever strength."""
    return tuple(
        Portion(asking.span, what=name, reagent=name)
        for name in ("hydrochloric acid", "nitric acid")
    )


def _is_acid(portion: Portion) -> bool:
    return bool(portion.reagent) and "acid" in reagents()[portion.reagent].classes


def _as_the_name_says(acids: tuple[Portion, ...], numbers: Written) -> bool:
    """Whether the parts make more hydrochloric acid than nitric acid, and of these two alone."""
    parts = {
        substances(acid.reagent): number.base_value or 0.0
        for acid, number in zip(acids, numbers, strict=True)
        if number is not None
    }
    hydrochloric, nitric = parts.get(("HCl",)), parts.get(("HNO3",))
    return hydrochloric is not None and nitric is not None and hydrochloric > nitric
