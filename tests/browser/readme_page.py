"""Makes the picture in README anew: `python -m tests.browser.readme_page`, then look at it.

The page is that of README's own log, in a book as `begin book` lays it out.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from PIL import Image

from logbook.begin import begin_book
from logbook.build import PourOptions, pour
from tests.browser.chromium import Chromium, find_chromium
from tests.install.readme import blocks

PICTURE = Path(__file__).with_name("readme-page.png")
WIDTH, HEIGHT = 1100, 1640
COLOURS = 64
NAME = "2026-03-14-watch-cases"
SUPPLIES = """\
# Supplies

- 2026-03-01 bought 1 L nitric acid 34 % for $18
- 2026-03-01 bought 100 g copper wire for $4
"""


def make(picture: Path) -> None:
    """Pour README's log and save what its page shows."""
    program = find_chromium()
    if program is None:
        raise SystemExit("this needs Chromium")
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder)
        begin_book(book)
        (book / "runs" / "2026-01-10-example.md").unlink()
        (book / "runs" / f"{NAME}.md").write_text(blocks("log")[0], encoding="utf-8")
        (book / "runs" / "supplies.md").write_text(SUPPLIES, encoding="utf-8")
        pour(PourOptions(book, book / "site"))
        with Chromium(program) as browser:
            browser.wide(WIDTH, HEIGHT)
            browser.open((book / "site" / "runs" / f"{NAME}.html").as_uri())
            browser.picture(picture, HEIGHT)
    with Image.open(picture) as taken:
        taken.convert("RGB").quantize(COLOURS).save(picture, optimize=True)


if __name__ == "__main__":
    make(PICTURE)
