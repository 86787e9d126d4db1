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


PHOTOS = sorted((RUNS / "photos").glob("*.jpg"))
IN_THEM = (b"A camera that does not exist", b"SERIAL-OF-NO-CAMERA", b"not taken with a camera")


def test_every_photo_hangs_somewhere_and_none_is_missing() -> None:
    """The logs' picture lines and the folder name the same photos; each is small."""
    logs = [path.read_text(encoding="utf-8") for path in RUNS.glob("*.md")]
    named = {name for log in logs for name in re.findall(r"\]\(photos/([^ )]+)", log)}
    assert named == {photo.name for photo in PHOTOS}
    assert all(photo.stat().st_size < 100_000 for photo in PHOTOS)


def test_photos_are_published_without_their_notes(demo_site: Path) -> None:
    """The demo's photos carry notes of an invented camera, as real ones do; the site has none."""
    for photo in PHOTOS:
        data = photo.read_bytes()
        assert all(words in data for words in IN_THEM)
    files = [file for file in demo_site.rglob("*") if file.is_file()]
    assert len([file for file in files if file.suffix == ".webp"]) == 3 * len(PHOTOS)
    for file in files:
        data = file.read_bytes()
        assert not [words for words in IN_THEM if words in data], file
        assert not [photo.stem for photo in PHOTOS if photo.stem.encode() in data], file
