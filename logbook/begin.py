"""Lay out a new book, or a new log in a book. Nothing that is there is ever written over."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from logbook.writing.book_folder import RUNS

LONGEST_NAME = 60

BENCH = """\
# My bench

Currency: USD
Hour: $18
Electricity: $0.30 per kWh

What you work on, and for how long you have. These words open the front page.

Change the lines above to what holds for you: the currency you count in, what an hour of
yours is worth, what a kilowatt-hour costs.
"""

SUPPLIES = """\
# Supplies

What stood on the shelf when the book began, and what was bought since.

- 2026-01-01 had 0.5 L hydrochloric acid 32 %
- 2026-01-04 bought 10 L distilled water for $9
- 2026-01-04 bought 1 L nitric acid 68 % for $24
- 2026-01-04 bought 500 g copper bar for $11
"""

PRICES = """\
# Prices

The price of a metal holds from its day until the next one is noted. The one below is
invented, like the example log: put in what holds where you sell.

- 2026-01-01 priced silver at 1.00 $/g
"""

SCALES = """\
# Scales

How finely each balance reads, and how well it repeats: weigh one thing ten times, and take
one standard deviation.

- scale pocket: reads 0.01 g, repeats 0.01 g, up to 200 g
"""

SOURCES = """\
# Scrap

The kinds of scrap you work on, and what else you call them.

- silver watch cases: also watch cases, case backs
"""

EXAMPLE = """\
# Example: two silver watch cases

Date: 10 January 2026
Metal: silver

This log is an invented example, to show how one is written. It is no procedure, and none of
it was done. Look at its page, then delete this file: its grams are counted as yours.

## Dissolve, 10 January 09:30

- took 12.4 g silver watch cases [WC-1], silver 80 ± 1 %, a gift
- added 20 mL distilled water
- added 20 mL nitric acid 68 %, in small portions
- heated at 60 C for 1 h on the hotplate
- worked 30 min
- got 50 mL silver nitrate solution

## Cement, 11 January

What is in [W-1] holds copper and a little silver. It waits, closed and labelled, for those who
may take it by the local code.

- added 9.62 g copper bar
- waited overnight
- tested salt: no cloud
- kept 6.41 g copper bar [CU-1]
- rinsed 3 times with 50 mL distilled water
- discarded 200 mL blue solution into [W-1]
- worked 20 min
- got 9.86 g cement silver, dry

## Melt, 12 January

- lost about 0.05 g in the dish
- worked 15 min
- got 9.78 g silver bar [AG-1], silver 99.4 ± 0.3 % by density
"""

FIRST_FILES: Mapping[str, str] = {
    "bench.md": BENCH,
    "supplies.md": SUPPLIES,
    "prices.md": PRICES,
    "scales.md": SCALES,
    "sources.md": SOURCES,
    "2026-01-10-example.md": EXAMPLE,
}


class BeginError(Exception):
    """Something stands where the new book or log should go; the words say what."""


def begin_book(folder: Path) -> tuple[Path, ...]:
    """Lay out a new book in a folder and tell which files were made."""
    runs = folder / RUNS
    files = {runs / name: text for name, text in FIRST_FILES.items()}
    if runs.exists() and (not runs.is_dir() or any(runs.iterdir())):
        raise BeginError(f"{runs} is there already, and a book is not laid over another")
    runs.mkdir(parents=True, exist_ok=True)
    for file, text in files.items():
        _write_new(file, text)
    return tuple(files)


def begin_run(book: Path, title: str, day: date) -> Path:
    """Make a new log of a day in a book and tell where it is."""
    words = " ".join(title.split())
    if not words:
        raise BeginError("a run needs a title")
    file = book / RUNS / f"{day.isoformat()}-{file_name(words)}.md"
    _write_new(file, skeleton(words, day))
    return file


def file_name(title: str) -> str:
    """A title as a name for a file, safe on every disk.

    >>> file_name("Relay contacts, lot 3/a"), file_name("Überzug"), file_name("銀")
    ('relay-contacts-lot-3-a', 'uberzug', 'run')
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    name = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return name[:LONGEST_NAME].strip("-") or "run"


def skeleton(title: str, day: date) -> str:
    """The first lines of a new log."""
    return f"""\
# {title}

Date: {day.isoformat()}
Metal:
Status: open

"""


def _write_new(file: Path, text: str) -> None:
    try:
        with file.open("x", encoding="utf-8", newline="\n") as new:
            new.write(text)
    except FileExistsError:
        raise BeginError(f"{file} is there already, and is not written over") from None
