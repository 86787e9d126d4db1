"""The account of a book: where its money came in and where it stands, in cents that add up.

The two sides have one sum. How well a line is known stands beside it, because its cents are
there for the sum's sake; what could not be counted is told and is in neither side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from logbook.calculation.results import BookAccount, BookLine
from logbook.pages.addresses import Here
from logbook.pages.cost_view import COST_WORDS
from logbook.pages.figure_view import FigureView, figure_view
from logbook.pages.rounding import Rounded, rounded
from logbook.pages.wording import sentence

CAME_IN, STANDS = "Where it came in", "Where it stands"
ONLY_KNOWN = "only what is known of it"


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One line in cents, its working, and how well it is known where that is not to the cent."""

    amount: FigureView
    doubt: str


@dataclass(frozen=True, slots=True)
class AccountSide:
    """One of the two sides of the account."""

    title: str
    lines: tuple[AccountLine, ...]
    total: str


@dataclass(frozen=True, slots=True)
class AccountView:
    """The account of a book, as two tables."""

    sides: tuple[AccountSide, AccountSide]
    not_counted: tuple[str, ...]
    doubtful: bool


def account_view(account: BookAccount, currency: str, here: Here) -> AccountView:
    """The account of a book; lines that are nothing are left out."""
    total = _cents(account.total_cents, currency).text
    sides = (
        AccountSide(CAME_IN, _lines(account.came_in, currency, here), total),
        AccountSide(STANDS, _lines(account.stands, currency, here), total),
    )
    return AccountView(
        sides=sides,
        not_counted=tuple(sentence(words) for words in account.not_counted),
        doubtful=any(line.doubt for side in sides for line in side.lines),
    )


def _lines(lines: Sequence[BookLine], currency: str, here: Here) -> tuple[AccountLine, ...]:
    return tuple(_line(line, currency, here) for line in lines if line.cents)


def _line(line: BookLine, currency: str, here: Here) -> AccountLine:
    """A line with its cents in place of its rounded value; the working is that of its figure."""
    figure = figure_view(line.figure, here, levels=1)
    shown = _cents(line.cents, currency)
    amount = replace(
        figure,
        name=_name(line),
        text=shown.text,
        known=True,
        value=shown.value,
        doubt="",
        unit=shown.unit,
    )
    if not figure.known:
        return AccountLine(amount, figure.limits or ONLY_KNOWN)
    return AccountLine(amount, f"± {figure.doubt} {figure.unit}".strip() if figure.doubt else "")


def _name(line: BookLine) -> str:
    return COST_WORDS.get(line.name, line.name)


def _cents(cents: int, currency: str) -> Rounded:
    """Whole cents as an amount of money.

    >>> _cents(123456, "EUR").text, _cents(-5, "EUR").text
    ('1234.56 EUR', '−0.05 EUR')
    """
    return rounded(cents / 100, 0.0, currency)
