"""The pages of the small book, as views and as HTML, for the tests of this folder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any

from logbook.calculation.book_figures import work_out
from logbook.findings import Finding
from logbook.model.book import Book
from logbook.pages.guide_page import GuideChapter
from logbook.pages.site_pages import Page, PageOptions, site_pages
from logbook.writing.templates import Theme
from tests.pages.small_book import contacts, doubt_about, small_book

THEME = Path(__file__).parents[2] / "themes" / "bench"
GUIDE = (
    GuideChapter(
        "first", "The first log", "# The first log\n\n## Begin\n\n```\n## Dissolve\n```\n"
    ),
    GuideChapter("second", "Labels", "A label is [X-1]."),
)


def findings() -> tuple[Finding, ...]:
    """One finding on an amount, and one inside of the private note."""
    return doubt_about(contacts(), "412.6 g"), doubt_about(contacts(), "SECRETWORD")


def pages(book: Book, *, with_private: bool = False) -> dict[str, Page]:
    """The pages of a book by path."""
    found = list(site_pages(work_out(book), GUIDE, PageOptions(with_private)))
    by_path = {page.path: page for page in found}
    assert len(by_path) == len(found), "two pages share a path"
    return by_path


@cache
def small_pages() -> dict[str, Page]:
    """The pages of the small book."""
    return pages(small_book(findings=findings()))


def rendered(found: dict[str, Page]) -> dict[str, str]:
    """The HTML of pages by path."""
    theme = Theme(THEME)
    return {path: theme.render(page) for path, page in found.items()}


@cache
def small_site() -> dict[str, str]:
    """The HTML of the small book."""
    return rendered(small_pages())


def texts(view: Any) -> Iterator[str]:
    """Every text in a view, at any depth."""
    if isinstance(view, str):
        yield view
    elif is_dataclass(view):
        for field in fields(view):
            yield from texts(getattr(view, field.name))
    elif isinstance(view, dict):
        for key, value in view.items():
            yield from texts(key)
            yield from texts(value)
    elif isinstance(view, tuple | list):
        for item in view:
            yield from texts(item)
