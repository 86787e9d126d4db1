"""The hostile book poured into a site, and what lay around it before and after."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from time import monotonic

from logbook.build import PourOptions, PourReport, pour
from tests.hostile.book import lay_out


@dataclass(frozen=True)
class Poured:
    """A site, what was told of it, how long it took, and its surroundings before and after."""

    site: Path
    report: PourReport
    seconds: float
    before: Mapping[str, str]
    after: Mapping[str, str]


def around(folder: Path, site: Path) -> dict[str, str]:
    """All that lies in a folder besides the site: files, folders, and links unfollowed."""
    found = {}
    for here, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if Path(here, name) != site]
        for name in (*folders, *names):
            one = Path(here, name)
            stat = one.lstat()
            what = f"{stat.st_mode} {stat.st_size}"
            if one.is_symlink():
                what = f"link to {one.readlink()}"
            elif one.is_file():
                what += f" {stat.st_mtime_ns} {sha256(one.read_bytes()).hexdigest()}"
            found[str(one.relative_to(folder))] = what
    return found


def pour_hostile(folder: Path, theme: str = "") -> Poured:
    """Lay the book out in a folder and pour it."""
    book, site = lay_out(folder), folder / "site"
    before = around(folder, site)
    start = monotonic()
    options = PourOptions(book, site, theme=theme) if theme else PourOptions(book, site)
    report = pour(options)
    seconds = monotonic() - start
    return Poured(site.resolve(), report, seconds, before, around(folder, site))
