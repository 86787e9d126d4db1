"""The template environment of a theme: page views → HTML.

Escaping is always on and undefined names are errors. Templates see view models only, have no
functions to work anything out with, and let HTML through for one type alone: the prose that
the Markdown renderer made.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from logbook.pages.prose_view import ProseHtml
from logbook.pages.site_pages import Page

ASSETS = "assets"
TEMPLATES = "templates"


class Theme:
    """A theme folder: its templates, and the files that go into the site as they are."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._environment = Environment(
            loader=FileSystemLoader(folder / TEMPLATES),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            auto_reload=False,
        )
        self._environment.globals.clear()
        self._environment.filters["prose"] = _prose

    def render(self, page: Page) -> str:
        """The whole HTML of a page."""
        return self._environment.get_template(page.template).render(view=page.view)

    def assets(self) -> Iterator[tuple[str, Path]]:
        """The theme's style sheet, scripts and drawings: path in the site, and the file."""
        for file in sorted((self._folder / ASSETS).rglob("*")):
            if file.is_file():
                yield f"{ASSETS}/{file.relative_to(self._folder / ASSETS).as_posix()}", file


def _prose(prose: ProseHtml) -> Markup:
    """The one way for HTML into a page: what `prose_html` made, in which the log's is text."""
    if not isinstance(prose, ProseHtml):
        raise TypeError(f"only ProseHtml may stand in a page as it is, not {type(prose).__name__}")
    return Markup(prose.html)
