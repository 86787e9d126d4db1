"""The demo's drawings are whole, stand alone, and hang where the logs say.

They stand for photos, so they are held to what a picture may do: show itself, fetch nothing,
run nothing.
"""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

RUNS = Path(__file__).parents[2] / "runs"
DRAWINGS = sorted((RUNS / "drawings").glob("*.svg"))
SVG = "{http://www.w3.org/2000/svg}"
DRAWN = {"svg", "title", "g", "path", "rect", "circle", "ellipse", "text"}


def test_there_are_drawings() -> None:
    """Six at least, so that the tests below have something to hold."""
    assert len(DRAWINGS) >= 6


@pytest.mark.parametrize("drawing", DRAWINGS, ids=lambda path: path.name)
def test_a_drawing_stands_alone(drawing: Path) -> None:
    """Plain shapes with a title; no script, no style, no address but the SVG name itself."""
    root = ElementTree.fromstring(drawing.read_text(encoding="utf-8"))
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= DRAWN
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text
    assert len(root.attrib["viewBox"].split()) == 4
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.lower().startswith("on"), name
            assert "href" not in name, name
            assert "url(" not in value, value


def test_every_drawing_hangs_somewhere_and_none_is_missing() -> None:
    """The logs' picture lines and the folder name the same drawings."""
    logs = [path.read_text(encoding="utf-8") for path in RUNS.glob("*.md")]
    named = {name for log in logs for name in re.findall(r"\]\(drawings/([^)]+)\)", log)}
    assert named == {drawing.name for drawing in DRAWINGS}
