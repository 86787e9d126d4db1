"""Where a picture of a log stands in the site, and in which sizes.

Nothing here looks at a disk. The files of a picture are named after its content and never
after its name in the book, which may say where it was taken or who is on it.
"""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from posixpath import normpath
from urllib.parse import unquote

from logbook.model.site_picture import PictureFile, SitePicture

ROOT = "runs"
FOLDER = "pictures"
DRAWN = ".svg"
KINDS = frozenset({".jpeg", ".jpg", ".png", DRAWN, ".webp"})
MODERN = ".webp"
WIDTHS = (480, 960, 1600)  # pixels: a phone, a desk, a desk with a fine screen
HIGHEST = 4800  # pixels
PLAIN_WIDTH = 960  # of the one file for browsers that do not know the modern format
FINER = 1.25  # a photo is also kept in a lesser width where it is so many times as wide

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


def drawing_files(mark: str, size: tuple[int, int]) -> SitePicture:
    """The one file of a drawing. `mark` stands for its content.

    >>> drawing_files("d9d4", (640, 400)).plain.path
    'pictures/d9d4.svg'
    """
    return SitePicture(PictureFile(_path(mark + DRAWN), *size))


def photo_files(mark: str, size: tuple[int, int], plain: str) -> SitePicture:
    """The files of a photo that is `size` pixels large upright: narrower ones, never wider.

    `plain` is the ending of the file for every browser.

    >>> [file.width for file in photo_files("d9d4", (4000, 3000), ".jpg").modern]
    [480, 960, 1600]
    >>> photo_files("d9d4", (500, 250), ".jpg").modern
    (PictureFile(path='pictures/d9d4-500.webp', width=500, height=250),)
    """
    width, height = size
    most = max(1, int(min(width, WIDTHS[-1], width * HIGHEST / height)))
    widths = [*(step for step in WIDTHS if step * FINER <= most), most]

    def file(wide: int, ending: str) -> PictureFile:
        high = height if wide == width else max(1, round(height * wide / width))
        return PictureFile(_path(f"{mark}-{wide}{ending}"), wide, high)

    return SitePicture(
        file(min(most, PLAIN_WIDTH), plain), tuple(file(wide, MODERN) for wide in widths)
    )


def _path(name: str) -> str:
    return f"{FOLDER}/{name}"
