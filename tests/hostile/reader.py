"""What a page of the site could do: every tag, address and script in it, read without a browser."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

ADDRESS = {
    "href",
    "src",
    "action",
    "formaction",
    "data",
    "poster",
    "cite",
    "background",
    "xlink:href",
}
MAY_LEAD = {"", "http", "https", "mailto"}
NEVER = {"base", "embed", "iframe", "frame", "object", "applet", "style", "portal"}


class Deeds(HTMLParser):
    """What a page loads, leads to and runs; `wrong` says in words what it must not."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.ids: set[str] = {"top"}
        self.leading: list[str] = []
        self.loaded: list[str] = []
        self.wrong: list[str] = []
        self.json: list[str] = []
        self.texts: list[str] = []
        self._in = ""
        self.feed(page.read_text(encoding="utf-8"))
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Judge a tag by its name and by each of its attributes."""
        found = {name: value or "" for name, value in attrs}
        if tag in NEVER:
            self.wrong.append(f"<{tag}>")
        if tag == "meta" and "http-equiv" in found:
            self.wrong.append(f"<meta http-equiv={found['http-equiv']}>")
        for name, value in found.items():
            self._attribute(tag, name, value)
        if tag == "script" and "src" not in found:
            self._in = "json" if found.get("type") == "application/json" else "script"

    def _attribute(self, tag: str, name: str, value: str) -> None:
        if name.startswith("on") or name == "srcdoc":
            self.wrong.append(f"{name}={value[:40]}")
        if name == "id":
            if value in self.ids and value != "top":
                self.wrong.append(f"id {value} twice")
            self.ids.add(value)
        elif name == "srcset":
            self.loaded += [one.split()[0] for one in value.split(",")]
        elif name in ADDRESS:
            if urlsplit(value.strip()).scheme.lower() not in MAY_LEAD:
                self.wrong.append(f"{name}={value[:60]}")
            (self.leading if tag == "a" else self.loaded).append(value)

    def handle_endtag(self, tag: str) -> None:
        """Leave a script."""
        if tag == "script":
            self._in = ""

    def handle_data(self, data: str) -> None:
        """Keep texts, and data that scripts read."""
        if self._in == "json":
            self.json.append(data)
        elif self._in == "script":
            self.wrong.append(f"script {data[:60]}")
        else:
            self.texts.append(data)


def broken(site: Path, pages: dict[Path, Deeds]) -> list[str]:
    """The addresses of pages that are no file of the site, or no place in it."""
    found = []
    for page, deeds in pages.items():
        for address in (*deeds.leading, *deeds.loaded):
            parts = urlsplit(address)
            if parts.scheme and address in deeds.leading:
                continue
            target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
            there = target.is_relative_to(site) and target.is_file()
            place = unquote(parts.fragment)
            known = not place or target not in pages or place in pages[target].ids
            if parts.scheme or parts.netloc or not there or not known:
                found.append(f"{page.name}: {address}")
    return found
