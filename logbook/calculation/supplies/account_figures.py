"""One account as figures: bought, used and left of a supply, and the money that went with it.

Bought and consumed stay apart. What is not known is not known: a negative stock is no figure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from logbook.calculation.figure import Figure, not_known
from logbook.calculation.money.exact import NOTHING, exact
from logbook.calculation.money.exchange import NO_DAY
from logbook.calculation.results import SupplyAccount, SupplyMove
from logbook.calculation.sums import add_up, difference, notes_of, reasons, zero
from logbook.calculation.supplies.names import name_in_words
from logbook.calculation.supplies.runs_out import runs_out
from logbook.calculation.supplies.shelving import Shelf, strength_words
from logbook.calculation.supplies.use_costs import average_figures, cost_figure, missing
from logbook.calculation.supplies.uses import SupplyUse
from logbook.calculation.supplies.walked import After, Walked
from logbook.model.amount import ZERO, Uncertain, total

LEFT = "bought or had − used, up to the newest day"
SAME = 1e-6  # of a gram, litre or piece: less is the rounding of sums
TAP = "it comes from the tap: no stock of it is kept"


@dataclass(frozen=True, slots=True)
class Account:
    """An account with its shelf, the cost of each of its uses, and the average by line."""

    shelf: Shelf
    figures: SupplyAccount
    costs: dict[SupplyUse, Figure]
    averages: tuple[tuple[date, Figure], ...]


def account_of(walked: Walked, currency: str, newest: date | None) -> Account:
    """Everything about one supply in one strength, as figures."""
    shelf = walked.shelf
    averages = average_figures(walked, currency)
    costs = {
        step.line.use: cost_figure(walked, step, average, currency)
        for step, average in zip(walked.steps, averages, strict=True)
        if step.line.use is not None
    }
    came = [step.line.quantity for step in walked.steps if step.taking is None]
    went = [step.line.quantity for step in walked.steps if step.taking is not None]
    bought = _sum("bought or had", shelf.unit, came, "none was bought or had")
    used = _sum("used", shelf.unit, went, "no run used any")
    perhaps = add_up("used", shelf.unit, [used, *shelf.perhaps], used.formula)
    left = _left(walked, bought, perhaps if shelf.perhaps else used)
    day, words = runs_out(walked, newest)
    doubt = _doubt(costs.values())
    figures = SupplyAccount(
        supply=name_in_words(shelf.portion),
        strength=strength_words(shelf),
        unit=shelf.unit,
        bought=bought,
        used=used,
        left=left,
        average=_last_average(walked, averages, currency),
        paid=_paid(walked, currency),
        consumed=_consumed(walked, tuple(costs.values()), doubt, currency),
        stock_cost=_stock_cost(walked, doubt, currency),
        runs_out=day,
        runs_out_words=words,
        moves=tuple(_moves(walked, averages, costs)),
        notes=tuple(_notes(walked)),
        unpriced=tuple(_unpriced(walked)),
    )
    by_day = tuple((step.line.day, one) for step, one in zip(walked.steps, averages, strict=True))
    return Account(shelf, figures, costs, by_day)


def _sum(name: str, unit: str, figures: Sequence[Figure], note: str) -> Figure:
    return add_up(name, unit, figures) if figures else zero(name, unit, note)


def _left(walked: Walked, came: Figure, went: Figure) -> Figure:
    """What came less what went.

    Equation: left = Σ bought or had − Σ used [g, L or pieces], up to the newest day. Source: the
    definition of a stock. Where a use is not known it is at most the rest.
    """
    shelf, there = walked.shelf, float(walked.stock.there)
    name = f"{shelf.words} in stock"
    if not shelf.came:
        why = TAP if shelf.from_tap else f"no {shelf.words} was bought or had"
        return not_known(name, shelf.unit, why)
    left = difference(name, shelf.unit, came, went, LEFT)
    if walked.stock.owing:
        return Figure(name, shelf.unit, None, LEFT, left.terms, why=missing(shelf))
    if left.value is not None:
        return replace(
            left, value=Uncertain(there, left.value.errors), notes=_left_notes(left, there)
        )
    low = there if went.known else 0.0
    high = there if came.known else None
    return replace(left, low=low, high=high, notes=notes_of((left, came, went)))


def _left_notes(left: Figure, there: float) -> tuple[str, ...]:
    """What is said where the readings once gave less than nothing, within their doubt."""
    if left.value is None or abs(there - left.value.value) < SAME:
        return left.notes
    return (
        *left.notes,
        "by the readings a little more was used than was there: counted as all of it",
    )


def _money(name: str, currency: str, amount: Decimal, why: str, terms: Sequence[Figure]) -> Figure:
    """An exact sum of money; at least that where some of it is not known."""
    value = float(amount)
    notes = notes_of(terms)
    if why:
        return Figure(name, currency, None, name, tuple(terms), (), why, value, None, notes)
    return Figure(name, currency, Uncertain(value), name, tuple(terms), notes=notes)


def _paid(walked: Walked, currency: str) -> Figure:
    """The money that came in: what has no price came in for nobody knows how much."""
    lines = [step.line for step in walked.steps if step.line.arrival is not None]
    paid = [line.arrival.paid for line in lines if line.arrival is not None]
    why = reasons([*paid, *(line.quantity for line in lines if not line.quantity.known)])
    known = [
        exact(money.value.value)
        for line, money in zip(lines, paid, strict=True)
        if money.value is not None and line.quantity.known
    ]
    return _money("paid", currency, sum(known, NOTHING), why, paid)


def _consumed(walked: Walked, costs: tuple[Figure, ...], doubt: Uncertain, currency: str) -> Figure:
    """The money that left with the uses, at moving average cost."""
    amount = sum((step.taking.cost for step in walked.uses if step.taking), NOTHING)
    figure = _money("consumed", currency, amount, reasons(costs), costs)
    return _doubted(figure, doubt)


def _stock_cost(walked: Walked, doubt: Uncertain, currency: str) -> Figure:
    """The money in what is left: paid less consumed, to the last digit."""
    stock = walked.stock
    why = "; ".join(dict.fromkeys(reason for _, reason in stock.unpriced))
    if walked.steps[-1].at_least:
        why = stock.endless or why
    figure = _money("cost of what is left", currency, stock.cost, why, ())
    notes = ("what was used of it in amounts not known is still in it",)
    doubtful = walked.steps[-1].at_most and bool(stock.cost)
    return _doubted(replace(figure, notes=notes if doubtful else ()), doubt.times(-1.0))


def _doubt(costs: Iterable[Figure]) -> Uncertain:
    """The doubt of what was consumed, from the quantities that were used."""
    known = [cost.value for cost in costs if cost.value is not None and cost.value.errors]
    return total(known) if known else ZERO


def _doubted(figure: Figure, doubt: Uncertain) -> Figure:
    """A sum of money with that doubt, where it is known."""
    if figure.value is None:
        return figure
    return replace(figure, value=Uncertain(figure.value.value, doubt.errors))


def _last_average(walked: Walked, averages: Sequence[Figure], currency: str) -> Figure:
    shelf = walked.shelf
    if shelf.from_tap and not shelf.came:
        name = f"average cost of {shelf.words}"
        return zero(name, f"{currency}/{shelf.unit}", f"{shelf.words} is counted as free")
    return averages[-1]


def _moves(
    walked: Walked, averages: Sequence[Figure], costs: dict[SupplyUse, Figure]
) -> list[SupplyMove]:
    """The lines of the account, in the order of days."""
    name = f"{walked.shelf.words} in stock then"
    moves = []
    for step, average in zip(walked.steps, averages, strict=True):
        line = step.line
        if line.use is not None:
            cost = costs[line.use]
        else:
            assert line.arrival is not None
            cost = line.arrival.paid
        left = _left_then(walked.shelf, step, name)
        day = None if line.day in NO_DAY else line.day
        moves.append(
            SupplyMove(day, line.kind, line.quantity, cost, left, average, line.entry, line.stage)
        )
    return moves


def _left_then(shelf: Shelf, step: After, name: str) -> Figure:
    """How much was there after a line; its doubt is that of all readings before."""
    there = float(step.there)
    if not shelf.came:
        why = TAP if shelf.from_tap else f"no {shelf.words} was bought or had"
        return not_known(name, shelf.unit, why)
    if step.owing:
        return not_known(name, shelf.unit, "more was used by then than was bought or had")
    if step.at_most or step.at_least:
        why = "what came or was used before is not known in full"
        low = 0.0 if step.at_most else there
        high = None if step.at_least else there
        return Figure(name, shelf.unit, why=why, low=low, high=high)
    return Figure(name, shelf.unit, Uncertain.of(there, step.doubt, step.line))


def _notes(walked: Walked) -> list[str]:
    """What must be known to read the account: what is not known in it, what was assumed."""
    shelf, last = walked.shelf, walked.steps[-1]
    notes = []
    lines = [step.line for step in walked.uses]
    blind = sum(not line.quantity.known for line in lines)
    if blind:
        some = "one use is" if blind == 1 else f"{blind} uses are"
        notes.append(f"{some} not known in full: only what is written of them was taken off")
    if shelf.perhaps:
        count = len(shelf.perhaps)
        some = "one use" if count == 1 else f"{count} uses"
        notes.append(f"{some} may have been of this one, and nobody knows how much")
    if shelf.several:
        notes.append("it was bought in several strengths: of which these uses were is not written")
    if last.at_least:
        notes.append("how much there was at some time is not written")
    assumed = dict.fromkeys(line.note for line in lines if line.note)
    notes += [f"where no strength is written it is {one}" for one in assumed]
    return [*notes, *_converted(walked)]


def _unpriced(walked: Walked) -> Iterator[str]:
    """What came without a known price: it is taken to be used before all else."""
    reasons = dict.fromkeys(
        step.line.arrival.paid.why
        for step in walked.steps
        if step.line.arrival is not None and step.amount
    )
    why = [reason for reason in reasons if reason]
    if why:
        yield f"used first, at a cost that is not known: {'; '.join(why)}"


def _converted(walked: Walked) -> list[str]:
    """By what weight of a litre something was converted."""
    litre = walked.shelf.litre
    if not litre.known or not any(
        any(term is litre for term in step.line.quantity.terms)
        or any(litre in term.terms for term in step.line.quantity.terms)
        for step in walked.steps
    ):
        return []
    return list(litre.notes) or [f"a litre of it weighs as {litre.formula}"]
