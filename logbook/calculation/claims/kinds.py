"""The kinds of claim: the words and the dimension that name each, and who works it out again.

The first kind whose words and dimension fit is taken, so the narrow ones stand before the wide.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from logbook.calculation.claims import costs, metal, work, worth
from logbook.calculation.claims.known import Claimed, Found, listed
from logbook.calculation.claims.own_words import own_words
from logbook.model.amount import Dimension
from logbook.reference import metal_words

MASS, MONEY, PRICE = Dimension.MASS, Dimension.MONEY, Dimension.PRICE
PART, TIME, COUNT = Dimension.FRACTION, Dimension.TIME, Dimension.COUNT
SHARE = frozenset({PART, COUNT})
STUFF = frozenset({MASS, Dimension.VOLUME, COUNT})


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of claim. `per` is the unit that a price must be for, where it is one."""

    words: re.Pattern[str]
    dimensions: frozenset[Dimension]
    work_out: Callable[[Claimed], Found]
    per: str = ""

    def fits(self, claimed: Claimed) -> bool:
        """Whether a claim is of this kind."""
        amount = claimed.claim.amount
        if amount.dimension not in self.dimensions or not self.words.search(claimed.words):
            return False
        return amount.dimension is not PRICE or not self.per or amount.per == self.per


def _kind(
    words: str,
    dimensions: frozenset[Dimension] | set[Dimension],
    work_out: Callable[[Claimed], Found],
    per: str = "",
) -> Kind:
    return Kind(re.compile(words), frozenset(dimensions), work_out, per)


_AN_HOUR = r"\b(?:per|an?|each|every) hour\b|\bhour(?:ly)? (?:earned|rate|pay|wage)\b|\bhourly\b"
_A_GRAM = r"\b(?:per|an?|each|every) (?:g|gram|gramme|ounce|ozt)\b"
_FINE = r"\bfine\b|\bcontents?\b|\bcontain|\bholds?\b|\bpure\b"
_FORM = r" (?:bar|bead|button|content|metal|out|of|from|powder|product|shot|sponge)\b"
_METALS = "|".join(sorted(map(re.escape, metal_words()), key=len, reverse=True))


def left(claimed: Claimed) -> Found:
    """A weight that was left: of a supply that has an account, else of metal that was kept."""
    has_account = work.accounts_named(claimed, work.supply_named(claimed))
    return work.left(claimed) if has_account else metal.on_shelf(claimed)


FIRST: tuple[Kind, ...] = (
    _kind(r"\bto add\b|\binquart", {MASS}, work.inquart),
    _kind(r"\bneeds?\b|\bneeded\b|\brequired?\b|\basks?\b|\basked\b", STUFF, work.needed),
)
KINDS: tuple[Kind, ...] = (
    _kind(r"\bbreak-?\s?even", {PRICE}, costs.break_even_price, "g"),
    _kind(r"\bbreak-?\s?even", SHARE, costs.break_even_grade),
    _kind("", {PRICE}, costs.hourly, "h"),
    _kind(_AN_HOUR, {MONEY}, costs.hourly),
    _kind("", {PRICE}, costs.per_gram, "g"),
    _kind(_A_GRAM, {MONEY}, costs.per_gram),
    _kind(r"\brecover", SHARE, metal.recovery),
    _kind(r"\baccountability\b|\baccounted for\b", SHARE, metal.accountability),
    _kind(r"\bfineness\b|\bpurity\b|\bpure\b|\bkarat\b", SHARE, metal.fineness),
    _kind(r"\byield\b", SHARE, metal.mass_yield),
    _kind(r"\bgrade\b|\bhead\b", SHARE, metal.grade),
    _kind(r"\bmissing\b|\bunaccounted\b|\bnot accounted\b", {MASS}, metal.missing),
    _kind(r"\bmissing\b|\bunaccounted\b|\bnot accounted\b", {PART}, metal.missing_share),
    _kind(r"\blost\b|\bloss\b|\blosses\b", {MASS}, metal.lost),
    _kind(r"\blost\b|\bloss\b|\blosses\b", {PART}, metal.lost_share),
    _kind(r"\bgross\b|\bweighs?\b|\bweighed\b", {MASS}, metal.weight),
    _kind(_FINE, {MASS}, metal.fine),
    _kind(r"\bweight\b|\bheavy\b", {MASS}, metal.weight),
    _kind(r"\bused\b|\buse of\b", STUFF, work.used),
    _kind(r"\bleft\b|\bin stock\b|\bremain", {Dimension.VOLUME, COUNT}, work.left),
    _kind(r"\bin stock\b|\bstock\b|\bleft\b|\bremain", {MASS}, left),
    _kind(r"\bshelf\b|\bkept\b", {MASS}, metal.on_shelf),
    _kind(r"\brecovered\b|\bwon\b|\bgot\b|\bmade\b", {MASS}, metal.fine),
    _kind(rf"^(?:{_METALS})(?:$|{_FORM})|\b(?:{_METALS}) in\b", {MASS}, metal.fine),
    _kind(r"\bfeed\b|\bscrap\b|\bproduct\b", {MASS}, metal.weight),
    _kind(
        r"\bhours?\b|\btime\b|\bwork(?:ed)?\b|\bhands\b|\belapsed\b|\bheat|\blabour\b",
        {TIME, COUNT},
        work.hours,
    ),
    _kind(r"^$|\btook\b", {TIME}, work.hours),
    _kind(r"\benergy\b|\belectricity\b|\bpower\b", {Dimension.ENERGY}, work.energy),
    _kind("", {Dimension.ENERGY}, work.energy),
    _kind(
        r"\bnet\b|\bprofits?\b|\bgain(?:ed)?\b|\bloss\b|\bearn(?:ed|ings)?\b", {MONEY}, costs.net
    ),
    _kind(r"\bsold\b|\breceived\b|\bsale\b|\bfees?\b", {MONEY}, worth.sale),
    _kind(r"\bworth\b|\bvalued?\b", {MONEY}, worth.worth),
    _kind(
        r"\bcosts?\b|\bspent\b|\bpaid\b|\bexpenses?\b|\blabour\b|\bscrap\b|\breagents?\b"
        r"|\benergy\b|\belectricity\b",
        {MONEY},
        costs.cost,
    ),
)


_UNITS: Mapping[Dimension, str] = {
    MASS: "a weight",
    MONEY: "money, with its currency",
    PRICE: "money per g or per h",
    PART: "a share in %",
    TIME: "a time in h or min",
    Dimension.VOLUME: "a volume",
    Dimension.ENERGY: "an energy in kWh",
}


def other_unit(claimed: Claimed) -> str:
    """In what units a claim of these words could be checked; empty where in none."""
    words = [
        _UNITS[one]
        for kind in (*FIRST, *KINDS)
        if kind.words.pattern and kind.words.search(claimed.words or "?")
        for one in _UNITS
        if one in kind.dimensions
    ]
    return listed(words, "or")


def found_for(claimed: Claimed) -> Found | None:
    """What the book gives for a claim; None where nothing in it goes by those words."""
    for kind in FIRST:
        if kind.fits(claimed):
            return kind.work_out(claimed)
    own = own_words(claimed)
    if own is not None:
        return own
    return next((kind.work_out(claimed) for kind in KINDS if kind.fits(claimed)), None)
