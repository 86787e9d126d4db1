"""The real templates: escaping, links, landmarks, and the same bytes every time."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import PurePosixPath
from posixpath import normpath
from urllib.parse import unquote, urlsplit

import pytest

from logbook.model.book import Bench
from logbook.model.run import Run
from logbook.pages.site_pages import Page
from logbook.reading.read_book import read_book
from logbook.writing.templates import Theme, ThemeError, _prose
from tests.pages.shown import THEME, findings, pages, rendered, small_pages, small_site
from tests.pages.small_book import CONTACTS, Log, contacts, small_book

VOID = {"meta", "link", "img", "input", "hr", "br", "path", "source"}


class Reader(HTMLParser):
    """Collects what a page holds, and whether its elements are closed in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.links: list[str] = []
        self.loaded: list[str] = []
        self.ids: list[str] = []
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.trouble: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        for name, value in attrs:
            self.attributes.append((name, value or ""))
            if name == "id":
                self.ids.append(value or "")
            if name == "href" and tag == "a":
                self.links.append(value or "")
            if name in ("src", "href") and tag in ("script", "img", "link"):
                self.loaded.append(value or "")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        if not self.open or self.open.pop() != tag:
            self.trouble.append(f"</{tag}>")


def read(html: str) -> Reader:
    """A page, read."""
    reader = Reader()
    reader.feed(html)
    reader.close()
    return reader


def test_elements_are_closed_in_order_and_ids_are_unique() -> None:
    """Every page is a whole document whose anchors are unambiguous."""
    for path, html in small_site().items():
        reader = read(html)
        assert reader.open == [], path
        assert reader.trouble == [], path
        assert len(reader.ids) == len(set(reader.ids)), path
        assert reader.tags.count("h1") == 1, path
        assert reader.tags.count("main") == 1, path


def targets(found: dict[str, str]) -> Iterator[tuple[str, str, str, str]]:
    """Every link of a site: page, link, target page, fragment."""
    for path, html in found.items():
        for link in read(html).links:
            parts = urlsplit(link)
            folder = PurePosixPath(path).parent
            target = normpath((folder / unquote(parts.path)).as_posix()) if parts.path else path
            yield path, link, target, parts.fragment


def test_internal_links_resolve() -> None:
    """Every link leads to a page that is there, and every fragment to an anchor on it."""
    ids = {path: set(read(html).ids) for path, html in small_site().items()}
    for path, link, target, fragment in targets(small_site()):
        assert target in ids, (path, link)
        assert not fragment or fragment in ids[target], (path, link)


def test_no_request_leaves_the_site() -> None:
    """Styles, scripts and pictures are the site's own, by relative paths."""
    theme_files = {path for path, _ in Theme(THEME).assets()}
    for path, html in small_site().items():
        for loaded in read(html).loaded:
            assert not urlsplit(loaded).scheme, (path, loaded)
            assert not loaded.startswith("/"), (path, loaded)
            target = normpath((PurePosixPath(path).parent / loaded).as_posix())
            assert target in theme_files, (path, loaded)
    for _, file in Theme(THEME).assets():
        words = file.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert "http" not in words, file.name
        assert "@import" not in words, file.name


def test_every_page_can_be_used_by_keyboard_and_reader() -> None:
    """A way past the head, a language, landmarks, a name for every picture and box."""
    for path, html in small_site().items():
        assert '<html lang="en">' in html, path
        assert 'class="skip" href="#text"' in html, path
        assert "<nav aria-label" in html, path
        for picture in re.findall(r"<(?:img|svg)[^>]*>", html):
            assert "alt=" in picture or "aria-labelledby=" in picture, (path, picture)


def test_the_same_figures_give_the_same_bytes() -> None:
    """Pages made twice from one book, read twice, are the same to the byte."""
    again = rendered(pages(small_book(findings=findings())))
    assert again == small_site()


HOSTILE = "\"><script>alert(1)</script><img src=x onerror=alert(2)>' & {{ 7 }} </textarea>"


def hostile_run() -> Run:
    """The first run, with a hostile title, caption, label and prose in its log."""
    text = CONTACTS.replace("Contacts cut", f"{HOSTILE}\n[x](javascript:alert(3)) Contacts cut")
    log = Log(f"runs/{HOSTILE}.md", text)
    run = contacts()
    prose = replace(
        run.opening[0], span=log.span(f"{HOSTILE}\n[x](javascript:alert(3)) Contacts cut")
    )
    stages = tuple(replace(stage, title=HOSTILE) for stage in run.stages)
    facts = tuple(replace(fact, word=HOSTILE, value=HOSTILE) for fact in run.facts)
    return replace(
        run,
        name=HOSTILE,
        title=HOSTILE,
        opening=(prose,),
        stages=stages,
        facts=facts,
        metals=(HOSTILE, "silver"),
    )


def test_what_a_log_says_reaches_the_page_as_text() -> None:
    """No tag, handler or script address of a writer becomes one of the page."""
    book = replace(small_book(hostile_run()), bench=Bench(title=HOSTILE, keeper=HOSTILE))
    for path, html in rendered(pages(book)).items():
        assert "<script>alert" not in html, path
        assert "<img src=x" not in html, path
        reader = read(html)
        assert not [name for name, _ in reader.attributes if name.startswith("on")], path
        assert not [value for _, value in reader.attributes if value.startswith("javascript:")], (
            path
        )
        assert reader.trouble == [], path
        assert PurePosixPath(path).parts[0] in {"runs", "labels", "guide"} or "/" not in path


def test_the_data_of_a_chart_cannot_end_its_script() -> None:
    """The JSON of a chart holds no `<`, whatever a run is called."""
    book = small_book(hostile_run())
    html = rendered(pages(book))["index.html"]
    data = re.search(r'<script type="application/json"[^>]*>(.*?)</script>', html, re.DOTALL)
    assert data is not None
    assert "<" not in data[1]
    assert "alert(1)" in data[1]


def test_a_template_cannot_show_what_is_not_there() -> None:
    """A name that a view does not have is an error, never an empty place."""
    page = small_pages()["index.html"]
    with pytest.raises(ThemeError, match=r"shelf\.html, line \d+: .* has no attribute"):
        Theme(THEME).render(Page("index.html", "shelf.html", page.view))


def test_only_rendered_prose_may_stand_as_it_is() -> None:
    """HTML gets into a page through the prose filter alone, and only as ProseHtml."""
    for file in (THEME / "templates").rglob("*.html"):
        words = file.read_text(encoding="utf-8")
        assert "|safe" not in words, file.name
        assert "autoescape" not in words, file.name
    with pytest.raises(TypeError):
        _prose("<b>not prose</b>")  # type: ignore[arg-type]


def test_templates_do_not_reckon() -> None:
    """No arithmetic, rounding or conversion in a template."""
    reckoning = re.compile(r"[+*/]|\s-\s|\|\s*(round|int|float|sum|abs)\b")
    for file in (THEME / "templates").rglob("*.html"):
        for number, line in enumerate(file.read_text(encoding="utf-8").split("\n"), 1):
            inside = " ".join(re.findall(r"\{[{%].*?[}%]\}", line))
            bare = re.sub(r"\"[^\"]*\"|'[^']*'|\{%-|-%\}|\{\{-|-\}\}", "", inside)
            assert not reckoning.search(bare), (file.name, number)


def test_a_column_of_figures_tells_a_reason_once() -> None:
    """What was never weighed has no head, no recovery and no yield, for one and the same reason."""
    log = "# A\n\nMetal: silver\n\n## Melt\n\n- took some scrap\n- got 5.0 g silver bar\n"
    html = rendered(pages(read_book({"runs/2026-03-01-a.md": log})))["runs/2026-03-01-a.html"]
    columns = re.findall(r'<dl class="figures[^"]*">(.*?)</dl>', html, re.S)
    summaries = [re.findall(r"because ([^<]+)</span></summary>", column) for column in columns]
    assert any(summaries)
    for reasons in summaries:
        assert len(reasons) == len(set(reasons))
    assert "for the same reason as built-up head" in html


def test_every_box_in_the_margin_of_a_log_leads_to_its_line() -> None:
    """However far a box slides, its number tells the line that it belongs to."""
    html = small_site()["runs/2026-03-14-relay-contacts.html"]
    log = html[html.index('<section class="log"') : html.index('<section class="sums"')]
    boxes = log.split('<div class="beside" role="note">')[1:]
    numbers = [
        re.match(r'\s*<a class="of-line" href="#line-(\d+)".*?>(\d+)</a>', box) for box in boxes
    ]
    lines = CONTACTS.split("\n")
    told = [lines[int(number[2]) - 1] for number in numbers if number and number[1] == number[2]]
    assert len(told) == len(boxes)
    assert "## Dissolve, 14 March" in told
    assert "- got 279.6 g silver bar [AG-7], silver 99.5 %" in told
    assert set(re.findall(r'class="of-line" href="#([^"]+)"', log)) <= set(read(html).ids)
