"""Where a theme lies: the folders whose templates and files make it up, the uppermost first.

Every theme lies over `bench`, so that it holds only what is different in it; and a folder
`themes/NAME` in the book lies over the program's theme of that name. What an upper folder
has is taken, what it has not is looked for beneath.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

from logbook.writing.site_folder import SiteError

THEMES = "themes"
GROUND = "bench"  # the theme that has everything
TEMPLATES, ASSETS = "templates", "assets"
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def theme_folders(name: str, book: Path | None = None) -> tuple[Path, ...]:
    """The folders of a theme: the book's own, the program's, and what lies beneath them.

    Raises `SiteError` where no folder has that name, or where a link in the book's own leads
    out of it.
    """
    own = [book / THEMES] if book is not None else []
    names = dict.fromkeys((name, GROUND))
    found = [
        folder
        for one in names
        if _NAME.fullmatch(one)
        for folder in _in_each((*own, *_program_folders()), one)
    ]
    if not any(folder.name == name for folder in found):
        raise SiteError(f"there is no theme {name}: {_choice(own)}")
    for folder in found:
        _refuse_ways_out(folder)
    return tuple(found)


def program_themes() -> tuple[str, ...]:
    """The themes that come with the program, the ground first."""
    names = {folder.name for top in _program_folders() for folder in _themes_in(top)}
    return (GROUND, *sorted(names - {GROUND}))


def _in_each(tops: tuple[Path, ...], name: str) -> Iterator[Path]:
    """The folder of that name below each top, once: the demo book is the program's own."""
    seen = set()
    for folder in (top / name for top in tops):
        if _is_theme(folder) and folder.resolve() not in seen:
            seen.add(folder.resolve())
            yield folder


def _program_folders() -> tuple[Path, ...]:
    """Inside the installed package, or beside it in a checkout."""
    package = Path(str(files("logbook")))
    return next(
        ((top,) for top in (package / THEMES, package.parent / THEMES) if _is_theme(top / GROUND)),
        (),
    )


def _themes_in(top: Path) -> list[Path]:
    return [folder for folder in top.iterdir() if _is_theme(folder)] if top.is_dir() else []


def _is_theme(folder: Path) -> bool:
    return (folder / TEMPLATES).is_dir() or (folder / ASSETS).is_dir()


def _choice(own: list[Path]) -> str:
    names = {folder.name for top in own for folder in _themes_in(top)} | {*program_themes()}
    return f"choose one of {', '.join(sorted(names))}, or lay out themes/NAME in the book"


def _refuse_ways_out(folder: Path) -> None:
    """A theme shows what is in it, never another file of the machine."""
    home = folder.resolve()
    for file in folder.rglob("*"):
        if not file.resolve().is_relative_to(home):
            raise SiteError(f"{file} is a link that leads out of the theme: put the file there")
