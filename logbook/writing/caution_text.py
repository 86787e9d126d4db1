"""Cautions as they are printed on a terminal: a line for each danger, and the words that follow.

Nothing here judges a log. Where many logs raise the same rule one line stands for all, so that
a long book does not bury what is new in it; the cautions page lists every place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.results import Caution
from logbook.writing.finding_text import BOLD, PLAIN, RED, YELLOW, printable

COLOURS = {"danger": RED, "warning": YELLOW}
NAMED = 2  # how many further places are named on a line


def caution_lines(cautions: Iterable[Caution], *, colour: bool = False) -> Iterator[str]:
    """Cautions line by line, dangers first, each rule once for all places; none for none.

    What meets in a labelled vessel has a line of its own for each vessel.
    """
    same: dict[tuple[str, str], list[Caution]] = {}
    for caution in cautions:
        same.setdefault((caution.rule, caution.vessel), []).append(caution)
    rows = sorted(same.values(), key=lambda found: list(COLOURS).index(found[0].signal))
    for found in rows:
        yield _line(found, colour)
    if rows:
        yield DEFERRAL


def _line(found: list[Caution], colour: bool) -> str:
    first = found[0]
    places = list(dict.fromkeys(f"{one.entry.span.path}:{one.entry.line}" for one in found))
    place, signal = printable(places[0]), f"{first.signal} ({first.rule})"
    if colour:
        place, signal = f"{BOLD}{place}{PLAIN}", f"{COLOURS[first.signal]}{signal}{PLAIN}"
    return f"{place}: {signal}: {_in_short(first.text)}{_also(places[1:])}"


def _in_short(text: str) -> str:
    """The first sentence of a caution, with the place it opens with.

    >>> _in_short("In [W-2], with line 3: Bleach gives chlorine. It injures the lungs.")
    'In [W-2], with line 3: Bleach gives chlorine.'
    """
    sentence, stop, _ = printable(text).partition(". ")
    return f"{sentence}." if stop else sentence


def _also(places: list[str]) -> str:
    """The further places, the first of them by name."""
    if not places:
        return ""
    named = ", ".join(map(printable, places[:NAMED]))
    more = len(places) - NAMED
    return f" Also {named}{f' and {more} more' if more > 0 else ''}."
