"""Which pages of a site stand for all: every page at its top, and some of each folder."""

from __future__ import annotations

from pathlib import Path

EACH = 3  # of every folder: the first, the middle and the last by name


def pages_of_every_kind(site: Path) -> list[Path]:
    """Every page at the top of a site and a few of each folder, in order of name."""
    pages = sorted(site.glob("*.html"))
    for folder in sorted(one for one in site.iterdir() if one.is_dir()):
        found = sorted(folder.glob("*.html"))
        if found:
            pages += sorted(
                {found[place * (len(found) - 1) // (EACH - 1)] for place in range(EACH)}
            )
    return pages
