"""What the book gives for a reckoned figure: one small function for each kind, in a table.

The words of the claim choose the function. Where nothing in the book gives the figure, the
function says so with a figure that is not known.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.results import BookFigures, MetalBalance, RunFigures, Thing
from logbook.calculation.sums import add_up, product, ratio
from logbook.model.amount import Dimension, Uncertain
from logbook.model.entry import Claim
from logbook.reference import metal_words


@dataclass(frozen=True, slots=True)
class Claimed:
    """A claim with the run that it stands in, and all that the book knows."""

    claim: Claim
    run: RunFigures
    book: BookFigures

    @property
    def words(self) -> str:
        """The words of the claim, in small letters."""
        return f"{self.claim.what} {self.claim.of}".strip().lower()

    @property
    def metal(self) -> str:
        """The metal that is named, else the first that the run is after."""
        for word in re.findall(r"\w+", self.words):
            if word in metal_words():
                return metal_words()[word]
        return next(iter(self.run.run.metals), "")

    @property
    def things(self) -> list[Thing]:
        """The things that are named by their labels."""
        names = [label.name for label in self.claim.labels]
        found = {thing.key: thing for thing in self.book.things}
        return [found[name] for name in names if name in found]

    @property
    def balance(self) -> MetalBalance | None:
        """The balance of that metal in the run."""
        return next((one for one in self.run.balances if one.metal == self.metal), None)


Given = Callable[[Claimed], Figure]


def given(claimed: Claimed) -> tuple[str, Figure] | None:
    """The kind of a claim and what the book gives for it; None where no kind is named."""
    for kind, (words, dimensions, function) in KINDS.items():
        if claimed.claim.amount.dimension in dimensions and words.search(claimed.words):
            return kind, function(claimed)
    return None


def _recovery(claimed: Claimed) -> Figure:
    balance = claimed.balance
    if balance is None:
        return not_known("recovery", "g/g", f"the run has no balance of {claimed.metal}")
    if "so far" in claimed.words and balance.so_far is not None:
        return balance.so_far
    return balance.recovery


def _fine(claimed: Claimed) -> Figure:
    if claimed.things:
        parts = [
            one.contents.get(claimed.metal)
            or not_known("fine weight", "g", f"nothing tells how much {claimed.metal} it holds")
            for one in claimed.things
        ]
        return add_up(f"fine {claimed.metal}", "g", parts)
    balance = claimed.balance
    if balance is None:
        return not_known("fine weight", "g", f"the run has no balance of {claimed.metal}")
    return balance.product


def _missing(claimed: Claimed) -> Figure:
    balance = claimed.balance
    if balance is None:
        return not_known("unaccounted", "g", f"the run has no balance of {claimed.metal}")
    return balance.unaccounted


def _grade(claimed: Claimed) -> Figure:
    balance = claimed.balance
    if balance is None:
        return not_known("head grade", "g/g", f"the run has no balance of {claimed.metal}")
    return ratio("head grade", "g/g", balance.head, claimed.run.feed)


def _weight(claimed: Claimed) -> Figure:
    if not claimed.things:
        return not_known("weight", "g", "no label says of what: write of [X]")
    return add_up("weight", "g", [one.gross for one in claimed.things])


def _hours(claimed: Claimed) -> Figure:
    if "elapsed" in claimed.words:
        return claimed.run.elapsed
    return claimed.run.hands_on


def _worth(claimed: Claimed) -> Figure:
    """On the claim's own price where it states one, else the worth that the run has."""
    at = claimed.claim.at
    currency = claimed.run.net.unit
    if at is None or at.base_value is None or at.per != "g":
        return claimed.run.worth
    if at.currency not in ("", currency):
        return not_known("worth", currency, f"the price is in {at.currency}")
    price = Figure("price that was said", f"{currency}/g", Uncertain(at.base_value))
    return product("worth", currency, _fine(claimed), price)


def _cost(claimed: Claimed) -> Figure:
    """The cost of a reagent that is named, of a kind of cost, or of the run without the scrap."""
    of = re.sub(r"\b(?:costs?|of|the|for)\b", " ", claimed.words).strip()
    currency = claimed.run.net.unit
    if not of or of in ("run", "work", "all", "this run"):
        return claimed.run.cost
    if "scrap" in of or "feed" in of:
        return claimed.run.cost_with_feed if "with" in of else _line(claimed, "feed")
    for kind, words in _KIND_WORDS.items():
        if words.search(of):
            return _line(claimed, kind)
    used = [use.cost for use in claimed.run.reagents if of in use.reagent or use.reagent in of]
    if not used:
        return not_known("cost", currency, f'nothing called "{of}" was used in this run')
    return add_up(f"cost of {of}", currency, used)


_KIND_WORDS = {
    "reagent": re.compile(r"\breagents\b|\bchemicals\b|\bsupplies\b"),
    "labour": re.compile(r"\blabour\b|\bhours\b"),
    "energy": re.compile(r"\benergy\b|\belectricity\b|\bpower\b"),
    "breakage": re.compile(r"\bbreakage\b|\bbroke"),
}


def _line(claimed: Claimed, kind: str) -> Figure:
    for line in claimed.run.costs:
        if line.kind == kind:
            return line.amount
    return not_known("cost", claimed.run.net.unit, "no such cost is noted in this run")


def _hourly(claimed: Claimed) -> Figure:
    earnings = claimed.run.earnings
    if re.search(r"\bnet\b", claimed.words) or earnings is None:
        return claimed.run.net_per_hour
    free = re.search(r"without the (?:scrap|feed)", claimed.words)
    return earnings.per_hour_without_feed if free else earnings.per_hour


def _break_even(claimed: Claimed) -> Figure:
    unit = f"{claimed.run.net.unit}/g"
    found: Mapping[str, Figure] = {}
    if claimed.run.earnings is not None:
        found = claimed.run.earnings.break_even_price
    why = f"the run made nothing of {claimed.metal} that could break even"
    return found.get(claimed.metal) or not_known("break-even price", unit, why)


KINDS: Mapping[str, tuple[re.Pattern[str], frozenset[Dimension], Given]] = {
    "break-even price": (
        re.compile(r"\bbreak-?\s?even"),
        frozenset({Dimension.PRICE}),
        _break_even,
    ),
    "an hour": (re.compile(""), frozenset({Dimension.PRICE}), _hourly),
    "recovery": (re.compile(r"\brecover"), frozenset({Dimension.FRACTION}), _recovery),
    "mass yield": (
        re.compile(r"\byield\b"),
        frozenset({Dimension.FRACTION}),
        lambda one: one.run.mass_yield,
    ),
    "head grade": (re.compile(r"\bgrade\b|\bhead\b"), frozenset({Dimension.FRACTION}), _grade),
    "missing": (re.compile(r"\bmissing\b|\bunaccounted\b"), frozenset({Dimension.MASS}), _missing),
    "fine weight": (re.compile(r"\bfine\b|\bcontent\b"), frozenset({Dimension.MASS}), _fine),
    "weight": (re.compile(r"\b(?:gross|weight)\b"), frozenset({Dimension.MASS}), _weight),
    "hours": (
        re.compile(r"\bhours?\b|\btime\b|\bworked\b"),
        frozenset({Dimension.TIME, Dimension.COUNT}),
        _hours,
    ),
    "worth": (re.compile(r"\bworth\b|\bvalue\b"), frozenset({Dimension.MONEY}), _worth),
    "cost": (re.compile(r"\bcosts?\b"), frozenset({Dimension.MONEY}), _cost),
    "net": (
        re.compile(r"\bnet\b|\bprofit\b|\bgain\b|\bloss\b"),
        frozenset({Dimension.MONEY}),
        lambda one: one.run.net,
    ),
}
