"""What a page weighs when it is sent."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

MOST = 60_000  # bytes, compressed, without photos and without the script of the charts
NAMED = re.compile(r'<(?:script|link)\b[^>]*?\b(?:src|href)="([^"]*assets/[^"]+)"')


def test_a_run_page_is_light(themed_site: Path) -> None:
    """A run's page with all styles, scripts and drawings that it names is at most 60 KB."""
    weights = {}
    for page in (themed_site / "runs").glob("*.html"):
        named = NAMED.findall(page.read_text(encoding="utf-8"))
        assert any(one.endswith(".css") for one in named)
        weights[page.name] = sum(_sent(page.parent / one) for one in named) + _sent(page)
    assert len(weights) > 30
    assert {name: weight for name, weight in weights.items() if weight > MOST} == {}


def _sent(file: Path) -> int:
    return len(gzip.compress(file.read_bytes(), mtime=0))
