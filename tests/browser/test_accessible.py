"""Every kind of page by axe-core and by keyboard alone, light and dark, on a desk and a phone.

Source of the rules: axe-core by Deque, which tests WCAG 2.2 levels A and AA and good practice.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.browser.chromium import Chromium
from tests.browser.kinds import pages_of_every_kind
from tests.browser.node_tools import package

pytestmark = pytest.mark.browser

# Rules for a finger's width are in WCAG 2.2 (2.5.8); axe-core leaves them out unless asked.
AXE = """
axe.run(document, {resultTypes: ['violations'], rules: {'target-size': {enabled: true}}})
    .then(found => JSON.stringify(found.violations.map(one =>
        one.id + ': ' + one.help + ' at ' + one.nodes.map(node => node.html).join(' | '))))
"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_no_page_breaks_a_rule(
    browser: Chromium, themed_site: Path, width: int, scheme: str
) -> None:
    """No violation on any kind of page."""
    axe = (package("axe-core") / "axe.min.js").read_text(encoding="utf-8")
    browser.wide(width)
    browser.dark(scheme == "dark")
    wrong = []
    for page in pages_of_every_kind(themed_site):
        browser.open(page.as_uri())
        browser.ask(axe)
        found = json.loads(browser.ask_later(AXE))
        wrong += [f"{page.relative_to(themed_site)}: {words[:300]}" for words in found]
    browser.dark(False)
    assert wrong == []


# Everything that can be used, without what lies in a part that is folded up.
USABLE = """
JSON.stringify([...document.querySelectorAll(
    'a[href], button:not([disabled]), input:not([disabled]), select, summary, [tabindex="0"]'
)].filter(one => one.checkVisibility({visibilityProperty: true})
    && !(one.closest('svg') && one.getAttribute('tabindex') === '-1')).length)
"""
SEEN = """
new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done))).then(() => {
    const one = document.activeElement;
    if (!one || one === document.body) { return 'none'; }
    window.__been = window.__been || new Set();
    if (window.__been.has(one)) { return 'again'; }
    window.__been.add(one);
    const style = getComputedStyle(one), box = one.getBoundingClientRect();
    const ring = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1;
    const shown = box.bottom > 0 && box.top < innerHeight && box.width > 0;
    const wrong = (ring ? '' : 'no ring ') + (shown ? '' : 'out of sight ');
    return wrong + '|' + one.outerHTML.slice(0, 90);
})
"""
MOST = 400  # steps of the tabulator on one page; longer pages are looked at as far as that


PAGES = ["index", "side-by-side", "scrap", "timeline", "search", "shelf", "cautions", "attention"]


@pytest.mark.parametrize("name", PAGES)
def test_the_keyboard_reaches_everything(browser: Chromium, themed_site: Path, name: str) -> None:
    """The tabulator stops at all that can be used, each stop is in sight, with a ring round it."""
    browser.wide(1280)
    browser.dark(False)
    browser.open((themed_site / f"{name}.html").as_uri())
    usable = int(browser.ask(USABLE))
    reached, wrong = 0, []
    for _ in range(min(usable, MOST) + 5):
        browser.press("Tab")
        said = str(browser.ask_later(SEEN))
        if said in ("none", "again"):
            break
        reached += 1
        if not said.startswith("|"):
            wrong.append(said)
    assert wrong == []
    assert reached >= min(usable, MOST)
