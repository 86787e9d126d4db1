"""The index at the back of the book: runs, labels, supplies and kinds of scrap from A to Z.

It is whole without a script. With one, a box above it looks through the lines of the logs too;
what that looks through is made by `search_index.py`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from logbook.calculation.results import BookFigures
from logbook.pages.addresses import SCRAP, SEARCH, SEARCH_INDEX, SUPPLIES, Here, Link
from logbook.pages.frame import Frame, Site
from logbook.pages.rounding import plural
from logbook.pages.scrap_page import kind_anchor
from logbook.pages.supplies_page import account_anchor, supply_words
from logbook.pages.wording import STATUS_WORDS, day_text

DIGITS, OTHERS = "0–9", "other signs"
RUN, LABEL, SUPPLY, SCRAP_KIND = "run", "label", "supply", "kind of scrap"


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """One name of the index: what it is, where it leads, and the runs in which it is met."""

    name: str
    kind: str
    more: str
    href: str
    runs: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Letter:
    """The names under one letter."""

    letter: str
    anchor: str
    entries: tuple[IndexEntry, ...]


@dataclass(frozen=True, slots=True)
class SearchView:
    """The page of the index. `index` is the file that the script loads."""

    frame: Frame
    summary: str
    letters: tuple[Letter, ...]
    index: str


def search_view(figures: BookFigures, site: Site) -> SearchView:
    """The index of a book."""
    here = site.addresses.at(SEARCH)
    entries = list(index_entries(figures, site, here))
    counts = [
        plural(sum(one.kind == kind for one in entries), kind, many)
        for kind, many in (
            (RUN, ""),
            (LABEL, ""),
            (SUPPLY, "supplies"),
            (SCRAP_KIND, "kinds of scrap"),
        )
    ]
    return SearchView(
        frame=site.frame(here, "Search"),
        summary=", ".join(counts),
        letters=tuple(_by_letter(entries)),
        index=here.to(SEARCH_INDEX),
    )


def index_entries(figures: BookFigures, site: Site, here: Here) -> Iterator[IndexEntry]:
    """Everything that has a name and a place of its own in the site, kind by kind."""
    for run in figures.book.runs:
        to = here.run(run.name)
        more = f"{day_text(run.day)}, {STATUS_WORDS[run.status]}"
        yield IndexEntry(to.text, RUN, more, to.href)
    what = {thing.label: thing.what for thing in figures.things if thing.label}
    for label in site.addresses.labels:
        yield IndexEntry(f"[{label}]", LABEL, what.get(label, ""), here.label(label).href)
    for account in figures.supplies.accounts:
        href = f"{here.to(SUPPLIES)}#{account_anchor(account)}"
        stages = [move.stage for move in account.moves if move.stage is not None]
        used = dict.fromkeys(stage.run for stage in stages)
        runs = tuple(here.run(name) for name in used)
        yield IndexEntry(supply_words(account), SUPPLY, "", href, runs)
    also = {kind.name: kind.also for kind in figures.book.scrap}
    for one in figures.across.scrap:
        href = f"{here.to(SCRAP)}#{kind_anchor(one.kind)}"
        runs = tuple(here.run(name) for name in one.runs)
        names = ", ".join(name for name in also.get(one.kind, ()) if name != one.kind)
        more = f"also {names}" if names else ""
        yield IndexEntry(one.kind, SCRAP_KIND, more, href, runs)


def folded(text: str) -> str:
    """A text without case and accents, as it is looked for.

    >>> folded("Café, KÖNIGSWASSER")
    'cafe, konigswasser'
    """
    apart = unicodedata.normalize("NFKD", text)
    return "".join(sign for sign in apart if not unicodedata.combining(sign)).lower()


def _by_letter(entries: Iterable[IndexEntry]) -> Iterator[Letter]:
    found: dict[str, list[IndexEntry]] = {}
    for entry in sorted(entries, key=lambda one: _place(one.name)):
        found.setdefault(_letter(entry.name), []).append(entry)
    order = sorted(found, key=lambda letter: (letter == OTHERS, letter == DIGITS, letter))
    for place, letter in enumerate(order, 1):
        yield Letter(letter, f"letter-{place}", tuple(found[letter]))


def _plain(name: str) -> str:
    return re.sub(r"^[^\w]+", "", folded(name))


def _place(name: str) -> tuple[tuple[tuple[int, str], ...], str]:
    """Where a name stands in the order of the alphabet, with AG-2 before AG-10."""
    parts = re.findall(r"[0-9]+|[^0-9]+", _plain(name))
    natural = tuple((int(part[:18]), "") if "0" <= part[0] <= "9" else (-1, part) for part in parts)
    return natural, name


def _letter(name: str) -> str:
    """The heading under which a name stands.

    >>> _letter("[AG-7]"), _letter("étain"), _letter("3 % peroxide"), _letter("…")
    ('A', 'E', '0–9', 'other signs')
    """
    first = _plain(name)[:1]
    if first.isdecimal():
        return DIGITS
    return first.upper() if first.isalpha() else OTHERS
