"""Charts in a real browser: still until they are looked at, and whole where nothing can run."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.browser.chromium import Chromium

pytestmark = pytest.mark.browser

PAGE = "trends.html"
SCRIPTS = "document.querySelectorAll('script[src*=plotly]').length"
LOOK = "document.querySelector('figure.chart').scrollIntoView()"
ALIVE = """new Promise((done, failed) => {
  const since = Date.now();
  (function look() {
    const plot = document.querySelector('.plot.live');
    if (plot) { done(plot.querySelectorAll('.live-figure .main-svg').length); }
    else if (Date.now() - since > 20000) { failed('never alive'); }
    else { setTimeout(look, 50); }
  })();
})"""
SIZES = """(plot => {
  const one = plot.querySelector('svg.drawing').getBoundingClientRect();
  const other = plot.querySelector('.main-svg').getBoundingClientRect();
  return [Math.abs(one.width - other.width), Math.abs(one.height - other.height),
    Math.abs(one.top - other.top)];
})(document.querySelector('.plot.live'))"""
HEIGHT = "document.documentElement.scrollHeight"


def run_page(site: Path) -> Path:
    """A run page whose chart stands below the first screen."""
    return next(one for one in (site / "runs").glob("*.html") if "data-chart" in one.read_text())


@pytest.mark.parametrize("width", [1280, 390])
def test_the_large_script_is_asked_for_when_a_chart_comes_into_view(
    browser: Chromium, demo_site: Path, width: int
) -> None:
    """Neither element nor request before scrolling; one of each afterwards."""
    browser.wide(width)
    browser.open(run_page(demo_site).as_uri())
    browser.ask_later("new Promise(done => setTimeout(done, 400))")
    assert browser.ask(SCRIPTS) == 0
    assert not any("plotly" in address for address in browser.requests())
    browser.ask(LOOK)
    assert browser.ask_later(ALIVE) > 0
    assert browser.ask(SCRIPTS) == 1
    assert sum("plotly" in address for address in browser.requests()) == 1
    assert browser.complaints() == []


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", [1280, 390])
def test_a_live_chart_lies_where_its_drawing_lay(
    browser: Chromium, demo_site: Path, width: int, dark: bool
) -> None:
    """Nothing moves when it comes alive, and its letters are in the ink of the page."""
    browser.wide(width)
    browser.dark(dark)
    browser.open((demo_site / PAGE).as_uri())
    before = browser.ask(HEIGHT)
    browser.ask(LOOK)
    browser.ask_later(ALIVE)
    assert max(browser.ask(SIZES)) < 1.5
    assert browser.ask(HEIGHT) == before
    ink = "getComputedStyle(document.documentElement).getPropertyValue('--ink').trim()"
    letters = "document.querySelector('.live-figure .annotation-text').style.fill"
    red, green, blue = (int(browser.ask(ink)[place : place + 2], 16) for place in (1, 3, 5))
    assert browser.ask(letters) == f"rgb({red}, {green}, {blue})"
    browser.dark(False)


def test_without_scripts_a_chart_is_a_drawing_a_sentence_and_a_table(
    browser: Chromium, demo_site: Path
) -> None:
    """From the disk and with JavaScript off nothing of a chart is lost."""
    browser.scripts(allowed=False)
    browser.open((demo_site / PAGE).as_uri())
    html = browser.html()
    charts = html.count("data-chart=")
    assert charts >= 3
    assert html.count('<svg class="drawing field"') == charts
    assert html.count("The same as a table") == charts
    assert html.count("<desc id=") == charts
    browser.scripts(allowed=True)


def test_on_paper_a_chart_is_its_drawing_with_all_its_words(
    browser: Chromium, demo_site: Path
) -> None:
    """Alive or not, paper gets the drawing, and the names of its axes with it."""
    browser.wide(1280)
    browser.open((demo_site / PAGE).as_uri())
    browser.ask(LOOK)
    browser.ask_later(ALIVE)
    browser.call("Emulation.setEmulatedMedia", media="print")
    style = "(one => getComputedStyle(document.querySelector(one)))"
    assert browser.ask(f"{style}('.plot.live > svg.drawing').visibility") == "visible"
    assert browser.ask(f"{style}('.live-figure').display") == "none"
    hidden = """[...document.querySelectorAll('svg.drawing text')]
      .filter(one => getComputedStyle(one).display === 'none').length"""
    assert browser.ask(hidden) == 0
    browser.call("Emulation.setEmulatedMedia", media="")
