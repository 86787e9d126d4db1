"""What a page weighs when it is sent, and that a run is printed on paper."""

from __future__ import annotations

import gzip
from pathlib import Path

MOST = 60_000  # bytes, compressed, without photos and without the script of the charts


def test_a_run_page_is_light(demo_site: Path) -> None:
    """A run's page with its styles and scripts is at most 60 KB compressed."""
    assets = [
        one
        for one in sorted((demo_site / "assets").iterdir())
        if one.suffix in (".css", ".js", ".svg") and "plotly" not in one.name
    ]
    shared = sum(_sent(one) for one in assets)
    weights = {one.name: _sent(one) + shared for one in (demo_site / "runs").glob("*.html")}
    assert len(weights) > 30
    assert {name: weight for name, weight in weights.items() if weight > MOST} == {}


def _sent(file: Path) -> int:
    return len(gzip.compress(file.read_bytes(), mtime=0))
