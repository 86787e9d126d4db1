"""A little book for reckoned figures, small enough to be worked out by hand.

By hand, on its own readings:

    head       200.0 g x 0.700           = 140.0 g
    product    130.0 g x 0.990           = 128.7 g
    recovery   128.7 / 140.0             = 91.93 %
    mass yield 130.0 / 200.0             = 65 %
    acid       2 L for 20 + 30 EUR       = 25 EUR/L;  0.300 L = 7.50 EUR
    borax      500 g for 4 EUR;   5.0 g  = 0.04 EUR
    copper     500 g for 10 EUR; 80.0 g  = 1.60 EUR, of which 30.0 g were kept
    electricity 0.5 kW x 2 h = 1 kWh     = 0.30 EUR
    work       2.25 h + 0.75 h + 0.75 h  = 3.75 h at 20 EUR = 75 EUR
    worth      128.7 g x 1.00 EUR/g      = 128.70 EUR
"""

from __future__ import annotations

from collections.abc import Sequence

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import ClaimCheck
from logbook.reading.read_book import read_book

BENCH = "# Bench\n\nCurrency: EUR\nHour: 20 EUR\nTariff: 0.30 EUR per kWh\n"
SUPPLIES = """# Supplies

- 2026-01-01 bought 1 L nitric acid 68 % for 20 EUR
- 2026-01-02 bought 1 L nitric acid 68 % for 30 EUR
- 2026-01-01 bought 500 g borax for 4 EUR
- 2026-01-01 bought 500 g copper bar for 10 EUR
"""
PRICES = """# Prices

- 2026-01-01 priced silver at 1.00 EUR/g
- 2026-02-01 priced silver at 1.20 EUR/g
- 2026-01-01 priced USD at 0.90 EUR
"""
LOG = """# Contacts

Date: 10 January 2026
Metal: silver

## Dissolve
- took 200.0 g contacts [C], silver 70.0 % by assay, for 60 EUR
- added 300 mL nitric acid 68 %
- heated at 60 C for 2 h at 500 W
- worked 2 h 15 min

## Cement
- added 80.0 g copper bar
- kept 30.0 g copper bar [CU]
- got about 180 g cement silver, damp
- worked 45 min

## Melt
- worked 45 min
- added 5.0 g borax
- broke a crucible, for 8 EUR
- got 130.0 g silver bar [A], silver 99.0 % by XRF
"""
NAME = "2026-01-10-contacts"


def all_checked(claims: Sequence[str], log: str = LOG) -> list[ClaimCheck]:
    """The checks of claims that stand one below the other at the end of the log."""
    pages = {"bench": BENCH, "supplies": SUPPLIES, "prices": PRICES}
    texts = {f"runs/{name}.md": text for name, text in pages.items()}
    lines = "".join(f"- reckoned {one}\n" for one in claims)
    figures = work_out(read_book({**texts, f"runs/{NAME}.md": log + lines}))
    return list(figures.runs[NAME].claims)


def checked(claim: str) -> ClaimCheck:
    """The check of one claim."""
    (found,) = all_checked([claim])
    return found
