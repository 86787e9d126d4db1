"""`priced`: the price of a metal on a day, a buyer's terms for it, or the rate of a currency."""

from __future__ import annotations

import re
from dataclasses import replace

from logbook.findings import nearest_word
from logbook.model.amount import Amount, Dimension
from logbook.reading.amounts import amount_reader
from logbook.reading.clauses import read_clause
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.segments import segments
from logbook.reading.terms import Term, read_term, term_in
from logbook.reading.things import words_of
from logbook.reading.unit_words import currency_code
from logbook.reading.vocabulary import metal_named
from logbook.reference import metal_words
from logbook.units import currencies

_FIGURE = re.compile(r"\d")
_AND = re.compile(r"\s+and\s+")
_ONE_OF = re.compile(r"(?:one|an?|the)\s+", re.I)


def price_head(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    """Read an entry that begins with `priced`; whether it is an entry at all."""
    _, first, last = segments(reading.text, start, end)[0]
    while first < last and reading.text[first] in " :\t":
        first += 1
    while last > first and reading.text[last - 1] in " :\t":
        last -= 1
    name = words_of(reading, first, last)
    metal = metal_named(name)
    _clauses(reading, draft, metal or "", start, end)
    place = first if name else draft.span.start, last
    rate = _currency(reading, first, last) if metal is None else None
    if rate is not None:
        return _rate(reading, draft, rate, place)
    if metal is None:
        _not_known(reading, name, place)
        return False
    if reading.broken:
        return False
    if draft.per is None and (draft.price is not None or draft.terms is None):
        reading.error(
            "price-without-unit",
            draft.span.start,
            draft.span.end,
            f"the price of {metal} is not said per gram or per ounce",
            "write: at 1.08 EUR/g, or at 31 EUR per ozt",
        )
        return False
    draft.metal = metal
    return True


def _clauses(reading: Reading, draft: Draft, metal: str, start: int, end: int) -> None:
    """Read the clauses; the words of a term and the amount behind `at` or `for` are one."""
    pieces = segments(reading.text, start, end)[1:]
    while pieces:
        word, first, last = pieces.pop(0)
        term = term_in(reading, first, last)
        if term is None:
            read_clause(reading, draft, word, first, last)
            continue
        if (
            pieces
            and pieces[0][0] in ("at", "for")
            and not _FIGURE.search(reading.text[first:last])
        ):
            last = pieces.pop(0)[2]
        for one, start, end in _each_term(reading, term, first, last):
            read_term(reading, draft, metal, one, start, end)


def _each_term(reading: Reading, term: Term, start: int, end: int) -> list[tuple[Term, int, int]]:
    """The terms of one clause: `a treatment charge of 2 EUR/kg and a lot charge of 12 EUR`."""
    joints = list(_AND.finditer(reading.text, start, end))
    starts = [start, *(joint.end() for joint in joints)]
    ends = [*(joint.start() for joint in joints), end]
    each = [
        (found, first, last)
        for first, last in zip(starts, ends, strict=True)
        if (found := term_in(reading, first, last)) and _FIGURE.search(reading.text[first:last])
    ]
    return each if len(each) == len(starts) else [(term, start, end)]


def _currency(reading: Reading, start: int, end: int) -> tuple[str, float] | None:
    """A currency and how much of it, in the words `USD`, `1 USD`, `$` or `100 yen`."""
    found = amount_reader(reading.customs.decimal_comma).read(reading, start, end)
    if found is not None:
        amount, position = found
        filled = position >= end or not reading.text[position:end].strip()
        of_money = amount.dimension is Dimension.MONEY and filled and amount.base_value
        return (amount.currency, of_money) if of_money else None
    opening = _ONE_OF.match(reading.text, start, end)
    word = reading.text[opening.end() if opening else start : end].strip()
    if word.lower() not in currencies():
        return None
    return currency_code(word, reading.customs.currency), 1.0


def _rate(reading: Reading, draft: Draft, rate: tuple[str, float], place: tuple[int, int]) -> bool:
    """What so much of a currency is worth, as a rate for one of it."""
    code, of = rate
    amount = draft.price.amount if draft.price is not None else draft.per
    wrong = _wrong_rate(code, amount, draft)
    if wrong is not None or amount is None or amount.base_value is None:
        headline, hint = wrong or (f"the rate of {code} is not said in figures", _WRITE_RATE)
        span = amount.span if amount is not None else reading.span(*place)
        reading.error("rate-unread", span.start, span.end, headline, hint)
        return False
    value = amount.base_value / of
    draft.money, draft.price = code, None
    draft.per = replace(amount, value=value, base_value=value) if of != 1.0 else amount
    _book_checked(reading, code, amount)
    return True


_WRITE_RATE = "write: priced USD at 0.92 EUR"


def _wrong_rate(code: str, amount: Amount | None, draft: Draft) -> tuple[str, str] | None:
    """Why something is no rate of a currency, and what to write; None where it may be one."""
    if draft.terms is not None:
        hint = "give them behind the metal: priced silver, payable 96 %"
        return f"the terms of a buyer are of a metal, and {code} is money", hint
    if amount is None:
        return f"what one {code} is worth is not said in money", _WRITE_RATE
    if amount.dimension is Dimension.PRICE and amount.per != "1":
        words = f'"{amount.span.text}" reads like the price of a metal, and {code} is money'
        return words, _WRITE_RATE
    if amount.currency == code:
        return f"a rate of {code} in {code} says nothing", _WRITE_RATE
    if not amount.base_value:
        return f"one {code} cannot be worth nothing", _WRITE_RATE
    return None


def _book_checked(reading: Reading, code: str, amount: Amount) -> None:
    """A rate in another currency than the book's is never used: say so."""
    book = reading.customs.currency
    if book in ("", amount.currency):
        return
    reading.doubt(
        "rate-not-in-book",
        amount.span.start,
        amount.span.end,
        f"this rate is in {amount.currency}, and the book counts in {book}",
        "the rate is kept, and no money is counted with it",
        f"write what one {amount.currency if code == book else code} is worth in {book}",
    )


def _not_known(reading: Reading, name: str, place: tuple[int, int]) -> None:
    near = nearest_word(name, [*metal_words(), *currencies()]) if name else None
    reading.error(
        "metal-unknown",
        *place,
        f'"{name}" is not a metal that is known',
        f'did you mean "{near}"?' if near else "write: priced silver at 1.08 EUR/g",
    )
