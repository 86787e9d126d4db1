"""Where a picture of a log stands in the site: one mapping for the pages and for the writer.

Nothing here looks at a disk. A picture can be shown when its source is among the book's
`files`: the writer leaves only those there that it could make fit for the site.
"""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from posixpath import normpath
from urllib.parse import unquote

from logbook.pages.slugs import run_slug

ROOT = "runs"
FOLDER = "pictures"
KINDS = frozenset({".jpeg", ".jpg", ".png", ".svg", ".webp"})

_ELSEWHERE = re.compile(r"[a-zA-Z][a-zA-Z0-9+.-]*:|/")


def picture_source(log_path: str, written: str) -> str | None:
    """The path of a picture from the book's folder, as a log names it; None outside runs/.

    >>> picture_source("runs/2026/relays.md", "photos/beaker%201.jpg")
    'runs/2026/photos/beaker 1.jpg'
    >>> picture_source("runs/relays.md", "../secret.png") is None
    True
    >>> picture_source("runs/relays.md", "https://example.org/a.png") is None
    True
    """
    path = unquote(written.strip()).replace("\\", "/")
    if not path or "\0" in path or _ELSEWHERE.match(path):
        return None
    whole = normpath((PurePosixPath(log_path).parent / path).as_posix())
    return whole if whole.startswith(f"{ROOT}/") else None


def picture_address(source: str) -> str:
    """The path of a picture from the site's folder: safe on any disk and in any address.

    >>> picture_address("runs/2026/photos/beaker-1.jpg")
    'pictures/2026/photos/beaker-1.jpg'
    >>> picture_address("runs/2026/Beaker 1.jpg")  # digest: printf 'Beaker 1' | sha256sum
    'pictures/2026/beaker-1--d9d4ba6d0585c0171c1d.jpg'
    """
    path = PurePosixPath(source).relative_to(ROOT)
    ending = path.suffix.lower()
    name = run_slug(path.stem if ending == path.suffix else path.name) + ending
    return PurePosixPath(FOLDER, *(run_slug(part) for part in path.parts[:-1]), name).as_posix()
