"""What lies beside scrap and product and may be weighed with them: damp and added things.

Only looked up here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import chain

from logbook.calculation.claims.case import Case, value_of
from logbook.calculation.claims.index import lines_before
from logbook.calculation.feed import is_feed
from logbook.calculation.holdings import WET_WORDS
from logbook.calculation.results import Thing
from logbook.model.amount import Dimension
from logbook.model.entry import Entry


def added_things(case: Case) -> list[Thing]:
    """What went in beside the scrap."""
    run = case.claimed.run
    return [one for one in run.things_in if not is_feed(run.run, one)]


def metal_supplies(case: Case) -> Iterator[tuple[str, float]]:
    """Bars and powders that went in as a supply, such as copper to cement with."""
    for use in case.claimed.run.reagents:
        grams = value_of(use.used) if use.used.unit == "g" else None
        if grams and re.search(r"\b(?:copper|zinc|iron|silver|steel|bar|wool)\b", use.reagent):
            yield use.reagent, grams


def is_wet(thing: Thing) -> bool:
    """Whether it was weighed damp: its weight says little."""
    return thing.moisture in WET_WORDS


def damp_weights(case: Case) -> Iterator[tuple[str, float]]:
    """Damp weighings of the run before the claim, and of the things themselves."""
    own = chain.from_iterable(thing.entries for thing in case.things)
    seen: set[int] = set()
    for entry in chain(_damp_before(case), own):
        if entry.moisture in WET_WORDS and id(entry) not in seen:
            seen.add(id(entry))
            weight = _weight(entry)
            if weight is not None:
                yield f"the {entry.moisture} weight was taken for the dry one", weight


def _damp_before(case: Case) -> Sequence[Entry]:
    return lines_before(case.claimed.known.lines(case.claimed.run).damp, case.claimed.entry)


def _weight(entry: Entry) -> float | None:
    for portion in entry.portions:
        if portion.amount is not None and portion.amount.dimension is Dimension.MASS:
            return portion.amount.base_value
    return None
