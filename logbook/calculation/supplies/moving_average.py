"""The arithmetic of one account: what is there and what it cost, by the moving average.

Quantities and money are exact decimals. What has no known price is used first, so that nothing
that is known is blurred; what is used before it came is owed, and counted when it comes. Nothing
here knows what a supply is, nor when anything happened.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable
from dataclasses import dataclass, field
from decimal import Decimal

from logbook.calculation.money.exact import NOTHING, STEP

NO_MORE = Decimal("1e-9")  # of a gram, litre or piece: less is the rounding of units


@dataclass(slots=True)
class Taking:
    """What was taken at once: its known cost, and why a part of it has none.

    `owed` is what was not there and has not come yet; `late` names the purchases whose price
    counts for what was owed before.
    """

    cost: Decimal = NOTHING
    reasons: list[str] = field(default_factory=list)
    owed: Decimal = NOTHING
    late: list[Hashable] = field(default_factory=list)

    @property
    def priced(self) -> bool:
        """Whether the cost of all of it is known."""
        return not self.reasons and not self.owed


@dataclass(slots=True)
class MovingAverage:
    """What is there: `quantity` of known `cost`, what has no price, and what is owed.

    Equations: at a purchase a = (C + p) / (Q + q) [currency per unit]; a use of q takes q a.
    Source: perpetual inventory at moving average cost (textbooks of accounting; checked with
    worked examples in the tests).

    1000 at 20.00, 700 used, then 500 at 22.40: (300 × 20.00 + 11 200) / 800 = 21.50 (Warren,
    Reeve, Duchac, Accounting, weighted average in a perpetual system):

    >>> account = MovingAverage()
    >>> account.arrive(Decimal(1000), Decimal(20000))
    >>> float(account.take(Decimal(700)).cost)
    14000.0
    >>> account.arrive(Decimal(500), Decimal(11200))
    >>> float(account.average)
    21.5
    """

    quantity: Decimal = NOTHING
    cost: Decimal = NOTHING
    average: Decimal | None = None  # the last one, also when nothing is left
    unpriced: deque[tuple[Decimal, str]] = field(default_factory=deque)
    owing: deque[Taking] = field(default_factory=deque)
    endless: str = ""  # why nobody knows how much there was, where that is so

    @property
    def there(self) -> Decimal:
        """How much there is, priced or not."""
        if not self.unpriced:
            return self.quantity
        return self.quantity + sum((part for part, _ in self.unpriced), NOTHING)

    def arrive(
        self, quantity: Decimal, paid: Decimal | None, why: str = "", purchase: Hashable = None
    ) -> None:
        """Add what was bought or had; `why` says why its price is not known."""
        if paid is not None:
            self.average = (self.cost + paid) / (self.quantity + quantity)
        while self.owing and quantity > NO_MORE:
            quantity, paid = self._pay_back(quantity, paid, why, purchase)
        if quantity <= NO_MORE:
            return
        if paid is None:
            self.unpriced.append((quantity, why))
        else:
            self.quantity += quantity
            self.cost += paid

    def _pay_back(
        self, quantity: Decimal, paid: Decimal | None, why: str, purchase: Hashable
    ) -> tuple[Decimal, Decimal | None]:
        """Give what came to the first that waits for it, and say what remains."""
        taking = self.owing[0]
        part = min(taking.owed, quantity)
        all_of_it = quantity - part <= NO_MORE
        taking.owed -= part
        if paid is None:
            taking.reasons.append(why)
        else:
            taking.late.append(purchase)
            share = paid if all_of_it else (paid * part / quantity).quantize(STEP)
            taking.cost += share
            paid -= share
        if taking.owed <= NO_MORE:
            taking.owed = NOTHING
            self.owing.popleft()
        return (NOTHING if all_of_it else quantity - part), paid

    def take(self, quantity: Decimal, *, within: float = 0.0) -> Taking:
        """Take a quantity: what has no price first, then at the average; the rest is owed.

        A rest of no more than `within`, the doubt of the readings, is not owed where most of
        the quantity was there: then just all was taken.
        """
        taking, there = Taking(), self.there
        rest = self._take_unpriced(quantity, taking)
        part = min(rest, self.quantity)
        if part:
            all_of_it = self.quantity - part <= NO_MORE
            taking.cost = (
                self.cost if all_of_it else (self.cost * part / self.quantity).quantize(STEP)
            )
            self.cost -= taking.cost
            self.quantity = NOTHING if all_of_it else self.quantity - part
            rest -= part
        if rest > NO_MORE and (rest > there or rest > within):
            self._owe(rest, taking)
        return taking

    def _take_unpriced(self, quantity: Decimal, taking: Taking) -> Decimal:
        while self.unpriced and quantity > NO_MORE:
            first, why = self.unpriced.popleft()
            if why not in taking.reasons:
                taking.reasons.append(why)
            if first - quantity > NO_MORE:
                self.unpriced.appendleft((first - quantity, why))
            quantity -= min(first, quantity)
        return quantity

    def _owe(self, rest: Decimal, taking: Taking) -> None:
        if self.endless:
            taking.reasons.append(self.endless)
        else:
            taking.owed = rest
            self.owing.append(taking)

    def had_unknown(self, why: str) -> None:
        """Note that there was more, and nobody knows how much: what is short came from it."""
        self.endless = why
        while self.owing:
            taking = self.owing.popleft()
            taking.owed = NOTHING
            taking.reasons.append(why)
