"""The template environment of a theme: page views → HTML.

Escaping is always on and undefined names are errors. Templates see view models only, have no
functions to work anything out with, and let HTML through for one type alone: the prose that
the Markdown renderer made. They run in a sandbox, because a book that somebody else wrote
may bring templates of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from traceback import extract_tb

from jinja2 import ChoiceLoader, FileSystemLoader, PrefixLoader, StrictUndefined, TemplateError
from jinja2.exceptions import TemplateSyntaxError
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup

from logbook.pages.prose_view import ProseHtml
from logbook.pages.site_pages import Page
from logbook.writing.isolated import isolated
from logbook.writing.site_folder import SiteError
from logbook.writing.theme_folders import ASSETS, TEMPLATES


class ThemeError(SiteError):
    """A template cannot be used; the words name its file and line."""


class Theme:
    """The folders of a theme, the uppermost first: templates, and files that go as they are.

    A template finds what lies beneath it by the name of the folder: a `front.html` may begin
    with `{% extends "bench/front.html" %}` and change one block of it.
    """

    def __init__(self, *folders: Path) -> None:
        self._folders = folders
        loaders = [FileSystemLoader(folder / TEMPLATES) for folder in folders]
        # By name the lowest is meant: the program's own, where the book has one of that name.
        by_name = {folder.name: one for folder, one in zip(folders, loaders, strict=True)}
        self._environment = ImmutableSandboxedEnvironment(
            loader=ChoiceLoader([*loaders, PrefixLoader(by_name)]),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            auto_reload=False,
            finalize=isolated,
        )
        self._environment.globals.clear()
        self._environment.globals["sheets"] = self._sheets()
        self._environment.filters["prose"] = _prose

    def render(self, page: Page) -> str:
        """The whole HTML of a page.

        Raises `ThemeError` where a template cannot be read, or asks for what is not there.
        """
        try:
            return self._environment.get_template(page.template).render(view=page.view)
        except TemplateSyntaxError as error:
            place = f"{error.filename or error.name}, line {error.lineno}"
            raise ThemeError(f"{place}: {error.message}") from error
        except (TemplateError, TypeError, AttributeError, ValueError) as error:
            raise ThemeError(f"{self._place(error, page)}: {error}") from error

    def assets(self) -> Iterator[tuple[str, Path]]:
        """The theme's style sheets, scripts and drawings: path in the site, and the file."""
        found = {
            f"{ASSETS}/{file.relative_to(folder / ASSETS).as_posix()}": file
            for folder in reversed(self._folders)
            for file in (folder / ASSETS).rglob("*")
            if file.is_file()
        }
        yield from sorted(found.items())

    def _sheets(self) -> tuple[str, ...]:
        """The style sheets that every page loads: what lies beneath first, each name once.

        In a folder the sheet that is called as the theme comes first: the others add to it.
        """
        sheets = (
            name
            for folder in reversed(self._folders)
            for _, name in sorted(
                (file.stem != folder.name, file.name) for file in (folder / ASSETS).glob("*.css")
            )
        )
        return tuple(dict.fromkeys(sheets))

    def _place(self, error: Exception, page: Page) -> str:
        """The line of a template that the error was met on: the innermost."""
        lines = [
            f"{frame.filename}, line {frame.lineno}"
            for frame in extract_tb(error.__traceback__)
            if any(Path(frame.filename).is_relative_to(folder) for folder in self._folders)
        ]
        return lines[-1] if lines else f"the template {page.template}"


def _prose(prose: ProseHtml) -> Markup:
    """The one way for HTML into a page: what `prose_html` made, in which the log's is text."""
    if not isinstance(prose, ProseHtml):
        raise TypeError(f"only ProseHtml may stand in a page as it is, not {type(prose).__name__}")
    return Markup(prose.html)
