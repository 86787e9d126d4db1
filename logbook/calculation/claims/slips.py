"""What a writer probably did, where doing just that gives the figure that was reckoned.

None is a guess: a slip is named only where it gives the claimed figure within its last digit.
The order of the table is the order in which they are tried. Whoever tries enough of them finds
one that fits anything: so only as many are tried as fit one wrong figure in twenty by chance.
A figure of few digits fits more by chance than one of many, and leaves room for fewer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from logbook.calculation.claims import (
    slips_of_digits,
    slips_of_money,
    slips_of_rounding,
    slips_of_shares,
    slips_of_time,
    slips_of_units,
    slips_of_weight,
)
from logbook.calculation.claims.case import Case, Slips
from logbook.calculation.claims.chance import Chance
from logbook.calculation.claims.known import Claimed, Found, Reading
from logbook.calculation.claims.own_words import OWN
from logbook.calculation.claims.slips_of_words import own_sum
from logbook.calculation.claims.written import Written

MOST_NAMED = 2
SLIPS: tuple[tuple[frozenset[str] | None, Callable[[Case], Slips]], ...] = (
    (None, slips_of_units.units),
    (frozenset({OWN}), own_sum),
    (frozenset({"hours", "elapsed", "heated"}), slips_of_time.hours),
    (frozenset({"fine weight", "worth", "fineness"}), slips_of_weight.fineness),
    (frozenset({"recovery", "accountability"}), slips_of_shares.recovery),
    (frozenset({"mass yield"}), slips_of_shares.mass_yield),
    (frozenset({"head grade"}), slips_of_shares.grade),
    (
        frozenset({"unaccounted", "unaccounted share", "lost", "lost share"}),
        slips_of_shares.missing,
    ),
    (frozenset({"silver to add"}), slips_of_weight.inquart),
    (frozenset({"cost", "cost with the scrap"}), slips_of_money.cost),
    (frozenset({"cost of a supply", "cost of reagent"}), slips_of_money.cost_of_supply),
    (frozenset({"cost in all"}), slips_of_money.cost_in_all),
    (frozenset({"cost of labour"}), slips_of_money.labour),
    (frozenset({"net"}), slips_of_money.net),
    (frozenset({"an hour", "net per hour"}), slips_of_money.hourly),
    (frozenset({"worth"}), slips_of_money.worth),
    (frozenset({"price"}), slips_of_money.price),
    (
        frozenset({"paid per gram", "cost per gram", "net per gram", "worth per gram"}),
        slips_of_money.per_gram,
    ),
    (frozenset({"sale"}), slips_of_money.sale),
    (frozenset({"fine weight", "weight", "worth", "recovery"}), slips_of_weight.damp),
    (frozenset({"fine weight", "weight"}), slips_of_weight.counted_in),
    (None, slips_of_digits.pen),
    (None, slips_of_rounding.early),
)
LAST_RESORT = frozenset({slips_of_digits.pen, slips_of_rounding.early})  # where nothing else fits


def slip(claimed: Claimed, found: Found, reading: Reading, said: Written) -> str:
    """The slip that gives the claimed figure, or two where two do; empty where none does.

    Each slip is tried on every reading before the next one is.
    """
    value = reading.figure.value
    if value is None:
        return ""
    chance = Chance(said, value)
    cases = list(_cases(claimed, found, reading, said))
    named = dict.fromkeys(words for case in cases for words in slips_of_digits.point(case))
    for kinds, slips in SLIPS:
        if named and slips in LAST_RESORT:
            break
        for case in cases if kinds is None or found.kind in kinds else ():
            fitting = [words for words, gives in slips(case) if chance.fits(gives)]
            named.update(dict.fromkeys(fitting))
    return ", or ".join(list(named)[:MOST_NAMED]) if named else ""


def _cases(claimed: Claimed, found: Found, reading: Reading, said: Written) -> Iterator[Case]:
    """The right figure by each reading that has one, that which was compared first."""
    for one in (reading, *(other for other in found.readings if other is not reading)):
        value = one.figure.value
        if value is not None:
            yield Case(claimed, found.kind, one.figure, value, said)
