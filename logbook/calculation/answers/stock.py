"""Questions about the supplies of a book: what is left, and in which one strength it has them."""

from __future__ import annotations

from dataclasses import replace

from logbook.calculation.answers.known import Known
from logbook.calculation.figure import Figure
from logbook.calculation.money.exchange import exchange
from logbook.calculation.money.markets import book_currency, every_step
from logbook.calculation.results.answers import Answer
from logbook.calculation.schedule import distinct_runs
from logbook.calculation.supplies.accounts import Accounts, supply_accounts
from logbook.calculation.supplies.known import supply_list
from logbook.calculation.supplies.names import supply_in_words
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
    found = _left_of(asked, _accounts(known.book))
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


def _accounts(book: Book) -> Accounts:
    """The accounts of a book that was only read."""
    supplies = supply_list(book)
    done = (run for run in distinct_runs(book) if not run.planned)
    uses = [use for run in done for use in supply_uses(run, supplies)]
    return supply_accounts(book, uses, exchange(every_step(book), book_currency(book)), supplies)


def _left_of(asked: Portion, accounts: Accounts) -> list[tuple[str, Figure]]:
    found = accounts.came_of(asked)
    if not found:
        raise MissingError(f"no {supply_in_words(asked)} was bought or had, by the book")
    return [
        (supply_in_words(replace(asked, strength=one.shelf.portion.strength)), one.figures.left)
        for one in found
    ]


def with_strengths(question: Question, book: Book | None) -> tuple[Question, tuple[str, ...]]:
    """A question whose liquids without a strength have the only one that the book has of them.

    What was filled in is told in words. A word of the trade ("battery acid") has a strength of
    its own and keeps it.
    """
    if book is None or question.kind not in _TAKES_STRENGTH:
        return question, ()
    supplies = supply_list(book)
    told: list[str] = []

    def known(portion: Portion) -> Portion:
        own_word = word_of_trade(portion.what, portion.reagent) != portion.reagent
        if not portion.reagent or portion.strength is not None or own_word:
            return portion
        only = supplies.only_strength(portion)
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
