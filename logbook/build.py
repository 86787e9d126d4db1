"""The whole flow once: a book's folder is read, worked out, and poured into a site.

This puts the steps together and knows nothing of any of them. It never writes into a log.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib.resources import files
from importlib.util import find_spec
from pathlib import Path

from logbook.calculation.book_figures import work_out
from logbook.calculation.results import BookFigures
from logbook.edition import public_book
from logbook.findings import Finding
from logbook.model.book import Book
from logbook.model.kept import Kept
from logbook.pages.addresses import ASSETS, FEED, SEARCH_INDEX, SITEMAP
from logbook.pages.feed import feed_of
from logbook.pages.guide_page import GuideChapter
from logbook.pages.privacy import privacy_of
from logbook.pages.rounding import plural
from logbook.pages.site_pages import PageOptions, search_of, site_pages
from logbook.pages.tables import tables
from logbook.proof import read_from
from logbook.writing.book_folder import RUNS, read_folder
from logbook.writing.data_files import data_files
from logbook.writing.finding_text import counted
from logbook.writing.picture_files import Pictured, write_pictures
from logbook.writing.search_file import search_file
from logbook.writing.site_folder import SiteError, SiteFolder
from logbook.writing.templates import Theme
from logbook.writing.theme_folders import THEMES, theme_folders
from logbook.writing.web_files import atom, sitemap

# What is being done, how many of it are done, and of how many (0: that is not known).
Told = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class PourOptions:
    """What to pour and where, as it was asked for."""

    book: Path
    into: Path
    with_private: bool = False
    public: bool = False
    theme: str = ""  # empty: the one that bench.md names


@dataclass(frozen=True, slots=True)
class PourReport:
    """What a pour did. Findings are in order of file and place."""

    runs: int
    pages: int
    written: int
    kept: int
    removed: int
    findings: tuple[Finding, ...]

    def in_words(self, place: str) -> str:
        """What was done, in one line."""
        files = f"{self.written} written, {self.kept} as they were, {self.removed} removed"
        problems = counted(self.findings)
        return (
            f"poured {plural(self.runs, 'run')} as {plural(self.pages, 'page')} into {place}: "
            f"files {files}; in the logs {problems}"
        )


def _tell_nobody(doing: str, done: int, of: int) -> None:
    pass


def pour(options: PourOptions, told: Told = _tell_nobody, kept: Kept | None = None) -> PourReport:
    """Read a book and write its site; tells as it goes on what it is doing.

    With `kept` from an earlier pour, logs that are as they were are not read again, nor are
    the parts of the metal network that they alone make up.

    Raises `SiteError` or `OSError` where the site cannot be written. What is wrong with a
    log never raises: it is in the report.
    """
    _refuse_to_pour_over_the_book(options)
    told("reading the logs", 0, 0)
    kept = kept if kept is not None else Kept()
    kept.next_round()
    book = read_from(options.book, kept)
    if options.public:
        book = public_book(book, read_folder(options.book).texts)
    site = SiteFolder(options.into)
    pictured = _with_pictures(book, options, site, told)
    told("working out the figures", 0, 0)
    figures = work_out(pictured.book, kept)
    theme = Theme(*theme_folders(options.theme or book.bench.theme, options.book))
    for path, file in theme.assets():
        site.write(path, file.read_bytes())
    site.write(f"{ASSETS}/plotly.min.js", plotly_script().read_bytes())
    pages = _write_pages(figures, theme, options, site, told)
    told("writing the data", 0, 0)
    for path, text in data_files(tables(figures, options.with_private), book.bench.title):
        site.write(path, text)
    _write_for_the_web(figures, pages, site)
    site.finish()
    findings = dict.fromkeys((*book.findings, *pictured.findings, *figures.findings))
    in_order = tuple(sorted(findings, key=lambda finding: finding.sort_key))
    return PourReport(len(book.runs), len(pages), site.written, site.kept, site.removed, in_order)


def _write_pages(
    figures: BookFigures, theme: Theme, options: PourOptions, site: SiteFolder, told: Told
) -> list[str]:
    """Write every page and tell their paths."""
    guide = guide_chapters()
    labels = {thing.label for thing in figures.things}
    about = len(figures.book.runs) + len(labels) + len(guide)
    pages: list[str] = []
    asked = PageOptions(options.with_private)
    site.write(SEARCH_INDEX, search_file(search_of(figures, guide, asked)))
    for page in site_pages(figures, guide, asked):
        site.write(page.path, theme.render(page))
        pages.append(page.path)
        told("writing the pages", len(pages), max(about, len(pages)))
    return pages


def _write_for_the_web(figures: BookFigures, pages: list[str], site: SiteFolder) -> None:
    """The feed and the list of pages, where the keeper says at which address the site stands."""
    feed = feed_of(figures)
    if feed is not None:
        site.write(FEED, atom(feed))
    if address := figures.book.bench.address:
        site.write(SITEMAP, sitemap(address, pages))


def _refuse_to_pour_over_the_book(options: PourOptions) -> None:
    book, into = options.book.resolve(), options.into.resolve()
    if book.is_relative_to(into):
        raise SiteError(f"{options.into} holds the book itself: choose a folder of its own")
    for name in (RUNS, THEMES):
        if into.is_relative_to(book / name):
            raise SiteError(f"{options.into} is a part of the book: choose a folder of its own")


def _with_pictures(book: Book, options: PourOptions, site: SiteFolder, told: Told) -> Pictured:
    """Write the pictures of a book."""
    privacy = privacy_of(book, with_private=options.with_private)

    def tell(done: int, of: int) -> None:
        told("looking at the pictures", done, of)

    return write_pictures(book, options.book, privacy, site, tell)


def plotly_script() -> Path:
    """The script file that the plotly package carries; the package itself is not loaded."""
    spec = find_spec("plotly")
    for folder in (spec.submodule_search_locations or ()) if spec is not None else ():
        script = Path(folder) / "package_data" / "plotly.min.js"
        if script.is_file():
            return script
    raise SiteError("the package plotly is not installed, or holds no script")


def guide_chapters() -> tuple[GuideChapter, ...]:
    """The chapters of the guide, in reading order."""
    folder = files("logbook") / "guide"
    names = sorted(file.name for file in folder.iterdir() if file.name.endswith(".md"))
    return tuple(_chapter(name, (folder / name).read_text(encoding="utf-8")) for name in names)


def _chapter(file_name: str, markdown: str) -> GuideChapter:
    """A chapter: `30-amounts.md` is named amounts, and titled by its first heading."""
    name = file_name.removesuffix(".md").partition("-")[2]
    headings = (line[2:].strip() for line in markdown.splitlines() if line.startswith("# "))
    return GuideChapter(name, next(headings, name), markdown)
