"""What an edition of a book's site shows: the whole of it, or what the keeper lets be public."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class KeptBack:
    """What stays out of a public edition, from the line `Public:` of bench.md.

    Money stays out unless the keeper says otherwise: a price that was published cannot be
    taken back.
    """

    money: bool = True
    keeper: bool = False
    photos: bool = False


@dataclass(frozen=True, slots=True)
class Edition:
    """Which edition a book is: `money` tells whether sums are shown in it.

    `left_out` says what is not in it, for the foot of its pages. `elsewhere` are the labels of
    things that logs which are not in it gave.
    """

    public: bool = False
    money: bool = True
    left_out: tuple[str, ...] = ()
    elsewhere: frozenset[str] = frozenset()


MONEY_ALONE = KeptBack()
WHOLE = Edition()
