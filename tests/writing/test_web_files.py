"""The feed, the list of pages, and what the head of a page says of it."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from xml.etree import ElementTree

import pytest

from logbook.build import PourOptions, pour
from tests.conftest import CLEAN_LOG, make_book

ADDRESS = "https://example.org/bench"
ATOM = "{http://www.w3.org/2005/Atom}"
MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
RFC_3339 = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
TITLE = "Contacts <b>& 'more'</b> \"]]>\" \N{GEM STONE}"
HOSTILE = CLEAN_LOG.replace("Contacts of one relay", TITLE)


def poured(folder: Path, address: str) -> Path:
    """The site of two runs and a plan, at an address."""
    book = make_book(
        folder / "book",
        {
            "bench.md": f"# The bench & co\n\n{address}\n",
            "2026-03-14-contacts.md": CLEAN_LOG,
            "2026-04-02-öse & draht.md": HOSTILE.replace("2026-03-14", "2026-04-02"),
            "2026-05-01-plan.md": "# Later\n\nStatus: planned\nMetal: silver\n\n- take 10 g wire\n",
        },
    )
    pour(PourOptions(book, folder / "site"))
    return folder / "site"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site with an address."""
    return poured(tmp_path_factory.mktemp("web"), f"Address: {ADDRESS}/")


def test_the_feed_has_all_that_the_standard_asks_for(site: Path) -> None:
    """RFC 4287, 4.1.1 and 4.1.2: id, title, updated and author; in entries those and a link."""
    root = ElementTree.fromstring((site / "feed.xml").read_bytes())
    assert root.tag == f"{ATOM}feed"
    entries = root.findall(f"{ATOM}entry")
    for one in (root, *entries):
        for name in ("id", "title", "updated"):
            assert len(one.findall(f"{ATOM}{name}")) == 1, name
        assert RFC_3339.fullmatch(one.findtext(f"{ATOM}updated") or "")
        assert (one.findtext(f"{ATOM}id") or "").startswith(f"{ADDRESS}/")
    assert root.findtext(f"{ATOM}author/{ATOM}name") == "The bench & co"
    links = {link.get("rel"): link.get("href") for link in root.findall(f"{ATOM}link")}
    assert links == {"self": f"{ADDRESS}/feed.xml", "alternate": f"{ADDRESS}/"}
    ids = [one.findtext(f"{ATOM}id") for one in entries]
    assert len(set(ids)) == len(ids) == 2, "the plan is no news"
    for one in entries:
        assert one.find(f"{ATOM}link[@rel='alternate']") is not None
        assert one.findtext(f"{ATOM}summary")


def test_the_newest_run_stands_first_and_its_words_are_words(site: Path) -> None:
    """The feed is as new as its newest run: no clock has a part in it."""
    root = ElementTree.fromstring((site / "feed.xml").read_bytes())
    assert root.findtext(f"{ATOM}updated") == "2026-04-02T00:00:00Z"
    titles = [one.findtext(f"{ATOM}title") for one in root.findall(f"{ATOM}entry")]
    assert titles == [TITLE, "Contacts of one relay"]


def test_the_list_of_pages_names_every_page_and_no_other(site: Path) -> None:
    """sitemaps.org: one urlset, whole addresses, no more than 50,000 of them."""
    root = ElementTree.fromstring((site / "sitemap.xml").read_bytes())
    assert root.tag == f"{MAP}urlset"
    named = [one.text or "" for one in root.findall(f"{MAP}url/{MAP}loc")]
    pages = {page.relative_to(site).as_posix() for page in site.rglob("*.html")}
    assert len(named) == len(pages) == len(set(named))
    assert f"{ADDRESS}/" in named
    assert f"{ADDRESS}/runs/2026-03-14-contacts.html" in named
    assert all(re.fullmatch(r"https://[!-~]+", one) for one in named), "no bare space or accent"


def test_every_page_says_where_it_stands_and_what_it_is_about(site: Path) -> None:
    """A canonical address of its own, a way to the feed, and a description in words."""
    root = ElementTree.fromstring((site / "sitemap.xml").read_bytes())
    named = {one.text for one in root.findall(f"{MAP}url/{MAP}loc")}
    told = set()
    for page in site.rglob("*.html"):
        head = page.read_text("utf-8").partition("</head>")[0]
        canonical = re.findall(r'<link rel="canonical" href="(.*?)">', head)
        (feed,) = re.findall(r'type="application/atom\+xml".*?href="(.*?)"', head)
        (about,) = re.findall(r'<meta name="description" content="(.*?)">', head)
        assert len(canonical) == 1
        assert (page.parent / feed).resolve() == (site / "feed.xml").resolve()
        assert 20 <= len(unescape(about)) <= 302, page.name
        told.add(unescape(canonical[0]))
    assert told == named


@pytest.mark.parametrize(
    "address", ["", "Address: 12 Canal Street", "Address: javascript:alert(1)"]
)
def test_without_an_address_there_is_no_feed(tmp_path: Path, address: str) -> None:
    """Atom and the list need whole addresses; a postal one is none."""
    site = poured(tmp_path, address)
    assert not (site / "feed.xml").exists()
    assert not (site / "sitemap.xml").exists()
    head = (site / "index.html").read_text("utf-8").partition("</head>")[0]
    assert "canonical" not in head
    assert '<meta name="description"' in head
