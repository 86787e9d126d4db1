"""Which of the things a run got are its product: the run's metal as metal, or said to be it.

The words are common practice, no source. Nothing here weighs or counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from logbook.calculation.figure import Figure
from logbook.calculation.holdings import Holding
from logbook.model.amount import Dimension
from logbook.reference import metal_words

FORMS = frozenset(
    {"bar", "bars", "bead", "beads", "button", "buttons", "coin", "cornflake", "cornflakes"}
    | {"crystals", "foil", "grain", "grains", "granules", "ingot", "ingots", "lump", "nugget"}
    | {"nuggets", "powder", "prill", "prills", "round", "rounds", "sheet", "shot", "sponge"}
    | {"wire"}
)
NOT_METAL = frozenset(
    {"acid", "ash", "ashes", "carbonate", "chloride", "concentrate", "concentrates", "contacts"}
    | {"cyanide", "dross", "dust", "filled", "filter", "filters", "filtrate", "fines", "flux"}
    | {"hydroxide", "liquor", "mud", "nitrate", "oxide", "paste", "plated", "residue"}
    | {"residues", "rinse", "salt", "salts", "scrap", "slag", "slime", "slimes", "solder"}
    | {"solution", "sulfate", "sulfide", "sulphate", "sulphide", "sweeps", "tailings"}
    | {"washings"}
)
WORD = re.compile(r"[^\W\d_]+")


def metals_named(words: str) -> set[str]:
    """The metals that a phrase names, by their names or symbols.

    >>> sorted(metals_named("Ag bar with some Palladium"))
    ['palladium', 'silver']
    """
    known = metal_words()
    found = (known.get(word) or known.get(word.lower()) for word in WORD.findall(words))
    return {metal for metal in found if metal}


def _words(text: str) -> set[str]:
    return {word.lower() for word in WORD.findall(text)}


def is_salt_or_scrap(words: str) -> bool:
    """Whether a phrase speaks of something that holds metal rather than of metal.

    >>> is_salt_or_scrap("silver chloride"), is_salt_or_scrap("silver powder")
    (True, False)
    """
    return bool(_words(words) & NOT_METAL)


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
    return bool(named & set(metals)) if named else bool(_words(words) & FORMS)


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
