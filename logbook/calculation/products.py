"""Which of the things a run got are its product: the run's metal as metal, or said to be it.

The words are those of words.toml. Nothing here weighs or counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from logbook.calculation.figure import Figure
from logbook.calculation.holdings import Holding
from logbook.model.amount import Dimension
from logbook.reference import metal_words, vocabularies

WORD = re.compile(r"[^\W\d_]+")


def metals_named(words: str) -> set[str]:
    """The metals that a phrase names, by their names or symbols.

    >>> sorted(metals_named("Ag bar with some Palladium"))
    ['palladium', 'silver']
    """
    known = metal_words()
    found = (known.get(word) or known.get(word.lower()) for word in WORD.findall(words))
    return {metal for metal in found if metal}


def _words(text: str) -> frozenset[str]:
    return frozenset(word.lower() for word in WORD.findall(text))


def _speaks_of(vocabulary: str, words: str) -> bool:
    return not vocabularies()[vocabulary].isdisjoint(_words(words))


def is_unworked(kept: str, taken: str) -> bool:
    """Whether what was kept is called as what was taken: scrap that came out as it went in.

    A bar is not: what is cast again, or eaten away in a cementing, is another bar.

    >>> is_unworked("undissolved relay contacts", "relay contacts")
    True
    >>> is_unworked("copper bar", "copper bar"), is_unworked("residue", "relay contacts")
    (False, False)
    """
    unsaid = vocabularies()["unworked"]
    if _speaks_of("form", kept) and not is_salt_or_scrap(kept):
        return False
    words = _words(kept) - unsaid
    return bool(words) and words == _words(taken) - unsaid


def is_liquid(words: str, *, poured: bool = False) -> bool:
    """Whether a phrase speaks of a liquid that may hold metal, not of what only cleaned.

    `poured` tells that a volume was measured, which makes a liquid of whatever is named.

    >>> is_liquid("blue solution"), is_liquid("second rinse", poured=True), is_liquid("residue")
    (True, False, False)
    """
    return (poured or _speaks_of("liquid", words)) and not _speaks_of("washing", words)


def is_alike(words: str, *, poured: bool = False) -> bool:
    """Whether any part of a thing is like the whole: a solution, or metal that was melted.

    >>> is_alike("silver shot"), is_alike("rinse", poured=True), is_alike("relay contacts")
    (True, True, False)
    """
    return poured or _speaks_of("alike", words)


def holds_water(words: str) -> bool:
    """Whether a thing is one that often is weighed damp though it looks dry.

    >>> holds_water("cement silver"), holds_water("silver bar")
    (True, False)
    """
    return _speaks_of("holds_water", words)


def is_salt_or_scrap(words: str) -> bool:
    """Whether a phrase speaks of something that holds metal rather than of metal.

    >>> is_salt_or_scrap("silver chloride"), is_salt_or_scrap("silver powder")
    (True, False)
    """
    return _speaks_of("not_metal", words)


def is_metal(words: str, metals: Iterable[str]) -> bool:
    """Whether a phrase speaks of one of some metals as metal, not as a salt or as scrap.

    >>> is_metal("cement silver", ["silver"]), is_metal("silver nitrate solution", ["silver"])
    (True, False)
    >>> is_metal("small bead", ["gold"]), is_metal("copper bar", ["gold"])
    (True, False)
    """
    if is_salt_or_scrap(words):
        return False
    named = metals_named(words)
    return bool(named & set(metals)) if named else _speaks_of("form", words)


def is_product_of(words: str, contents: Mapping[str, Figure], metal: str) -> bool:
    """Whether a product is one of this metal, not one that only holds some of it.

    Its words tell, or else the metal of which it holds the most.
    """
    named = metals_named(words)
    if named:
        return metal in named
    known = {name: one.value.value for name, one in contents.items() if one.value is not None}
    return not known or max(known, key=lambda name: known[name]) == metal


def is_product(held: Holding, metals: Iterable[str]) -> bool:
    """Whether what a stage got is a product of a run that is after some metals."""
    if held.as_product:
        return True
    liquid = any(look.amount.dimension is Dimension.VOLUME for look in held.looks)
    return not liquid and is_metal(held.what, metals)
