"""The site of the demo book as a whole: the same every time, with no link that leads nowhere."""

from __future__ import annotations

import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from tests.conftest import ROOT, environment, tree

LOADED = {"img": "src", "script": "src", "link": "href", "source": "src", "iframe": "src"}


def _pour(site: Path, cwd: Path, **env: str) -> None:
    command = [sys.executable, "-m", "logbook", "--book", str(ROOT), "pour", "--into", str(site)]
    ran = subprocess.run(
        command, cwd=cwd, env=environment(env), capture_output=True, timeout=300, check=False
    )
    assert ran.returncode in (0, 1), ran.stderr.decode()


def test_the_site_is_the_same_byte_for_byte(tmp_path: Path) -> None:
    """Another folder, day, place, language and hash seed: the same bytes in every file."""
    elsewhere = tmp_path / "another folder"
    elsewhere.mkdir()
    _pour(tmp_path / "one", ROOT, PYTHONHASHSEED="1", TZ="Pacific/Auckland", LC_ALL="C")
    _pour(elsewhere / "two", elsewhere, PYTHONHASHSEED="77", TZ="America/Lima", LC_ALL="C.UTF-8")
    one, two = tree(tmp_path / "one"), tree(elsewhere / "two")
    assert len(one) > 20
    assert one == two


def test_no_file_names_this_machine(demo_site: Path) -> None:
    """Nothing in the site tells where it was made."""
    here = str(ROOT).encode()
    told = [path for path in demo_site.rglob("*") if path.is_file() and here in path.read_bytes()]
    assert told == []


class Links(HTMLParser):
    """Every address in a page, and every place in it that an address can point at."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.doubled: list[str] = []
        self.leading: list[str] = []
        self.loaded: list[str] = []
        self.handlers: list[str] = []
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what a tag names and where it leads."""
        for name, value in attrs:
            if name == "id" and value is not None:
                self.doubled += [value] if value in self.ids else []
                self.ids.add(value)
            elif name == LOADED.get(tag):
                self.loaded.append(value or "")
            elif name == "href":
                self.leading.append(value or "")
            elif name == "srcset":
                self.loaded += [one.split()[0] for one in (value or "").split(",")]
            elif name.startswith("on"):
                self.handlers.append(f"{name}={value}")


INLINE = {"a", "b", "code", "em", "mark", "q", "span", "strong"}


class RunTogether(HTMLParser):
    """Words of a page that are one word once the marks between them are taken away."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.found: list[str] = []
        self.before, self.apart = "", True
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Only what stands in a line of text runs on into it."""
        self.apart = self.apart or tag not in INLINE

    def handle_endtag(self, tag: str) -> None:
        """As at the start of a tag."""
        self.apart = self.apart or tag not in INLINE

    def handle_data(self, data: str) -> None:
        """Hold each piece of text against the one before it."""
        if not self.apart and self.before[-1:].isalnum() and data[:1].isalnum():
            self.found.append(self.before[-20:] + "|" + data[:20])
        self.before, self.apart = data, False


def test_no_words_run_together(demo_site: Path) -> None:
    """A page that is read aloud or copied as text keeps its words apart."""
    found = {page.name: RunTogether(page).found for page in sorted(demo_site.rglob("*.html"))}
    assert {name: words[:3] for name, words in found.items() if words} == {}


@pytest.fixture(scope="module")
def pages(demo_site: Path) -> dict[Path, Links]:
    """Every page of the demo, read."""
    return {page.resolve(): Links(page) for page in sorted(demo_site.rglob("*.html"))}


def test_every_link_leads_somewhere(demo_site: Path, pages: dict[Path, Links]) -> None:
    """Each address of a page is a file of the site, and each fragment a place in that file."""
    broken = []
    for page, links in pages.items():
        for address in (*links.leading, *links.loaded):
            parts = urlsplit(address)
            if parts.scheme in {"http", "https"} and address in links.leading:
                continue
            target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
            inside = target.is_relative_to(demo_site.resolve()) and target.is_file()
            known = not parts.fragment or (
                target in pages and unquote(parts.fragment) in pages[target].ids | {"top"}
            )
            if parts.scheme or parts.netloc or not inside or not known:
                broken.append(f"{page.relative_to(demo_site.resolve())}: {address}")
    assert broken == []


def test_pages_load_nothing_from_elsewhere_and_hold_no_handlers(pages: dict[Path, Links]) -> None:
    """Scripts, styles and pictures are files of the site; no tag carries a script of its own."""
    assert len(pages) > 10
    for page, links in pages.items():
        assert not [one for one in links.loaded if urlsplit(one).scheme or one.startswith("//")]
        assert links.handlers == [], page


def test_no_name_stands_twice_in_a_page(pages: dict[Path, Links]) -> None:
    """An id is given once in a page, or a link to it would lead to either."""
    assert {page.name: links.doubled for page, links in pages.items() if links.doubled} == {}


def test_style_loads_nothing_from_elsewhere(demo_site: Path) -> None:
    """No style sheet fetches anything."""
    for sheet in demo_site.rglob("*.css"):
        text = sheet.read_text(encoding="utf-8")
        assert "@import" not in text
        assert "url(http" not in text.replace("'", "").replace('"', "")


def test_the_script_of_the_charts_is_plotlys_own(demo_site: Path) -> None:
    """The chart script is the file that the plotly package carries."""
    from importlib.resources import files

    own = (files("plotly") / "package_data" / "plotly.min.js").read_bytes()
    assert (demo_site / "assets" / "plotly.min.js").read_bytes() == own
