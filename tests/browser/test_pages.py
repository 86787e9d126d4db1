"""Every page of the demo in a real browser, from the disk, on a desk and on a phone."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.build import PourOptions, pour
from tests.browser.chromium import Chromium
from tests.conftest import make_book

pytestmark = pytest.mark.browser

DESK, PHONE = 1280, 390
OVERFLOW = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_pages_open_from_the_disk_without_a_complaint(
    browser: Chromium, themed_site: Path, width: int
) -> None:
    """No error, no sideways scrolling, and no request that leaves the folder of the site."""
    browser.wide(width)
    wrong = []
    pages = sorted(themed_site.rglob("*.html"))
    for page in pages:
        name = page.relative_to(themed_site).as_posix()
        browser.open(page.as_uri())
        wrong += [f"{name}: {words}" for words in browser.complaints()]
        if (over := browser.ask(OVERFLOW)) > 0:
            wrong.append(f"{name}: {over} pixels wider than the window")
        wrong += [
            f"{name}: asks for {address}"
            for address in browser.requests()
            if not address.startswith((themed_site.as_uri() + "/", "data:"))
        ]
    assert len(pages) > 10
    assert wrong == []


def test_without_scripts_the_figures_are_there(browser: Chromium, themed_site: Path) -> None:
    """With JavaScript off each page still shows its text, its figures and its drawings."""
    browser.wide(DESK)
    browser.scripts(allowed=False)
    for page in sorted(themed_site.rglob("*.html")):
        browser.open(page.as_uri())
        html = browser.html()
        assert "<main" in html
        assert html.count("±") == page.read_text(encoding="utf-8").count("±")
    browser.open((themed_site / "index.html").as_uri())
    assert "<svg" in browser.html()
    browser.scripts(allowed=True)


def test_runs_side_by_side_are_whole_on_a_phone(browser: Chromium, demo_site: Path) -> None:
    """No column is cut at the edge: each figure stands under its run, with its name before it."""
    browser.wide(PHONE)
    browser.open((demo_site / "side-by-side.html").as_uri())
    cut = "(all => all.scrollWidth - all.clientWidth)(document.querySelector('.scroll'))"
    assert browser.ask(cut) <= 0
    name = "getComputedStyle(document.querySelector('.compare td.number'), '::before').content"
    assert browser.ask(name) == '"head"'


def test_scripts_off_means_off(browser: Chromium, tmp_path: Path) -> None:
    """The switch that the test above relies on works."""
    page = tmp_path / "page.html"
    page.write_text("<title>off</title><script>document.title = 'on'</script>")
    for allowed, title in ((True, "on"), (False, "off")):
        browser.scripts(allowed)
        browser.open(page.as_uri())
        assert f"<title>{title}</title>" in browser.html()
    browser.scripts(allowed=True)


HOSTILE = """\
# <script>window.hit = 1</script> & "quotes" &lt;b&gt; &#0; &amp;amp; '

Date: 2026-03-14
Metal: silver
<img src=x onerror="window.hit = 2">: <svg/onload="window.hit = 3">

<script>window.hit = 4</script>

[a link](javascript:window.hit=5) and <a href="javascript:window.hit=6">another</a>

![x" onerror="window.hit = 7](x.png) <javascript:window.hit=8> [F-<b>1</b>]

## Dissolve</h2><script>window.hit = 9</script>

- took 12.4 g wire</li><script>window.hit = 10</script> [<i onclick="window.hit = 11">], silver 80 %
- added 3 gramm"><script>window.hit = 12</script>
- kept 2 filters [" onmouseover="window.hit = 13]
- tested <img src=x onerror=window.hit=14> with salt: <script>window.hit = 15</script>
- reckoned </script><script>window.hit = 16</script> recovery 95 %
- ask "><script>window.hit = 17</script>?
- got 10 g silver bar [AG-1<!-- -->], silver 99 % by <style>*{display:none}</style>

```
</code></pre><script>window.hit = 18</script>
```
"""


def test_a_hostile_log_reaches_the_pages_as_text(browser: Chromium, tmp_path: Path) -> None:
    """Tags, handlers, script addresses and entities of a log are words on the page and no more."""
    files = {"2026-03-14-hostile.md": HOSTILE, "bench.md": f"# {HOSTILE[2:60]}\n\n{HOSTILE}"}
    site = tmp_path / "site"
    pour(PourOptions(make_book(tmp_path / "book", files), site))
    browser.wide(DESK)
    seen = ""
    for page in sorted(site.rglob("*.html")):
        browser.open(page.as_uri())
        browser.ask("document.querySelectorAll('details').forEach(one => { one.open = true })")
        assert browser.ask("window.hit === undefined"), page
        assert browser.complaints() == [], page
        assert browser.ask(
            "[...document.querySelectorAll('*')].every(one => "
            "[...one.attributes].every(its => !/^on/i.test(its.name) && "
            "!/^\\s*javascript:/i.test(its.value)))"
        ), page
        assert browser.ask("getComputedStyle(document.body).display") != "none"
        seen += browser.ask("document.body.innerText")
    for number in range(4, 19):
        assert f"window.hit = {number}" in seen or f"window.hit={number}" in seen, number
