"""Themes: which folders make one up, and what a book's own folder may change and may not."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import pytest

from logbook.build import PourOptions, pour
from logbook.writing.site_folder import SiteError
from logbook.writing.theme_folders import program_themes, theme_folders
from tests.conftest import CLEAN_LOG, make_book, tree

LOG = "2026-03-14-contacts.md"


def book_with(folder: Path, files: dict[str, str], bench: str = "# A bench\n") -> Path:
    """A small book with files in its folder of themes."""
    book = make_book(folder / "book", {LOG: CLEAN_LOG, "bench.md": bench})
    for name, content in files.items():
        file = book / "themes" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(content, encoding="utf-8")
    return book


def poured(book: Path, theme: str = "") -> Path:
    """The site of a book."""
    pour(PourOptions(book, book / "site", theme=theme))
    return book / "site"


def test_one_block_of_one_template_can_be_changed(tmp_path: Path) -> None:
    """The rest of the page, and every other page, stays the program's."""
    plain = poured(book_with(tmp_path / "plain", {}))
    changed = '{% extends "bench/shelf.html" %}\n{% block title %}My jars{% endblock %}\n'
    site = poured(book_with(tmp_path, {"bench/templates/shelf.html": changed}))
    assert "<title>My jars</title>" in (site / "shelf.html").read_text(encoding="utf-8")
    before, after = tree(plain), tree(site)
    assert {path for path in before if before[path] != after[path]} == {"shelf.html"}
    assert before.keys() == after.keys()


def test_a_style_sheet_of_the_book_is_loaded_after_the_programs(tmp_path: Path) -> None:
    """It needs no template."""
    site = poured(book_with(tmp_path, {"bench/assets/mine.css": "h1 { color: green; }\n"}))
    page = (site / "index.html").read_text(encoding="utf-8")
    assert 0 < page.index("assets/bench.css") < page.index("assets/mine.css")
    assert (site / "assets" / "mine.css").read_text(encoding="utf-8").startswith("h1")


def test_a_file_of_the_same_name_stands_in_for_the_programs(tmp_path: Path) -> None:
    """Such as the little picture in the window's tab."""
    drawing = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"/>'
    site = poured(book_with(tmp_path, {"bench/assets/mark.svg": drawing}))
    assert (site / "assets" / "mark.svg").read_text(encoding="utf-8") == drawing


def test_a_theme_with_a_name_of_its_own_lies_over_bench(tmp_path: Path) -> None:
    """The line in bench.md chooses it, and what is typed outweighs that."""
    book = book_with(
        tmp_path, {"attic/assets/attic.css": "h2 { color: blue; }\n"}, "# A bench\n\nTheme: Attic\n"
    )
    page = poured(book) / "index.html"
    assert "assets/attic.css" in page.read_text(encoding="utf-8")
    assert "assets/attic.css" not in (poured(book, "bench") / "index.html").read_text("utf-8")
    assert not (book / "site" / "assets" / "attic.css").exists()


@pytest.mark.parametrize("name", ["nowhere", "../runs", "bench/templates", ".", "Bench "])
def test_a_theme_that_is_not_there_is_said_with_the_choice(tmp_path: Path, name: str) -> None:
    """Nothing is written, and no name leads out of the folder of themes."""
    book = book_with(tmp_path, {"attic/assets/attic.css": ""})
    with pytest.raises(SiteError, match=r"there is no theme .*: choose one of attic, bench"):
        poured(book, name)


@pytest.mark.parametrize(
    ("template", "says"),
    [
        ("one\n{% if %}\n", r"shelf\.html, line 2: "),
        ("one\ntwo\n{{ view.grams }}\n", r"shelf\.html, line 3: .*grams"),
        ('{% extends "nowhere.html" %}\n', r"shelf\.html, line 1: nowhere\.html"),
        ("{{ view.frame + 1 }}\n", r"shelf\.html, line 1: "),
        ("{{ view.__class__.__mro__ }}\n", r"shelf\.html, line 1: .*unsafe"),
        ("{{ ''.__class__.__base__.__subclasses__() }}\n", r"shelf\.html, line 1: .*unsafe"),
    ],
)
def test_a_template_that_cannot_be_used_names_its_line(
    tmp_path: Path, template: str, says: str
) -> None:
    """And one that reaches for the machine is refused; the site stays as it was."""
    book = book_with(tmp_path, {})
    before = tree(poured(book))
    book_with(tmp_path, {"bench/templates/shelf.html": template})
    with pytest.raises(SiteError, match=says):
        poured(book)
    after = tree(book / "site")
    assert {path: after[path] for path in before} == before


def test_a_link_out_of_a_theme_is_refused(tmp_path: Path) -> None:
    """A theme cannot publish another file of the machine."""
    book = book_with(tmp_path, {"bench/assets/mine.css": ""})
    secret = tmp_path / "secret.txt"
    secret.write_text("hidden", encoding="utf-8")
    (book / "themes" / "bench" / "assets" / "notes.txt").symlink_to(secret)
    with pytest.raises(SiteError, match=r"notes\.txt is a link that leads out of the theme"):
        poured(book)
    assert not (book / "site").exists() or "notes.txt" not in tree(book / "site")


@pytest.mark.parametrize("name", program_themes())
def test_a_theme_of_the_program_has_a_template_for_every_page(name: str) -> None:
    """What it does not bring lies beneath it, in bench."""
    folders = theme_folders(name)
    assert folders[-1].name == "bench"
    assert folders[0].name == name


def chapter() -> str:
    """The chapter of the guide on how the site looks."""
    return (files("logbook") / "guide" / "97-looks.md").read_text(encoding="utf-8")


def fenced(language: str) -> list[str]:
    """The examples of the chapter in a language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", chapter(), re.MULTILINE | re.DOTALL)


def test_the_examples_of_the_guide_do_what_it_says(tmp_path: Path) -> None:
    """The template and the style sheet of the chapter, and its line of bench.md."""
    (template,), (sheet,), (line,) = fenced("jinja"), fenced("css"), fenced("text")
    own = {"bench/templates/front.html": template, "bench/assets/mine.css": sheet}
    site = poured(book_with(tmp_path, own, f"# A bench\n\n{line}"))
    front, shelf = ((site / name).read_text("utf-8") for name in ("index.html", "shelf.html"))
    assert "The bench is open on Saturdays." in front
    assert "The newest day in this book" in front, "the program's own foot is still there"
    assert "Saturdays" not in shelf
    sheets = re.findall(r'rel="stylesheet" href="assets/(.*?)"', front)
    assert sheets[0] == "bench.css"
    assert sheets[-2:] == ["mine.css", "fair-copy.css"]


def test_the_guide_names_every_template_and_block() -> None:
    """No more and no fewer than there are; parts are named only where a theme lays them out."""
    templates = theme_folders("bench")[0] / "templates"
    named = set(re.findall(r"`((?:parts/)?[a-z-]+\.html)`", chapter()))
    there = {file.name for file in templates.glob("*.html")}
    assert named - {"parts/blocks.html"} == there
    assert (templates / "parts" / "blocks.html").is_file()
    blocks = re.findall(r"\{% block (\w+) %\}", (templates / "base.html").read_text("utf-8"))
    said = re.search(r"The blocks that every page has are (.*?)\.", chapter())
    assert said is not None
    assert re.findall(r"`(\w+)`", said[1]) == blocks


def test_the_guide_names_the_themes() -> None:
    """Those that come with the program."""
    opening = chapter().split("\n\n")[1]
    assert re.findall(r"`([\w-]+)`", opening) == [*program_themes()]
