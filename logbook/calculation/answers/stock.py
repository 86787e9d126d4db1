"""Questions about the supplies of a book: what is left, and in which one strength it has them."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.answers.known import Known
from logbook.calculation.figure import Figure
from logbook.calculation.money.markets import book_currency
from logbook.calculation.results.answers import Answer
from logbook.calculation.schedule import distinct_runs
from logbook.calculation.supplies.in_hand import InHand, in_hand
from logbook.calculation.supplies.prices import (
    PriceList,
    price_list,
    strength_of,
    supply_in_words,
    supply_name,
)
from logbook.calculation.supplies.uses import supply_uses
from logbook.chemistry.ranges import MissingError
from logbook.chemistry.solutions import word_of_trade
from logbook.model.book import Book
from logbook.model.entry import Portion
from logbook.model.question import Kind, Question

STILL_COUNTED = "what was used, spilt or given away without an entry is still counted"
_TAKES_STRENGTH = frozenset(
    {Kind.DISSOLVE, Kind.DROP, Kind.CEMENT, Kind.DESTROY, Kind.NEUTRALISE, Kind.CONVERT, Kind.GAS}
)


def stock(question: Question, known: Known) -> Answer:
    """What the book tells is left of a supply, each strength by itself."""
    if known.book is None:
        raise MissingError("a book to look it up in: none was read")
    (asked,) = question.asked
    prices = price_list(known.book, book_currency(known.book))
    uses = (
        use
        for run in distinct_runs(known.book)
        if not run.planned
        for use in supply_uses(run, prices)
    )
    found = _left_of(asked, in_hand(known.book, uses), prices)
    sentence: list[str | Figure] = ["By the book there is "]
    for place, (words, figure) in enumerate(found):
        sentence += [" and " if place else "", figure, f" of {words}"]
    notes = [note for _, figure in found for note in figure.notes]
    why = [figure.why for _, figure in found if figure.why and not figure.known]
    return Answer(
        question.text,
        question.kind.value,
        (*sentence, " in stock."),
        tuple(figure for _, figure in found),
        notes=tuple(dict.fromkeys((*why, *notes, STILL_COUNTED))),
    )


def _left_of(asked: Portion, held: InHand, prices: PriceList) -> list[tuple[str, Figure]]:
    name = supply_name(asked)
    kinds = held.came.get(name, {})
    if not kinds:
        raise MissingError(f"no {supply_in_words(asked)} was bought or had, by the book")
    wanted = strength_of(asked)
    found = []
    for kind, lots in kinds.items():
        if wanted is not None and kind is not None and kind != wanted:
            continue
        one = replace(asked, strength=prices.strengths.get(name, {}).get(kind))
        for dimension in dict.fromkeys(dimension for dimension, _ in lots):
            left = held.of(one, dimension) if dimension is not None else None
            if left is not None:
                found.append((supply_in_words(one), left))
    if not found:
        raise MissingError(f"no {supply_in_words(asked)} was bought or had, by the book")
    return found


def with_strengths(question: Question, book: Book | None) -> tuple[Question, tuple[str, ...]]:
    """A question whose liquids without a strength have the only one that the book has of them.

    What was filled in is told in words. A word of the trade ("battery acid") has a strength of
    its own and keeps it.
    """
    if book is None or question.kind not in _TAKES_STRENGTH:
        return question, ()
    prices = price_list(book, book_currency(book))
    told: list[str] = []

    def known(portion: Portion) -> Portion:
        own_word = word_of_trade(portion.what, portion.reagent) != portion.reagent
        if not portion.reagent or portion.strength is not None or own_word:
            return portion
        only = prices.only_strength(portion)
        if only is None:
            return portion
        found = replace(portion, strength=only)
        told.append(f"taken to be {supply_in_words(found)}, the one strength that the book has")
        return found

    filled = replace(
        question,
        asked=tuple(map(known, question.asked)),
        of=tuple(replace(one, portion=known(one.portion)) for one in question.of),
    )
    return filled, tuple(dict.fromkeys(told))
