"""Files for those who follow or list a site on the web: its feed, and the list of its pages.

The feed follows RFC 4287 (The Atom Syndication Format), the list the sitemap protocol 0.9 of
sitemaps.org. Both need whole addresses, so that a book without one has neither.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from logbook.pages.addresses import FEED
from logbook.pages.feed import Feed
from logbook.pages.frame import on_the_web

ATOM = "http://www.w3.org/2005/Atom"
SITEMAPS = "http://www.sitemaps.org/schemas/sitemap/0.9"
MOST = 50_000  # addresses in one list


def atom(feed: Feed) -> bytes:
    """The feed as Atom. A day in a log is a day in it, at its start in universal time."""
    root = Element("feed", xmlns=ATOM)
    SubElement(root, "title").text = feed.title
    SubElement(root, "id").text = f"{feed.address}/"
    SubElement(root, "updated").text = f"{feed.entries[0].day.isoformat()}T00:00:00Z"
    SubElement(root, "link", rel="self", href=on_the_web(feed.address, FEED))
    SubElement(root, "link", rel="alternate", type="text/html", href=f"{feed.address}/")
    SubElement(SubElement(root, "author"), "name").text = feed.author
    for one in feed.entries:
        entry = SubElement(root, "entry")
        SubElement(entry, "title").text = one.title
        SubElement(entry, "id").text = one.address
        SubElement(entry, "updated").text = f"{one.day.isoformat()}T00:00:00Z"
        SubElement(entry, "link", rel="alternate", type="text/html", href=one.address)
        SubElement(entry, "summary").text = one.summary
    return _xml(root)


def sitemap(address: str, pages: Iterable[str]) -> bytes:
    """The addresses of all pages, in order."""
    root = Element("urlset", xmlns=SITEMAPS)
    for page in sorted(pages)[:MOST]:
        SubElement(SubElement(root, "url"), "loc").text = on_the_web(address, page)
    return _xml(root)


def _xml(root: Element) -> bytes:
    indent(root, "")
    content: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return content + b"\n"
