"""The charts of the poured demo: plotly's own types take each, and each has all its forms."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

CHART = re.compile(r'<script type="application/json" id="([a-z0-9-]+)-data">(.*?)</script>', re.S)


def embedded(site: Path) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Page, name and figure of every chart in a site."""
    for page in sorted(site.rglob("*.html")):
        for name, data in CHART.findall(page.read_text(encoding="utf-8")):
            yield page.relative_to(site).as_posix(), name, json.loads(data)


def test_every_figure_of_the_demo_is_one_of_plotlys(demo_site: Path) -> None:
    """Its schema, which comes with the package, knows every property and takes every value."""
    import plotly.graph_objects as go

    found = list(embedded(demo_site))
    for _, _, figure in found:
        go.Figure(figure)  # raises where a property or a value is not in the schema
    names = {name for _, name, _ in found}
    assert names >= {
        "fine-metal",
        "recovery",
        "hours-per-gram",
        "head-grade",
        "cost-and-worth",
        "where-money-went",
        "steps-1",
    }


def test_every_chart_is_drawn_told_and_in_a_table(demo_site: Path) -> None:
    """Beside its figure stand a drawing with a title and a sentence, notes, and a table."""
    for page, name, figure in embedded(demo_site):
        html = (demo_site / page).read_text(encoding="utf-8")
        assert f'data-chart="{name}-data"><svg class="drawing field"' in html, (page, name)
        sentence = re.search(rf'<desc id="{name}-desc">(.+?)</desc>', html)
        assert sentence is not None
        assert sentence[1].endswith(".")
        after = html[html.index(f'id="{name}-data"') :]
        assert re.search(r"<figcaption>.*standard uncertainty", after) is not None, (page, name)
        table = after[: after.index("</table>")]
        assert table.count("<tr>") > 1, (page, name)
        assert 'src="' in html and "chart.js" in html, page
        assert figure["data"], (page, name)


def test_no_page_loads_the_large_script_by_itself(demo_site: Path) -> None:
    """It lies in the site once, and no page names it: it is asked for when a chart is seen."""
    assert len(list(demo_site.rglob("plotly*"))) == 1
    for page in demo_site.rglob("*.html"):
        assert "plotly.min.js" not in page.read_text(encoding="utf-8"), page.name


def test_money_is_drawn_on_its_own_page_alone(demo_site: Path) -> None:
    """What a site without money must leave out stands in one place."""
    pages = {
        page
        for page, name, _ in embedded(demo_site)
        if name in ("cost-and-worth", "where-money-went")
    }
    assert pages == {"money.html"}
