"""`reckoned`: a figure that the writer worked out, with the words that say what it is of.

Nothing is recomputed here, and no figure becomes a part of anything else.
"""

from __future__ import annotations

import re
from collections.abc import Container
from dataclasses import replace

from logbook.model.amount import Amount, Dimension
from logbook.model.entry import Claim
from logbook.reading.amounts import amount_in, amount_reader
from logbook.reading.clauses import read_clause
from logbook.reading.context import Reading
from logbook.reading.draft import Draft
from logbook.reading.labels import labels_in
from logbook.reading.segments import segments
from logbook.reading.thing_heads import keep_remarks
from logbook.reading.things import words_of

_NUMBER = re.compile(
    r"(?<![\w.-])(?:[-−]\s?)?(?:about\s+|~)?[$€£]?\d|(?<![\w-])(?:[-−]\s?)?(?:EUR|USD|GBP|CHF)\s?\d"
)
_MINUS = re.compile(r"[-−]\s?")
_LABEL = re.compile(r"\[[^\]\n]*\]")
_REST = re.compile(r"\s*(?:of\s+)?([^,;\[]*?)(?=\s*(?:,|;|\[|\bat\b|\bin all\b|$))")
_OPENS = re.compile(r"^(?:an?|the|it|that|for)(?:\s+|$)", re.I)
_ENDS = re.compile(r"[\s:=]+(?:(?:of|at|is|was|were|as|to be|about|roughly)\s*)?$", re.I)
_MONEY = frozenset({Dimension.MONEY, Dimension.PRICE})
_SPEAKS_OF_MONEY = re.compile(
    r"\b(?:costs?|worth|value|net|earned|profit|loss|break-?even|price|paid|spent|fees?)\b", re.I
)
_SPEAKS_OF_TIME = re.compile(r"\b(?:hours?|time|worked)\b", re.I)


def claim_head(reading: Reading, draft: Draft, start: int, end: int) -> bool:
    """Read an entry that begins with `reckoned`; whether it is an entry at all."""
    text = reading.text
    first = start
    while first < end and text[first] in " :\t":
        first += 1
    found = _figure(reading, first, end)
    if found is None:
        reading.doubt(
            "claim-without-figure",
            draft.span.start,
            draft.span.end,
            "no figure was found in what was reckoned",
            "prose: nothing in it is checked",
            "write: reckoned recovery 95 %",
        )
        return False
    amount, position = found
    for word, one, last in segments(text, position, end)[1:]:
        read_clause(reading, draft, " ".join(word.split()), one, last)
    of = _REST.match(text, position, end)
    of_words = _plain(of[1]) if of else ""
    what = _plain(_LABEL.sub(" ", words_of(reading, first, amount.span.start)))
    if not what:
        what, of_words = of_words, ""
    labels = labels_in(reading, first, end)
    draft.claim = Claim(reading.span(first, end), what, amount, of_words, draft.per, labels)
    keep_remarks(reading, draft)
    return True


def _plain(words: str) -> str:
    """What a figure is of, without the small words that tie it to the figure.

    >>> _plain("a loss of"), _plain("cost of acid"), _plain("worth:")
    ('loss', 'cost of acid', 'worth')
    """
    before = None
    while words != before:
        before, words = words, " ".join(_ENDS.sub("", _OPENS.sub("", words)).split())
    return words


def _figure(reading: Reading, start: int, end: int) -> tuple[Amount, int] | None:
    """The figure of a claim, and where it ends: the first one of the kind its words speak of."""
    text = reading.text
    match = _NUMBER.search(text, start, end)
    if match is None:
        return None
    opening = text[start : match.start()]
    kinds: Container[Dimension] | None = None
    if _SPEAKS_OF_MONEY.search(opening):
        kinds = _MONEY
    elif _SPEAKS_OF_TIME.search(opening):
        kinds = {Dimension.TIME}
    meant = amount_in(reading, start, end, kinds) if kinds is not None else None
    if meant is not None:
        at = meant.span.start
        around = (one for one in _NUMBER.finditer(text, start, end) if one.end() > at)
        match = next(around, match)  # with its sign, and "about" before it
    return _with_sign(reading, match.start(), end)


def _with_sign(reading: Reading, start: int, end: int) -> tuple[Amount, int] | None:
    """An amount that may stand behind a minus sign: less than nothing was earned, a loss."""
    minus = _MINUS.match(reading.text, start, end)
    reader = amount_reader(reading.customs.decimal_comma)
    found = reader.read(reading, minus.end() if minus else start, end)
    if found is None or minus is None or found[0].dimension not in _MONEY:
        return found if minus is None else reader.read(reading, start, end)
    amount, position = found
    if amount.value is None or amount.base_value is None:
        return found
    span = reading.span(start, position)
    return replace(amount, span=span, value=-amount.value, base_value=-amount.base_value), position
