"""How strong a thing of a log is, as far as a rule asks for it: `strong X` of cautions.toml.

Where nobody wrote a strength, the strongest that is sold counts. Judges nothing harmless.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from logbook.calculation.cautions.rules import Signs
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.strengths import fraction_of
from logbook.model.entry import Portion
from logbook.reference import load

_PERCENT = re.compile(r"(\d+(?:[.,]\d+)?) ?%")


@cache
def _limits() -> Mapping[str, float]:
    """For each class that a rule asks for as strong, from which fraction [g/g] on it is."""
    rows = load("cautions.toml")["strong"].items()
    return {f"class {name}": float(row["from"]) for name, row in rows}


def strong_signs(portion: Portion, signs: Signs) -> Signs:
    """Of which classes a thing is strong; `signs` tell what it is."""
    found = [sign for sign in _limits() if sign in signs]
    return frozenset(_strong(sign) for sign in found if _strongest(portion) >= _limits()[sign])


def strong_in_words(text: str, signs: Signs) -> Signs:
    """The same for words that were not read as an entry: any percentage in them may be meant."""
    percents = [float(found.replace(",", ".")) / 100 for found in _PERCENT.findall(text)]
    strongest = max(percents, default=1.0)
    return frozenset(
        _strong(sign) for sign, least in _limits().items() if sign in signs and strongest >= least
    )


def _strong(sign: str) -> str:
    return f"strong {sign.removeprefix('class ')}"


def _strongest(portion: Portion) -> float:
    """The largest mass fraction that a thing may have [g/g]: all of it, where nobody knows."""
    for name in (portion.what, portion.reagent):
        try:
            return fraction_of(name, portion.strength).high or 1.0
        except MissingError:
            continue
    return 1.0
