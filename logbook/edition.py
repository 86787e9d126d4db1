"""A book as its keeper lets it be public: what is kept back is not in it at all.

What is kept back is cut out of the texts, and the texts are read again. So no figure, page or
table can give away what a reader of the public edition must not know: it was never read. Lines
keep their numbers. A log that is not public is left out whole, and what it used and gave counts
nowhere.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from logbook.model.amount import Dimension
from logbook.model.book import Book
from logbook.model.edition import Edition, KeptBack
from logbook.model.entry import Entry, Label
from logbook.model.run import Block, Picture, Run
from logbook.pages.privacy import every_block, is_private
from logbook.pages.rounding import plural
from logbook.reading.read_book import read_book
from logbook.reading.sums_in_text import has_sum, replaced_in_lines, without_sums

NAMELESS = "a run that is not public"
SHORTEST_TITLE = 4  # letters; a shorter one would be cut out of other words
_MONEY = frozenset({Dimension.MONEY, Dimension.PRICE})
_ALL_OF_MONEY = frozenset({"spent", "priced"})
_SPEAKS_OF_MONEY = re.compile(
    r"\b(?:money|worth|costs?|prices?|net|earn\w*|paid|profit|break[ -]even|(?:an|per) hour)\b",
    re.I,
)
_RATES = re.compile(
    r"[ \t]*(?:(?:worth of )?(?:an )?hour|currency|(?:electricity )?tariff|electricity)[ \t]*:",
    re.I,
)
_POSTAL = re.compile(r"[ \t]*address[ \t]*:(?![ \t]*https?://)", re.I)
_KEEPER = re.compile(r"[ \t]*keeper[ \t]*:", re.I)
_NOT_PUBLIC = re.compile(r"^[ \t]*public[ \t]*:[ \t]*(?!(?:yes|true|all)[ \t]*$)\S", re.I | re.M)
_NAMES_A_RUN = re.compile(r"[ \t]*(?:continues|like|plan)[ \t]*:", re.I)


def public_book(book: Book, texts: Mapping[str, str]) -> Book:
    r"""The book read anew from what is left of its texts, by their paths.

    >>> texts = {"runs/2026-03-14-a.md": "# A\n\nMetal: silver\n\n- took 12 g wire for 30 EUR\n"}
    >>> public = public_book(read_book(texts), texts)
    >>> public.runs[0].entries[0].span.text, public.edition.left_out
    ('took 12 g wire', ('money',))
    """
    kept = book.bench.kept_back
    hidden = {
        run.source.path: run
        for run in book.runs
        if run.public is False or _NOT_PUBLIC.search(run.source.text)
    }
    left = {
        path: text
        for path, text in texts.items()
        if path not in hidden and not _is_page_kept_back(book, path, text, kept)
    }
    names = _names(hidden.values(), book)
    cut = _lines_to_cut(book, kept)
    entries = _lines_of_entries(book)
    for path, text in left.items():
        lines = [
            "" if at in cut[path] or _names_one(line, names) else line
            for at, line in enumerate(text.split("\n"), start=1)
        ]
        left[path] = "\n".join(_told(lines, entries[path], names, kept))
    if bench := _path_of(left, "bench"):
        left[bench] = "\n".join(
            "" if _is_kept_back(line, kept) else line for line in left[bench].split("\n")
        )
    edition = Edition(
        public=True,
        money=not kept.money,
        left_out=tuple(_left_out(kept, len(hidden))),
        elsewhere=frozenset(label.name for run in hidden.values() for label in _labels(run)),
    )
    return replace(read_book(left, book.files), edition=edition)


def _told(
    lines: Sequence[str], entries: set[int], names: re.Pattern[str] | None, kept: KeptBack
) -> Iterator[str]:
    """Lines without the names of logs, and the sums, that are kept back.

    Lines that follow one another are looked at as one text: a sum may stand on two of them.
    """
    numbered = enumerate(lines, start=1)
    for is_entry, group in groupby(numbered, key=lambda one: one[0] in entries):
        text = "\n".join(line for _, line in group)
        if names is not None:
            text = replaced_in_lines(names, NAMELESS, text)
        yield without_sums(text, entry=is_entry) if kept.money else text


def _names_one(line: str, names: re.Pattern[str] | None) -> bool:
    """Whether a line is a fact that leads to a log that is not public."""
    return names is not None and bool(_NAMES_A_RUN.match(line) and names.search(line))


def _left_out(kept: KeptBack, runs: int) -> Iterator[str]:
    if kept.money:
        yield "money"
    if kept.photos:
        yield "photos"
    if kept.keeper:
        yield "who keeps it"
    if runs:
        yield plural(runs, "run")


def _path_of(texts: Mapping[str, str], name: str) -> str:
    """The path of a fixed page; empty where there is none."""
    ends = (f"runs/{name}.md", f"runs/{name}.txt")
    return next((path for path in texts if path.lower() in ends), "")


def _is_page_kept_back(book: Book, path: str, text: str, kept: KeptBack) -> bool:
    """Whether a fixed page is left out whole: it is all of money, or says it is not public."""
    if path in {run.source.path for run in book.runs} or path == _path_of({path: ""}, "bench"):
        return False
    return (kept.money and path == _path_of({path: ""}, "prices")) or bool(_NOT_PUBLIC.search(text))


def _is_kept_back(line: str, kept: KeptBack) -> bool:
    """Whether a line of bench.md is a fact that is kept back; where the keeper lives always is."""
    return bool(
        _POSTAL.match(line)
        or (kept.money and _RATES.match(line))
        or (kept.keeper and _KEEPER.match(line))
    )


def _names(hidden: Iterable[Run], book: Book) -> re.Pattern[str] | None:
    """The names and titles of logs that are not public, wherever another log says them."""
    public = {run.title for run in book.runs if run.public is not False}
    said = {
        name
        for run in hidden
        for name in (run.name, run.title)
        if len(name) >= SHORTEST_TITLE and name not in public
    }
    if not said:
        return None
    longest_first = sorted(said, key=lambda name: (-len(name), name))
    words = (r"\s+".join(map(re.escape, name.split())) for name in longest_first)
    return re.compile("|".join(words), re.I)


def _labels(run: Run) -> Iterator[Label]:
    for entry in run.entries:
        for portion in entry.portions:
            yield from portion.labels
        yield from entry.destinations


def _lines_to_cut(book: Book, kept: KeptBack) -> dict[str, set[int]]:
    """The lines of private notes, and of entries that speak of nothing but what is kept back."""
    cut: dict[str, set[int]] = defaultdict(set)
    for block in every_block(book):
        if (
            is_private(block)
            or (kept.photos and isinstance(block, Picture))
            or (kept.money and isinstance(block, Entry) and _is_of_money(block))
        ):
            cut[block.span.path].update(_lines(block))
    return cut


def _lines_of_entries(book: Book) -> dict[str, set[int]]:
    found: dict[str, set[int]] = defaultdict(set)
    for block in every_block(book):
        if isinstance(block, Entry):
            found[block.span.path].update(_lines(block))
    return found


def _lines(block: Block) -> range:
    first = block.span.line
    return range(first, first + block.span.text.rstrip().count("\n") + 1)


def _is_of_money(entry: Entry) -> bool:
    """Whether an entry would say nothing without its sums."""
    if entry.action in _ALL_OF_MONEY:
        return True
    if entry.action not in {"reckoned", "ask"}:
        return False
    claim = entry.claim
    sums = claim is not None and (claim.amount.dimension in _MONEY or claim.at is not None)
    return sums or bool(_SPEAKS_OF_MONEY.search(entry.span.text) or has_sum(entry.span.text))
