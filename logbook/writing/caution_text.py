"""Cautions as they are printed on a terminal: where, which danger, what to do.

Nothing here judges a log. Where many logs raise the same rule one stands for all, so that
a long book does not bury what is new in it; the cautions page lists every place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from logbook.calculation.cautions.raised import DEFERRAL
from logbook.calculation.results import Caution
from logbook.pages.rounding import plural
from logbook.writing.finding_text import BOLD, PLAIN, RED, YELLOW, printable

COLOURS = {"danger": RED, "warning": YELLOW}
NARROWEST, WIDEST = 40, 100


def caution_lines(
    cautions: Iterable[Caution], *, colour: bool = False, width: int = WIDEST
) -> Iterator[str]:
    """Cautions line by line, dangers first, each rule once for all places; none for none.

    What meets in a labelled vessel has lines of its own for each vessel.
    """
    same: dict[tuple[str, str], list[Caution]] = {}
    for caution in cautions:
        same.setdefault((caution.rule, caution.vessel), []).append(caution)
    rows = sorted(same.values(), key=lambda found: list(COLOURS).index(found[0].signal))
    for found in rows:
        yield _heading(found, colour)
        yield from _wrapped(f"{found[0].text} {found[0].do}", width, "    ")
    if rows:
        yield from _wrapped(DEFERRAL, width, "")


def _heading(found: list[Caution], colour: bool) -> str:
    first = found[0]
    places = list(dict.fromkeys(f"{one.entry.span.path}:{one.entry.line}" for one in found))
    place, signal = printable(places[0]), f"{first.signal} ({first.rule})"
    if colour:
        place, signal = f"{BOLD}{place}{PLAIN}", f"{COLOURS[first.signal]}{signal}{PLAIN}"
    more = f", and {plural(len(places) - 1, 'place')} more" if places[1:] else ""
    return f"{place}: {signal}{more}"


def _wrapped(words: str, width: int, indent: str) -> list[str]:
    """Words on as many lines as the terminal needs."""
    size = max(NARROWEST, min(width, WIDEST))
    return wrap(printable(words), size, initial_indent=indent, subsequent_indent=indent)
