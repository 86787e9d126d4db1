"""How fine a thing is by what is stamped on it or by its name: "stamped 585", "sterling forks".

Both are claims, as their notes say; nothing here is an assay, and a mark that could be of two
metals is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Composition, Portion
from logbook.reading.amounts import amount_reader
from logbook.reading.compositions import as_fineness, read_composition
from logbook.reading.context import Reading
from logbook.reading.doubt import resolution
from logbook.reading.draft import Draft
from logbook.reading.vocabulary import metal_named
from logbook.reference import load, marks, metals

MARKED = re.compile(r"(?<![\w-])(?:hall-?)?(?:marked|stamped)\s+(?=[\w½.])", re.I)
_NUMBER = re.compile(r"(\d{3})(?=\s*$)")
_KARATS = re.compile(r"\d{1,2}(?:\.\d+)?\s?(?:kt?|ct|[ck]arats?)\b", re.I)
_NOT_THROUGHOUT = re.compile(
    r"\b(?:not?|non|maybe|perhaps|weighted|filled|plated?|clad|handle[sd]?|metal)\b|\?", re.I
)
"""Words by which what is named is less than all of the thing, or something else."""
BRING_IN = frozenset({"took", "added", "bought", "had"})


def read_mark(reading: Reading, first: int, start: int, end: int) -> Composition | None:
    """`marked 925` at `start`, of the thing that is named from `first` on; None if not known."""
    opens = MARKED.match(reading.text, start, end)
    if opens is None:
        return None
    if said := read_composition(reading, opens.end(), end):
        return said[0]
    text = reading.text
    if _KARATS.match(text, opens.end(), end):
        found = amount_reader(reading.customs.decimal_comma).read(reading, opens.end(), end)
        amount = as_fineness("gold", found[0]) if found else None
        if amount is not None and amount.dimension is Dimension.FRACTION:
            return Composition(reading.span(start, end), "gold", amount)
    if number := _NUMBER.match(text, opens.end(), end):
        return _numbered(reading, first, start, number)
    return _by_name(reading, opens.end(), end)


def _numbered(
    reading: Reading, first: int, start: int, number: re.Match[str]
) -> Composition | None:
    """A mark in thousandths: of the one metal that has it, or of the one that is named."""
    of = {metal for metal, mark in marks() if mark == int(number[1])}
    named = _metals_in(reading.text[first:start])
    fitting = of & named if named else of
    if len(fitting) == 1:
        metal = fitting.pop()
        fineness = marks()[metal, int(number[1])]
        amount = _claimed(reading, number.start(1), number.end(1), fineness, "a mark")
        return Composition(reading.span(start, number.end()), metal, amount)
    if of:
        others = " and ".join(sorted(named))
        meant = f"and the thing is named for {others}" if others else "and which is not said"
        reading.doubt(
            "mark-of-which-metal",
            start,
            number.end(1),
            f"{number[1]} is a mark of {' or '.join(sorted(of))}, {meant}",
            "words: what the thing holds is not known",
            f"name the metal: {sorted(of)[0]} {number[1]}",
        )
    return None


def _metals_in(words: str) -> set[str]:
    """The metals that some words name, those of an alloy with them."""
    found = {metal for word in re.findall(r"[^\W\d_]+", words) if (metal := metal_named(word))}
    if alloy := _pattern().search(words):
        found.add(_alloys()[alloy[0].lower()][0])
    return found


def _by_name(reading: Reading, start: int, end: int) -> Composition | None:
    """The precious metal of an alloy that is named somewhere between two offsets."""
    found = _pattern().search(reading.text, start, end)
    if found is None or _NOT_THROUGHOUT.search(reading.text, start, end):
        return None
    metal, fineness = _alloys()[found[0].lower()]
    amount = _claimed(reading, found.start(), found.end(), fineness, "a name")
    return Composition(amount.span, metal, amount)


def _claimed(reading: Reading, start: int, end: int, fineness: float, by: str) -> Amount:
    reading.heard.add((start, end))
    return Amount(
        reading.span(start, end),
        Dimension.FRACTION,
        "‰",
        round(fineness * 1000.0, 6),
        fineness,
        resolution(0.001),
        "last digit of what it promises",
        note=f"{by}: what it promises, not an assay",
    )


def names_an_alloy(word: str) -> bool:
    """Whether a word is an alloy's name: "sterling", which looks like a word of prose."""
    return word in _alloys()


def claim_by_name(reading: Reading, draft: Draft) -> None:
    """Add what the name of an alloy claims, where a thing comes in and nothing else is said."""
    if draft.action.name not in BRING_IN or draft.sources:
        return
    for portion in draft.portions:
        if portion.amount is None or _openings().isdisjoint(portion.what.lower().split()):
            continue
        claim = _by_name(reading, *_words_of(portion))
        if claim is None or any(one.metal == claim.metal for one in draft.compositions):
            continue
        if len(draft.portions) == 1:
            draft.compositions += (claim,)
        else:
            _beside_another(reading, claim)


def _words_of(portion: Portion) -> tuple[int, int]:
    """Where the name of a portion stands, labels left out."""
    end = portion.labels[0].span.start if portion.labels else portion.span.end
    return portion.span.start, end


def _beside_another(reading: Reading, claim: Composition) -> None:
    reading.doubt(
        "claim-of-two-things",
        claim.span.start,
        claim.span.end,
        f'"{claim.span.text}" says how fine one of several things in this entry is',
        "words: how fine it is is not known",
        "give each thing an entry of its own",
    )


@cache
def _alloys() -> Mapping[str, tuple[str, float]]:
    """The precious metal of each alloy that has one known share of it, by the alloy's names."""
    found: dict[str, tuple[str, float]] = {}
    for row in load("named_alloys.toml")["alloy"]:
        for metal, share in row["parts"].items():
            if metals()[metal].precious and not isinstance(share, list):
                found |= {word.lower(): (metal, share) for word in (row["name"], *row["also"])}
    # Names that begin with a figure are read as figures: "800 silver".
    return {word: claim for word, claim in found.items() if not word[0].isdigit()}


@cache
def _openings() -> frozenset[str]:
    """The first words of those names, which cost less to look for than the names."""
    return frozenset(name.split()[0] for name in _alloys())


@cache
def _pattern() -> re.Pattern[str]:
    words = sorted(_alloys(), key=len, reverse=True)
    return re.compile(r"(?<![\w-])(?:" + "|".join(map(re.escape, words)) + r")(?![\w-])", re.I)
